package wire

import "math"

// A Form is the form of a hole.
type Form uint8

const (
	Rect  Form = iota
	Round      // Along is the diameter
	Slot       // with half circles at its ends
)

// A Hole is an opening, in mm.
type Hole struct {
	Form          Form
	Along, Across float64 // along the edge, and square to it
	Radius        float64 // of a rect hole's corners
}

// radius is the radius of the hole's corners: every hole is a rectangle with
// round corners.
func (h Hole) radius() float64 {
	least := min(h.Along, h.Across) / 2
	if h.Form == Rect {
		return min(h.Radius, least)
	}
	return least
}

// Where a size is just enough, rounding may cost a formula slack and a search
// searched, in mm.
const (
	slack    = 1e-9
	searched = 1e-4
)

// Passes reports whether the wire goes through the hole of the closed book's
// board, and so on its whole way round.
func (w Wire) Passes(h Hole, b Book) bool {
	along, across := w.Along(b), w.Across(b)
	if h.Form == Round {
		h.Across = h.Along
	}
	if h.Along < along-slack || h.Across < across-slack {
		return false
	}
	return w.simple(h) || play(h, w.shadow(b)) >= -searched
}

// simple reports whether along and across say all: the hole has square corners,
// or a single wire crosses it in the plane across the edge. Then the shadow that
// the wire throws through the hole is a union of discs no wider than the wire in
// one line across, and any hole of that length and width with round ends takes
// it, even a circle.
func (w Wire) simple(h Hole) bool {
	return h.Form == Rect && h.Radius == 0 || w.Pitch == 0 && w.Over <= w.Thick
}

// Least gives the least sizes of a hole of the given form: both of a rect, the
// diameter of a round one twice, and for a slot or a rect with round corners the
// least along, with the least across for h.Along (or the least along, if h has
// less).
func (w Wire) Least(h Hole, b Book) (along, across float64) {
	along, across = w.Along(b), w.Across(b)
	if math.IsInf(across, 1) || math.IsInf(along, 1) {
		return math.Inf(1), math.Inf(1)
	}
	if h.Form == Round {
		along = max(along, across)
		across = along
	}
	if w.simple(h) {
		return along, across
	}
	grow := func(by float64) Hole {
		g := h
		if g.Along = max(h.Along, along); h.Form == Round {
			g.Along = along + by
		}
		g.Across = across + by
		return g
	}
	discs := w.shadow(b)
	if play(grow(0), discs) >= -searched {
		return along, across
	}
	lo, hi := 0.0, max(w.Thick, 0.01)
	for play(grow(hi), discs) < -searched {
		if lo, hi = hi, hi*2; hi > 1e4 {
			return math.Inf(1), math.Inf(1)
		}
	}
	for range 24 {
		mid := (lo + hi) / 2
		if play(grow(mid), discs) >= -searched {
			hi = mid
		} else {
			lo = mid
		}
	}
	if across += hi; h.Form == Round {
		along = across
	}
	return along, across
}

// play is how far the wire stays from the hole's rim, with the board lying as
// well as it can (or well enough, where it passes); below 0 where it can't. The wire throws a shadow through
// the board: a union of discs, one for each point of its centre line, whose
// radius is that of the ball there cut by the board's nearer face. The hole is
// convex, so the play is concave in where the board lies, and two searches by
// golden section, one within the other, find the best place.
func play(h Hole, discs []disc) float64 {
	x0, x1, y0, y1 := extent(discs)
	at := func(x, y float64) float64 {
		least := math.Inf(1)
		for _, d := range discs {
			least = min(least, h.depth(d.x-x, d.y-y)-d.r)
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

// depth is how deep a point lies inside the hole, x across and y along from its
// middle: the distance to the rim, below 0 outside.
func (h Hole) depth(x, y float64) float64 {
	q := h.radius()
	u, v := math.Abs(x)-h.Across/2+q, math.Abs(y)-h.Along/2+q
	return q - math.Hypot(max(u, 0), max(v, 0)) - min(max(u, v), 0)
}

type disc struct{ x, y, r float64 }

// shadow is the wire as seen through the closed book's board, square to it, as
// discs close to one another.
func (w Wire) shadow(b Book) []disc {
	const steps = 96
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
