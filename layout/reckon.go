package layout

import (
	"cmp"
	"slices"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/layout/geom"
	"foredge/layout/motion"
	"foredge/layout/tour"
)

// A Reckoning is what running a drawing takes.
type Reckoning struct {
	// Time is how long it takes, absent where the maker hasn't stated what it rests on.
	Time maybe.Of[motion.Time]
	// Missing are the lines of the laser or the stock that it lacks, as they would be
	// written: cut-speed.
	Missing     []string
	Cut, Travel float64 // how far it cuts, over all passes, and goes with the beam off, mm
	// Share is what each part takes by itself, in seconds, by the part's index.
	Share []float64
}

// Reckon tells how long a drawing takes in its sequence, which it must have.
func (d *Drawing) Reckon() Reckoning {
	m := d.machine()
	s := d.Sequence
	moves := motion.Moves(s.Items, s.Plan)
	parts := make([][]motion.Move, len(d.Parts))
	knifed := slices.ContainsFunc(d.Parts, func(p Part) bool {
		return p.Common && slices.ContainsFunc(p.Shapes, func(s Shape) bool { return s.Op == Mark })
	})
	r := Reckoning{Travel: s.Plan.Travel, Share: make([]float64, len(d.Parts))}
	passes := float64(max(m.Ops[tour.Cut].Passes.Or(1), 1))
	for k, run := range s.Plan.Runs {
		at := s.Shapes[run.Item]
		if raster := d.Parts[at.Part].Shapes[at.Shape].Raster; raster != nil && raster.H > 0 {
			moves[k].Interval = maybe.Is(moves[k].Area.Height() / float64(raster.H))
		}
		if moves[k].Op == tour.Cut {
			for _, p := range run.Paths {
				r.Cut += passes * geom.Length(p)
			}
		}
		parts[at.Part] = append(parts[at.Part], moves[k])
	}
	var needs []motion.Need
	r.Time, needs = m.Time(moves, maybe.Of[geom.Point]{}, maybe.Of[geom.Point]{})
	for _, n := range needs {
		r.Missing = append(r.Missing, lineOf(n))
	}
	for i, own := range parts {
		if d.Parts[i].Common {
			continue // what it does for parts these are charged as if they were cut, or marked for a knife, alone
		}
		for _, sh := range d.Parts[i].Shapes {
			if sh.Run == Together {
				own = append(own, motion.Move{Op: tour.Cut, Paths: geom.Paths(sh.Figure)})
			}
		}
		if p := d.Parts[i]; p.Knife && knifed {
			edge := geom.Rect{Min: p.Bounds.Min, W: p.Bounds.Width(), H: p.Bounds.Height()}
			own = append(own, motion.Move{Op: tour.Mark, Paths: geom.Paths(edge)})
		}
		if r.Time.Present() && len(own) > 0 {
			t, _ := m.Time(own, maybe.Of[geom.Point]{}, maybe.Of[geom.Point]{})
			r.Share[i] = t.Or(motion.Time{}).Total()
		}
	}
	return r
}

// machine is how the laser runs a drawing, all of which is of one stock.
func (d *Drawing) machine() motion.Machine {
	p := d.Pace
	for _, part := range d.Parts {
		if part.Of != nil {
			p.Cut = either(part.Of.Pace.Cut, p.Cut)
			p.Score = either(part.Of.Pace.Score, p.Score)
			p.Passes = either(part.Of.Pace.Passes, p.Passes)
			break
		}
	}
	m := motion.Machine{Travel: p.Travel, Acceleration: p.Acceleration, Corner: p.Corner}
	m.Ops[tour.Engrave] = motion.Work{Speed: p.Engrave, Interval: p.EngraveDistance, RunOut: p.RunOut, OneWay: p.OneWay.Or(false)}
	m.Ops[tour.Mark] = motion.Work{Speed: p.Mark}
	m.Ops[tour.Score] = motion.Work{Speed: p.Score}
	m.Ops[tour.Cut] = motion.Work{Speed: p.Cut, Passes: p.Passes}
	return m
}

func either[T any](a, b maybe.Of[T]) maybe.Of[T] {
	if a.Present() {
		return a
	}
	return b
}

// lineOf is the line by which a maker states a number.
func lineOf(n motion.Need) string {
	switch n.What {
	case motion.Interval:
		return "engrave-distance"
	case motion.Acceleration:
		return "acceleration"
	case motion.Travel:
		return "travel-speed"
	}
	return n.Op.String() + "-speed"
}

// Wood is what the wood of a part costs in the shop's money, cut once: its share of its
// sheet's price by the rectangle that is cut, by a knife as it is wanted, absent with what isn't
// stated. It is the same wherever the part lies, also among others by its outline.
func (p Part) Wood() (cost maybe.Of[float64], missing string) {
	if p.Of == nil {
		return cost, "what " + p.Name + " is cut from"
	}
	price, priced := p.Of.Price.Get()
	size, sized := p.Of.Size.Get()
	switch {
	case !priced:
		return cost, "the price of " + cmp.Or(p.Of.Name, "its stock")
	case price == 0:
		return maybe.Is(0.0), ""
	case !sized || !(size.Width*size.Height > 0):
		return cost, "the size of " + cmp.Or(p.Of.Name, "its stock")
	}
	box, moves := p.Footprint(), p.Moves.Or(geom.Pt(1, 1))
	if p.Of.Way.Knife.Yes {
		box, moves = p.Bounds, geom.Pt(1, 1)
	}
	return maybe.Is(price * box.Width() * moves.X * box.Height() * moves.Y / (size.Width * size.Height)), ""
}

// A Bill is what a cover costs.
type Bill struct {
	Minutes             maybe.Of[float64] // of the laser
	Laser, Wood, Labour float64           // with no profit
	Profit              float64
	Missing             []string // what isn't stated of it; then it has no total
}

// Total is what it costs in all, absent where something isn't stated.
func (b *Bill) Total() maybe.Of[float64] {
	return maybe.If(b.Laser+b.Wood+b.Labour+b.Profit, len(b.Missing) == 0)
}

// Charge works out what is charged for a cover: for so many seconds of the laser, absent
// with what they lack, and for parts, each as often as it is wanted.
func Charge(shop design.Shop, seconds maybe.Of[float64], lacking []string, parts []Part) Bill {
	b := Bill{Missing: slices.Clone(lacking)}
	s, timed := seconds.Get()
	b.Minutes = maybe.If(s/60, timed)
	rate, rated := shop.Rate.Get()
	if !rated {
		b.Missing = append(b.Missing, "the laser's rate")
	}
	b.Laser, b.Labour = rate*s/60, rate*shop.Labour.Or(0)
	for _, p := range parts {
		wood, missing := p.Wood()
		if missing != "" && !slices.Contains(b.Missing, missing) {
			b.Missing = append(b.Missing, missing)
		}
		b.Wood += wood.Or(0) * float64(max(p.Copies, 1)) * (1 + shop.Waste.Or(0))
	}
	b.Profit = (b.Laser + b.Wood + b.Labour) * shop.Profit.Or(0)
	return b
}
