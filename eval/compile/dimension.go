package compile

import (
	"strconv"

	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// Dimension finds the dimension that a name stands for and makes its thing take
// part. It reports a thing that is not there.
func (c *compiler) Dimension(s resolve.Symbol, at source.Span) (relation.VarID, unit.Kind, bool) {
	id, ok := c.find(s, at)
	if !ok {
		return 0, 0, false
	}
	return id, c.System.Vars[id].Kind, true
}

// Reach has a thing take part.
func (c *compiler) Reach(t *resolve.Thing) {
	if top := t.Top(); top.Kind.ID != kind.Style || top == c.trying {
		c.draft(t)
	}
}

func (c *compiler) find(s resolve.Symbol, at source.Span) (relation.VarID, bool) {
	t, n := s.Thing, s.Dim
	if c.inStyle(t, at) {
		return 0, false
	}
	d := c.draft(t)
	if d.undecided {
		c.Diags.Errorf("when-circle", at, "whether %s is there would depend on itself", t.Path()).
			Note(t.At, "it is declared here").WithHelp("ask about orders, or about named values that need no %s", t.Path())
		return 0, false
	}
	if d.absent {
		c.leftOut(t, at)
		return 0, false
	}
	if n == dim.Gap {
		return c.findGap(d, s.Gap, at)
	}
	if s.Cell != (resolve.Cell{}) {
		return c.memberDim(d, s, at)
	}
	if id, ok := d.Dim(n); ok {
		return id, true
	}
	return c.createDim(d, n, at)
}

// createDim gives a thing a dimension that it only has if a line speaks of it.
// It reports one that the thing can't have.
func (c *compiler) createDim(d *draft, n dim.Name, at source.Span) (relation.VarID, bool) {
	switch {
	case d.Kind == kind.Material && c.sheet != nil:
		return c.sheet.Dim(dim.Thick)
	case d.Kind == kind.Material:
		c.Diags.Errorf("unknown-name", at, "a material has no thickness of its own: %s is that of the sheet made of it", n).
			WithHelp("use the stock's thick")
	case n == dim.Radius || d.Kind == kind.Field:
		return c.addDim(d, n), true
	case n == dim.Ease && d.thing.Top() == c.trying:
		return c.addDim(d, n), true // of a panel that covers something, which is like the style
	case n.OfCover() && unsure(d):
	case n == dim.Ease:
		c.Diags.Errorf("unknown-name", at, "%s lies on no measured hole, so it has no ease", d.Path).
			WithHelp("give the length another name, as in let room = %s, and use that", unit.Example(0.3, c.UnitOf(at)))
	case d.Kind == kind.Case:
		c.unbound(d, n, at)
	case d.Kind == kind.Binding:
		return c.bindingDim(d, n, at)
	case d.parent != nil && d.parent.Kind == kind.Field:
		c.Diags.Errorf("member-place", at, "%s lies where its field says, and has no %s of its own", d.Path, n).
			WithHelp("state the %s of %s, which is that of all its members together; one of them is spoken of as %s.1.1.%s", n, d.parent.Path, d.parent.Path, n)
	case n == dim.Wire:
		if d.parent.Kind == kind.Notebook {
			return c.addDim(d, n), true
		}
		c.Diags.Errorf("wire", at, "%s is cut, and only a row of a notebook has a wire", d.Path).
			WithHelp("state the wire's thickness in the notebook's row, where it was measured")
	case d.Kind == kind.Panel:
		c.Diags.Errorf("no-overhang", at, "%s covers nothing, so there is nothing for it to reach past", d.Path).
			WithHelp("write `covers` and the notebook's name after the panel's name, or state its size")
	case len(d.Gaps) > 0 && (n == dim.Pitch || n == dim.Web):
		c.Diags.Errorf("unequal-row", at, "%s lists its gaps, so it has no single %s", d.Path, n).
			WithHelp("use one of its gaps, as in %s.%s", d.Path, model.GapName(1))
	default:
		c.Diags.Errorf("unknown-name", at, "the %s %s has no %s", d.Kind, d.Path, n)
	}
	return 0, false
}

// findGap finds a row's gap by its number as it is written.
func (c *compiler) findGap(d *draft, number string, at source.Span) (relation.VarID, bool) {
	if n, err := strconv.Atoi(number); err == nil && n >= 1 && n <= len(d.Gaps) && number == strconv.Itoa(n) {
		return d.Gaps[n-1], true
	}
	if _, even := d.Dim(dim.Pitch); len(d.Gaps) == 0 && !even && d.Kind == kind.Row {
		c.Diags.Errorf("unequal-row", at, "there is no gap %s: the gaps of a row are counted 1, 2, 3", number).
			WithHelp("write gap 1 for what lies between the first hole and the second")
	} else if len(d.Gaps) == 0 {
		c.Diags.Errorf("unequal-row", at, "%s lists no gaps: its holes are evenly spaced", d.Path).
			WithHelp("list them, as in gaps = 19, 19, 70, 19, 19, or use its pitch")
	} else {
		c.Diags.Errorf("unknown-name", at, "%s has %d gaps; there is no gap %s", d.Path, len(d.Gaps), number).
			WithHelp("use one that is there: %s is the first, %s the last", model.GapName(1), model.GapName(len(d.Gaps)))
	}
	return 0, false
}
