package resolve

import (
	"slices"

	"foredge/lang/ast"
)

// A handed is lines that come along in the braces around a thing and are about it alone. It
// takes them over itself, where something nearer may replace them: what its own clause names.
type handed struct {
	lines []*Line
	by    *rebase
	from  *Thing
}

// handsTo is the thing in t to which an inherited line is left, as one of the clauses between
// the two may replace what the line states; nil if none may.
func (t *Thing) handsTo(l *Line, by *rebase) *Thing {
	var to *Thing
	i := -1
	eachLink(l.Stmt, func(left ast.Expr, op ast.Op, right ast.Expr) {
		if i++; op != ast.Eq || slices.Contains(l.links, i) {
			return
		}
		if in := t.about(by.to[0], left, right).of; in != nil && in != t && in.state == untouched && t.Holds(in) && t.nearerIn(in, by.layer) {
			to = in
		}
	})
	return to
}

// nearerIn reports whether a thing in t, or what is between the two, takes something over that is
// nearer to it than what a clause on t or around it brings along.
func (t *Thing) nearerIn(in *Thing, layer int) bool {
	for ; in != t; in = in.Parent {
		if in.takesNearer(layer) {
			return true
		}
	}
	return false
}

// anyNearer reports whether anything in t does.
func (t *Thing) anyNearer(layer int) bool {
	return slices.ContainsFunc(t.Children, func(c *Thing) bool { return c.takesNearer(layer) || c.anyNearer(layer) })
}

// takesNearer reports whether the thing itself does.
func (t *Thing) takesNearer(layer int) bool {
	return t.likes() || len(t.sources) > 0 && t.sources[0].rb.layer != layer
}

// likes reports whether a clause of the thing names what it is like.
func (t *Thing) likes() bool {
	return t.Decl != nil && slices.ContainsFunc(t.Decl.Clauses, func(c ast.Clause) bool { return c.Word.Name == "like" && t.Kind.Allows("like") })
}

// bringHanded takes over the lines that were left to a thing and come along by one clause, of
// whichever clause are left if that is 0.
func (r *resolver) bringHanded(t *Thing, layer int) {
	for _, h := range t.handed {
		if layer == 0 || h.by.layer == layer {
			r.bringAll(t, h)
		}
	}
	t.handed = slices.DeleteFunc(t.handed, func(h handed) bool { return layer == 0 || h.by.layer == layer })
}
