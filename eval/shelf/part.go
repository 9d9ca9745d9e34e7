package shelf

import (
	"strings"

	"foredge/lang/ast"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// A Part is one part of the shelf, taken apart for a person to read.
type Part struct {
	Name   string
	About  string // the comment at its top, without the signs
	Text   string // as it is shipped
	Things []Thing
}

// A Thing is what a part declares, or a named value.
type Thing struct {
	Part string
	Kind string // pattern, notebook..., or let
	Name string
	Like string // what it is like, "" if nothing
	// About is the comment that holds for it, without the signs: the one right
	// above it, or above the first of the lines that follow without a gap.
	About string
	Text  string // its lines, as shipped
}

// Read takes a part apart; false if there is none of that name.
func Read(name string) (*Part, bool) {
	text, ok := Text(name)
	if !ok {
		return nil, false
	}
	src := source.New(name, text)
	tree, _ := parse.File(src)
	p := &Part{Name: name, Text: src.Text()}
	about, last := "", 0 // the comment in force, the line on which the last statement ended
	for i, s := range tree.Stmts {
		before := s.Comment().Before
		if i == 0 {
			p.About = plain(before)
		}
		first, end := src.LineNumber(s.Span().Start), src.LineNumber(s.Span().End)
		own := before
		for k, c := range before {
			if c.Blank {
				own = before[k:]
			}
		}
		switch {
		case len(own) > 0 && src.LineNumber(own[len(own)-1].At.Start) == first-1:
			about = plain(own)
		case len(own) > 0 || first > last+1:
			about = ""
		}
		last = end
		t := Thing{Part: name, About: about, Text: s.Span().Text()}
		switch s := s.(type) {
		case *ast.Decl:
			t.Kind, t.Name = s.Kind.Name, s.Name.Name
			for _, c := range s.Clauses {
				if n, ok := c.Target.(*ast.Name); ok && c.Word.Name == "like" {
					t.Like = n.Dotted()
				}
			}
		case *ast.Let:
			t.Kind, t.Name = "let", s.Name.Name
		default:
			continue
		}
		p.Things = append(p.Things, t)
	}
	return p, true
}

// plain is the text of a comment without its signs.
func plain(comments []ast.Comment) string {
	var lines []string
	for _, c := range comments {
		if c.Blank && len(lines) > 0 {
			lines = append(lines, "")
		}
		lines = append(lines, strings.TrimSpace(strings.TrimPrefix(c.At.Text(), "#")))
	}
	return strings.Join(lines, "\n")
}

// All takes all parts apart, in alphabetical order.
func All() []*Part {
	var all []*Part
	for _, name := range Names() {
		if p, ok := Read(name); ok {
			all = append(all, p)
		}
	}
	return all
}
