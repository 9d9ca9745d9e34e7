package compile

import (
	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/word"
	"foredge/lang/source"
)

// How far a case in quarter or half is covered by its spine's cloth, where no line
// says it.
const (
	// boundShare is the share of a board's width that the spine's cloth takes, and
	// along head and tail again that of a corner: a quarter of each board ("Quarter
	// Binding How To!", a binder's blog of February 2013, author unknown), and in
	// half the two together half of the upper edge (a rare books dealer's glossary,
	// undated, author unknown).
	boundShare = 0.25
	// boundOverlap is how far cloth goes on under a side, in mm. Common practice, no
	// source.
	boundOverlap = 3
)

// bound adds what holds of the pieces with which a case in quarter or half is
// covered: the spine's cloth goes from board to board and on under the sides, and
// a side goes from where that cloth shows to the foredge, where it is turned in.
func (c *compiler) bound(d *draft, casing *model.Case) {
	if casing.Bound != word.QuarterBound && casing.Bound != word.HalfBound {
		_, misspelt := d.props["bound"]
		if p, ok := d.props["spine-stock"]; ok && (casing.Bound != 0 || !misspelt) {
			c.Diags.Errorf("not-bound", p.at(), "%s has no spine's cloth: it is covered in one piece", d.Path).
				WithHelp("write bound = quarter or bound = half, or leave spine-stock out; covering-stock is what the one piece is cut from")
		}
		return
	}
	first, isPanel := casing.Lay[0].Part.(*model.Panel)
	last, isAnother := casing.Lay[len(casing.Lay)-1].Part.(*model.Panel)
	if !isPanel || !isAnother || len(casing.Lay) < 3 {
		c.Diags.Errorf("no-spine", d.props["bound"].at(), "%s is bound in %s, but doesn't lay a board at each end with its spine between them", d.Path, casing.Bound).
			WithHelp("as in lay = back, joint, spine-strip, joint, front")
		return
	}
	reach, overlap := d.V(dim.SpineReach), d.V(dim.Overlap)
	under := relation.Add(reach, overlap)
	c.own(d, relation.Add(d.V(dim.SpineWidth), first.V(dim.Width), last.V(dim.Width)), relation.Add(d.V(dim.Width), under, under),
		"the spine's cloth lies on both boards")
	c.own(d, relation.Add(d.V(dim.SideWidth), reach), relation.Add(first.V(dim.Width), d.V(dim.TurnIn)), "a side begins where the spine's cloth ends")
	c.need(d, dim.TurnIn, dim.SpineReach, dim.Overlap, dim.SpineWidth, dim.SideWidth)
	width, _ := first.Dim(dim.Width)
	c.byDefault(overlapPhase, relation.Default{Left: overlap, Right: relation.C(boundOverlap), Vars: dimsOf(d, dim.Overlap), At: d.At,
		Why: "common practice"})
	c.byDefault(spinePhase, relation.Default{Left: reach, Right: relation.Mul(relation.C(boundShare), first.V(dim.Width)),
		Given: []relation.VarID{width}, Vars: dimsOf(d, dim.SpineReach), At: d.At, Why: "a quarter of the board"})
	if casing.Bound == word.HalfBound {
		c.need(d, dim.CornerReach)
		c.byDefault(cornerPhase, relation.Default{Left: d.V(dim.CornerReach), Right: reach, Given: dimsOf(d, dim.SpineReach),
			Vars: dimsOf(d, dim.CornerReach), At: d.At, Why: "as much as of the spine's cloth"})
	}
}

// unbound reports what is said of a piece that a case doesn't have: somebody forgot
// to say how it is bound.
func (c *compiler) unbound(d *draft, n dim.Name, at source.Span) {
	b := d.thing.Bound()
	if _, stated := d.props["bound"]; stated && b == 0 {
		return // told as no way to cover a case
	}
	is, help := "is covered in one piece", "write bound = quarter or bound = half"
	switch {
	case b == word.QuarterBound:
		is, help = "is bound in quarter, without corners of cloth", "write bound = half"
	case n == dim.CornerReach:
		help = "write bound = half"
	}
	c.Diags.Errorf("not-bound", at, "%s has no %s: it %s", d.Path, n, is).WithHelp("%s, or leave it out", help)
}
