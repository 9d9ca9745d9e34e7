package eval

import (
	"math"

	"foredge/eval/relation"
	"foredge/lang/diag"
	"foredge/lang/unit"
)

// nearly is how far sizes may differ and still count as equal, in mm.
const nearly = 1e-6

// warnTolerance warns where it matters that a sheet may be thicker or thinner
// than it is called: of openings into which a board of it is to go, and of
// wires that just suit the board. It asks only about sheets that nobody has
// measured.
func (s *Solution) warnTolerance(diags *diag.List) {
	for _, it := range s.items {
		if it.thing.Kind.Name != "panel" || it.thing.File != s.info.Main || s.quietOf(it).Has("thick-tolerance") {
			continue
		}
		for _, c := range it.thing.Children {
			child := s.byPath[c.Path()]
			if child == nil || child.out {
				continue
			}
			dims := map[string][]string{"row": {"hole.along", "hole.across"}, "cutout": {"width", "height"}}[c.Kind.Name]
			for _, dim := range dims {
				s.warnLooseFit(diags, child, dim)
			}
		}
	}
	told := map[*item]bool{}
	for _, c := range s.Bound() {
		panel := s.byPath[c.Panel]
		if panel == nil || panel.stock == nil || told[panel.stock] || c.Missing != "" || s.quietOf(panel).Has("thick-tolerance") {
			continue
		}
		over, _, ok := s.sheetTolerance(panel.stock)
		if !ok || !c.Case.Closes() || !c.Case.Turns() || !c.Case.Passes() {
			continue
		}
		thick := c.Case.Book.Board
		c.Case.Book.Board += over
		if c.Case.Closes() && c.Case.Turns() && c.Case.Passes() {
			continue
		}
		told[panel.stock] = true
		diags.Warnf("thick-tolerance", c.At, "%s suits boards of %s, but a sheet of %s that is called so may be %s thick, and then %s no longer closes, turns or passes",
			c.Binding, c.exactly(thick), panel.stock.thing.Path(), c.exactly(c.Case.Book.Board), c.Binding).
			Note(panel.stock.thing.At, "%s is declared here", panel.stock.thing.Path()).
			WithHelp("%s", measureSheet)
	}
}

const measureSheet = "measure the sheet and state it as readings, as in gauge = 0.02; thick = 3.05, 3.1; " +
	"or silence this with quiet = thick-tolerance in the panel"

// sheetTolerance is by how much a sheet may be thicker and thinner than it is
// called, false where it was measured or nothing says it.
func (s *Solution) sheetTolerance(stock *item) (over, under float64, ok bool) {
	over, under = s.number(stock, "material thick-over"), s.number(stock, "material thick-under")
	return over, under, stock.bench == 0 && over > nearly
}

// warnLooseFit warns of an opening whose size comes from the thickness of a
// board that is to go into it, and that a sheet within its tolerance doesn't fit.
func (s *Solution) warnLooseFit(diags *diag.List, it *item, dim string) {
	id, ok := it.vars[dim]
	if !ok {
		return
	}
	stock := s.thickBehind(id, map[relation.VarID]bool{})
	if stock == nil {
		return
	}
	over, under, ok := s.sheetTolerance(stock)
	size, thick := s.value(id), s.of(stock, "thick")
	if !ok || !(size < thick+over-nearly) {
		return
	}
	u := it.thing.File.Unit
	at := it.thing.At
	for _, key := range []string{"hole", "shape"} {
		if p, ok := it.props[key]; ok {
			at = p.line.Span()
		}
	}
	diags.Warnf("thick-tolerance", at, "%s is %s wide for a board called %s, but a sheet of %s may be %s to %s thick", it.thing.Path(),
		unit.FormatLength(size, u), unit.FormatLength(thick, u), stock.thing.Path(),
		unit.FormatLength(thick-under, u), unit.FormatLength(thick+over, u)).
		Note(stock.thing.At, "%s is declared here", stock.thing.Path()).WithHelp("%s", measureSheet)
}

// thickBehind finds the stock whose thickness a dimension rests on; nil if it
// rests on none.
func (s *Solution) thickBehind(id relation.VarID, seen map[relation.VarID]bool) *item {
	if seen[id] || math.IsNaN(s.value(id)) {
		return nil
	}
	seen[id] = true
	if owner := s.owners[id]; owner != nil && owner.vars["thick"] == id {
		switch {
		case owner.thing.Kind.Name == "stock":
			return owner
		case owner.stock != nil:
			return owner.stock
		}
	}
	for _, from := range s.Numbers.Cause[id].From {
		if st := s.thickBehind(from, seen); st != nil {
			return st
		}
	}
	return nil
}
