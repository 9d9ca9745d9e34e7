package compile

import (
	"slices"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/lang/ast"
)

// stockNode is what a stock becomes. Of which wood it is, is known once the values of all are:
// see the package outcome.
func (c *compiler) stockNode(t *resolve.Thing, thing model.Thing) *model.Stock {
	m := &model.Stock{Thing: thing, Supplied: suppliesItself(t)}
	if t.Like != nil {
		if like := c.draft(t.Like); !like.absent {
			m.Like, _ = like.node.(*model.Stock)
		}
	}
	called, wood := t, t
	if m.Like != nil {
		m.Same = t.Same() != nil
	} else { // of what isn't there only its lines are known
		for same := called.Same(); same != nil; same = called.Same() {
			called = same
		}
		wood = woodOf(t)
		if wood == t {
			wood = called
		}
	}
	m.Called, m.Chosen = called.Name, len(called.When) > 0
	m.Wood, m.WoodChosen = wood.Name, len(wood.When) > 0
	return m
}

// isSupply reports whether a word says how much wood of a stock there is.
func isSupply(word string) bool { return word == "quantity" || word == "offcuts" }

// suppliesItself reports whether a line of its own says how much wood of a stock there is.
func suppliesItself(t *resolve.Thing) bool {
	return slices.ContainsFunc(t.Lines, func(l *resolve.Line) bool { return l.From == nil && isSupply(subjectOf(l)) })
}

// ofAnothersWood reports whether a line of a stock says how much wood there is of one that it is
// like: if it is of that wood the other has it, else it is another wood.
func (c *compiler) ofAnothersWood(d *draft, key string, l *resolve.Line) bool {
	stock, ok := d.node.(*model.Stock)
	return ok && isSupply(key) && l.From != nil && (stock.Like != nil || l.From != woodOf(d.thing))
}

// woodOf is the stock whose wood a stock is cut from by the lines of both: what it is like, as far as
// no line of its own is about the sheets themselves and how many there are. How parts lie on them and
// are cut out makes no other wood.
func woodOf(t *resolve.Thing) *resolve.Thing {
	return t.AsLike(func(l *resolve.Line) bool {
		switch word := subjectOf(l); word {
		case dim.Thick.String(), "material", "grain", "size", "price":
			return true
		default:
			return isSupply(word)
		}
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

// asThickAsSame makes a stock that is another under another name as thick as that, where a line
// outside the braces of the other says how thick it is.
func (c *compiler) asThickAsSame(d *draft) {
	if m, ok := d.node.(*model.Stock); ok && m.Same && !states(d, dim.Thick) {
		c.System.Relations = append(c.System.Relations, relation.Relation{
			Left: m.V(dim.Thick), Right: m.Like.V(dim.Thick), Role: relation.Fact, At: m.At})
	}
}
