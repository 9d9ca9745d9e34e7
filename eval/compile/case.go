package compile

import (
	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/word"
	"foredge/lang/ast"
)

// caseOf adds that a case is as wide as what it lays and as high as its
// panels.
func (c *compiler) caseOf(d *draft, casing *model.Case) {
	c.lay(d, casing)
	casing.CoveringStock = c.sheetOf(d, "covering-stock")
	casing.SpineStock = c.sheetOf(d, "spine-stock")
	casing.LiningStock = c.sheetOf(d, "lining-stock")
	if p, ok := d.props["bound"]; ok {
		casing.Bound, _ = choose(c, p, "a way to cover a case", word.Bounds()...)
	}
	if len(casing.Lay) == 0 {
		if _, ok := d.props["lay"]; !ok {
			c.Diags.Errorf("no-lay", d.At, "nothing says what %s lays side by side", d.Path).
				WithHelp("as in lay = back, joint, spine-strip, joint, front")
		}
		return
	}
	var sum []relation.Expr
	high := false
	for _, laid := range casing.Lay {
		part := laid.Part.Base()
		sum = append(sum, part.V(dim.Width))
		if part.Kind == kind.Panel && !high {
			high = true
			c.own(d, d.V(dim.Height), part.V(dim.Height), "")
		}
	}
	if !high {
		c.Diags.Errorf("no-lay", d.props["lay"].at(), "%s lays no panel, only gaps", d.Path).
			WithHelp("as in lay = back, joint, spine-strip, joint, front")
		return
	}
	c.own(d, d.V(dim.Width), relation.Add(sum...), "")
	c.bound(d, casing)
	c.mitre(d, casing)
}

// needPieces marks what the pieces that wrap a case depend on, where a line speaks of it.
func (c *compiler) needPieces(d *draft, lines lineIndex) {
	for _, n := range []dim.Name{dim.TurnIn, dim.Mitre, dim.Lining} {
		if id, ok := d.Dim(n); ok && lines.spoken[id] {
			c.need(d, n)
		}
	}
}

// noTabs reports panels of a case that are sets of dividers.
func (c *compiler) noTabs(casing *model.Case) {
	for _, laid := range casing.Lay {
		if p, ok := laid.Part.(*model.Panel); ok && p.Tabs != nil {
			c.Diags.Errorf("tabs", laid.At, "%s is laid in %s, so it can't be a divider with a tab", laid.At.Short(), casing.Name).
				Note(p.Tabs.At, "its tabs are here").WithHelp("leave out its tabs, or lay another panel")
		}
	}
}

// mitreFactor is how far from a board's corner, in board thicknesses, the
// covering is cut off at 45 degrees so that its turn-ins meet, where no line
// says it: about 1.5 times the board, by two published bookbinding lessons; a
// handbook of 1919 says about 1. The shelf has both by name.
const mitreFactor = 1.5

// mitre is as wide as suits the thickest board, if all thicknesses are known.
func (c *compiler) mitre(d *draft, casing *model.Case) {
	var thick []relation.Expr
	var given []relation.VarID
	for _, laid := range casing.Lay {
		if panel, ok := laid.Part.(*model.Panel); ok {
			id, _ := panel.Dim(dim.Thick)
			thick, given = append(thick, panel.V(dim.Thick)), append(given, id)
		}
	}
	if len(thick) == 0 {
		return
	}
	c.byDefault(mitrePhase, relation.Default{Left: d.V(dim.Mitre), Right: relation.Mul(relation.C(mitreFactor), most(thick...)),
		Given: given, Vars: dimsOf(d, dim.Mitre), At: d.At, Why: "1.5 times the thickness of the board"})
}

// sheetOf is the stock from which a case's covering or lining or a row's guide is cut.
func (c *compiler) sheetOf(d *draft, key string) *model.Stock {
	p, ok := d.props[key]
	if !ok {
		return nil
	}
	t := c.stockThere(d, c.namedStock(key, p), p)
	if t == nil {
		return nil
	}
	return c.draft(t).node.(*model.Stock)
}

// lay finds the panels and gaps that a case puts side by side.
func (c *compiler) lay(d *draft, casing *model.Case) {
	p, ok := d.props["lay"]
	if !ok {
		return
	}
	values := c.listed(p)
	for _, e := range values {
		part, ok := c.layPart(p, e)
		if !ok {
			return
		}
		if panel, ok := part.node.(*model.Panel); ok {
			if panel.Case != nil {
				c.Diags.Errorf("laid-twice", e.Span(), "%s is laid twice: a panel can be drawn only once", part.thing.Path()).
					WithHelp("declare a second panel like it, as in panel other like %s", part.thing.Path())
				return
			}
			panel.Case = casing
		}
		casing.Lay = append(casing.Lay, model.Laid{Part: part.node, At: e.Span()})
	}
}

// layPart finds a panel or gap that lay names. It reports anything else.
func (c *compiler) layPart(p property, e ast.Expr) (*draft, bool) {
	if isBad(e) {
		return nil, false
	}
	n, ok := e.(*ast.Name)
	if !ok {
		c.Diags.Errorf("lay", e.Span(), "lay lists the names of panels and gaps").
			WithHelp("as in lay = back, joint, spine-strip, joint, front")
		return nil, false
	}
	sym, ok := c.lookUp(n, p.scope, kind.Panel, kind.Gap)
	if !ok {
		return nil, false
	}
	if !isThing(sym, kind.Panel, kind.Gap) {
		c.Diags.Errorf("lay", e.Span(), "%s is neither a panel nor a gap", n.Dotted()).
			WithHelp("a case lays panels and gaps side by side, from left to right as seen from outside")
		return nil, false
	}
	part := c.draft(sym.Thing)
	if part.absent {
		c.Diags.Errorf("left-out", e.Span(), "%s isn't there: its `when` doesn't hold", n.Dotted()).
			Note(sym.Thing.At, "it is declared here").WithHelp("leave it out of lay, or put the case under the same `when`")
		return nil, false
	}
	return part, true
}
