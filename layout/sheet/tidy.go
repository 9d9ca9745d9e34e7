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
	var emptiest []*filled
	for i := range loads {
		for k := range loads[i].pieces {
			emptiest = append(emptiest, &loads[i].pieces[k])
		}
	}
	slices.SortStableFunc(emptiest, func(a, b *filled) int {
		return cmp.Compare(a.filled*10_000/a.room.area, b.filled*10_000/b.room.area)
	})
	for n, l := range emptiest {
		g.align(l)
		if n >= mostCrowded || l.room.knife {
			continue
		}
		if g.cancelled() {
			return
		}
		g.crowd(l)
		g.align(l)
	}
}

// mostCrowded is how many sheets' parts are crowded to one side.
const mostCrowded = 4

// crowd looks for a way to lay a sheet's parts that leaves a rectangle larger by a fiftieth; rows aren't given up for less.
func (g *group) crowd(l *filled) {
	b := l.room
	left := l.largestLeft()
	if len(l.spots) > 400 {
		return
	}
	best, most := *l, left+left/50
	n := int64(len(l.spots))
	budget := min(g.budget/(2*mostCrowded), 8*n*(2000+200*n)*int64(max(1, g.effort)))
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
			if n := try.largestLeft(); n > most {
				best, most = try, n
			}
		})
	}
	*l = best
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
// so and no less is left; or so that more is.
func (g *group) align(l *filled) {
	b := l.room
	whole := 0
	for _, q := range l.runs {
		whole += q.count
	}
	if whole == len(l.runs) || whole > mostTaken || b.knife {
		return
	}
	runs := slices.Clone(l.runs)
	slices.SortStableFunc(runs, func(a, b run) int { return cmp.Compare(a.kind, b.kind) })
	for i := range runs {
		runs[i].upright = false
	}
	runs = joined(runs)
	rows, beside := inRows(l.spots), b.beside(l.spots)
	neat, small := *l, *l // the most in rows with no less left, and the most left
	mostRows, mostBeside := rows, beside
	for n := range 4*2*len(sortings) + mostShuffles {
		if n < 4*2*len(sortings) {
			for i := range runs {
				runs[i].upright = n&4 != 0
			}
			sortRuns(runs, b.sizes, sortings[n/8])
		} else {
			g.shuffle(runs)
		}
		spots := g.inTurn(b, runs, n&1 != 0, n&2 == 0)
		if spots == nil {
			continue
		}
		r, s := inRows(spots), b.beside(spots)
		if s >= beside && r > mostRows {
			mostRows, neat.spots = r, spots
		}
		if s > mostBeside || s == mostBeside && mostBeside > beside && r > inRows(small.spots) {
			mostBeside, small.spots = s, spots
		}
	}
	left := l.largestLeft()
	if mostRows > rows && neat.largestLeft() >= left {
		*l, left = neat, neat.largestLeft()
	}
	if mostBeside > beside && small.largestLeft() > left {
		*l = small
	}
}

// mostShuffles is in how many further orders kinds are tried.
const mostShuffles = 60

func (g *group) shuffle(runs []run) {
	for i := range runs {
		j := g.r.below(i + 1)
		runs[i], runs[j] = runs[j], runs[i]
		runs[i].upright = g.r.one(2)
	}
}

// beside is the larger of the areas that are free along one side of the room.
func (b *room) beside(spots []spot) int64 {
	var x, y int64
	for _, s := range spots {
		x, y = max(x, s.x+s.w), max(y, s.y+s.h)
	}
	return max((b.w-x)/unit*(b.h/unit), (b.h-y)/unit*(b.w/unit))
}

// inTurn lays runs kind by kind, with nil if not all find room.
func (g *group) inTurn(b *room, runs []run, across, plain bool) []spot {
	counts := slices.Clone(runs)
	g.f.inTurn = plain
	left := g.f.fill(b.floor(across), b.sizes, across, counts)
	g.f.inTurn = false
	if left > 0 {
		return nil
	}
	spots := slices.Clone(g.f.spots)
	b.home(spots, across)
	return spots
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
