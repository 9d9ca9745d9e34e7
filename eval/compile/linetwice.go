package compile

import (
	"strings"

	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/lang/ast"
)

// linesTwice warns of lines that say the same of a dimension twice in one pair of braces: the second
// is likely to have been copied and not changed, as over-head = 2; over-head = 2. In a notebook or a
// stock they are two readings.
func (c *compiler) linesTwice() {
	if c.info.Broken {
		return // braces may be missing
	}
	var lines []ast.Stmt
	for _, l := range c.info.Main.Lines {
		lines = append(lines, l.Stmt)
	}
	c.sameLines(lines)
	for _, t := range c.info.Main.Things {
		if t.Decl != nil {
			c.sameLinesIn(t.Decl)
		}
	}
}

// sameLinesIn looks through a thing and all that stands in it.
func (c *compiler) sameLinesIn(d *ast.Decl) {
	if k := kind.Find(d.Kind.Name); d.Body == nil || k != nil && (k.Bench || k.ID == kind.Orders) {
		return
	}
	c.sameLines(d.Body.Stmts)
	for _, s := range d.Body.Stmts {
		if inner, ok := s.(*ast.Decl); ok {
			c.sameLinesIn(inner)
		}
	}
}

// sameLines warns of those of some lines that are the same.
func (c *compiler) sameLines(stmts []ast.Stmt) {
	var first map[string]*ast.Relation
	for _, s := range stmts {
		r, ok := s.(*ast.Relation)
		if !ok || len(r.Rest) != 1 || r.Rest[0].Op != ast.Eq {
			continue
		}
		name, ok := r.First.(*ast.Name)
		if !ok {
			continue
		}
		text := strings.ReplaceAll(r.Span().Text(), " ", "")
		if first == nil {
			first = map[string]*ast.Relation{}
		}
		switch before := first[text]; {
		case before == nil:
			first[text] = r
		case ofDimension(name):
			c.Diags.Warnf("line-twice", r.Span(), "%s is stated again, the same as before", name.Dotted()).
				Note(before.Span(), "the first is here").
				WithHelp("if the second is to be of something else, name that; else take it out")
		}
	}
}

// ofDimension reports whether a name ends in that of a dimension.
func ofDimension(name *ast.Name) bool {
	dotted := "." + name.Dotted()
	for n := dim.None + 1; n < dim.Number; n++ {
		if strings.HasSuffix(dotted, "."+n.String()) {
			return true
		}
	}
	return false
}
