package job

import (
	"slices"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/spell"
	"foredge/layout"
)

// A pace is how the laser of a design runs, as that states it.
type pace struct {
	design.Pace
	from string      // the design
	at   source.Span // where the job names it
}

// runs notes how the laser of a design runs that has parts of a stock.
func (k *stock) runs(p pace) {
	if !slices.ContainsFunc(k.paces, func(other pace) bool { return other.Pace == p.Pace }) {
		k.paces = append(k.paces, p)
	}
}

// settlePace finds out how the laser runs the sheets of a stock: one file has one speed for
// each operation, so designs that share sheets must agree where neither the file of the job nor
// the stock itself says it.
func (s *shelf) settlePace(diags *diag.List, k *stock) {
	own := s.own.Laser.Pace
	settled := own
	if k.said != nil { // what a stock states wins over lasers
		replace(&settled.Cut, k.said.Pace.Cut)
		replace(&settled.Score, k.said.Pace.Score)
		replace(&settled.Passes, k.said.Pace.Passes)
	}
	k.pace = own
	var lines []string
	var a, b *pace // which two differ
	for _, l := range paceLines() {
		first := -1
		for i := range k.paces {
			has, differs := l.join(&k.pace, &k.paces[i].Pace, &settled)
			if has && first < 0 {
				first = i
			}
			if differs && !slices.Contains(lines, l.name) {
				lines = append(lines, l.name)
				if a == nil {
					a, b = &k.paces[first], &k.paces[i]
				}
			}
		}
	}
	if a != nil {
		diags.Errorf("job-laser", b.at, "%s are made for lasers that differ in %s, and their parts would lie on one sheet", both(a.from, b.from), spell.And(lines)).
			Note(a.at, "%s is made here", a.from).
			WithHelp("let both use one file for the laser, as in use \"shop.fore\", or say in the file of the job which counts, as in laser bench { %s = ... }", lines[0])
	}
}

// A paceLine is a line by which a laser says how it runs. join takes what a design says of it
// for what is known so far; has says that it says something, and differs that it is another thing,
// which nothing settles.
type paceLine struct {
	name string
	join func(known, of, settled *design.Pace) (has, differs bool)
}

func paceLines() []paceLine {
	return []paceLine{
		lineOf("engrave-speed", func(p *design.Pace) *maybe.Of[float64] { return &p.Engrave }, sameNumber),
		lineOf("mark-speed", func(p *design.Pace) *maybe.Of[float64] { return &p.Mark }, sameNumber),
		lineOf("score-speed", func(p *design.Pace) *maybe.Of[float64] { return &p.Score }, sameNumber),
		lineOf("cut-speed", func(p *design.Pace) *maybe.Of[float64] { return &p.Cut }, sameNumber),
		lineOf("passes", func(p *design.Pace) *maybe.Of[int] { return &p.Passes }, sameCount),
		lineOf("travel-speed", func(p *design.Pace) *maybe.Of[float64] { return &p.Travel }, sameNumber),
		lineOf("acceleration", func(p *design.Pace) *maybe.Of[float64] { return &p.Acceleration }, sameNumber),
		lineOf("corner-speed", func(p *design.Pace) *maybe.Of[float64] { return &p.Corner }, sameNumber),
		lineOf("engrave-distance", func(p *design.Pace) *maybe.Of[float64] { return &p.EngraveDistance }, sameNumber),
		lineOf("run-out", func(p *design.Pace) *maybe.Of[float64] { return &p.RunOut }, sameNumber),
		lineOf("one-way", func(p *design.Pace) *maybe.Of[bool] { return &p.OneWay }, func(a, b bool) bool { return a == b }),
		lineOf("heat-spread", func(p *design.Pace) *maybe.Of[float64] { return &p.HeatSpread }, sameNumber),
	}
}

func lineOf[T any](name string, get func(*design.Pace) *maybe.Of[T], same func(a, b T) bool) paceLine {
	return paceLine{name, func(known, of, settled *design.Pace) (has, differs bool) {
		o := *get(of)
		_, differs = meet(get(known), o, same)
		return o.Present(), differs && !get(settled).Present()
	}}
}

// run has a sheet run as the laser runs its stock.
func (s *shelf) run(d *layout.Drawing) { d.Pace = s.of[d.Parts[0].Stock].pace }

// cutFrom has the parts of a drawing cut from the stocks of the job: at their price, and in the way in
// which these are cut.
func (s *shelf) cutFrom(d *layout.Drawing) {
	for i := range d.Parts {
		p := &d.Parts[i]
		if p.Of == nil {
			continue
		}
		its, said := *p.Of, s.of[p.Stock].said
		its.Size, its.Price, its.Pace, its.Way = said.Size, said.Price, said.Pace, said.Way
		p.Of = &its
	}
}

// shop is what covers of a design are charged by: what the file of the job states goes before
// what the design does.
func (s *shelf) shop(of design.Shop) design.Shop {
	own := s.own.Laser.Shop
	either := func(a, b maybe.Of[float64]) maybe.Of[float64] {
		if a.Present() {
			return a
		}
		return b
	}
	return design.Shop{Rate: either(own.Rate, of.Rate), Labour: either(own.Labour, of.Labour), Waste: either(own.Waste, of.Waste), Profit: either(own.Profit, of.Profit)}
}
