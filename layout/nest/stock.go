package nest

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// A Stock is a kind of sheet, or of offcut, to lay parts on.
type Stock struct {
	Width, Height float64 // mm
	// Gone is what is missing of it, at a corner or elsewhere: closed figures in mm from
	// its left upper corner.
	Gone  []geom.Figure
	Count int // how many there are; 0 stands for as many as it takes
	// Cost is that of one, at least 0: little is to be spent in all, and of what costs
	// as much by its area what is named first is used first.
	Cost float64
}

// A Sheet is one piece of stock with what lies on it.
type Sheet struct {
	Stock, Number int // which of the job's stocks, and which of those, from 0
	Placements    []sheet.Placement
	// Reach is how far down the lowest part lies, in mm.
	Reach float64
}

// A Result says where all parts lie.
type Result struct {
	Sheets  []Sheet // in the order of stocks
	Cost    float64 // of all
	Steps   int     // places tried
	Stopped bool    // the context ended the search early
}

// A ShortError says that there is too little stock: so many parts found no room.
type ShortError struct {
	Part    int // the first of them
	Missing int
}

func (e *ShortError) Error() string {
	return fmt.Sprintf("the sheets are too few: no room was found for %d parts, among them part %d", e.Missing, e.Part)
}

// A tray is one sheet that parts may lie on.
type tray struct {
	stock, number int
	box           geom.Box // where grown outlines may lie, in units
	cost, size    float64  // size is the area of box in square units
	gone          []*turned
}

// Sheets lays parts on sheets such that these cost as little as can be found, and on the
// one that holds least as far up as can be found. The error is [ErrEmpty], a [PartError],
// a [ShortError] or says which number means nothing.
func Sheets(ctx context.Context, job Job, stocks []Stock) (Result, error) {
	l, err := job.prepare()
	if err != nil {
		return Result{}, err
	}
	trays, err := job.trays(l, stocks)
	if err != nil {
		return Result{}, err
	}
	if i := l.misfit(trays); i >= 0 {
		return Result{}, &PartError{l.part[i], ErrTooLarge}
	}
	first := l.fieldOf(trays, job.Seed, 0)
	if over := first.lay(); len(over) > 0 {
		if !first.squeeze(ctx, over) {
			return Result{}, &ShortError{l.part[over[0]], len(over)}
		}
	}
	best, trays := keepUsed(first, trays)
	s := &sheets{trays: trays, pieces: l.pieces}
	t := &team{ctx: ctx, budget: job.Steps, best: best, value: s.value(best)}
	if job.Progress != nil {
		t.told = func(steps int, _ float64) {
			job.Progress(Progress{Steps: steps, Of: job.Steps, Used: float64(len(s.used(t.best)))})
		}
	}
	t.run(func(stream uint64) *field { return l.fieldOf(trays, job.Seed, stream) }, s.improve)
	return job.result(l, trays, t, stopped(ctx)), nil
}

// trays lists the sheets that there are, the cheapest by its area first, and of
// unlimited stock as many as parts can need.
func (j *Job) trays(l *load, stocks []Stock) ([]tray, error) {
	var out []tray
	edge := j.edge()
	for k, s := range stocks {
		if !(s.Width > 0 && s.Width <= most && s.Height > 0 && s.Height <= most && s.Cost >= 0) {
			return nil, fmt.Errorf("stock %d: %g by %g mm at a cost of %g is no sheet", k, s.Width, s.Height, s.Cost)
		}
		t := tray{stock: k, cost: s.Cost}
		t.box = geom.Box{Min: geom.Pt(edge, edge), Max: geom.Pt(units(s.Width)-edge, units(s.Height)-edge)}
		t.size = max(1, max(0, t.box.Width())*max(0, t.box.Height()))
		for _, g := range s.Gone {
			outlines, err := rings(g, max(0, mm(edge)), j.tolerance())
			if err != nil {
				return nil, fmt.Errorf("stock %d: what is gone of it: %w", k, err)
			}
			shape := l.kinds.of(outlines, []float64{0})
			t.gone = append(t.gone, shape.turned[0])
		}
		n := s.Count
		if n == 0 {
			total, large := 0.0, 0
			for _, p := range l.pieces {
				a := float64(p.size * p.size)
				total += a
				if a > t.size/8 {
					large++
				}
			}
			n = 2 + large + int(math.Ceil(4*total/t.size))
		}
		for t.number = range min(n, len(l.pieces)) {
			out = append(out, t)
		}
	}
	slices.SortStableFunc(out, func(a, b tray) int { return cmp.Compare(a.cost/a.size, b.cost/b.size) })
	return out, nil
}

// misfit is a piece that lies on no tray at any turn, -1 if there is none.
func (l *load) misfit(trays []tray) int {
	for i, p := range l.pieces {
		fits := false
		for _, t := range trays {
			for _, o := range p.turned {
				fits = fits || o.box.Width() <= t.box.Width() && o.box.Height() <= t.box.Height()
			}
		}
		if !fits {
			return i
		}
	}
	return -1
}

// fieldOf is a field whose bins are trays.
func (l *load) fieldOf(trays []tray, seed, stream uint64) *field {
	var bins []geom.Box
	var fixed []spot
	for b, t := range trays {
		bins = append(bins, t.box)
		for _, g := range t.gone {
			fixed = append(fixed, spot{o: g, bin: b})
		}
	}
	return newField(l.pieces, bins, fixed, l.kinds.count, seed, stream)
}

// squeeze lays pieces that found no room anywhere and parts what then overlaps.
func (f *field) squeeze(ctx context.Context, over []int) bool {
	for _, i := range over {
		if !f.toss(i) {
			return false
		}
	}
	return f.part(8, patience{rounds: 100, strikes: 2}, func() bool { return !stopped(ctx) })
}

// toss lays a piece anywhere in the open bins, if it fits one.
func (f *field) toss(i int) bool {
	turned := f.pieces[i].turned
	at, k := f.rng.IntN(len(f.open)), f.rng.IntN(len(turned))
	for b := range f.open {
		for t := range turned {
			s := spot{o: turned[(k+t)%len(turned)], bin: f.open[(at+b)%len(f.open)]}
			room := f.room(s.o, s.bin)
			if room.Empty() {
				continue
			}
			s.x = math.Round(room.Min.X + float64(f.rng.Float64()*room.Width()))
			s.y = math.Round(room.Min.Y + float64(f.rng.Float64()*room.Height()))
			s.x, s.y = inside(room, s.x, s.y)
			f.put(i, s)
			return true
		}
	}
	return false
}

// keepUsed leaves out all trays on which nothing lies but one of each stock.
func keepUsed(f *field, trays []tray) ([]spot, []tray) {
	var kept []tray
	spare := map[int]bool{}
	number := make([]int, len(trays))
	for b, t := range trays {
		used := f.holds(b)
		if used || !spare[t.stock] {
			number[b] = len(kept)
			kept = append(kept, t)
		}
		spare[t.stock] = spare[t.stock] || !used
	}
	spots := f.save()
	for i := range spots {
		spots[i].bin = number[spots[i].bin]
	}
	return spots, kept
}

// holds says whether a piece lies in a bin.
func (f *field) holds(bin int) bool {
	return slices.ContainsFunc(f.in[bin], func(k int32) bool { return int(k) < len(f.pieces) })
}

// result is what a team has found.
func (j *Job) result(l *load, trays []tray, t *team, stopped bool) Result {
	r := Result{Steps: t.steps, Stopped: stopped}
	numbers := map[int]int{}
	order := make([]int, len(trays))
	for b := range trays {
		order[b] = b
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(trays[a].stock, trays[b].stock) })
	for _, b := range order {
		placements := l.placements(t.best, b, geom.Point{})
		if len(placements) == 0 {
			continue
		}
		s := Sheet{Stock: trays[b].stock, Number: numbers[trays[b].stock], Placements: placements}
		numbers[s.Stock]++
		for _, p := range t.best {
			if p.bin == b {
				s.Reach = max(s.Reach, mm(p.bounds().Max.Y-units(j.Spacing/2)))
			}
		}
		r.Cost += trays[b].cost
		r.Sheets = append(r.Sheets, s)
	}
	return r
}
