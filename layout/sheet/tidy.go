package sheet

import (
	"cmp"
	"math"
	"slices"
)

// tidy makes each sheet neat where that costs nothing: parts of the emptiest are crowded to one side, so that what is left
// is large, and equal parts stand in rows.
func (g *group) tidy() {
	loads := g.best.loads
	slices.SortStableFunc(loads, func(a, b load) int {
		return cmp.Or(cmp.Compare(a.bin, b.bin), cmp.Compare(b.filled, a.filled))
	})
	emptiest := make([]int, len(loads))
	for i := range emptiest {
		emptiest[i] = i
	}
	slices.SortStableFunc(emptiest, func(i, j int) int {
		share := func(l load) int64 { return l.filled * 10_000 / g.bins[l.bin].room }
		return cmp.Compare(share(loads[i]), share(loads[j]))
	})
	for n, i := range emptiest {
		b := g.bins[loads[i].bin]
		if n < mostCrowded && !b.knife && !g.cancelled() {
			g.crowd(&loads[i], g.budget/(8*mostCrowded))
		}
	}
	for i := range loads {
		if g.cancelled() {
			return
		}
		g.align(&loads[i])
	}
}

// mostCrowded is how many sheets' parts are crowded to one side.
const mostCrowded = 4

// crowd looks for a way to lay a sheet's parts that leaves a larger rectangle.
func (g *group) crowd(l *load, budget int64) {
	b := g.bins[l.bin]
	left := g.largestLeft(*l)
	if len(l.spots) > 400 {
		return
	}
	for side := range 2 {
		t := &trial{sizes: b.sizes, fl: b.floor(side == 1), turned: side == 1}
		high := t.fl.h
		t.fl.h = never
		if t.fl.stepH > 0 {
			t.fl.h = high // the step may leave no other way
		}
		t.fl.aim = min(high, l.filled/(max(1, t.fl.w/unit))*unit+unit)
		for _, q := range l.runs {
			for range q.count {
				t.seq = append(t.seq, run{kind: q.kind, count: 1, upright: q.upright})
			}
		}
		g.crowdTo(t, high, budget/2, func(spots []spot) {
			try := *l
			try.spots = slices.Clone(spots)
			b.home(try.spots, side == 1)
			if n := g.largestLeft(try); n > left {
				left = n
				l.spots = try.spots
			}
		})
	}
}

// crowdTo shortens what a trial takes of its floor, and gives each shorter way that stays below a
// height.
func (g *group) crowdTo(t *trial, high, budget int64, found func([]spot)) {
	sortRuns(t.seq, t.sizes, sortings[4])
	t.first()
	top, tries := int64(math.MaxInt64), 0
	t.anneal(&g.r, budget, func() bool {
		if t.left == 0 && t.top <= high && t.top < top {
			top = t.top
			found(t.spots)
		}
		tries++
		return top > t.fl.aim && (tries%256 != 0 || !g.cancelled())
	})
}

// align lays a sheet's parts anew kind by kind, so that equal ones stand in rows, if all of them find room
// so and no less is left.
func (g *group) align(l *load) {
	b := g.bins[l.bin]
	whole := 0
	for _, q := range l.runs {
		whole += q.count
	}
	if whole == len(l.runs) || whole > mostTaken || b.knife {
		return
	}
	runs := slices.Clone(l.runs)
	slices.SortStableFunc(runs, func(a, b run) int { return cmp.Compare(a.kind, b.kind) })
	runs = joined(runs)
	rows, best := inRows(l.spots), *l
	for side := range 2 {
		for _, key := range sortings {
			sortRuns(runs, b.sizes, key)
			for _, plain := range []bool{true, false} {
				counts := slices.Clone(runs)
				g.f.inTurn = plain
				left := g.f.fill(b.floor(side == 1), b.sizes, side == 1, counts)
				g.f.inTurn = false
				if left > 0 {
					continue
				}
				spots := slices.Clone(g.f.spots)
				b.home(spots, side == 1)
				if n := inRows(spots); n > rows {
					rows, best.spots = n, spots
				}
			}
		}
	}
	if rows > inRows(l.spots) && g.largestLeft(best) >= g.largestLeft(*l) {
		l.spots = best.spots
	}
}

// inRows counts the parts that have an equal one, turned alike, right beside or below them.
func inRows(spots []spot) (n int) {
	type corner struct {
		kind   int
		turned bool
		x, y   int64
	}
	at := make(map[corner]bool, len(spots))
	for _, s := range spots {
		at[corner{s.kind, s.turned, s.x, s.y}] = true
	}
	for _, s := range spots {
		if at[corner{s.kind, s.turned, s.x + s.w, s.y}] {
			n++
		}
		if at[corner{s.kind, s.turned, s.x, s.y + s.h}] {
			n++
		}
	}
	return n
}
