package art

import (
	"math"

	"foredge/layout/geom"
)

// A trace is one subpath in the element's own coordinates.
type trace struct {
	start  geom.Point
	steps  []step
	closed bool
}

type stepKind uint8

const (
	lineStep stepKind = iota
	cubicStep
	arcStep
)

// A step goes on to end. An arc is part of an ellipse about center with the
// conjugate radii u and v: center + u cos t + v sin t, t from t0 by sweep.
type step struct {
	kind         stepKind
	end          geom.Point
	c1, c2       geom.Point
	center, u, v geom.Point
	t0, sweep    float64
}

func (t *trace) at() geom.Point {
	if n := len(t.steps); n > 0 {
		return t.steps[n-1].end
	}
	return t.start
}

// lines is how many lines and curves it has, with the one that closes it.
func (t *trace) lines() int {
	n := len(t.steps)
	if t.closed && n > 0 && t.steps[n-1].end != t.start {
		n++
	}
	return n
}

func (t *trace) line(to geom.Point) { t.steps = append(t.steps, step{kind: lineStep, end: to}) }

func (t *trace) cubic(c1, c2, to geom.Point) {
	t.steps = append(t.steps, step{kind: cubicStep, c1: c1, c2: c2, end: to})
}

// quadratic is written as a cubic, which it is exactly.
func (t *trace) quadratic(c, to geom.Point) {
	t.cubic(t.at().Lerp(c, 2.0/3), to.Lerp(c, 2.0/3), to)
}

// arc is the arc of an ellipse by its ends (SVG 1.1, F.6).
func (t *trace) arc(rx, ry, deg float64, large, sweep bool, to geom.Point) {
	from := t.at()
	if from == to {
		return
	}
	rx, ry = math.Abs(rx), math.Abs(ry)
	if rx == 0 || ry == 0 {
		t.line(to)
		return
	}
	turn := rotation(deg)
	back := rotation(-deg)
	half := back.vector(from.Sub(to).Mul(0.5))
	x, y := half.X/rx, half.Y/ry
	if l := x*x + y*y; l > 1 {
		k := math.Sqrt(l)
		rx, ry, x, y = rx*k, ry*k, x/k, y/k
	}
	// On the unit circle the ends are (x, y) and (−x, −y); the centre lies on the
	// perpendicular of the chord.
	n := x*x + y*y
	k := math.Sqrt(max(0, 1/n-1))
	if large == sweep {
		k = -k
	}
	cx, cy := k*y, -k*x
	t0 := math.Atan2(y-cy, x-cx)
	d := math.Atan2(-y-cy, -x-cx) - t0
	if sweep && d < 0 {
		d += 2 * math.Pi
	} else if !sweep && d > 0 {
		d -= 2 * math.Pi
	}
	mid := from.Lerp(to, 0.5)
	t.steps = append(t.steps, step{kind: arcStep, end: to, t0: t0, sweep: d,
		center: mid.Add(turn.vector(geom.Pt(rx*cx, ry*cy))),
		u:      turn.vector(geom.Pt(rx, 0)), v: turn.vector(geom.Pt(0, ry))})
}

// quarter appends a quarter of an ellipse with upright axes.
func (t *trace) quarter(center geom.Point, rx, ry, t0 float64) {
	sin, cos := math.Sincos(t0 + math.Pi/2)
	t.steps = append(t.steps, step{kind: arcStep, center: center, u: geom.Pt(rx, 0), v: geom.Pt(0, ry), t0: t0, sweep: math.Pi / 2,
		end: center.Add(geom.Pt(rx*round9(cos), ry*round9(sin)))})
}

// round9 makes the sine and cosine of quarter turns exact.
func round9(x float64) float64 {
	if r := math.Round(x); math.Abs(x-r) < 1e-9 {
		return r
	}
	return x
}

// path is the subpath as m shows it. Circles and their arcs stay arcs where m
// leaves them round; other arcs of ellipses become cubics within 1e-6 of their
// size.
func (t *trace) path(m affine) geom.Path {
	b := geom.NewPath(m.at(t.start))
	for _, s := range t.steps {
		end := m.at(s.end)
		switch s.kind {
		case lineStep:
			b.Line(end)
		case cubicStep:
			b.Cubic(m.at(s.c1), m.at(s.c2), end)
		case arcStep:
			s.arc(b, m)
		}
	}
	if t.closed {
		return b.Close()
	}
	return b.Open()
}

func (s step) arc(b *geom.Builder, m affine) {
	c, u, v, end := m.at(s.center), m.vector(s.u), m.vector(s.v), m.at(s.end)
	at := func(t float64) geom.Point {
		sin, cos := math.Sincos(t)
		return c.Add(u.Mul(cos)).Add(v.Mul(sin))
	}
	if r := u.Norm(); math.Abs(u.Dot(v)) <= 1e-9*r*r && math.Abs(v.Norm()-r) <= 1e-9*r {
		// As arcs of at most half a turn, so that rounding can't turn one inside out.
		clockwise := u.Cross(v)*s.sweep > 0
		if math.Abs(s.sweep) > math.Pi*0.999 {
			b.Arc(at(s.t0+s.sweep/2), c, clockwise)
		}
		b.Arc(end, c, clockwise)
		return
	}
	n := math.Ceil(math.Abs(s.sweep) / (math.Pi / 6))
	h := s.sweep / n
	k := 4.0 / 3 * math.Tan(h/4)
	slope := func(t float64) geom.Point {
		sin, cos := math.Sincos(t)
		return v.Mul(cos).Sub(u.Mul(sin))
	}
	for i := 1.0; i <= n; i++ {
		t0, t1 := s.t0+h*(i-1), s.t0+h*i
		to := at(t1)
		if i == n {
			to = end
		}
		b.Cubic(at(t0).Add(slope(t0).Mul(k)), at(t1).Sub(slope(t1).Mul(k)), to)
	}
}
