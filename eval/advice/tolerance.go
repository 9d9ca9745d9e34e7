package advice

import (
	"fmt"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/outcome"
	"foredge/eval/relation"
	"foredge/eval/wire"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// nearly is how far sizes may differ and still count as equal, in mm.
const nearly = 1e-6

// measureSheet is what helps, with numbers as a file of that unit has them: one reading,
// since two near one another come out alike in inches.
func measureSheet(in unit.Unit) string {
	return fmt.Sprintf("measure the sheet and say how surely it was read, as in thick = %s ± %s; "+
		"or silence this with quiet = thick-tolerance in the panel", unit.Example(3.05, in), unit.Example(0.02, in))
}

// openings warns of openings into which a board is to go that may be thicker or
// thinner than it is called. It asks only about sheets that nobody has measured.
func (a *adviser) openings() {
	for _, n := range a.Things {
		p, ok := n.(*model.Panel)
		if !ok || !p.Built || outcome.Quiet(a.Solution, p).Has("thick-tolerance") {
			continue
		}
		for _, part := range p.Parts {
			switch part := part.(type) {
			case *model.Row:
				a.looseFit(&part.Thing, part.Hole, dim.HoleAlong, dim.HoleAcross)
			case *model.Stitch:
				a.looseFit(&part.Thing, part.Hole, dim.HoleAlong, dim.HoleAcross)
			case *model.Cutout:
				a.looseFit(&part.Thing, part.Shape, dim.Width, dim.Height)
			case *model.Field:
				if each, ok := part.Each[0].(*model.Cutout); ok {
					a.looseFit(&each.Thing, each.Shape, dim.Width, dim.Height)
				}
			}
		}
	}
}

// sheets warns of wires that just suit the board.
func (a *adviser) sheets() {
	told := map[*model.Stock]bool{}
	for _, b := range a.bound {
		stock := b.On.Stock
		if stock == nil || told[stock] || b.Missing != "" || outcome.Quiet(a.Solution, b.On).Has("thick-tolerance") {
			continue
		}
		over, ok := a.thicker(stock)
		if !ok || !suits(b.Case) {
			continue
		}
		thick := b.Case.Book.Board
		b.Case.Book.Board += over
		if suits(b.Case) {
			continue
		}
		told[stock] = true
		a.diags.Warnf("thick-tolerance", b.At, "%s suits boards of %s, but a sheet of %s sold as that may be %s thick, and then %s no longer closes, turns or passes",
			b.Binding, exactly(b, thick), stock.Path, exactly(b, b.Case.Book.Board), b.Binding).
			Note(stock.At, "%s is declared here", stock.Path).
			WithHelp("%s", measureSheet(b.Unit))
	}
}

// suits reports whether a wire closes, turns right round and passes its holes.
func suits(c wire.Case) bool { return c.Closes() && c.Turns() && c.Passes() }

// thicker is by how much a sheet may be thicker than it is called, in mm; false where
// it was measured or nothing says it.
func (a *adviser) thicker(stock *model.Stock) (over float64, ok bool) {
	over, ok = a.Stated(stock.Sheet.ThickOver).Get()
	return over, ok && stock.Bench == 0 && over > nearly
}

// looseFit warns of an opening whose size comes from the thickness of a board
// that is to go into it, and that a sheet within its tolerance doesn't fit.
func (a *adviser) looseFit(t *model.Thing, hole *model.Hole, sizes ...dim.Name) {
	for _, n := range sizes {
		id, ok := t.Dim(n)
		if !ok {
			continue
		}
		stock := a.thickBehind(id, map[relation.VarID]bool{})
		if stock == nil {
			continue
		}
		over, ok := a.thicker(stock)
		size, thick := a.Value(id), a.Solution.Of(&stock.Thing, dim.Thick)
		if !ok || !(size < thick+over-nearly) {
			continue
		}
		least := "up"
		if under, ok := a.Stated(stock.Sheet.ThickUnder).Get(); ok {
			least = unit.FormatLength(max(0, thick-under), t.Unit)
		}
		a.diags.Warnf("thick-tolerance", placeOf(t, hole), "%s is %s wide for a board sold as %s, but a sheet of %s may be %s to %s thick", t.Path,
			unit.FormatLength(size, t.Unit), unit.FormatLength(thick, t.Unit), stock.Path, least, unit.FormatLength(thick+over, t.Unit)).
			Note(stock.At, "%s is declared here", stock.Path).WithHelp("%s", measureSheet(t.Unit))
	}
}

// placeOf is the line that states an opening, else the thing.
func placeOf(t *model.Thing, hole *model.Hole) source.Span {
	if hole != nil {
		return hole.At
	}
	return t.At
}

// thickBehind finds the stock whose thickness a dimension rests on; nil if it
// rests on none.
func (a *adviser) thickBehind(id relation.VarID, seen map[relation.VarID]bool) *model.Stock {
	if seen[id] || !a.Known(id) {
		return nil
	}
	seen[id] = true
	switch n := a.Owners[id].(type) {
	case *model.Stock:
		if n.Is(id, dim.Thick) {
			return n
		}
	case *model.Panel:
		if n.Is(id, dim.Thick) && n.Stock != nil {
			return n.Stock
		}
	}
	for _, from := range a.Numbers.Cause[id].From {
		if stock := a.thickBehind(from, seen); stock != nil {
			return stock
		}
	}
	return nil
}
