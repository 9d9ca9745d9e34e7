package compile

import (
	"slices"

	"foredge/eval/kind"
	"foredge/eval/resolve"
	"foredge/lang/ast"
)

// idleGaps warns of gaps of the design that nothing names, where it has a case: one that was left out
// of what a case lays, whose covering then comes out too narrow by as much.
func (c *compiler) idleGaps() {
	if c.info.Broken {
		return // what can't be read may lay them
	}
	var laidIn *resolve.Thing
	for _, t := range c.info.Main.Things {
		if t.Kind.ID == kind.Case {
			laidIn = t
		}
	}
	if laidIn == nil {
		return
	}
	used := c.topNamesUsed()
	for _, t := range c.info.Main.Things {
		if t.Kind.ID != kind.Gap || len(t.When) > 0 || used[t.Name] {
			continue
		}
		c.Diags.Warnf("idle-gap", t.At, "no case lays the gap %s", t.Name).
			Note(laidIn.At, "%s is here", laidIn.Name).
			WithHelp("name it in the lay of a case, between the two boards that it parts, or take it out")
	}
}

// idleNotebooks warns of notebooks that nothing names in a design of which a panel covers another: it is
// likely to be the wrong one.
func (c *compiler) idleNotebooks() {
	if c.info.Broken {
		return
	}
	covered := map[*resolve.Thing]bool{}
	for _, t := range c.info.Main.Things {
		if t.Covers != nil {
			covered[t.Covers] = true
		}
	}
	if len(covered) == 0 {
		return
	}
	var used map[string]bool
	for _, t := range c.info.Main.Things {
		if t.Kind.ID != kind.Notebook || len(t.When) > 0 || covered[t] || slices.ContainsFunc(t.Children, hasGuide) {
			continue
		}
		if used == nil {
			used = c.topNamesUsed()
		}
		if !used[t.Name] {
			c.Diags.Warnf("idle-notebook", t.At, "nothing covers the notebook %s, and nothing speaks of it", t.Name).
				WithHelp("name it in a panel, as in panel front covers %s, or take it out", t.Name)
		}
	}
}

// hasGuide reports whether a row says what a guide for it is cut from, for which its notebook may be there.
func hasGuide(row *resolve.Thing) bool {
	return slices.ContainsFunc(row.Lines, func(l *resolve.Line) bool {
		r, ok := l.Stmt.(*ast.Relation)
		return ok && row.Property(r.First) == "guide-stock"
	})
}
