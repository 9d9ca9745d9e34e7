package layout

import (
	"cmp"
	"math"
	"slices"

	"foredge/eval/maybe"
	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// A solid is what a piece takes of a sheet, wherever others lie: what is beside its outline, and its
// openings that are large enough for one of them, may be another's.
type solid struct {
	area float64 // of its material in mm²
	// within are the sizes of rectangles that lie within its material: the widest, the highest and the largest
	// that were found.
	within [3]geom.Point
	rect   bool // it is a rectangle, all of it
	plain  bool // and needs no distance from its equals, with which it shares cuts
}

// solids are those of pieces. Openings count in which one of them has room.
func solids(pieces []laid) []solid {
	var sizes []geom.Point
	add := func(z geom.Point) {
		if !slices.Contains(sizes, z) {
			sizes = append(sizes, z)
		}
	}
	for i := range pieces {
		l := &pieces[i]
		if add(geom.Pt(l.w, l.h)); l.turns {
			add(geom.Pt(l.h, l.w))
		}
	}
	least := geom.Pt(math.Inf(1), math.Inf(1))
	for _, z := range sizes {
		least = geom.Pt(min(least.X, z.X), min(least.Y, z.Y))
	}
	holds := func(b geom.Box) bool {
		return b.Width() >= least.X && b.Height() >= least.Y && slices.ContainsFunc(sizes, func(z geom.Point) bool { return z.X <= b.Width() && z.Y <= b.Height() })
	}
	type drawn struct {
		of   int
		name string
	}
	known, alike, all := map[drawn]solid{}, map[geom.Point][]outlined{}, make([]solid, len(pieces))
	steps := mostLooks
	for i := range pieces {
		l := &pieces[i]
		key, size := drawn{l.of, l.drawn.Name}, geom.Pt(l.w, l.h)
		its, ok := known[key]
		if !ok {
			paths, area := l.material(holds)
			at := slices.IndexFunc(alike[size], func(o outlined) bool {
				return slices.EqualFunc(o.paths, paths, func(a, b geom.Path) bool { return geom.Same(a, b) })
			})
			its = solid{area: area, plain: l.plain, rect: area > l.w*l.h-chord}
			switch {
			case its.rect:
				its.within = [3]geom.Point{size, size, size}
			case at >= 0:
				its.within = alike[size][at].within
			default:
				its.within = rectangles(paths, l.w, &steps)
				alike[size] = append(alike[size], outlined{paths, its.within})
			}
			known[key] = its
		}
		all[i] = its
	}
	return all
}

// An outlined is what was found within some paths.
type outlined struct {
	paths  []geom.Path
	within [3]geom.Point
}

// mostLooks is how many lines are looked at for the rectangles within all pieces: about a second.
const mostLooks = 20_000_000

// chord is how far in mm chords lie from curves where rectangles are looked for within them.
const chord = 0.05

// material is what a piece is within, and its area in mm², if such openings hold others.
func (l *laid) material(holds func(geom.Box) bool) (paths []geom.Path, area float64) {
	area = l.area()
	paths = geom.Paths(geom.Rect{W: l.w, H: l.h})
	if fig, ok := l.outline(); ok {
		paths = geom.Paths(fig)
	}
	for _, s := range l.drawn.Shapes {
		if s.Op != Cut || !s.Hole || !holds(s.Figure.Bounds()) {
			continue
		}
		for _, p := range geom.Paths(geom.Shift(l.origin.Mul(-1)).Apply(s.Figure)) {
			if p.Closed && holds(p.Bounds()) {
				area -= math.Abs(p.Area())
				paths = append(slices.Clip(paths), p)
			}
		}
	}
	return paths, max(0, area)
}

// rectangles are the widest, the highest and the largest rectangle that are found within paths, so wide in all; steps
// are how many lines may be looked at yet.
func rectangles(paths []geom.Path, wide float64, steps *int) (within [3]geom.Point) {
	var lines [][2]geom.Point
	xs := []float64{}
	for _, p := range paths {
		points := p.Flatten(chord)
		for i := range points[1:] {
			lines = append(lines, [2]geom.Point{points[i], points[i+1]})
		}
		for piece := range p.Pieces() {
			xs = append(xs, piece.From.X)
		}
	}
	xs = some(xs, wide)
	for i, from := range xs {
		for _, to := range xs[i+1:] {
			if *steps -= len(lines); *steps < 0 {
				return within
			}
			z := geom.Pt(to-from, tallest(lines, from+chord, to-chord)).Sub(geom.Pt(2*chord, 2*chord))
			if z.X <= 0 || z.Y <= 0 {
				continue
			}
			for k, less := range [3]func(a, b geom.Point) int{
				func(a, b geom.Point) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) },
				func(a, b geom.Point) int { return cmp.Or(cmp.Compare(a.Y, b.Y), cmp.Compare(a.X, b.X)) },
				func(a, b geom.Point) int { return cmp.Compare(a.X*a.Y, b.X*b.Y) },
			} {
				if less(z, within[k]) > 0 {
					within[k] = z
				}
			}
		}
	}
	return within
}

// mostEnds is between how many places of an outline rectangles are looked for.
const mostEnds = 16

// some are some of these places and of those that divide a width.
func some(xs []float64, wide float64) []float64 {
	slices.Sort(xs)
	xs = slices.CompactFunc(xs, func(a, b float64) bool { return math.Abs(b-a) < 4*chord })
	if n := len(xs); n > mostEnds {
		few := make([]float64, mostEnds)
		for i := range few {
			few[i] = xs[i*(n-1)/(mostEnds-1)]
		}
		xs = few
	}
	for k := range 9 {
		xs = append(xs, wide*float64(k)/8)
	}
	slices.Sort(xs)
	return slices.CompactFunc(xs, func(a, b float64) bool { return math.Abs(b-a) < 4*chord })
}

// tallest is how high the highest rectangle from one place to another is that no line goes through, and
// that has an odd number of them above it.
func tallest(lines [][2]geom.Point, from, to float64) (most float64) {
	middle := (from + to) / 2
	type span struct{ low, high float64 }
	var taken []span
	var above []float64 // where lines go through the middle
	for _, l := range lines {
		a, b := l[0], l[1]
		if a.X > b.X {
			a, b = b, a
		}
		if b.X <= from || a.X >= to {
			continue
		}
		at := func(x float64) float64 {
			if b.X-a.X < geom.Tol {
				return a.Y
			}
			return a.Y + (b.Y-a.Y)*(x-a.X)/(b.X-a.X)
		}
		y0, y1 := at(max(a.X, from)), at(min(b.X, to))
		if b.X-a.X < geom.Tol {
			y0, y1 = a.Y, b.Y
		}
		taken = append(taken, span{min(y0, y1), max(y0, y1)})
		if a.X <= middle && middle < b.X {
			above = append(above, at(middle))
		}
	}
	slices.SortFunc(taken, func(a, b span) int { return cmp.Compare(a.low, b.low) })
	reach := math.Inf(-1)
	for _, s := range taken {
		if free := s.low - reach; free > most && !math.IsInf(free, 1) {
			n := 0
			for _, y := range above {
				if y < reach+free/2 {
					n++
				}
			}
			if n%2 == 1 {
				most = free
			}
		}
		reach = max(reach, s.high)
	}
	return most
}

// grown is the area in mm² of all that is within half a spacing of a solid: of a rectangle by Steiner's
// formula, of anything else at least as much as of a disc of its area.
// R. J. Gardner, "The Brunn-Minkowski Inequality", Bulletin of the American Mathematical Society, 2002.
func (s solid) grown(spacing float64) float64 {
	if s.plain {
		spacing = 0
	}
	of := func(z geom.Point) float64 {
		return z.X*z.Y + (z.X+z.Y)*spacing + math.Pi/4*spacing*spacing
	}
	if s.rect {
		return of(s.within[0])
	}
	most := s.area + spacing*math.Sqrt(math.Pi*s.area) + math.Pi/4*spacing*spacing
	for _, z := range s.within {
		most = max(most, of(z))
	}
	return most
}

// least fills in the bounds of a group.
func (s Supply) least(all *sheet.Group, many []laid, a alone) {
	var least sheet.Group
	n := a.sheets
	odd := func(its []solid) bool { return slices.ContainsFunc(its, func(s solid) bool { return !s.rect }) }
	both := append(slices.Clone(many), a.pieces()...)
	its := solids(both)
	knife := s.Way.Knife.Yes
	switch {
	case len(a.rest) > 0 || slices.ContainsFunc(a.pages, func(p page) bool { return p.sawn != nil }) || !knife && odd(its[len(many):]):
		// What lies alone on a piece of a sheet, or has room for others in it, leaves these to the rest.
		close := s
		close.Margin, close.Spacing = 0, 0
		least, n = close.leastOfSolids(both, its), 0
	case len(many) == 0:
		least.LeastCost = maybe.Is(0.0)
	case !knife && odd(its):
		least = s.leastOfSolids(many, its[:len(many)])
	default:
		if its, err := sheet.Least(freely(s.job(many, alone{}), many)); err == nil && len(its) == 1 {
			least = its[0]
		}
	}
	more := float64(n)
	all.LeastSheets, all.LeastArea = least.LeastSheets+n, min(all.Area, least.LeastArea+more*s.Sheet.X*s.Sheet.Y)
	all.LeastCost = maybe.If(min(all.Cost.Or(0), least.LeastCost.Or(0)+more*s.Price.Or(0)), s.Price.Present())
}

// leastOfSolids is the least that holds pieces which may be no rectangles: by their areas, and by the rectangles
// within them, which are as far apart as corners may be.
func (s Supply) leastOfSolids(many []laid, its []solid) sheet.Group {
	job := freely(s.job(many, alone{}), many)
	spacing := s.Spacing
	for i := range job.Stocks {
		k := &job.Stocks[i]
		if ok, _ := sheet.OnBed(geom.Pt(k.Width, k.Height), s.Bed, s.Way.Knife.Yes); !ok {
			spacing = min(spacing, 2*s.Margin) // on both sides of a line of the saw
		}
		k.Spacing /= math.Sqrt2
	}
	least := leastOf(job.Stocks, its, spacing)
	for k := range its[0].within {
		for i, z := range its {
			p := &job.Parts[i]
			p.Width, p.Height, p.Plain = max(chord, z.within[k].X), max(chord, z.within[k].Y), p.Plain && z.rect
		}
		found, err := sheet.Least(job)
		if err != nil || len(found) != 1 {
			continue
		}
		least.LeastSheets, least.LeastArea = max(least.LeastSheets, found[0].LeastSheets), max(least.LeastArea, found[0].LeastArea)
		if cost, ok := found[0].LeastCost.Get(); ok {
			least.LeastCost = maybe.Is(max(cost, least.LeastCost.Or(0)))
		}
	}
	return least
}

// leastOf is the least of stocks, whole sheets and then offcuts, that holds pieces by their areas, grown
// by half a spacing where they keep one, each measure for itself.
func leastOf(stocks []sheet.Stock, pieces []solid, spacing float64) sheet.Group {
	var least sheet.Group
	need, edge := 0.0, 0.0
	for _, p := range pieces {
		need, least.LeastArea = need+p.grown(spacing), least.LeastArea+p.area
	}
	sizeOf := func(s sheet.Stock) float64 {
		if spacing > 0 {
			edge = spacing - 2*s.Margin
		}
		return max(geom.Tol, max(0, s.Width+edge)*max(0, s.Height+edge)-s.Gone.X*s.Gone.Y)
	}
	largest := slices.Clone(stocks)
	slices.SortStableFunc(largest, func(a, b sheet.Stock) int { return cmp.Compare(sizeOf(b), sizeOf(a)) })
	rest, offcuts := need, 0.0 // rest is what these don't hold
	for _, s := range largest {
		n := min(s.Count.Or(math.MaxInt), int(math.Ceil(rest/sizeOf(s)-geom.Tol)))
		if n > 0 {
			least.LeastSheets, rest = least.LeastSheets+n, rest-float64(n)*sizeOf(s)
		}
		if s.Offcut {
			offcuts += sizeOf(s)
		}
	}
	least.LeastSheets = max(least.LeastSheets, 1)
	sheets := max(0, math.Ceil((need-offcuts)/sizeOf(stocks[0])-geom.Tol))
	least.LeastArea = max(least.LeastArea, sheets*stocks[0].Width*stocks[0].Height)
	if price, ok := stocks[0].Price.Get(); ok {
		least.LeastCost = maybe.Is(price * sheets)
	}
	return least
}
