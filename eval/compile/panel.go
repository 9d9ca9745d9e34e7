package compile

import (
	"fmt"
	"slices"

	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// panel adds what ties a panel to the notebook that it covers and to the stock
// that it is cut from:
//
//	height = the notebook's + over-head + over-tail
//	width = the notebook's + over-spine + over-foredge
//	thick = the stock's
func (c *compiler) panel(d *draft, panel *model.Panel) {
	c.need(d, dim.Width, dim.Height)
	c.panelStock(d, panel)
	if d.thing.Covers == nil {
		return
	}
	book := c.draft(d.thing.Covers)
	if book.absent {
		panel.Missing = book.Thing
		return
	}
	panel.Covers, _ = book.node.(*model.Notebook)
	for _, side := range []struct{ size, near, far dim.Name }{
		{dim.Height, dim.OverHead, dim.OverTail}, {dim.Width, dim.OverSpine, dim.OverForedge},
	} {
		c.System.Relations = append(c.System.Relations, relation.Relation{
			Left: d.V(side.size), Right: relation.Add(book.V(side.size), d.V(side.near), d.V(side.far)),
			Role: relation.Fact, At: book.At})
	}
	c.holds(d, dim.Ease, dim.None, easePhase)
	// Extra height is shared between head and tail, as both are to be 0; extra width
	// goes to the foredge.
	c.holds(d, dim.OverHead, dim.Height, overhangPhase)
	c.holds(d, dim.OverTail, dim.Height, overhangPhase)
	c.holds(d, dim.OverSpine, dim.Width, overhangPhase)
	c.holds(d, dim.OverForedge, dim.Width, foredgePhase)
}

// bareRows notes the rows of the notebook that a panel covers for which its own row isn't there.
func (c *compiler) bareRows(d *draft, panel *model.Panel) {
	if panel.Covers == nil {
		return
	}
	for _, row := range d.thing.Covers.Children {
		own, _ := d.thing.Member(row.Name)
		if row.Kind.ID != kind.Row || own == nil || len(own.When) == 0 {
			continue
		}
		if of, its := c.drafts[row], c.drafts[own]; of != nil && !of.absent && its != nil && its.absent {
			panel.Bare = append(panel.Bare, model.Bare{Row: of.Thing, At: own.When[0].Expr.Span()})
		}
	}
}

// panelStock finds what a panel is cut from: the stock that it names, or the
// only one that its file can see.
func (c *compiler) panelStock(d *draft, panel *model.Panel) {
	t := c.stockOf(d)
	if t == nil {
		if _, named := d.props["stock"]; !named {
			panel.Stocks = c.sight(d.thing.File, kind.Stock).names()
		}
		return
	}
	stock := c.draft(t)
	if stock.absent {
		return
	}
	panel.Stock, _ = stock.node.(*model.Stock)
	if panel.Stock != nil {
		c.asThick(panel)
	}
}

// asThick makes a panel as thick as what it is cut from: sheets of a stock are of one thickness, also
// where only the boards that are cut from them say which.
func (c *compiler) asThick(panel *model.Panel) {
	c.System.Relations = append(c.System.Relations, relation.Relation{
		Left: panel.V(dim.Thick), Right: panel.Stock.V(dim.Thick), Role: relation.Fact, At: panel.Stock.At})
}

func (c *compiler) stockOf(d *draft) *resolve.Thing {
	p, named := d.props["stock"]
	if named {
		return c.stockThere(d, c.namedStock("stock", p), p)
	}
	there := c.sight(d.thing.File, kind.Stock).things
	own := 0 // they stand first
	for own < len(there) && own < 2 && there[own].File == d.thing.File {
		own++
	}
	switch {
	case own == 1 || len(there) == 1:
		return there[0]
	case own > 1:
		const shown = 3
		var names []string
		for _, t := range there[:min(shown, len(there))] {
			names = append(names, t.Name)
		}
		if len(there) > shown {
			names = append(names, "others")
		}
		c.Diags.Errorf("which-stock", d.At, "%s doesn't say which stock it is cut from: %s", d.Path, spell.Or(names)).
			Note(there[0].At, "one is here").Note(there[1].At, "another is here").
			WithHelp("name it in the braces of the panel, as in stock = %s", names[0])
	}
	return nil
}

// stockThere is a stock that a thing, or a mark of one that is there (nil), names, if it is there. That one isn't is told,
// unless the thing isn't there itself: nothing is cut of no known thickness and kerf
// because of a condition.
func (c *compiler) stockThere(d *draft, t *resolve.Thing, p property) *resolve.Thing {
	if t == nil || !c.draft(t).absent {
		return t
	}
	if d == nil || !d.absent {
		c.Diags.Errorf("left-out", p.at(), "%s isn't there: its `when` doesn't hold", p.at().Short()).
			Note(t.At, "it is declared here").
			WithHelp("name a stock that is there, or see that one of that name is there for each order")
	}
	return nil
}

// namedStock finds the stock that a property names, nil for what it reports.
func (c *compiler) namedStock(key string, p property) *resolve.Thing {
	return c.namedThing("stock", key, p, kind.Stock, fmt.Sprintf("declare one, as in stock birch { size = %s by %s; thick = %s }, and name it here",
		unit.Example(600, c.UnitOf(p.at())), unit.Example(300, c.UnitOf(p.at())), unit.Example(3, c.UnitOf(p.at()))))
}

// cornerLine checks `corner head-foredge = radius 6`.
func (c *compiler) cornerLine(d *draft, p property) {
	g := p.line.First.(*ast.Indexed)
	which, ok := word.Find(g.Index.Name, word.Corners()...)
	if !ok {
		words := word.Strings(word.Corners()...)
		message := c.Diags.Errorf("corner", g.Index.At, "a panel has no corner %q", g.Index.Name)
		if say := word.Elsewhere(g.Index.Name, func(w string) bool { return slices.Contains(words, w) }); say != "" {
			word.Tell(message, g.Index.Name, say)
		} else if near := spell.Nearest(g.Index.Name, words); near != "" {
			message.Meant(g.Index.Name, near)
		} else {
			message.WithHelp("the corners are head-spine, head-foredge, tail-spine and tail-foredge")
		}
		return
	}
	if corner, ok := c.corner(p); ok {
		d.node.(*model.Panel).Corners[which-1] = corner
	}
}

// corners reads `corners = radius 6`: the form of all corners that have no line
// of their own.
func (c *compiler) corners(d *draft, p property) {
	corner, ok := c.corner(p)
	if !ok {
		return
	}
	for i, which := range word.Corners() {
		if _, own := d.props["corner "+which.String()]; !own {
			d.node.(*model.Panel).Corners[i] = corner
		}
	}
}

// corner reads the form of a corner and makes its dimensions needed.
func (c *compiler) corner(p property) (model.Corner, bool) {
	corner := model.Corner{At: p.line.Span()}
	if n, ok := p.value.(*ast.Name); ok && n.Dotted() == word.Square.String() {
		corner.Form = word.Square
		return corner, true
	}
	form, reported := c.formOf(p.value, p.scope)
	ok := false
	if form != nil {
		corner.Form, ok = word.Find(form.Shape.Word.Name, word.CornerShapes()...)
	}
	const forms = "write radius 6, chamfer 4, scoop 6 or square"
	switch {
	case ok:
	case reported:
		return corner, false
	case c.meansNothing(p.value, p.scope):
		c.Diags.Errorf("word", p.at(), "%s is not a form of corner", p.at().Short()).WithHelp(forms)
		return corner, false
	default:
		c.Diags.Errorf("corner-form", p.at(), "%s is not a form of corner", p.at().Short()).WithHelp(forms)
		return corner, false
	}
	shape := form.Shape
	x, ok := c.As(shape.A, form.Scope, unit.Length, shape.Word.Name)
	if !ok {
		return corner, false
	}
	c.notNegative(x, shape.A.Span(), shape.Word.Name)
	c.needExpr(x)
	corner.Size = maybe.Is(x)
	return corner, true
}

// archLine reads `arch = 12`: how far the head edge rises from its ends to its
// middle.
func (c *compiler) archLine(n *model.Panel, p property) {
	x, ok := c.As(p.value, p.scope, unit.Length, "arch")
	if !ok {
		return
	}
	if v, known := x.Constant(); known && v < 0 {
		c.Diags.Errorf("negative", p.at(), "an arch can't rise by less than 0").
			WithHelp("state how far the middle of the head edge lies above its ends; for a straight one take the line out")
		return
	}
	c.needExpr(x)
	n.Arch, n.ArchAt = maybe.Is(x), p.line.Span()
}
