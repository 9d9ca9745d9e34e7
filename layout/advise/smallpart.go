package advise

import (
	"math"

	"foredge/layout/geom"
)

// The cylinder of the small parts test, in mm: 1.25 in across and, where its
// slanted bottom lies deepest, 2.25 in deep (16 CFR 1501.4; the dimensions in
// inches rule). The bottom is taken to be flat at its deepest, which warns of a
// little more than the test would.
const (
	testWide = 1.25 * 25.4
	testDeep = 2.25 * 25.4
)

// IsSmallPart reports whether a board of three sizes in mm goes wholly into the
// small parts cylinder, with any of its sizes held level across it and the other
// two turned in any way. (Tilted about two axes it might still just go in.)
func IsSmallPart(a, b, c float64) bool {
	for _, s := range [3][3]float64{{a, b, c}, {b, a, c}, {c, a, b}} {
		if level := s[0]; level < testWide && rectangleFits(s[1], s[2], testDeep, math.Sqrt(testWide*testWide-level*level)) {
			return true
		}
	}
	return false
}

// rectangleFits reports whether a rectangle p by q goes into one of a by b, turned
// in any way (Carver, "Fitting one rectangle within another", The American
// Mathematical Monthly 64, 1957; from memory, tested by turning).
func rectangleFits(p, q, a, b float64) bool {
	p, q, a, b = max(p, q), min(p, q), max(a, b), min(a, b)
	if p <= a {
		return q <= b
	}
	d := p*p + q*q
	return q <= b && b >= (2*p*q*a+(p*p-q*q)*math.Sqrt(max(0, d-a*a)))/d
}

// goesIn reports whether a board of these corners goes wholly into the small parts
// cylinder as a box about it does, turned by whole degrees, or lying flat in it.
func goesIn(corners []geom.Point, thick float64) bool {
	for degree := range 90 {
		sin, cos := math.Sincos(float64(degree) * math.Pi / 180)
		box := geom.EmptyBox()
		for _, c := range corners {
			turned := geom.Pt(c.X*cos-c.Y*sin, c.X*sin+c.Y*cos)
			box = box.Union(geom.Box{Min: turned, Max: turned})
		}
		switch {
		case box.Empty() || max(box.Width(), box.Height()) > math.Hypot(testWide, testDeep):
			return false // it is longer than the cylinder is from corner to corner
		case IsSmallPart(box.Width(), box.Height(), thick):
			return true
		case degree == 0 && thick <= testDeep && max(box.Width(), box.Height()) < testWide && 2*leastCircle(corners) < testWide:
			return true
		}
	}
	return false
}

// leastCircle is the radius of the least circle about some points (de Berg and others,
// "Computational Geometry", 2008, 4.7, without the shuffling, as they are few).
func leastCircle(points []geom.Point) float64 {
	var middle geom.Point
	radius := -1.0
	holds := func(p geom.Point) bool { return p.Distance(middle) <= radius+1e-9 }
	for i, a := range points {
		if holds(a) {
			continue
		}
		middle, radius = a, 0
		for j, b := range points[:i] {
			if holds(b) {
				continue
			}
			middle, radius = a.Lerp(b, 0.5), a.Distance(b)/2
			for _, c := range points[:j] {
				if holds(c) {
					continue
				}
				p, q := b.Sub(a), c.Sub(a)
				to := geom.Pt(q.Y*p.Dot(p)-p.Y*q.Dot(q), p.X*q.Dot(q)-q.X*p.Dot(p)).Mul(0.5 / p.Cross(q))
				middle, radius = a.Add(to), to.Norm()
			}
		}
	}
	return radius
}

// within is what of a polygon lies in a box (Sutherland and Hodgman, "Reentrant polygon
// clipping", 1974): of one that falls apart the pieces are joined along the box's sides.
func within(polygon []geom.Point, b geom.Box) []geom.Point {
	for _, side := range []func(geom.Point) float64{ // how far inside a point lies
		func(p geom.Point) float64 { return p.X - b.Min.X },
		func(p geom.Point) float64 { return b.Max.X - p.X },
		func(p geom.Point) float64 { return p.Y - b.Min.Y },
		func(p geom.Point) float64 { return b.Max.Y - p.Y },
	} {
		var kept []geom.Point
		for i, p := range polygon {
			before := polygon[(i+len(polygon)-1)%len(polygon)]
			if was, is := side(before), side(p); (was < 0) != (is < 0) {
				kept = append(kept, before.Lerp(p, was/(was-is)))
			}
			if side(p) >= 0 {
				kept = append(kept, p)
			}
		}
		polygon = kept
	}
	return polygon
}
