package tour

import (
	"context"

	"foredge/layout/geom"
)

// A tour is the work on one plan.
type tour struct {
	o      Options
	leaves []leaf
	after  [][]int32 // which leaf comes after which
	part   []int     // of each leaf the part, and the item, -1 where that can't be whole
	item   []int
	heat   *heat
	roots  []*group // of each operation that there is
	order  []int32  // the leaves as they are run
	mended bool
	best   saved
	budget budget
	steps  int64
}

// A saved is a state that can be gone back to.
type saved struct {
	order []int32
	at    []entry
	cost  float64
}

func newTour(ctx context.Context, items []Item, o Options) *tour {
	t := &tour{o: o}
	for i := range items {
		t.leaves = append(t.leaves, newLeaves(items, i, &o)...)
	}
	for i := range t.leaves {
		if l := &t.leaves[i]; l.area >= 0 {
			l.findCorners()
		}
	}
	var depth []int
	t.after, depth = bind(t.leaves)
	t.bridge(depth, o.Bridges.Or(Bridges{}))
	if d, ok := o.Spread.Get(); ok && d > 0 {
		t.heat = newHeat(t.leaves, d)
	}
	t.untie()
	t.steps = int64(o.Steps.Or(usualSteps) * float64(len(t.leaves)))
	t.budget = budget{ctx: ctx, progress: func(used int64) {
		if o.Progress != nil {
			o.Progress(Progress{used, t.best.cost / nano})
		}
	}}
	return t
}

// given takes the order given.
func (t *tour) given() {
	for op := Engrave; op <= Cut; op++ {
		var leaves []int32
		for i := range t.leaves {
			if t.leaves[i].op == op {
				leaves = append(leaves, int32(i))
			}
		}
		if len(leaves) > 0 {
			t.roots = append(t.roots, t.plant(leaves))
		}
	}
	t.gather()
}

// gather takes the order of the leaves from the groups.
func (t *tour) gather() {
	t.order = t.order[:0]
	for _, g := range t.roots {
		g.each(func(i int32) { t.order = append(t.order, i) })
	}
}

// ends are where the first leaf is entered and the last one left.
func (t *tour) ends() (ends [2]spot) {
	if n := len(t.order); n > 0 {
		ends = [2]spot{t.leaves[t.order[0]].at.in, t.leaves[t.order[n-1]].at.out}
	}
	return ends
}

// ofPoint is where the head comes from or goes to, nil for anywhere.
func ofPoint(p geom.Point, ok bool) *spot {
	if !ok {
		return nil
	}
	s := spotOf(p)
	return &s
}

// cost is the travel between the leaves in nanometres, and what heat adds.
func (t *tour) cost() float64 {
	var sum float64
	last, lastLeaf := ofPoint(t.o.From.Get()), -1
	for _, i := range t.order {
		at := &t.leaves[i].at
		sum += t.hop(last, lastLeaf, &at.in, int(i))
		last, lastLeaf = &at.out, int(i)
	}
	return sum + t.hop(last, lastLeaf, ofPoint(t.o.To.Get()), -1)
}

// hop is what going from one leaf to another costs.
func (t *tour) hop(p *spot, a int, q *spot, b int) float64 {
	var c float64
	if p != nil && q != nil {
		c = away(*p, *q)
	}
	if t.heat != nil {
		c += t.heat.cost(a, b)
	}
	return c
}

// travel is how far the head moves with the beam off, in mm.
func (t *tour) travel() float64 {
	h := t.heat
	t.heat = nil
	sum := t.cost()
	t.heat = h
	for i := range t.leaves {
		if len(t.leaves[i].necks) > 0 {
			sum += t.leaves[i].hops()
		}
	}
	return sum / nano
}

// close is how often a cut comes right after one that heats it.
func (t *tour) close() int {
	count := 0
	for k := 1; k < len(t.order) && t.heat != nil; k++ {
		if t.heat.near(int(t.order[k-1]), int(t.order[k])) {
			count++
		}
	}
	return count
}

func (t *tour) save() saved {
	s := saved{order: append([]int32(nil), t.order...), cost: t.cost()}
	for i := range t.leaves {
		s.at = append(s.at, t.leaves[i].at)
	}
	return s
}

func (t *tour) load(s saved) {
	t.order = append(t.order[:0], s.order...)
	for i := range t.leaves {
		t.leaves[i].at = s.at[i]
	}
}

// keep keeps the plan if it is better than the best so far, and says so.
func (t *tour) keep() bool {
	if t.cost() >= t.best.cost-least {
		return false
	}
	t.best = t.save()
	return true
}

// search looks for a better plan than the one given: with the entries given first, so
// that free ones are never worse; then with the entries that suit that order, and from
// the middles of the closed cuts, which none of them favours.
func (t *tour) search() {
	if len(t.leaves) == 0 {
		return
	}
	t.arrangeAll(t.steps, true)
	t.keep()
	fixed := t.best
	t.load(t.best)
	if t.enter() {
		t.keep()
	}
	free := t.free()
	if free == 0 {
		t.arrangeAgain(1)
		return
	}
	t.arrangeAgain(rounds)
	if free == 1 { // which favours no side of any other
		t.preferCorners(fixed.cost)
		return
	}
	t.load(fixed)
	t.centre()
	t.arrangeAll(t.steps/2, true)
	t.enter()
	t.keep()
	t.arrangeAgain(rounds)
	t.preferCorners(fixed.cost)
}

// rounds is how often order and entries are made to suit one another.
const rounds = 3

// arrangeAgain goes on from the plan as it stands, with the entries that it has now.
func (t *tour) arrangeAgain(rounds int) {
	for range rounds {
		before := t.cost()
		t.arrangeAll(t.steps/8, false)
		t.enter()
		t.keep()
		if t.cost() >= before-least || t.budget.ended {
			return
		}
	}
}

// free is how many leaves may be entered anywhere.
func (t *tour) free() (n int) {
	for i := range t.leaves {
		if t.leaves[i].free {
			n++
		}
	}
	return n
}
