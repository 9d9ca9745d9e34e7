package compile

import (
	"slices"

	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/lang/ast"
)

// likeness notes of a stock what it is like, as far as that takes part, and keeps of the wood that it
// inherits none: whether both are of one wood is known once the values of both are, and then the other
// has it (see the package outcome). Of what takes no part only its lines are known.
func (c *compiler) likeness(d *draft, m *model.Stock) {
	t := d.thing
	called, wood := t, t
	if like := c.drafts[t.Like]; t.Like != nil && like != nil && !like.absent {
		m.Like, _ = like.node.(*model.Stock)
		m.Same = t.Same() != nil
	} else {
		for same := called.Same(); same != nil; same = called.Same() {
			called = same
		}
		if wood = woodOf(t); wood == t {
			wood = called
		}
	}
	m.Called, m.CalledAt, m.Chosen = called.Name, called.At, len(called.When) > 0
	m.Wood, m.WoodChosen = wood.Name, len(wood.When) > 0
	another := func(key string) bool {
		p, said := d.props[key]
		own := said && p.from == nil
		m.Supplied = m.Supplied || own
		return !own && (m.Like != nil || p.from != wood)
	}
	if another("quantity") {
		m.Quantity = maybe.Of[int]{}
	}
	if another("offcuts") {
		m.Offcuts = nil
	}
}

// sameStocks has a stock take part that another one is under another name: what is cut from the one
// is cut from the other.
func (c *compiler) sameStocks() {
	for i := 0; i < len(c.present); i++ { // it grows by what such a one is in turn
		if t := c.present[i].thing; t.Kind.ID == kind.Stock {
			if same := t.Same(); same != nil {
				c.draft(same)
			}
		}
	}
}

// woodOf is the stock whose wood a stock is cut from by the lines of both: what it is like, as far as
// no line of its own is about the sheets themselves and how many there are. How parts lie on them and
// are cut out makes no other wood.
func woodOf(t *resolve.Thing) *resolve.Thing {
	return t.AsLike(func(l *resolve.Line) bool {
		switch subjectOf(l) {
		case dim.Thick.String(), "material", "grain", "size", "price", "quantity", "offcuts":
			return true
		}
		return false
	})
}

// subjectOf is the first word of a line that states something by its name.
func subjectOf(l *resolve.Line) string {
	if r, ok := l.Stmt.(*ast.Relation); ok {
		if name, ok := r.First.(*ast.Name); ok {
			return name.Parts[0].Name
		}
	}
	return ""
}

// asThickAsSame makes a stock that is another under another name as thick as that. What both say
// by = alone comes to the same for both, and so do readings, which nothing may move.
func (c *compiler) asThickAsSame(d *draft) {
	m, ok := d.node.(*model.Stock)
	if !ok || !m.Same || c.measuredStock(d) || slices.ContainsFunc(d.thing.Lines, equatesThick) {
		return
	}
	c.System.Relations = append(c.System.Relations, relation.Relation{
		Left: m.V(dim.Thick), Right: m.Like.V(dim.Thick), Role: relation.Fact, At: m.At})
}

// equatesThick reports a line that says by = how thick its thing is.
func equatesThick(l *resolve.Line) bool {
	r, ok := l.Stmt.(*ast.Relation)
	return ok && isEquation(r) && speaksOf(l, dim.Thick)
}
