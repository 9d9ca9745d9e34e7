package batch

import (
	"math"
	"slices"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/layout"
	"foredge/layout/geom"
)

// A lyingOn is what an order takes a stock to be, on whose sheets others lie, too.
type lyingOn struct {
	name   string
	of     *design.Stock // nil of what has none
	supply layout.Supply
	kerf   maybe.Of[float64]
	cuts   bool // the laser cuts some of it
	order  string
}

// sharedBy are the stocks from which a drawing's parts are cut, each once.
func sharedBy(kerfed *layout.Drawing, supplies map[string]layout.Supply) (all []lyingOn) {
	for i := range kerfed.Parts {
		p := &kerfed.Parts[i]
		k := slices.IndexFunc(all, func(s lyingOn) bool { return s.name == p.Stock })
		if k < 0 {
			k = len(all)
			all = append(all, lyingOn{name: p.Stock, of: p.Of, supply: supplies[p.Stock], kerf: p.Want})
		}
		all[k].cuts = all[k].cuts || p.LaserCuts()
	}
	return all
}

// otherwise says in what two orders take a stock to be two things; "" where they don't. A sheet has one of each.
func (s *lyingOn) otherwise(than *lyingOn) string {
	if s.cuts && than.cuts && math.Abs(s.kerf.Or(-1)-than.kerf.Or(-1)) > geom.Tol {
		return "kerf"
	}
	if a, b := s.of, than.of; a != nil && b != nil {
		thick, known := a.Thick.Get()
		another, too := b.Thick.Get()
		switch {
		case known && too && math.Abs(thick-another) > geom.Tol:
			return "thickness"
		case a.Material.AsName != "" && b.Material.AsName != "" && a.Material.AsName != b.Material.AsName:
			return "material"
		case a.Grain != b.Grain:
			return "grain"
		case a.Pace.Cut != b.Pace.Cut:
			return "cut-speed"
		case a.Pace.Score != b.Pace.Score:
			return "score-speed"
		case a.Pace.Passes != b.Pace.Passes:
			return "passes"
		}
	}
	return s.supply.Otherwise(than.supply)
}

// saysMore reports whether it says what another leaves open, though nothing else.
func (s *lyingOn) saysMore(than *lyingOn) bool {
	if s.cuts && !than.cuts {
		return true
	}
	a, b := s.of, than.of
	if a == nil || b == nil {
		return a != nil
	}
	return a.Thick.Present() && !b.Thick.Present() || a.Material.AsName != "" && b.Material.AsName == ""
}

// agree sees that an order takes the stocks of its parts to be what all before it do, with which
// these lie on one sheet.
func (f *findings) agree(number string, c *checked) {
	for i := range c.stocks {
		s := &c.stocks[i]
		s.order = number
		for _, before := range f.stocks[s.name] {
			what := s.otherwise(before)
			if what == "" {
				continue
			}
			at, of := c.laser.At, "what has no stock"
			if s.of != nil {
				at, of = s.of.At, s.name
			}
			c.diags.Errorf("job-stock", at, "it says another thing of the %s of %s than order %s, and their parts would lie on one sheet", what, of, before.order).
				WithHelp("let stocks among which orders choose be like ones with names of their own, as in stock board like birch when order.board = \"birch\", or leave out --together")
			break
		}
	}
	if c.diags.HasErrors() {
		return
	}
	for i := range c.stocks {
		s := &c.stocks[i]
		known := func(before *lyingOn) bool { return !s.saysMore(before) }
		if !slices.ContainsFunc(f.stocks[s.name], known) {
			f.stocks[s.name] = append(f.stocks[s.name], s)
		}
	}
}
