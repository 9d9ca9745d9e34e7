package tour

import (
	"cmp"
	"math"
	"slices"
)

// A grid finds ends near a spot. Ends can be taken out.
type grid struct {
	spots  []spot
	min    spot
	side   float64
	nx, ny int
	start  []int32 // where each cell's ends begin in items
	count  []int32 // how many of them are left
	items  []int32
	where  []int32 // the place of each end in items
	left   int
}

// perCell is how many ends a cell of a grid holds on average.
const perCell = 2

// newGrid makes a grid of some of the spots.
func newGrid(spots []spot, which []int32) *grid {
	g := &grid{spots: spots, items: make([]int32, len(which)), where: make([]int32, len(spots)), left: len(which)}
	lo, hi := spot{math.Inf(1), math.Inf(1)}, spot{math.Inf(-1), math.Inf(-1)}
	for _, e := range which {
		p := spots[e]
		lo, hi = spot{min(lo.x, p.x), min(lo.y, p.y)}, spot{max(hi.x, p.x), max(hi.y, p.y)}
	}
	w, h := max(hi.x-lo.x, 1), max(hi.y-lo.y, 1)
	cells := float64(len(which)/perCell + 1)
	g.min = lo
	// No more cells than ends, however flat the box is.
	g.side = max(math.Sqrt(float64(w*h)/cells), max(w, h)/cells)
	g.nx, g.ny = int(w/g.side)+1, int(h/g.side)+1
	g.start = make([]int32, g.nx*g.ny+1)
	g.count = make([]int32, g.nx*g.ny)
	for _, e := range which {
		g.count[g.cell(spots[e])]++
	}
	for c, n := range g.count {
		g.start[c+1] = g.start[c] + n
		g.count[c] = 0
	}
	for _, e := range which {
		c := g.cell(spots[e])
		k := g.start[c] + g.count[c]
		g.items[k], g.where[e] = e, k
		g.count[c]++
	}
	return g
}

func (g *grid) column(x float64) int { return min(max(int((x-g.min.x)/g.side), 0), g.nx-1) }
func (g *grid) row(y float64) int    { return min(max(int((y-g.min.y)/g.side), 0), g.ny-1) }
func (g *grid) cell(p spot) int      { return g.row(p.y)*g.nx + g.column(p.x) }

// remove takes an end out.
func (g *grid) remove(e int32) {
	c := g.cell(g.spots[e])
	last := g.start[c] + g.count[c] - 1
	k := g.where[e]
	moved := g.items[last]
	g.items[k], g.where[moved] = moved, k
	g.items[last], g.where[e] = e, last
	g.count[c]--
	g.left--
}

// holds says whether an end of the grid isn't taken out.
func (g *grid) holds(e int32) bool {
	c := g.cell(g.spots[e])
	return g.where[e] < g.start[c]+g.count[c]
}

// A found is an end and how far away it is.
type found struct {
	end int32
	d   float64
}

// nearest appends the k ends nearest to a spot that are allowed, the nearest first and
// of equally near ones that of the lower number. It gives up after most cells that
// hold none such.
func (g *grid) nearest(all []found, p spot, k int, allowed func(end int32) bool) []found {
	all = all[:0]
	cx, cy := g.column(p.x), g.row(p.y)
	for ring := 0; ring <= max(g.nx, g.ny); ring++ {
		if len(all) >= k && all[k-1].d < float64(ring-1)*g.side {
			break
		}
		for y := max(cy-ring, 0); y <= min(cy+ring, g.ny-1); y++ {
			step := 1
			if y > cy-ring && y < cy+ring {
				step = max(2*ring, 1) // only both sides of the ring
			}
			for x := cx - ring; x <= cx+ring; x += step {
				if x < 0 || x >= g.nx {
					continue
				}
				c := y*g.nx + x
				for _, e := range g.items[g.start[c] : g.start[c]+g.count[c]] {
					if allowed(e) {
						all = keep(all, found{e, away(p, g.spots[e])}, k)
					}
				}
			}
		}
	}
	return all
}

// keep adds what was found to the k nearest.
func keep(all []found, f found, k int) []found {
	if len(all) == k {
		if compareFound(f, all[k-1]) >= 0 {
			return all
		}
		all = all[:k-1]
	}
	i := len(all)
	all = append(all, f)
	for ; i > 0 && compareFound(f, all[i-1]) < 0; i-- {
		all[i] = all[i-1]
	}
	all[i] = f
	return all
}

func compareFound(a, b found) int {
	return cmp.Or(cmp.Compare(a.d, b.d), cmp.Compare(a.end, b.end))
}

// nearEnds lists for each end the nearest k of other nodes.
func nearEnds(s *search, k int) [][]int32 {
	var which []int32
	for e := int32(0); e < s.void; e++ {
		switch {
		case e/2 < s.n && s.closed[e/2] && e%2 == 1: // the same as the one before
		case e/2 == s.seq[0] && e%2 == 0, e/2 == s.seq[s.n+1] && e%2 == 1: // never used
		default:
			which = append(which, e)
		}
	}
	near := make([][]int32, 2*s.n+4)
	if len(which) == 0 {
		return near
	}
	g := newGrid(s.ends, which)
	var all []found
	flat := make([]int32, 0, len(which)*k)
	for _, e := range which {
		all = g.nearest(all, s.ends[e], k, func(f int32) bool {
			return f/2 != e/2 && (s.heat == nil || !s.heat.near(int(s.leaf[e]), int(s.leaf[f])))
		})
		from := len(flat)
		for _, f := range all {
			flat = append(flat, f.end)
		}
		near[e] = flat[from:len(flat):len(flat)]
	}
	return near
}

// links lists the pairs of near ends of different nodes, the shortest first.
func links(g *grid, which []int32, owner func(end int32) int32, k int) []link {
	var all []link
	var near []found
	for _, e := range which {
		near = g.nearest(near, g.spots[e], k, func(f int32) bool { return owner(f) != owner(e) })
		for _, f := range near {
			all = append(all, link{min(e, f.end), max(e, f.end), f.d})
		}
	}
	slices.SortFunc(all, func(a, b link) int {
		return cmp.Or(cmp.Compare(a.d, b.d), cmp.Compare(a.e, b.e), cmp.Compare(a.f, b.f))
	})
	return all
}

// A link is two ends and how far apart they are.
type link struct {
	e, f int32
	d    float64
}

// restore puts back an end that was taken out.
func (g *grid) restore(e int32) {
	c := g.cell(g.spots[e])
	k := g.start[c] + g.count[c]
	moved := g.items[k]
	was := g.where[e]
	g.items[was], g.where[moved] = moved, was
	g.items[k], g.where[e] = e, k
	g.count[c]++
	g.left++
}
