package compile

import (
	"maps"
	"slices"

	"foredge/eval/dim"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/source"
)

// leftAlong warns of lines that go with what `without` leaves out though they are about the thing around
// it or its neighbours, as ease in the braces of a region is the panel's: braces end later than was meant.
func (c *compiler) leftAlong() {
	for _, d := range c.present {
		t, like := d.thing, d.thing.Model()
		if like == nil || len(t.Left) == 0 {
			continue
		}
		for _, name := range slices.Sorted(maps.Keys(t.Left)) {
			part, _ := like.Member(name)
			if part == nil || t.Left[name] == t.At {
				continue // nothing, or a row left out as another notebook has none
			}
			c.linesAlong(t, part, t.Left[name])
		}
	}
}

// linesAlong warns of those of a part that a thing leaves out, and of what stands in that.
func (c *compiler) linesAlong(t, part *resolve.Thing, at source.Span) {
	whole := part.Parent
	for _, in := range append([]*resolve.Thing{part}, part.Children...) {
		for _, l := range in.Lines {
			var left *ast.Name
			equation := false
			switch s := l.Stmt.(type) {
			case *ast.Relation:
				left, _ = s.First.(*ast.Name)
				equation = isEquation(s)
			case *ast.Prefer:
				left, _ = s.Left.(*ast.Name)
			}
			if left == nil || left.Parts[0].Name == whole.Name || equation && states(t, left.Dotted()) {
				continue
			}
			sym, problem := l.Scope.Lookup(left)
			if problem != nil || sym.Dim == dim.None || !whole.Holds(sym.Thing) || part.Holds(sym.Thing) {
				continue
			}
			c.Diags.Warnf("left-along", at, "without %s leaves out %s too, which is about %s", part.Name, l.Stmt.Span().Short(), sym.Thing.Path()).
				Note(l.Stmt.Span(), "it stands in the braces of %s", in.Path()).
				WithHelp("if it is to hold here too, move it out of these braces")
		}
	}
}

// states reports whether a thing has an equation of its own that begins with a name: what would
// replace such a one that came along.
func states(t *resolve.Thing, name string) bool {
	return slices.ContainsFunc(t.Lines, func(l *resolve.Line) bool {
		r, ok := l.Stmt.(*ast.Relation)
		if !ok || l.From != nil || !isEquation(r) {
			return false
		}
		left, ok := r.First.(*ast.Name)
		return ok && left.Dotted() == name
	})
}
