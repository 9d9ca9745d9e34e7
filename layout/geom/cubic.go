package geom

import "math"

// A cubic is a Bézier curve by its four control points.
type cubic struct{ p0, p1, p2, p3 Point }

func (p Piece) cubic() cubic { return cubic{p.From, p.C1, p.C2, p.End} }

func (c cubic) at(t float64) Point {
	left, _ := c.split(t)
	return left.p3
}

// split cuts the curve at t (de Casteljau).
func (c cubic) split(t float64) (cubic, cubic) {
	a, m, b := c.p0.Lerp(c.p1, t), c.p1.Lerp(c.p2, t), c.p2.Lerp(c.p3, t)
	am, mb := a.Lerp(m, t), m.Lerp(b, t)
	mid := am.Lerp(mb, t)
	return cubic{c.p0, a, am, mid}, cubic{mid, mb, b, c.p3}
}

// derivative is dp/dt.
func (c cubic) derivative(t float64) Point {
	a, b, d := c.p1.Sub(c.p0), c.p2.Sub(c.p1), c.p3.Sub(c.p2)
	return a.Lerp(b, t).Lerp(b.Lerp(d, t), t).Mul(3)
}

// tangent is the unit direction at t; where control points coincide at an end
// it is the direction in which the curve leaves or arrives.
func (c cubic) tangent(t float64) Point {
	if d := c.derivative(t); d.Norm() > touch {
		return unit(d)
	}
	if t < 0.5 {
		for _, q := range []Point{c.p1, c.p2, c.p3} {
			if d := q.Sub(c.p0); d.Norm() > touch {
				return unit(d)
			}
		}
	}
	for _, q := range []Point{c.p2, c.p1, c.p0} {
		if d := c.p3.Sub(q); d.Norm() > touch {
			return unit(d)
		}
	}
	return Point{}
}

// extrema are the parameters strictly inside (0, 1) at which x or y turns.
func (c cubic) extrema() []float64 {
	var ts []float64
	a, b, d := c.p1.Sub(c.p0), c.p2.Sub(c.p1), c.p3.Sub(c.p2)
	ts = appendRoots(ts, a.X-2*b.X+d.X, 2*(b.X-a.X), a.X)
	return appendRoots(ts, a.Y-2*b.Y+d.Y, 2*(b.Y-a.Y), a.Y)
}

// appendRoots appends the roots of at² + bt + c inside (0, 1), found without
// cancellation.
func appendRoots(ts []float64, a, b, c float64) []float64 {
	disc := b*b - 4*a*c
	if disc < 0 {
		return ts
	}
	q := -(b + math.Copysign(math.Sqrt(disc), b)) / 2
	for _, t := range []float64{c / q, q / a} {
		if t > 0 && t < 1 {
			ts = append(ts, t)
		}
	}
	return ts
}

// area is half the integral of p × dp, exact: the Bernstein products integrated.
func (c cubic) area() float64 {
	return (6*c.p0.Cross(c.p1) + 3*c.p0.Cross(c.p2) + c.p0.Cross(c.p3) +
		3*c.p1.Cross(c.p2) + 3*c.p1.Cross(c.p3) + 6*c.p2.Cross(c.p3)) / 20
}

func (c cubic) length() float64 {
	return c.lengthBetween(0, 1, c.quadrature(0, 1), 0)
}

// quadrature is the length by Gauss–Legendre quadrature of order 5 (nodes and
// weights: Abramowitz and Stegun, table 25.4).
func (c cubic) quadrature(t0, t1 float64) float64 {
	sum := 0.0
	for _, g := range [5][2]float64{
		{0, 0.568888888888889},
		{-0.538469310105683, 0.478628670499366}, {0.538469310105683, 0.478628670499366},
		{-0.906179845938664, 0.236926885056189}, {0.906179845938664, 0.236926885056189},
	} {
		sum += g[1] * c.derivative((t0+t1)/2+g[0]*(t1-t0)/2).Norm()
	}
	return sum * (t1 - t0) / 2
}

func (c cubic) lengthBetween(t0, t1, whole float64, depth int) float64 {
	mid := (t0 + t1) / 2
	a, b := c.quadrature(t0, mid), c.quadrature(mid, t1)
	if depth > 20 || math.Abs(a+b-whole) <= 1e-11*(a+b) {
		return a + b
	}
	return c.lengthBetween(t0, mid, a, depth+1) + c.lengthBetween(mid, t1, b, depth+1)
}

// flattenSteps is the number of equal steps of t whose chords stay within tol of
// the curve (Wang, 1984: n² ≥ 6/8 · the largest second difference / tol).
func (c cubic) flattenSteps(tol float64) int {
	m := max(c.p0.Sub(c.p1.Mul(2)).Add(c.p2).Norm(), c.p1.Sub(c.p2.Mul(2)).Add(c.p3).Norm())
	return max(1, int(math.Ceil(math.Sqrt(0.75*m/tol))))
}
