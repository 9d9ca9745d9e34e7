package layout

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"foredge/eval/design"
	"foredge/eval/word"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/layout/geom"
)

// What an old hand would say of a design that can be cut as it stands. Each
// warning has its own code, by which the design may silence it, and says where
// its number comes from.

// Numbers of the trade, in mm.
const (
	// A cutting service's page on kerf and another's guidelines: details under
	// 1 mm are very fragile, and lines closer than 0.5 mm may burn away.
	leastDetail = 1
	burnsAway   = 0.5
	// Common practice, no source: the least capital that reads when engraved.
	leastCap = 2
)

// warn adds a warning, unless it is silenced; what is then noted with it is
// lost.
func (dr *drawer) warn(q design.Quiet, code diag.Code, at source.Span, format string, args ...any) *diag.Diagnostic {
	if q.Has(code) {
		return &diag.Diagnostic{}
	}
	return dr.diags.Warnf(code, at, format, args...)
}

// leave is how a warning ends that a thing of a kind may silence.
func leave(code diag.Code, kind string) string {
	return fmt.Sprintf("; quiet = %s in the %s silences this", code, kind)
}

// leasts are the least that may be left of a panel between cuts, and the least
// detail of it: the material's, else the thickness of the board and 1 mm. A web
// of 0 says that nothing is known.
func leasts(p *design.Panel) (web, detail float64) {
	web, detail = p.Thick.Or(0), leastDetail
	if s := p.Stock; s != nil {
		web, detail = s.LeastWeb.Or(web), s.LeastDetail.Or(detail)
	}
	return web, detail
}

// narrow warns of material as wide as gap, which is less than it should be.
// what says where it is left, do what to do about it.
func (dr *drawer) narrow(p *design.Panel, at source.Span, gap float64, what, do string) *diag.Diagnostic {
	web, detail := leasts(p)
	const guides = "two cutting services' guides: details under 1 mm are very fragile, and what is under 0.5 mm may burn away"
	switch {
	case gap < burnsAway-geom.Tol:
		return dr.warn(p.Quiet, "thin-detail", at, "only %s is left %s, which may burn away", dr.length(gap), what).
			WithHelp("%s, so that %s is left (%s)%s", do, dr.length(max(web, detail)), guides, leave("thin-detail", "panel"))
	case gap < detail-geom.Tol:
		return dr.warn(p.Quiet, "thin-detail", at, "only %s is left %s, less than the %s that lasts", dr.length(gap), what, dr.length(detail)).
			WithHelp("%s, so that %s is left (%s)%s", do, dr.length(max(web, detail)), guides, leave("thin-detail", "panel"))
	case gap < web-geom.Tol:
		whose := "the thickness of the board, by a cutting service's guide"
		if p.Stock != nil && p.Stock.LeastWeb.Present() {
			whose = "what " + p.Stock.Material.Name + " asks for"
		}
		return dr.warn(p.Quiet, "thin-web", at, "only %s is left %s, less than %s", dr.length(gap), what, dr.length(web)).
			WithHelp("%s is %s; %s, or take a thinner board%s", dr.length(web), whose, do, leave("thin-web", "panel"))
	}
	return nil
}

// A strip is the least material that is left between the openings of two lines,
// or between those of one and the edge (b is then nil).
type strip struct {
	a, b *Shape
	gap  float64
}

// strips collects the narrowest of each pair of lines, in the order in which
// they are met.
type strips struct {
	all []strip
	of  map[[2]source.Span]int
}

func (s *strips) add(a, b *Shape, gap float64) {
	key := [2]source.Span{a.At}
	if b != nil {
		key[1] = b.At
	}
	i, met := s.of[key]
	switch {
	case !met:
		if s.of == nil {
			s.of = map[[2]source.Span]int{}
		}
		s.of[key] = len(s.all)
		s.all = append(s.all, strip{a, b, gap})
	case gap < s.all[i].gap-geom.Tol:
		s.all[i] = strip{a, b, gap}
	}
}

// adviseStrips tells of what is left between openings, and beside them.
func (dr *drawer) adviseStrips(p *design.Panel, s strips) {
	for _, st := range s.all {
		if st.b == nil {
			dr.narrow(p, st.a.At, st.gap, fmt.Sprintf("between %s and the edge of %s", inPanel(st.a.ID), p.Name),
				"make it smaller or move it in from the edge")
			continue
		}
		d := dr.narrow(p, st.b.At, st.gap, fmt.Sprintf("between %s of %s", both(st.a.ID, st.b.ID), p.Name),
			"make them smaller or move them apart")
		if d != nil && st.a.At != st.b.At {
			d.Note(st.a.At, "the other is here")
		}
	}
}

// both names two shapes of a panel: holes 1 and 2 of wire.
func both(a, b string) string {
	x, y := strings.Split(a, "."), strings.Split(b, ".")
	if len(x) == 3 && len(y) == 3 && x[1] == y[1] {
		return fmt.Sprintf("holes %s and %s of %s", x[2], y[2], x[1])
	}
	return inPanel(a) + " and " + inPanel(b)
}

// advisePanel tells what an old hand would say of a panel as a whole.
func (dr *drawer) advisePanel(p *design.Panel) {
	across, along := cuts(p, word.Spine, p.Width), cuts(p, word.Head, p.Height)
	w, h := narrowest(across), narrowest(along)
	dr.narrow(p, p.At, min(w, h), "of "+p.Name+" at its narrowest", "make it wider")
	if piece, small := smallPiece(across, along, p.Thick.Or(0)); small {
		dr.warn(p.Quiet, "small-part", p.At, "%s makes a piece of %s by %s, small enough to be swallowed: it is not for children under 3", p.Name, dr.length(piece.X), dr.length(piece.Y)).
			WithHelp("16 CFR 1501.4: it fits into a cylinder of 31.7 mm (1 1/4 in) across and 57.1 mm (2 1/4 in) deep%s", leave("small-part", "panel"))
	}
	dr.adviseLines(p)
	dr.adviseGrain(p)
}

// cuts are the places, rising from one edge to the other, at which a panel of
// that size is cut right across, with both edges.
func cuts(p *design.Panel, near word.Edge, size float64) []float64 {
	at := []float64{0, size}
	for _, l := range p.Lines {
		switch {
		case l.Op != word.Cut || l.From.Level() != near.Level():
		case l.From == near:
			at = append(at, l.Distance)
		default:
			at = append(at, size-l.Distance)
		}
	}
	slices.Sort(at)
	return at
}

// narrowest is the least distance between neighbours that are apart.
func narrowest(at []float64) float64 {
	least := math.Inf(1)
	for i := 1; i < len(at); i++ {
		if d := at[i] - at[i-1]; d > geom.Tol {
			least = min(least, d)
		}
	}
	return least
}

// smallPiece finds a piece between cuts that counts as a small part.
func smallPiece(across, along []float64, thick float64) (piece geom.Point, found bool) {
	for i := 1; i < len(across); i++ {
		for k := 1; k < len(along); k++ {
			w, h := across[i]-across[i-1], along[k]-along[k-1]
			if min(w, h) > geom.Tol && IsSmallPart(w, h, thick) {
				return geom.Pt(w, h), true
			}
		}
	}
	return geom.Point{}, false
}

// adviseLines warns of scores and lines that run too close to one another or to
// the edge.
func (dr *drawer) adviseLines(p *design.Panel) {
	place := func(l *design.Line) (upright bool, at, size float64) {
		upright, at, size = !l.From.Level(), l.Distance, p.Height
		if upright {
			size = p.Width
		}
		if l.From == word.Foredge || l.From == word.Tail {
			at = size - at
		}
		return upright, at, size
	}
	close := func(d float64) bool { return d > geom.Tol && d < burnsAway-geom.Tol }
	for i := range p.Lines {
		l := &p.Lines[i]
		upright, at, size := place(l)
		what, gap := "", 0.0
		if d := min(at, size-at); l.Op != word.Cut && close(d) {
			what, gap = "the edge", d
		}
		for k := range p.Lines[:i] {
			o := &p.Lines[k]
			if up, other, _ := place(o); up == upright && close(math.Abs(at-other)) {
				what, gap = o.Name, math.Abs(at-other)
			}
		}
		if what != "" {
			dr.warn(p.Quiet, "thin-detail", l.At, "%s runs %s from %s: what lies between may burn away", l.Name, dr.length(gap), what).
				WithHelp("keep lines 0.5 mm apart (two cutting services' guides)%s", leave("thin-detail", "panel"))
		}
	}
}

// boundAlong says along which of its sizes a panel is bound: its height along
// the spine, its width at head or tail, none if it isn't bound.
func boundAlong(p *design.Panel) word.Grain {
	var along word.Grain
	for _, r := range p.Rows {
		switch {
		case r.Edge == word.Spine:
			return word.AlongHeight
		case r.Edge.Level():
			along = word.AlongWidth
		}
	}
	if p.InSpread {
		return word.AlongHeight
	}
	return along
}

// adviseGrain warns of a panel whose grain runs across the edge at which it is
// bound. Panels are cut upright on their sheet.
func (dr *drawer) adviseGrain(p *design.Panel) {
	bound := boundAlong(p)
	if p.Stock == nil || p.Stock.Grain == 0 || bound == 0 || bound == p.Stock.Grain {
		return
	}
	why := "the grain of board and cloth runs from head to tail, by two lessons in bookbinding"
	edge := "spine"
	if bound == word.AlongWidth {
		edge, why = "edge at which it is bound", "the grain runs along the binding (common practice, no source)"
	}
	dr.warn(p.Quiet, "cross-grain", p.At, "the grain of %s runs across the %s, so it will warp and not open well", p.Name, edge).
		Note(p.Stock.At, "grain = along %s of %s", p.Stock.Grain, p.Stock.Name).
		WithHelp("%s; turn the sheet, which then has its grain along %s%s", why, bound, leave("cross-grain", "panel"))
}

// adviseSpread warns of gaps in which its boards can't swing and of a lining
// that leaves turned-in edges bare.
func (dr *drawer) adviseSpread(s *design.Spread) {
	for i := 1; i+1 < len(s.Parts); i++ {
		gap, before, after := s.Parts[i], s.Parts[i-1], s.Parts[i+1]
		one, isPanel := before.Panel.Get()
		other, isAnother := after.Panel.Get()
		if gap.Panel.Present() || !isPanel || !isAnother {
			continue
		}
		// Where a thickness isn't known, only that of the other board counts.
		thick := max(dr.design.Panels[one].Thick.Or(0), dr.design.Panels[other].Thick.Or(0))
		if gap.Width < 2*thick-geom.Tol {
			dr.warn(s.Quiet, "tight-joint", gap.Of, "%s is %s wide, too narrow for boards of %s to swing right round in it", gap.Name, dr.length(gap.Width), dr.length(thick)).
				WithHelp("it takes twice the board, %s, and the covering (common practice, no source; thin board that folds one way only makes do with 1/16 in, by a scrapbook maker's page)%s",
					dr.length(2*thick), leave("tight-joint", "spread"))
		}
	}
	lining, lined := s.Lining.Get()
	if turnIn := s.TurnIn.Or(0); lined && lining > turnIn-geom.Tol && turnIn > 0 {
		dr.warn(s.Quiet, "short-lining", s.At, "the lining of %s stays %s inside its edges, but the covering turns in by only %s: its raw edge shows", s.Name, dr.length(lining), dr.length(turnIn)).
			WithHelp("a lining is to lie over the turned-in edges: make lining smaller than turn-in%s", leave("short-lining", "spread"))
	}
}

// adviseCap warns of lettering too small to be read.
func (dr *drawer) adviseCap(q design.Quiet, m *design.Lettering, cap float64) {
	if cap < leastCap-1e-3 {
		dr.warn(q, "small-text", m.At, "the capitals of this text are %s high: that hardly reads when it is engraved", dr.length(math.Round(cap*100)/100)).
			WithHelp("make them 2 mm high or more (common practice, no source); a larger region or a shorter text gives them room%s", leave("small-text", "panel"))
	}
}
