package compile

import (
	"maps"
	"slices"

	"foredge/eval/dim"
	"foredge/lang/ast"
)

// leftAlong warns of lines that go with what `without` leaves out though they are about the thing around
// it, as ease in the braces of a region is the panel's: braces end later than was meant.
func (c *compiler) leftAlong() {
	for _, d := range c.present {
		like := d.thing.Model()
		if like == nil || len(d.thing.Left) == 0 {
			continue
		}
		for _, name := range slices.Sorted(maps.Keys(d.thing.Left)) {
			part, _ := like.Member(name)
			if part == nil || d.thing.Left[name] == d.thing.At {
				continue // nothing, or a row left out as another notebook has none
			}
			for _, l := range part.Lines {
				r, ok := l.Stmt.(*ast.Relation)
				if !ok || r.Rest[0].Op != ast.Eq {
					continue
				}
				left, ok := r.First.(*ast.Name)
				if !ok {
					continue
				}
				if sym, problem := l.Scope.Lookup(left); problem == nil && sym.Thing == part.Parent && sym.Dim != dim.None {
					c.Diags.Warnf("left-along", d.thing.Left[name], "without %s leaves out %s too, which is about %s itself", name, r.Span().Short(), part.Parent.Path()).
						Note(r.Span(), "it stands in the braces of %s", name).
						WithHelp("if it is to hold here too, move it out of these braces")
				}
			}
		}
	}
}
