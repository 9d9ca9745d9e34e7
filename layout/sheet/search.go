package sheet

import (
	"math"
	"slices"
)

// Steps that a group may spend with effort 1: some for every job, and more for each part.
const (
	stepsAtLeast = 60e6
	stepsAPart   = 150e3
	stepsAtMost  = 1e9

	// Of so many equal parts more of them leave no more ways to choose from.
	enoughOfOne = 200

	// It ends earlier after so many turns that have brought nothing.
	turnsAtLeast = 3000
	turnsAPart   = 30
)

// improve takes some sheets' parts off, changes their sequence a little and lays them anew, and keeps what is no worse.
// G. Schrimpf, J. Schneider, H. Stamm-Wilbrandt, G. Dueck, "Record Breaking Optimization Results Using the Ruin and
// Recreate Principle", Journal of Computational Physics, 2000.
func (g *group) improve() {
	g.f.steps = 0
	since := 0 // turns since anything became better
	less := 9
	if g.anyShares() {
		less = 2 // but for cuts
	}
	for turn := 0; g.f.steps < g.budget; turn++ {
		if g.done() || since > g.patience {
			return
		}
		if turn%64 == 0 {
			if g.cancelled() {
				return
			}
			g.report(float64(g.f.steps) / float64(g.budget))
		}
		was := g.best.score
		g.ruin()
		g.f.steps += int64(500 + 2*len(g.best.loads)) // what it takes beside looking at parts
		if since++; g.best.score.compare(was) < 0 {
			since = 0
		} else if len(g.best.rest) == 0 && g.best.score[1] <= g.least.value {
			since += less // nothing costs less: what is left to gain is little
		}
	}
}

// done reports whether nothing can become better: all lies on one sheet, that isn't sawn, or none of them could be spared or emptied.
func (g *group) done() bool {
	return len(g.best.rest) == 0 && len(g.best.loads) == 1 && len(g.best.loads[0].pieces) == 1 && g.best.score[1] <= g.least.value && !g.anyShares()
}

func (g *group) anyShares() bool {
	return slices.ContainsFunc(g.want, func(q run) bool { return q.count > 1 && g.shares(g.kinds[q.kind].part) })
}

// ruin lays the parts of a few sheets anew.
func (g *group) ruin() {
	loads := g.best.loads
	chosen := g.choose()
	var old []load
	var runs []run
	pool := g.pool()
	for i, l := range loads {
		if !slices.Contains(chosen, i) {
			pool[l.bin]--
		}
	}
	var order []int
	for _, i := range chosen {
		old = append(old, loads[i])
		runs = append(runs, loads[i].runs...)
		order = append(order, loads[i].bin)
	}
	runs = append(runs, g.best.rest...)
	before := g.scoreOf(old, g.best.rest)
	runs = g.change(runs)
	order = g.bring(order)
	g.f.inTurn = g.r.one(6)
	fresh, rest := g.build(runs, pool, order, g.byCost, &before)
	g.f.inTurn = false
	if fresh == nil && len(runs) > 0 {
		return
	}
	after := g.scoreOf(fresh, rest)
	if after.compare(before) > 0 {
		return
	}
	kept := make([]load, 0, len(loads))
	for i, l := range loads {
		if !slices.Contains(chosen, i) {
			kept = append(kept, l)
		}
	}
	g.best.loads, g.best.rest = append(kept, fresh...), rest
	g.best.score = g.scoreOf(g.best.loads, rest)
}

// choose picks some sheets: often the emptiest, and others at random.
func (g *group) choose() []int {
	loads := g.best.loads
	n := min(len(loads), 1+g.r.below(4))
	var chosen []int
	if n > 0 && !g.r.one(3) {
		worst := 0
		share := func(l load) float64 { return float64(l.filled) / float64(g.bins[l.bin].room) }
		for i, l := range loads {
			if share(l) < share(loads[worst]) {
				worst = i
			}
		}
		chosen = append(chosen, worst)
	}
	for len(chosen) < n {
		if i := g.r.below(len(loads)); !slices.Contains(chosen, i) {
			chosen = append(chosen, i)
		}
	}
	// The fullest first, so that what is left over comes to the emptiest.
	slices.SortStableFunc(chosen, func(a, b int) int {
		fa, fb := loads[a].filled*1000/g.bins[loads[a].bin].room, loads[b].filled*1000/g.bins[loads[b].bin].room
		return int(fb - fa)
	})
	return chosen
}

// bring is the order in which bins are used, now and then with others before or among them.
func (g *group) bring(order []int) []int {
	if len(order) > 1 && g.r.one(4) {
		i, j := g.r.below(len(order)), g.r.below(len(order))
		order[i], order[j] = order[j], order[i]
	}
	if len(g.bins) > 1 && g.r.one(2) || len(order) == 0 {
		other := g.r.below(len(g.bins))
		if len(order) == 0 || g.r.one(2) {
			order = slices.Insert(order, g.r.below(len(order)+1), other)
		} else {
			order[g.r.below(len(order))] = other
		}
	}
	return order
}

// change alters a sequence a little.
func (g *group) change(runs []run) []run {
	if g.r.one(8) {
		runs = g.regroup(runs)
	}
	if g.r.one(10) {
		sizes := g.bins[g.r.below(len(g.bins))].sizes
		sortRuns(runs, sizes, sortings[g.r.below(len(sortings))])
	}
	if len(runs) <= 12 && g.r.one(6) {
		for i := range runs {
			j := g.r.below(i + 1)
			runs[i], runs[j] = runs[j], runs[i]
			runs[i].upright = g.r.one(2)
		}
	}
	for range 1 + g.r.below(3) {
		n := len(runs)
		if n < 2 {
			break
		}
		i, j := g.r.below(n), g.r.below(n)
		switch {
		case runs[i].count > 1 && g.r.one(2): // some of them go elsewhere
			some := 1 + g.r.below(runs[i].count-1)
			runs[i].count -= some
			runs = slices.Insert(runs, j, run{runs[i].kind, some, runs[i].upright})
		case g.r.one(4):
			runs[i].upright = !runs[i].upright
		case g.r.one(3):
			q := runs[i]
			runs = slices.Insert(slices.Delete(runs, i, i+1), j, q)
		default:
			runs[i], runs[j] = runs[j], runs[i]
		}
	}
	return joined(runs)
}

// joined makes one of runs of the same kind that follow each other.
func joined(runs []run) []run {
	out := runs[:0]
	for _, q := range runs {
		if n := len(out); n > 0 && out[n-1].kind == q.kind && out[n-1].upright == q.upright {
			out[n-1].count += q.count
		} else {
			out = append(out, q)
		}
	}
	return out
}

// regroup makes other blocks of one part whose cuts may fall together.
func (g *group) regroup(runs []run) []run {
	if !g.anyShares() {
		return runs
	}
	part := g.kinds[runs[g.r.below(len(runs))].kind].part
	if !g.shares(part) {
		return runs
	}
	count, at := 0, -1
	var out []run
	for i, q := range runs {
		if k := g.kinds[q.kind]; k.part == part {
			count += q.count * k.parts
			if at < 0 {
				at = i
			}
			continue
		}
		out = append(out, q)
	}
	limit := 1 + g.r.below(min(count, largestShares))
	var blocks []run
	if most, _ := g.grid(part); g.r.one(2) { // all of them in one block
		cols := 1 + g.r.below(min(count, most))
		if rows := (count + cols - 1) / cols; count <= largestShares && g.fitsBlock(part, cols, rows) {
			return slices.Insert(out, at, g.blocks(part, count, cols, rows)...)
		}
	}
	// Of many parts the blocks are larger, so that the work stays in bounds.
	span := max(6, int(math.Sqrt(float64(count))/2))
	if cols, rows := 1+g.r.below(span), 1+g.r.below(span); max((cols-1)*rows, cols*(rows-1)) < count && g.fitsBlock(part, cols, rows) {
		blocks = g.blocks(part, count, cols, rows)
	} else {
		blocks = g.together(part, count, limit)
	}
	return slices.Insert(out, at, blocks...)
}

func (g *group) report(done float64) {
	if g.progress == nil {
		return
	}
	p := Progress{Group: g.name, Done: min(1, done), Sheets: len(g.best.loads), LeastSheets: g.least.sheets}
	p.Used = g.used()
	g.progress(p)
}

// used is the share of all sheets that parts cover.
func (g *group) used() float64 {
	var parts, sheets float64
	for _, l := range g.best.loads {
		parts += g.partsArea(l.runs)
		sheets += g.job.Stocks[g.bins[l.bin].stock].area()
	}
	if sheets == 0 {
		return 0
	}
	return parts / sheets
}
