package wire

import (
	"math"

	"foredge/eval/opening"
)

// Where a size is just enough, rounding may cost a formula slack and a search
// searched, in mm.
const (
	slack    = 1e-9
	searched = 1e-4
)

// Passes reports whether the wire goes through the hole of the closed book's
// board, and so on its whole way round.
func (w Wire) Passes(hole opening.Opening, b Book) bool {
	along, across := w.Along(b), w.Across(b)
	hole = hole.Regular()
	if hole.Along < along-slack || hole.Across < across-slack {
		return false
	}
	return w.sizesSuffice(hole) || play(hole, w.shadow(b)) >= -searched
}

// sizesSuffice reports whether along and across say all: the hole has square
// corners, or a single wire crosses it in the plane across the edge. Then the
// shadow that the wire throws through the hole is a union of discs no wider than
// the wire in one line across, and any hole of that length and width takes it,
// even a circle.
func (w Wire) sizesSuffice(hole opening.Opening) bool {
	return hole.Square() || w.Pitch == 0 && w.Over <= w.Thick
}

// Least gives the least sizes of a hole of the given form. Where one size follows
// from the other, it is the least hole of that form; of a plain rect it is both
// sizes; for a slot or a rect with round corners it is the least along, with the
// least across for hole.Along (or for the least along, if the hole has less).
func (w Wire) Least(hole opening.Opening, b Book) (along, across float64) {
	along, across = w.Along(b), w.Across(b)
	if math.IsInf(across, 1) || math.IsInf(along, 1) {
		return math.Inf(1), math.Inf(1)
	}
	least := hole.Spanning(along, across)
	if w.sizesSuffice(hole) {
		return least.Along, least.Across
	}
	by := w.leastGrowth(least.Lengthened(hole.Along), w.shadow(b))
	if math.IsInf(by, 1) {
		return by, by
	}
	least = least.Wider(by)
	return least.Along, least.Across
}

// leastGrowth is by how much a hole must become wider for the discs to lie in it;
// +Inf if that doesn't help.
func (w Wire) leastGrowth(hole opening.Opening, discs []disc) float64 {
	passes := func(by float64) bool { return play(hole.Wider(by), discs) >= -searched }
	if passes(0) {
		return 0
	}
	low, high := 0.0, max(w.Thick, 0.01)
	for !passes(high) {
		if low, high = high, high*2; high > 1e4 {
			return math.Inf(1)
		}
	}
	for range 24 {
		if mid := (low + high) / 2; passes(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	return high
}

// play is how far the wire stays from the hole's rim, with the board lying as
// well as it can (or well enough, where it passes); below 0 where the wire is in
// contact wherever the board lies. The wire throws a shadow through the board: a
// union of discs, one for each point of its centre line, whose radius is that of
// the ball there cut by the board's nearer face. The hole is convex, so the play
// is concave in where the board lies, and two searches by golden section, one
// within the other, find the best place.
func play(hole opening.Opening, discs []disc) float64 {
	x0, x1, y0, y1 := extent(discs)
	at := func(x, y float64) float64 {
		least := math.Inf(1)
		for _, d := range discs {
			least = min(least, hole.Depth(d.y-y, d.x-x)-d.r)
		}
		return least
	}
	// Most holes show their room where the shadow is in their middle along.
	mid := highest(x0, x1, func(x float64) float64 { return at(x, (y0+y1)/2) })
	if mid >= 0 {
		return mid
	}
	return highest(x0, x1, func(x float64) float64 {
		return highest(y0, y1, func(y float64) float64 { return at(x, y) })
	})
}

func extent(discs []disc) (x0, x1, y0, y1 float64) {
	x0, y0, x1, y1 = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, d := range discs {
		x0, x1 = min(x0, d.x-d.r), max(x1, d.x+d.r)
		y0, y1 = min(y0, d.y-d.r), max(y1, d.y+d.r)
	}
	return x0, x1, y0, y1
}

// highest is the largest value of a concave function, by golden section.
func highest(lo, hi float64, f func(float64) float64) float64 {
	const golden = 0.6180339887498949
	a, b := hi-golden*(hi-lo), lo+golden*(hi-lo)
	fa, fb := f(a), f(b)
	for range 26 {
		if fa < fb {
			lo, a, fa = a, b, fb
			b = lo + golden*(hi-lo)
			fb = f(b)
		} else {
			hi, b, fb = b, a, fa
			a = hi - golden*(hi-lo)
			fa = f(a)
		}
	}
	return max(fa, fb)
}

// A disc is part of a shadow: x lies across the edge, y along it.
type disc struct{ x, y, r float64 }

// shadow is the wire as seen through the closed book's board, square to it, as
// discs close to one another.
func (w Wire) shadow(b Book) []disc {
	const steps = 96
	// The centre line is at (m cos t, k t, m sin t); r is the radius of the wire.
	m, r, k := w.Mean()/2, w.Thick/2, w.Pitch/(2*math.Pi)
	low, high := b.Inner(), b.Stack()/2
	from, to := asin((low-r)/m), asin((high+r)/m)
	apart := max(0, w.Over-w.Thick) / 2
	out := make([]disc, 0, 2*steps+2)
	for i := 0; i <= steps; i++ {
		t := from + (to-from)*float64(i)/steps
		z := m * math.Sin(t)
		over := max(0, low-z, z-high)
		d := disc{m * math.Cos(t), k * t, math.Sqrt(max(0, r*r-over*over))}
		if apart == 0 {
			out = append(out, d)
			continue
		}
		out = append(out, disc{d.x, d.y - apart, d.r}, disc{d.x, d.y + apart, d.r})
	}
	return out
}
