package sheet

import (
	"cmp"
	"context"
	"slices"
)

// A group is the part of a job that lies on stock of one name.
type group struct {
	job    *Job
	name   string
	bins   []*bin
	kinds  []kind
	index  map[[4]int]int
	byCost []int // the bins, those first that cost least for their room
	want   []run // what is wanted, by single parts
	// Parts that are equal but for their names are laid as the first of them, and dealt out in the end.
	equal   map[Part]int  // which of what is wanted
	members map[int][]run // by the first: each of them, and how often
	dealt   map[int]int   // of the first of the members that are left
	r       random
	f       filler
	best    plan

	searching bool

	budget    int64
	patience  int
	effort    float64
	progress  func(Progress)
	cancelled func() bool
	least     bounds
}

// A load is a sheet with what lies on it.
type load struct {
	bin, way int
	pieces   []filled // none of which is empty
	runs     []run    // in the order of the sequence, piece by piece
	filled   int64    // of its parts with their spacing
	shared   int64    // length of cuts that fall together
}

// A filled is a piece of a sheet with what lies on it.
type filled struct {
	room   *room
	runs   []run // in the order of the sequence
	spots  []spot
	cuts   []slit
	filled int64 // of its parts with their spacing
}

// A plan is how all parts of a group lie.
type plan struct {
	loads []load
	rest  []run // what found no room
	score score
}

// A score says how bad a plan is; what stands first counts most: area of parts that found no room, cost,
// shared cuts by which it falls short, how evenly parts are spread on sheets that cost and by
// area: parts crowded on some leave more of the others; and into how many pieces sheets are sawn.
type score [6]int64

func (s score) compare(t score) int { return slices.Compare(s[:], t[:]) }

// scoreOf adds up what loads and the rest make.
func (g *group) scoreOf(loads []load, rest []run) score {
	var s score
	for _, q := range rest {
		s[0] += g.kinds[q.kind].area * int64(q.count)
	}
	for _, l := range loads {
		b := g.bins[l.bin]
		s[1] += b.value
		s[2] -= l.shared
		// 2f-f² of the share f that is filled is concave: its sum is smallest where sheets are full or empty.
		f := min(l.filled, b.room) * 10_000 / b.room
		c := 20_000*f - f*f
		s[3] += b.value * c / 10_000
		s[4] += b.area * c / 10_000
		s[5] += int64(len(l.pieces) - 1)
	}
	return s
}

// lay makes a plan, improves it and makes it neat.
func (g *group) lay(ctx context.Context) {
	g.cancelled = func() bool { return ctx.Err() != nil }
	g.construct()
	g.searching = true
	g.improve()
	g.searching = false
	g.exchange()
	g.tidy()
}

// sequences are the orders in which construction takes parts.
func (g *group) sequences() (all [][]run) {
	add := func(runs []run) {
		sizes := g.anySizes()
		for _, key := range sortings {
			s := slices.Clone(runs)
			sortRuns(s, sizes, key)
			all = append(all, s)
		}
	}
	add(g.want)
	if slices.ContainsFunc(g.want, func(q run) bool { return g.shares(g.kinds[q.kind].part) && q.count > 1 }) {
		for _, limit := range []int{largestShares, 4} {
			var runs []run
			for _, q := range g.want {
				if g.shares(g.kinds[q.kind].part) {
					runs = append(runs, g.together(g.kinds[q.kind].part, q.count, limit)...)
				} else {
					runs = append(runs, q)
				}
			}
			add(runs)
		}
	}
	return all
}

// anySizes are the sizes of the kinds on the first bin that has room for them.
func (g *group) anySizes() []size {
	sizes := make([]size, len(g.kinds))
	for _, b := range slices.Backward(g.bins) {
		for i, s := range b.sizes {
			if b.fits(s) {
				sizes[i] = s
			}
		}
	}
	return sizes
}

// construct makes the first plan: the best of several sequences.
func (g *group) construct() {
	g.byCost = g.order()
	for i, runs := range g.sequences() {
		if i > 0 && g.cancelled() {
			return
		}
		pool := g.pool()
		loads, rest := g.build(runs, pool, nil, g.byCost, nil)
		if s := g.scoreOf(loads, rest); i == 0 || s.compare(g.best.score) < 0 {
			g.best = plan{loads, rest, s}
		}
	}
}

// order sorts the bins.
func (g *group) order() []int {
	order := make([]int, len(g.bins))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		a, b := g.bins[i], g.bins[j]
		return cmp.Or(cmp.Compare(float64(a.value)/float64(a.room), float64(b.value)/float64(b.room)), cmp.Compare(b.room, a.room))
	})
	return order
}

// pool is how many of each bin there are.
func (g *group) pool() []int {
	pool := make([]int, len(g.bins))
	for i, b := range g.bins {
		pool[i] = b.left
	}
	return pool
}

// build lays a sequence on some bins first, each once, and then on those of an order, each as often as it is there. It
// gives what found no room, and nil once it costs more than the limit.
func (g *group) build(runs []run, pool, first, order []int, limit *score) (loads []load, rest []run) {
	rest, runs = cutRuns(nil, runs)
	var cost int64
	for at := 0; at < len(first)+len(order) && len(rest) > 0; {
		once := at < len(first)
		var i int
		if once {
			i = first[at]
		} else {
			i = order[at-len(first)]
		}
		var l load
		if pool[i] > 0 {
			var left []run
			if l, left = g.load(i, rest); len(l.pieces) > 0 {
				pool[i]--
				loads = append(loads, l)
				rest, runs = cutRuns(left, runs)
				cost += g.bins[i].value
			}
		}
		if limit != nil && limit[0] == 0 && cost > limit[1] {
			return nil, nil
		}
		if once || len(l.pieces) == 0 {
			at++
		}
	}
	return loads, append(rest, runs...)
}

// mostRuns is how many runs of a sequence a sheet is filled from, so that the work on very many grows with their
// number only.
const mostRuns = 4000

// cutRuns tops runs up from others once they are few.
func cutRuns(runs, more []run) (now, later []run) {
	if len(runs) > mostRuns/2 || len(more) == 0 {
		return runs, more
	}
	n := min(len(more), mostRuns-len(runs))
	return append(runs, more[:n]...), more[n:]
}

// load fills one bin with what it takes of a sequence, in the way in which that is most, or the same on
// fewer pieces, and gives what is left. A search tries now and then one way alone.
func (g *group) load(index int, runs []run) (best load, left []run) {
	ways := g.bins[index].ways
	from, to := 0, len(ways)
	if to > 1 && g.searching && g.r.one(2) {
		from = g.r.below(to)
		to = from + 1
	}
	for way := from; way < to; way++ {
		l, rest := g.loadWay(index, way, runs)
		if way == from || l.filled > best.filled || l.filled == best.filled && len(l.pieces) < len(best.pieces) {
			best, left = l, rest
		}
	}
	return best, left
}

// loadWay fills the pieces of a sheet one after the other.
func (g *group) loadWay(index, way int, runs []run) (l load, left []run) {
	l.bin, l.way, left = index, way, runs
	for _, r := range g.bins[index].ways[way].rooms {
		var p filled
		if p, left = g.piece(r, left); len(p.spots) > 0 {
			l.pieces = append(l.pieces, p)
			l.filled += p.filled
		}
		if len(left) == 0 {
			break
		}
	}
	if len(l.pieces) == 1 {
		l.runs = l.pieces[0].runs
	} else {
		for _, p := range l.pieces {
			l.runs = append(l.runs, p.runs...)
		}
	}
	for _, q := range l.runs {
		l.shared += g.saved(q.kind) * int64(q.count)
	}
	return l, left
}

// piece fills a room with what it takes of a sequence, from above and from its side, and gives what is left.
func (g *group) piece(b *room, runs []run) (best filled, left []run) {
	for side := range 2 {
		if b.knife && side == 1 {
			break
		}
		counts := slices.Clone(runs)
		if b.knife {
			g.f.whittle(b, counts, &g.r)
		} else {
			g.f.fill(b.floor(side == 1), b.sizes, side == 1, counts)
		}
		var area int64
		for _, s := range g.f.spots {
			area += s.w / unit * (s.h / unit)
		}
		if side == 0 || area > best.filled {
			best = filled{room: b, spots: slices.Clone(g.f.spots), filled: area}
			if b.knife {
				best.cuts = slices.Clone(g.f.cuts)
			} else {
				b.home(best.spots, side == 1)
			}
			left = counts
		}
	}
	rest := left[:0:0]
	for i, q := range left {
		if n := runs[i].count - q.count; n > 0 {
			best.runs = append(best.runs, run{q.kind, n, q.upright})
		}
		if q.count > 0 {
			rest = append(rest, q)
		}
	}
	return best, rest
}

// saved is the length of cut in µm that a block spares.
func (g *group) saved(index int) int64 { return g.savedBy(g.kinds[index]) }

// savedBy is what a block spares; each part that is missing at its end lies beside one and below one.
func (g *group) savedBy(k kind) int64 {
	p, missing := g.job.Parts[k.part], k.cols*k.rows-k.parts
	return int64((k.cols-1)*k.rows-missing)*(whole(p.Height)/1000) + int64((k.rows-1)*k.cols-missing)*(whole(p.Width)/1000)
}
