package resolve

import (
	"math"

	"foredge/eval/kind"
	"foredge/lang/ast"
	"foredge/lang/source"
)

// A Job is a list of designs whose parts lie on sheets together.
type Job struct {
	Name  string
	At    source.Span
	Makes []Make
}

// A Make is one design of a job.
type Make struct {
	Path   string // of its file, as it is written
	At     source.Span
	Copies int // of all its parts
}

// MaxCopies is how often a job may make a design.
const MaxCopies = 1000

// job notes a job of the main file; those of files that it uses are theirs to make.
func (r *resolver) job(d *ast.Decl) {
	if len(r.stack) > 1 {
		return
	}
	if d.Name.Name == "" {
		r.diags.Errorf("name", d.Span(), "this job has no name").WithHelp("give it one, by which its files are called: job market-day {")
		return
	}
	at := d.Kind.At.To(d.Name.At)
	for _, c := range d.Clauses {
		r.diags.Errorf("clause", c.Span(), "a job can't have `%s`", c.Word.Name).WithHelp("only its name may come before the brace")
	}
	for _, j := range r.info.Jobs {
		if j.Name == d.Name.Name {
			r.diags.Errorf("twice", d.Name.At, "there are two jobs called %q in this file", j.Name).Note(j.At, "the first is here").
				WithHelp("give one of them another name")
			return
		}
	}
	j := Job{Name: d.Name.Name, At: at}
	if d.Body != nil {
		for _, s := range d.Body.Stmts {
			r.toMake(&j, s)
		}
	}
	if d.Body == nil || len(d.Body.Stmts) == 0 {
		r.diags.Errorf("job-empty", at, "nothing says what the job %s is to make", j.Name).WithHelp(`name the designs in its braces, as in make "harbour-log.fore" { copies = 12 }`)
	}
	r.info.Jobs = append(r.info.Jobs, j)
}

// toMake reads `make "harbour-log.fore" { copies = 12 }`.
func (r *resolver) toMake(j *Job, s ast.Stmt) {
	if _, bad := s.(*ast.BadStmt); bad {
		return
	}
	d, ok := s.(*ast.Decl)
	var k *kind.Kind
	if ok {
		k = kind.Find(d.Kind.Name)
	}
	if k == nil || k.ID != kind.Make || d.Title == nil {
		r.diags.Errorf("job-line", s.Span(), "this line doesn't name a design that the job is to make").
			WithHelp(`write the design's file in quotes, as in make "harbour-log.fore" { copies = 12 }`)
		return
	}
	for _, c := range d.Clauses {
		r.diags.Errorf("clause", c.Span(), "make can't have `%s`", c.Word.Name).WithHelp("only the file's name may come before its brace")
	}
	m := Make{Path: d.Title.Value, At: d.Kind.At.To(d.Title.Span()), Copies: 1}
	for _, before := range j.Makes {
		if before.Path == m.Path {
			r.diags.Errorf("twice", d.Title.Span(), "the job makes %q twice", m.Path).Note(before.At, "the first is here").
				WithHelp("say it once, with the copies of both")
			return
		}
	}
	if d.Body != nil {
		m.Copies = r.copies(k, d.Body)
	}
	j.Makes = append(j.Makes, m)
}

// copies reads what stands in the braces of a design to make.
func (r *resolver) copies(k *kind.Kind, b *ast.Block) int {
	copies, stated := 1, (*ast.Relation)(nil)
	for _, s := range b.Stmts {
		if _, bad := s.(*ast.BadStmt); bad {
			continue
		}
		rel, ok := s.(*ast.Relation)
		if ok {
			name, isName := rel.First.(*ast.Name)
			ok = isName && len(name.Parts) == 1 && k.Has(name.Parts[0].Name) && len(rel.Rest) == 1 && rel.Rest[0].Op == ast.Eq
		}
		if !ok {
			r.diags.Errorf("job-line", s.Span(), "here stands how often the design is to be made, and nothing else").WithHelp("as in copies = 12")
			continue
		}
		if stated != nil {
			r.diags.Errorf("stated-twice", s.Span(), "copies is stated twice").Note(stated.Span(), "the first is here").WithHelp("take one of them out")
			continue
		}
		stated = rel
		n, ok := rel.Rest[0].Value.(*ast.Number)
		if !ok || n.Unit != "" || n.Value != math.Trunc(n.Value) || n.Value < 1 || n.Value > MaxCopies {
			r.diags.Errorf("job-copies", rel.Rest[0].Value.Span(), "copies of a design are written as a whole number, from 1 to %d", MaxCopies).WithHelp("as in copies = 12")
			continue
		}
		copies = int(n.Value)
	}
	return copies
}
