package advice

import (
	"math"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/outcome"
	"foredge/eval/relation"
	"foredge/lang/diag"
	"foredge/lang/diag/codes"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// What no bench has, in mm.
const (
	// Kerfs that services and laser makers publish lie from 0.076 mm, in museum board,
	// to 0.45 mm; wider and narrower by a little is told of nobody.
	narrowestKerf, widestKerf = 0.05, 0.5
	// A page on what lasers cut: one of 130 W 18 mm of acrylic and 15 mm of plywood. A
	// cutting service has larger ones, which no workshop has.
	thickestCut = 20.0
)

// kerfs warns of a width of cut that no laser has: a decimal point may be off. 0 says
// that the kerf is allowed for elsewhere. Of several that are too wide, or too narrow, the
// first is told, and the others with it, as they may come of one slip. It reports whether
// some are too wide, and too narrow, and would be right in the other unit: that of the file
// may be the slip.
func (a *adviser) kerfs() (wide, narrow bool) {
	var wider, narrower *diag.Diagnostic
	usual := func(width float64) bool { return width >= narrowestKerf-nearly && width <= widestKerf+nearly }
	tell := func(k model.Kerf, n model.Node, kind string) {
		width := k.Width.Or(0)
		if width == 0 || usual(width) || outcome.Quiet(a.Solution, n).Has("odd-kerf") {
			return
		}
		told := &narrower
		if width > widestKerf {
			told = &wider
		}
		wide, narrow = wide || usual(width/unit.Inch.Size), narrow || usual(width*unit.Inch.Size)
		size := a.Format(width, unit.Length, k.At)
		if *told != nil {
			if k.At != (*told).Span {
				(*told).Note(k.At, "so is this kerf, %s", size)
			}
			return
		}
		*told = a.diags.Warnf("odd-kerf", k.At, "a cut %s wide is none that a laser makes: outlines grow and openings shrink by half of it", size).
			WithHelp("kerf is the full width of cut, %g to %g mm (cutting services and a laser maker's table give 0.08 to 0.45 mm); check its unit and its decimal point%s",
				narrowestKerf, widestKerf, codes.Silence("odd-kerf", kind))
	}
	if a.Laser != nil {
		tell(a.Laser.Kerf, a.Laser, "laser")
	}
	for _, n := range a.Things {
		if s, ok := n.(*model.Stock); ok {
			tell(s.Kerf, s, "stock")
		}
	}
	return wide, narrow
}

// longestBed is how long the bed of a laser of a workshop is at the most, in mm (common practice,
// no source).
const longestBed = 4000

// bed warns of a bed that no laser has, as of one in mm in a file in inches: nothing is then too large
// for it.
func (a *adviser) bed() {
	if a.Laser == nil || outcome.Quiet(a.Solution, a.Laser).Has("odd-bed") {
		return
	}
	if bed, ok := a.Laser.Bed.Get(); ok && max(bed.Width, bed.Height) > longestBed+nearly {
		size := func(mm float64) string { return a.Format(mm, unit.Length, a.Laser.At) }
		a.diags.Warnf("odd-bed", a.Laser.At, "a bed of %s by %s is larger than a laser of a workshop has", size(bed.Width), size(bed.Height)).
			WithHelp("check its unit, as in bed = 600 mm by 400 mm; up to %s is usual (common practice, no source)%s", size(longestBed), codes.Silence("odd-bed", "laser"))
	}
}

// fastest is how fast a laser of a workshop runs at the most, in mm/s: more was meant for a
// minute (common practice, no source).
func fastest(speed string) float64 {
	switch speed {
	case "cut-speed", "score-speed", "corner-speed":
		return 400
	case "mark-speed":
		return 1000
	}
	return 2500 // engraving, and with the beam off
}

// slowest is how slow a laser of a workshop runs at the least, in mm/s: with less a number in metres
// was meant, or its decimal point is off (common practice, no source).
const slowest = 0.1

// speeds warns of speeds that no laser has: a number for a minute may stand where one for a
// second is meant. Of several that are too high the first is told, and the others with it: they
// come of one slip. So are those that are too low. Beside a kerf that is too wide or too narrow by
// the file's unit the same slip may be the cause, which is told already.
func (a *adviser) speeds(wide, narrow bool) {
	var high, low *diag.Diagnostic
	told := map[source.Span]bool{}
	tell := func(all []model.Speed, n model.Node, kind string) {
		for _, s := range all {
			most := fastest(s.Name)
			slow := s.Value < slowest-1e-9
			if s.Value <= most+nearly && !slow || told[s.At] || outcome.Quiet(a.Solution, n).Has("odd-speed") {
				continue
			}
			if slow && narrow || !slow && wide {
				continue
			}
			told[s.At] = true
			size := func(v float64) string { return a.Format(v, unit.Length, s.At) }
			first := &high
			if slow {
				first = &low
			}
			switch {
			case *first != nil:
				(*first).Note(s.At, "so is this %s, %s a second", s.Name, size(s.Value))
			case slow:
				low = a.diags.Warnf("odd-speed", s.At, "%s = %s a second is less than a laser of a workshop runs", s.Name, size(s.Value)).
					WithHelp("check its unit and its decimal point; speeds are lengths a second%s", codes.Silence("odd-speed", kind))
			default:
				high = a.diags.Warnf("odd-speed", s.At, "%s = %s a second is more than a laser of a workshop runs", s.Name, size(s.Value)).
					WithHelp("speeds are lengths a second: one for a minute is divided by 60, as in %s = %s; check its unit, too. Usual is up to %s a second (common practice, no source)%s",
						s.Name, size(s.Value/60), size(most), codes.Silence("odd-speed", kind))
			}
		}
	}
	if a.Laser != nil {
		tell(a.Laser.Speeds, a.Laser, "laser")
	}
	for _, n := range a.Things {
		if s, ok := n.(*model.Stock); ok {
			tell(s.Speeds, s, "stock")
		}
	}
}

// thick warns of boards that no laser cuts through, once for each line that makes
// them so.
func (a *adviser) thick() {
	told := map[source.Span]bool{}
	for _, n := range a.Things {
		p, ok := n.(*model.Panel)
		if !ok || !p.Built || outcome.Quiet(a.Solution, p).Has("thick-board") {
			continue
		}
		id, has := p.Dim(dim.Thick)
		if !has || !(a.Value(id) > thickestCut+nearly) {
			continue
		}
		at := a.statedAt(id, p.At)
		if p.Stock != nil {
			of, _ := p.Stock.Dim(dim.Thick)
			at = a.statedAt(of, p.Stock.At)
		}
		if told[at] {
			continue
		}
		told[at] = true
		a.diags.Warnf("thick-board", at, "%s is %s thick: no laser of a workshop cuts through that", p.Path, a.Format(a.Value(id), unit.Length, at)).
			WithHelp("a laser of 130 W cuts 18 mm of acrylic and 15 mm of plywood, according to a page on what lasers cut; check its decimal point%s", codes.Silence("thick-board", "panel"))
	}
}

// pairs warns of twin loops whose pair is narrower than its two wires.
func (a *adviser) pairs() {
	for _, n := range a.Things {
		b, ok := n.(*model.Binding)
		if !ok {
			continue
		}
		id, has := b.Dim(dim.Pair)
		wire, _ := b.Dim(dim.Wire)
		if !has || !a.Known(id) || !a.Known(wire) {
			continue
		}
		pair, two := a.Value(id), 2*a.Value(wire)
		if !(pair < two-nearly-2*math.Hypot(a.uncertainty(id), 2*a.uncertainty(wire))) {
			continue
		}
		at := a.statedAt(id, b.At)
		size := func(v float64) string { return a.Format(v, unit.Length, at) }
		a.diags.Warnf("narrow-pair", at, "both wires of %s reach %s along the edge, and side by side two of %s need %s", b.Path, size(pair), size(two/2), size(two)).
			WithHelp("pair is taken over both wires: measure it and the wire once more, or leave pair out: two wires side by side then count")
	}
}

// uncertainty is the standard uncertainty of a dimension, 0 for one that is known
// exactly.
func (a *adviser) uncertainty(id relation.VarID) float64 { return a.Numbers.U[id] }
