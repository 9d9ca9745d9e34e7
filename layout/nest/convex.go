package nest

import (
	"math"
	"slices"

	"foredge/layout/geom"
)

// A convex is a convex polygon in units, clockwise as seen: with Y down that is
// the sense in which its shoelace sum is positive.
type convex []geom.Point

// cross is (b-a) x (c-a). The conversions keep machines that can from fusing the
// products, so that all decide alike.
func cross(a, b, c geom.Point) float64 {
	return float64((b.X-a.X)*(c.Y-a.Y)) - float64((b.Y-a.Y)*(c.X-a.X))
}

// length is the length of a vector.
func length(x, y float64) float64 { return math.Sqrt(float64(x*x) + float64(y*y)) }

// area is half the shoelace sum, taken from the first corner.
func area(ring []geom.Point) float64 {
	sum := 0.0
	for k := 1; k+1 < len(ring); k++ {
		sum += cross(ring[0], ring[k], ring[k+1])
	}
	return sum / 2
}

// bounds is the box of some points.
func bounds(ring []geom.Point) geom.Box {
	b := geom.EmptyBox()
	for _, p := range ring {
		b.Min.X, b.Min.Y = min(b.Min.X, p.X), min(b.Min.Y, p.Y)
		b.Max.X, b.Max.Y = max(b.Max.X, p.X), max(b.Max.Y, p.Y)
	}
	return b
}

// split cuts a simple ring, clockwise as seen, into convex polygons on its own
// corners: ears are cut off, the fattest first, and triangles are joined again
// over every diagonal that isn't needed (S. Hertel, K. Mehlhorn, "Fast
// triangulation of simple polygons", 1983). It says whether the ring could be cut.
func split(ring []geom.Point) ([]convex, bool) {
	triangles, ok := ears(ring)
	if !ok {
		return nil, false
	}
	pieces := make([][]int, len(triangles))
	for k, t := range triangles {
		pieces[k] = t[:]
	}
	for joined := true; joined; {
		joined = false
		for a := 0; a < len(pieces); a++ {
			for b := a + 1; b < len(pieces); b++ {
				if m := joinOver(ring, pieces[a], pieces[b]); m != nil {
					pieces[a], joined = m, true
					pieces = slices.Delete(pieces, b, b+1)
					b = a
				}
			}
		}
	}
	out := make([]convex, len(pieces))
	for k, p := range pieces {
		for _, v := range p {
			out[k] = append(out[k], ring[v])
		}
	}
	return out, true
}

// joinOver joins two convex pieces, given by numbers of corners, over the side
// that they share, if what comes of it is convex.
func joinOver(ring []geom.Point, a, b []int) []int {
	for i := range a {
		for j := range b {
			if a[i] != b[(j+1)%len(b)] || a[(i+1)%len(a)] != b[j] {
				continue
			}
			m := make([]int, 0, len(a)+len(b)-2)
			for k := range a {
				m = append(m, a[(i+1+k)%len(a)])
			}
			for k := 2; k < len(b); k++ {
				m = append(m, b[(j+k)%len(b)])
			}
			for k := range m {
				if cross(ring[m[k]], ring[m[(k+1)%len(m)]], ring[m[(k+2)%len(m)]]) < 0 {
					return nil
				}
			}
			return m
		}
	}
	return nil
}

// ears cuts a ring into triangles.
func ears(ring []geom.Point) ([][3]int, bool) {
	left := make([]int, len(ring))
	for k := range left {
		left[k] = k
	}
	var out [][3]int
	for len(left) > 3 {
		best, bestFat := -1, 0.0
		for k := range left {
			if f := earFatness(ring, left, k); f > bestFat {
				best, bestFat = k, f
			}
		}
		if best < 0 {
			return nil, false
		}
		n := len(left)
		out = append(out, [3]int{left[(best+n-1)%n], left[best], left[(best+1)%n]})
		left = slices.Delete(left, best, best+1)
		left = dropStraight(ring, left)
	}
	if len(left) == 3 && cross(ring[left[0]], ring[left[1]], ring[left[2]]) > 0 {
		out = append(out, [3]int{left[0], left[1], left[2]})
	}
	return out, len(out) > 0
}

// dropStraight takes out corners at which what is left runs straight on.
func dropStraight(ring []geom.Point, left []int) []int {
	for k := 0; k < len(left) && len(left) > 3; {
		n := len(left)
		a, b, c := ring[left[(k+n-1)%n]], ring[left[k]], ring[left[(k+1)%n]]
		if cross(a, b, c) == 0 {
			left = slices.Delete(left, k, k+1)
			k = max(0, k-1)
			continue
		}
		k++
	}
	return left
}

// earFatness is twice the area of the ear at a corner by the square of its
// longest side; 0 if it is no ear.
func earFatness(ring []geom.Point, left []int, k int) float64 {
	n := len(left)
	ia, ib, ic := left[(k+n-1)%n], left[k], left[(k+1)%n]
	a, b, c := ring[ia], ring[ib], ring[ic]
	turn := cross(a, b, c)
	if turn <= 0 {
		return 0
	}
	for _, v := range left {
		p := ring[v]
		if v == ia || v == ib || v == ic || p == a || p == b || p == c {
			continue
		}
		if cross(a, b, p) >= 0 && cross(b, c, p) >= 0 && cross(c, a, p) >= 0 {
			return 0
		}
	}
	l := max(length(b.X-a.X, b.Y-a.Y), length(c.X-b.X, c.Y-b.Y), length(a.X-c.X, a.Y-c.Y))
	return turn / float64(l*l)
}

// difference is the convex polygon of all places p at which a, moved by p,
// overlaps b: the Minkowski sum of b and of a turned through itself. It is appended to out.
func difference(out, b, a convex) convex {
	ka, kb := extreme(a, -1), extreme(b, 1)
	at := geom.Point{X: b[kb].X - a[ka].X, Y: b[kb].Y - a[ka].Y}
	for i, j := 0, 0; i < len(a) || j < len(b); {
		out = append(out, at)
		a0, a1 := a[(ka+i)%len(a)], a[(ka+i+1)%len(a)]
		b0, b1 := b[(kb+j)%len(b)], b[(kb+j+1)%len(b)]
		ea := geom.Point{X: a0.X - a1.X, Y: a0.Y - a1.Y}
		eb := geom.Point{X: b1.X - b0.X, Y: b1.Y - b0.Y}
		turn := cross(geom.Point{}, ea, eb)
		ofA := j >= len(b) || i < len(a) && turn >= 0
		ofB := i >= len(a) || j < len(b) && turn <= 0
		if ofA {
			at, i = geom.Point{X: at.X + ea.X, Y: at.Y + ea.Y}, i+1
		}
		if ofB {
			at, j = geom.Point{X: at.X + eb.X, Y: at.Y + eb.Y}, j+1
		}
	}
	return out
}

// extreme is the corner with the least Y, of several the least X; with sign -1
// that of the polygon turned through itself.
func extreme(c convex, sign float64) int {
	best := 0
	for k, p := range c {
		y, x := sign*p.Y, sign*p.X
		by, bx := sign*c[best].Y, sign*c[best].X
		if y < by || y == by && x < bx {
			best = k
		}
	}
	return best
}
