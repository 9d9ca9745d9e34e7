package sheet

import (
	"cmp"
	"slices"
)

// exchange takes smaller sheets and offcuts for those that were chosen, where no more of them hold the same for
// no more money: what is large stays whole for the next.
func (g *group) exchange() {
	g.f.steps = 0
	pool := g.unused()
	if g.budget == 0 || len(g.best.rest) > 0 || !g.smallerThere(pool) {
		return
	}
	for g.shrink(pool) {
	}
	if len(g.best.loads) == 1 {
		return
	}
	swapped := false
	g.searching = true
	for since := 0; since < g.patience && g.f.steps < g.budget; since++ {
		if since%64 == 0 && g.cancelled() {
			break
		}
		if g.swap(pool) {
			since, swapped = 0, true
		}
	}
	g.searching = false
	for swapped && g.shrink(pool) {
	}
}

// unused is how many of each bin nothing lies on.
func (g *group) unused() []int {
	pool := g.pool()
	for _, l := range g.best.loads {
		pool[l.bin]--
	}
	return pool
}

// smallerThere reports whether anything is unused that is smaller than what is used and costs no more.
func (g *group) smallerThere(pool []int) bool {
	return slices.ContainsFunc(g.best.loads, func(l load) bool { return len(g.smallerOf(l, pool)) > 0 })
}

// smallerOf are the unused bins that are smaller than that of a load, have room for as much and cost no more, the smallest first.
func (g *group) smallerOf(l load, pool []int) (all []int) {
	its := g.bins[l.bin]
	for i, b := range g.bins {
		if pool[i] > 0 && b.area < its.area && b.value <= its.value && b.room >= l.filled {
			all = append(all, i)
		}
	}
	slices.SortStableFunc(all, func(i, j int) int { return cmp.Compare(g.bins[i].area, g.bins[j].area) })
	return all
}

// shrink lays each load, those on the largest first, on the smallest that holds it; it says whether any found
// one.
func (g *group) shrink(pool []int) (some bool) {
	order := make([]int, len(g.best.loads))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		return cmp.Compare(g.bins[g.best.loads[j].bin].area, g.bins[g.best.loads[i].bin].area)
	})
	for _, at := range order {
		for _, bin := range g.smallerOf(g.best.loads[at], pool) {
			if g.f.steps >= g.budget || g.cancelled() {
				return false
			}
			old := g.best.loads[at]
			if l, ok := g.relay(bin, old); ok {
				pool[old.bin]++
				pool[bin]--
				g.best.loads[at], some = l, true
				break
			}
		}
	}
	return some
}

// mostRelaid is in how many changed orders a load is tried on another bin.
const mostRelaid = 60

// relay lays what lies on one bin on another; it isn't ok where that isn't found to hold it in as few pieces.
func (g *group) relay(bin int, old load) (l load, ok bool) {
	b := g.bins[bin]
	for _, q := range old.runs {
		if !b.fits(b.sizes[q.kind]) {
			return l, false
		}
	}
	runs := slices.Clone(old.runs)
	for n := range 4*len(sortings) + mostRelaid {
		if n < 4*len(sortings) {
			for i := range runs {
				runs[i].upright = n&1 != 0
			}
			sortRuns(runs, b.sizes, sortings[n/4])
		} else {
			runs = g.change(runs)
		}
		g.f.inTurn = n&2 != 0
		var left []run
		l, left = g.load(bin, runs)
		g.f.inTurn = false
		if len(left) == 0 && g.noWorse([]load{l}, []load{old}) {
			return l, true
		}
		if g.f.steps >= g.budget {
			break
		}
	}
	return l, false
}

// swap tries to lay some loads anew, with others in place of some of their bins, or on fewer.
func (g *group) swap(pool []int) bool {
	chosen := g.choose()
	var old []load
	var runs []run
	var order []int
	for _, i := range chosen {
		l := g.best.loads[i]
		old, runs, order = append(old, l), append(runs, l.runs...), append(order, l.bin)
	}
	for range 1 + g.r.below(len(order)) {
		order[g.r.below(len(order))] = g.r.below(len(g.bins))
	}
	if n := len(order); n > 1 && g.r.one(8) {
		order = order[:n-1]
	}
	g.f.steps += 20 // what it takes to choose
	var area, value, room int64
	for _, bin := range order {
		b := g.bins[bin]
		area, value, room = area+b.area, value+b.value, room+b.room
	}
	for _, l := range old {
		b := g.bins[l.bin]
		area, value, room = area-b.area, value-b.value, room-l.filled
	}
	if area >= 0 || value > 0 || room < 0 {
		return false
	}
	free := slices.Clone(pool)
	for _, l := range old {
		free[l.bin]++
	}
	g.f.steps += 500
	fresh, rest := g.build(g.change(runs), free, order, nil, nil)
	if len(rest) > 0 || !g.noWorse(fresh, old) {
		return false
	}
	slices.Sort(chosen)
	for _, i := range slices.Backward(chosen) {
		g.best.loads = slices.Delete(g.best.loads, i, i+1)
	}
	g.best.loads = append(g.best.loads, fresh...)
	copy(pool, free)
	return true
}

// noWorse reports whether loads that hold the same are smaller than others by their area and neither more, nor in more pieces,
// cost no more, spare as much of the cuts and leave as much together of what costs.
func (g *group) noWorse(fresh, old []load) bool {
	size := func(loads []load) (area, pieces int64) {
		for _, l := range loads {
			area, pieces = area+g.bins[l.bin].area, pieces+int64(len(l.pieces))
		}
		return area, pieces
	}
	area, pieces := size(fresh)
	least, most := size(old)
	a, b := g.scoreOf(fresh, nil), g.scoreOf(old, nil)
	return area < least && len(fresh) <= len(old) && pieces <= most && a[1] <= b[1] && a[2] <= b[2] && a[3] <= b[3]
}
