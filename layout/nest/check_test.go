package nest

import (
	"math"
	"math/big"
	"slices"
	"testing"

	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// The checker of the tests shares nothing with the program: it works with the polygons
// as they were given, in rational numbers.

type ratPoint struct{ x, y *big.Rat }

// exact is a number as the nearest decimal of ten places, which all coordinates of
// placements and of tested polygons are.
func exact(v float64) *big.Rat {
	return big.NewRat(int64(math.Round(v*1e10)), 1e10)
}

// placed is a polygon's corners at their place. Turns are whole quarters.
func placed(ring []geom.Point, p sheet.Placement) []ratPoint {
	atX, atY := exact(p.At.X), exact(p.At.Y)
	out := make([]ratPoint, len(ring))
	for k, q := range ring {
		x, y := exact(q.X), exact(q.Y)
		for range int(math.Round(p.Turn/90)) & 3 {
			x, y = new(big.Rat).Neg(y), x
		}
		out[k] = ratPoint{new(big.Rat).Add(x, atX), new(big.Rat).Add(y, atY)}
	}
	return out
}

func ratCross(a, b, c ratPoint) *big.Rat {
	sub := func(x, y *big.Rat) *big.Rat { return new(big.Rat).Sub(x, y) }
	mul := func(x, y *big.Rat) *big.Rat { return new(big.Rat).Mul(x, y) }
	return sub(mul(sub(b.x, a.x), sub(c.y, a.y)), mul(sub(b.y, a.y), sub(c.x, a.x)))
}

// position is 1 for a point strictly inside a polygon, 0 on its edge, -1 outside.
func position(ring []ratPoint, p ratPoint) int {
	odd := false
	for k, a := range ring {
		b := ring[(k+1)%len(ring)]
		side := ratCross(a, b, p).Sign()
		if side == 0 && between3(a.x, p.x, b.x) && between3(a.y, p.y, b.y) {
			return 0
		}
		if a.y.Cmp(p.y) <= 0 != (b.y.Cmp(p.y) <= 0) && (side > 0) == (b.y.Cmp(a.y) > 0) {
			odd = !odd
		}
	}
	if odd {
		return 1
	}
	return -1
}

func between3(a, p, b *big.Rat) bool {
	return (a.Cmp(p) <= 0) == (p.Cmp(b) <= 0) || a.Cmp(p) == 0 || p.Cmp(b) == 0
}

// reachesInto says whether some part of a's edge lies strictly inside b: every edge
// is cut where it meets one of b's, and the middle of each cut is asked.
func reachesInto(a, b []ratPoint) bool {
	one := big.NewRat(1, 1)
	for k, p := range a {
		q := a[(k+1)%len(a)]
		cuts := []*big.Rat{new(big.Rat), one}
		for j, c := range b {
			d := b[(j+1)%len(b)]
			u, v := ratCross(p, q, c), ratCross(p, q, d)
			if u.Sign() != 0 || v.Sign() != 0 {
				s, t := ratCross(c, d, p), ratCross(c, d, q)
				if w := new(big.Rat).Sub(s, t); w.Sign() != 0 {
					cuts = append(cuts, w.Quo(s, w))
				}
				continue
			}
			for _, e := range []ratPoint{c, d} {
				along, whole := new(big.Rat).Sub(e.x, p.x), new(big.Rat).Sub(q.x, p.x)
				if whole.Sign() == 0 {
					along, whole = new(big.Rat).Sub(e.y, p.y), new(big.Rat).Sub(q.y, p.y)
				}
				cuts = append(cuts, along.Quo(along, whole))
			}
		}
		cuts = slices.DeleteFunc(cuts, func(t *big.Rat) bool { return t.Sign() < 0 || t.Cmp(one) > 0 })
		slices.SortFunc(cuts, (*big.Rat).Cmp)
		for i := 0; i+1 < len(cuts); i++ {
			if cuts[i].Cmp(cuts[i+1]) == 0 {
				continue
			}
			t := new(big.Rat).Add(cuts[i], cuts[i+1])
			t.Quo(t, big.NewRat(2, 1))
			at := func(x, y *big.Rat) *big.Rat {
				d := new(big.Rat).Sub(y, x)
				return d.Add(x, d.Mul(d, t))
			}
			if position(b, ratPoint{at(p.x, q.x), at(p.y, q.y)}) > 0 {
				return true
			}
		}
	}
	return false
}

// insidePoint is a point strictly inside a polygon: between the first two edges that a
// level line meets that runs through no corner.
func insidePoint(ring []ratPoint) ratPoint {
	ys := make([]*big.Rat, len(ring))
	for k, p := range ring {
		ys[k] = p.y
	}
	slices.SortFunc(ys, (*big.Rat).Cmp)
	ys = slices.CompactFunc(ys, func(a, b *big.Rat) bool { return a.Cmp(b) == 0 })
	half := big.NewRat(1, 2)
	y := new(big.Rat).Add(ys[0], ys[1])
	y.Mul(y, half)
	var xs []*big.Rat
	for k, a := range ring {
		b := ring[(k+1)%len(ring)]
		if (a.y.Cmp(y) < 0) == (b.y.Cmp(y) < 0) {
			continue
		}
		t := new(big.Rat).Quo(new(big.Rat).Sub(y, a.y), new(big.Rat).Sub(b.y, a.y))
		d := new(big.Rat).Sub(b.x, a.x)
		xs = append(xs, d.Add(a.x, d.Mul(d, t)))
	}
	slices.SortFunc(xs, (*big.Rat).Cmp)
	x := new(big.Rat).Add(xs[0], xs[1])
	return ratPoint{x.Mul(x, half), y}
}

// overlapping says whether two polygons share more than their edges.
func overlapping(a, b []ratPoint) bool {
	return reachesInto(a, b) || reachesInto(b, a) || position(b, insidePoint(a)) > 0
}

// ratBox is the least and the largest coordinates of a polygon.
func ratBox(ring []ratPoint) (lo, hi ratPoint) {
	lo, hi = ring[0], ring[0]
	for _, p := range ring {
		if p.x.Cmp(lo.x) < 0 {
			lo.x = p.x
		}
		if p.y.Cmp(lo.y) < 0 {
			lo.y = p.y
		}
		if p.x.Cmp(hi.x) > 0 {
			hi.x = p.x
		}
		if p.y.Cmp(hi.y) > 0 {
			hi.y = p.y
		}
	}
	return lo, hi
}

// ring is the corners of a polygon without arcs.
func ring(f geom.Figure) []geom.Point {
	points := geom.Paths(f)[0].Flatten(1)
	return points[:len(points)-1]
}

// checkExactly holds placements of polygons without spacing against what was asked: each
// part as often as wanted, at a turn that it may have, nothing outside of the
// sheet, and nothing that overlaps, not by the smallest fraction.
func checkExactly(t testing.TB, parts []Part, placements []sheet.Placement, width, height float64) {
	t.Helper()
	counts := map[[2]int]int{}
	var rings [][]ratPoint
	for _, p := range placements {
		part := parts[p.Part]
		counts[[2]int{p.Part, p.Copy}]++
		if !slices.Contains(part.Turns, p.Turn) && !(len(part.Turns) == 0 && p.Turn == 0) {
			t.Errorf("part %d lies turned by %g", p.Part, p.Turn)
		}
		r := placed(ring(part.Outline), p)
		lo, hi := ratBox(r)
		if lo.x.Sign() < 0 || lo.y.Sign() < 0 || hi.x.Cmp(exact(width)) > 0 || hi.y.Cmp(exact(height)) > 0 {
			t.Errorf("part %d, copy %d, lies beyond the edge", p.Part, p.Copy)
		}
		rings = append(rings, r)
	}
	want := 0
	for k, p := range parts {
		want += p.Copies
		for c := range p.Copies {
			if n := counts[[2]int{k, c}]; n != 1 {
				t.Errorf("part %d, copy %d, lies %d times", k, c, n)
			}
		}
	}
	if want != len(placements) {
		t.Errorf("%d placements for %d parts", len(placements), want)
	}
	for i := range rings {
		li, hi := ratBox(rings[i])
		for j := range i {
			lj, hj := ratBox(rings[j])
			if li.x.Cmp(hj.x) >= 0 || lj.x.Cmp(hi.x) >= 0 || li.y.Cmp(hj.y) >= 0 || lj.y.Cmp(hi.y) >= 0 {
				continue
			}
			if overlapping(rings[i], rings[j]) {
				t.Errorf("part %d, copy %d, overlaps part %d, copy %d", placements[i].Part, placements[i].Copy, placements[j].Part, placements[j].Copy)
			}
		}
	}
}
