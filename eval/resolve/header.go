package resolve

import (
	"strconv"

	"foredge/lang/ast"
	"foredge/lang/source"
	"foredge/lang/unit"
	"foredge/lang/version"
)

// version reads the file's `foredge` line: in which version of the language it
// is written.
func (r *resolver) version(f *File, tree *ast.File) {
	f.Version = r.versions.Newest()
	var first *ast.Version
	for i, s := range tree.Stmts {
		v, ok := s.(*ast.Version)
		if !ok {
			continue
		}
		switch {
		case first != nil:
			r.diags.Errorf("stated-twice", v.Span(), "this file has already stated its version of the language").
				Note(first.Span(), "here").WithHelp("take one of the two lines out")
			continue
		case i > 0:
			r.diags.Errorf("first-line", v.Span(), "foredge %s must be the first line of a file", v.Number.Name).
				WithHelp("move this line to the top: it says how all that follows is read")
		}
		first = v
		number, ok := r.versions.Find(v.Number.Name)
		if !ok {
			r.noVersion(v)
			continue
		}
		f.Version = number
		if !f.Shelf {
			r.later(f, tree, v)
		}
	}
}

// noVersion reports a version that this program doesn't read.
func (r *resolver) noVersion(v *ast.Version) {
	newest := r.versions.Newest()
	if n, err := strconv.Atoi(v.Number.Name); err == nil && n > newest {
		r.diags.Errorf("version", v.Number.At, "this program doesn't read version %d of the language: it reads %v", n, r.versions).
			WithHelp("take a newer foredge, or write foredge %d and bring the file over", newest)
		return
	}
	r.diags.Errorf("version", v.Number.At, "%s is no version of the language: this program reads %v", v.Number.At.Short(), r.versions).
		WithHelp("write foredge %d", newest)
}

// later tells a file that is written in an earlier version what the later ones
// read otherwise of what it holds.
func (r *resolver) later(f *File, tree *ast.File, v *ast.Version) {
	after := r.versions.After(f.Version)
	if len(after) == 0 {
		return
	}
	spoken := words(tree)
	type told struct {
		number int
		change version.Change
		at     source.Span
	}
	var all []told
	for _, later := range after {
		for _, c := range later.Changes {
			if at, ok := concerns(c, spoken); ok {
				if at.IsZero() {
					at = v.Span()
				}
				all = append(all, told{later.Number, c, at})
			}
		}
	}
	if len(all) == 0 {
		return
	}
	d := r.diags.Infof("later-version", v.Span(), "this file is read as version %d of the language says; version %d reads it otherwise", f.Version, r.versions.Newest()).
		WithHelp("bring these lines over, then write foredge %d", r.versions.Newest())
	for _, t := range all {
		d.Note(t.at, "from version %d on %s", t.number, t.change.Says)
	}
}

// words finds where a file first holds each name that stands in it.
func words(tree *ast.File) map[string]source.Span {
	spoken := map[string]source.Span{}
	for _, s := range tree.Stmts {
		ast.Walk(s, func(n ast.Node) bool {
			if id, ok := n.(ast.Ident); ok {
				if _, before := spoken[id.Name]; !before {
					spoken[id.Name] = id.At
				}
			}
			return true
		})
	}
	return spoken
}

// concerns finds the first place of a file that a change concerns; none for a
// change that concerns every file.
func concerns(c version.Change, spoken map[string]source.Span) (at source.Span, ok bool) {
	if len(c.Words) == 0 {
		return source.Span{}, true
	}
	for _, w := range c.Words {
		if here, found := spoken[w]; found && (!ok || here.Before(at)) {
			at, ok = here, true
		}
	}
	return at, ok
}

// unit reads the file's `units` line.
func (r *resolver) unit(f *File, tree *ast.File) {
	above := 0 // lines that may stand above it
	if len(tree.Stmts) > 0 {
		if _, ok := tree.Stmts[0].(*ast.Version); ok {
			above = 1
		}
	}
	var first *ast.Units
	for i, s := range tree.Stmts {
		u, ok := s.(*ast.Units)
		if !ok {
			continue
		}
		switch {
		case first != nil:
			r.diags.Errorf("stated-twice", u.Span(), "this file has already stated its units").
				Note(first.Span(), "here").WithHelp("take one of the two lines out")
			continue
		case i > above:
			r.diags.Errorf("first-line", u.Span(), "units must be the first line of a file").
				WithHelp("move this line to the top: it says what every bare number below it means")
		}
		first = u
		switch u.Unit.Name {
		case "mm":
		case "in":
			f.Unit = unit.Inch
		default:
			r.diags.Errorf("units", u.Unit.At, "units can be mm or in, not %q", u.Unit.Name).
				WithHelp("write `units mm` or `units in`; single lengths may carry any unit, as in 2.5 cm")
		}
	}
}
