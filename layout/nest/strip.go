package nest

import (
	"context"
	"math"
	"slices"

	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// A Band is what came of laying parts on a strip.
type Band struct {
	Placements []sheet.Placement
	Length     float64 // of the strip that is used, both margins included, mm
	// Density is the share of that length of strip that the outlines cover.
	Density float64
	Steps   int  // places tried
	Stopped bool // the context ended the search early
}

// Strip lays parts on a strip so wide in mm that as little of its length is used as can
// be found. The strip's width lies along X, its length runs down along Y from its
// left upper corner. The error is [ErrEmpty] or a [PartError].
func Strip(ctx context.Context, job Job, width float64) (Band, error) {
	l, err := job.prepare()
	if err != nil {
		return Band{}, err
	}
	edge := job.edge()
	bin := geom.Box{Max: geom.Point{X: units(width) - 2*edge}}
	tallest := 0.0
	for i, p := range l.pieces {
		least := math.Inf(1)
		for _, o := range p.turned {
			if o.box.Width() <= bin.Max.X {
				least = min(least, o.box.Height())
			}
		}
		if math.IsInf(least, 1) {
			return Band{}, &PartError{l.part[i], ErrTooLarge}
		}
		bin.Max.Y += 2 * least // the start may turn a part otherwise
		tallest = max(tallest, least)
	}
	newStrip := func(stream uint64) *field {
		return newField(l.pieces, []geom.Box{bin}, nil, l.kinds.count, job.Seed, stream)
	}
	first := newStrip(0)
	if over := first.lay(); len(over) > 0 {
		return Band{}, &PartError{l.part[over[0]], ErrTooLarge}
	}
	t := &team{ctx: ctx, budget: job.Steps, best: first.save(), value: first.reach(0), least: tallest}
	if job.Progress != nil {
		t.told = func(steps int, value float64) {
			job.Progress(Progress{Steps: steps, Of: job.Steps, Used: mm(value + 2*edge)})
		}
	}
	t.run(newStrip, (*field).shrink)
	out := Band{Steps: t.steps, Length: mm(t.value + 2*edge), Stopped: stopped(ctx)}
	out.Placements = l.placements(t.best, 0, geom.Point{X: -edge, Y: -edge})
	out.Density = l.area / (out.Length * width)
	return out, nil
}

// reach is how far down pieces lie in a bin.
func (f *field) reach(bin int) float64 {
	low := f.bins[bin].Min.Y
	for _, k := range f.in[bin] {
		if int(k) < len(f.pieces) {
			low = max(low, f.boxes[k].Max.Y)
		}
	}
	return low
}

// attempts is how many a member makes at least.
const attempts = 12

// shrink makes a strip shorter and parts what then overlaps, again and again.
// A first phase goes on from several ways in which pieces nearly fitted; in the
// last fifth of the work the steps get finer and finer.
func (f *field) shrink(m *member) {
	step := 0.02
	for !m.over() {
		explore := m.spent() < 0.8
		spots, length := m.take()
		if !explore {
			left := (1 - m.spent()) / 0.2
			step = min(step, float64(0.0005*left)+0.00001)
		}
		f.load(spots)
		f.shorten(max(m.team.least, math.Floor(length*(1-step))), length)
		f.forget()
		ok := false
		if more := m.upTo(1. / attempts); explore {
			ok = f.part(4, patience{rounds: 200, strikes: 3}, more)
		} else {
			ok = f.separate(patience{rounds: 100, strikes: 5}, more)
		}
		if ok {
			f.settle(0)
			m.found(f.save(), f.reach(0))
			step = min(0.02, step*1.5)
		} else if m.fresh {
			continue // another was quicker
		} else if explore && m.number%2 == 1 {
			step = 0.0005 * math.Exp(float64(f.rng.Float64()*math.Log(60)))
		} else if explore {
			step = max(0.0005, step/2)
		} else {
			step = max(0.00001, step*0.8)
		}
	}
}

// part parts pieces, and where it can't, swaps two in one of the best ways found and tries
// again, so many times in all.
func (f *field) part(times int, p patience, more func() bool) bool {
	type failure struct {
		spots []spot
		total float64
	}
	var pool []failure
	for range times {
		if f.separate(p, more) {
			return true
		}
		if !more() {
			return false
		}
		t := failure{f.save(), f.total()}
		k := 0
		for k < len(pool) && pool[k].total <= t.total {
			k++
		}
		pool = slices.Insert(pool, k, t)
		pick := min(len(pool)-1, int(math.Abs(f.rng.NormFloat64())*0.25*float64(len(pool))))
		f.load(pool[pick].spots)
		f.swap()
	}
	return false
}

// shorten makes the strip of some length shorter: what lies below a place drawn at
// random moves up.
func (f *field) shorten(to, from float64) {
	f.bins[0].Max.Y = to
	at := float64(f.rng.Float64() * to)
	for i := range f.pieces {
		s := f.spots[i]
		if f.boxes[i].Center().Y > at {
			s.y -= from - to
		}
		for k := 0; f.room(s.o, 0).Empty() && k < len(f.pieces[i].turned); k++ {
			s.o = f.pieces[i].turned[k]
		}
		s.x, s.y = inside(f.room(s.o, 0), math.Round(s.x), math.Round(s.y))
		f.place(i, s)
	}
	f.load(f.save())
}

// swap exchanges the places of two of the larger pieces that differ.
func (f *field) swap() {
	largest := 0.0
	for _, p := range f.pieces {
		largest = max(largest, p.size)
	}
	var large []int
	for i, p := range f.pieces {
		if p.size >= largest/2 {
			large = append(large, i)
		}
	}
	for range 20 {
		a, b := large[f.rng.IntN(len(large))], large[f.rng.IntN(len(large))]
		if f.spots[a].o == f.spots[b].o {
			continue
		}
		pa, pb := f.boxes[a].Center(), f.boxes[b].Center()
		f.put(a, f.centred(a, f.spots[b].bin, pb))
		f.put(b, f.centred(b, f.spots[a].bin, pa))
		return
	}
}

// centred is a spot for a piece whose box is about a point, as nearly as it fits.
func (f *field) centred(i, bin int, at geom.Point) spot {
	o := f.pieces[i].turned[f.rng.IntN(len(f.pieces[i].turned))]
	room := f.room(o, bin)
	if room.Empty() {
		return f.spots[i]
	}
	c := o.box.Center()
	x, y := inside(room, math.Round(at.X-c.X), math.Round(at.Y-c.Y))
	return spot{o: o, bin: bin, x: x, y: y}
}
