package geom

import (
	"math"
	"slices"
)

// A curve is what arcs are fitted to: points and unit tangents by parameter.
type curve interface {
	at(t float64) Point
	tangent(t float64) Point
}

// fitArcs appends arcs that follow c from t0 to t1 within tol, tangent to it
// and to each other at every joint: pairs of arcs (biarcs) over halves of t.
func fitArcs(b *Builder, c curve, t0, t1, tol float64, depth int) {
	p, q := c.at(t0), c.at(t1)
	first, second, ok := biarc(p, c.tangent(t0), q, c.tangent(t1))
	ok = ok && follows(c, first, second, t0, t1, tol)
	if ok || depth >= 24 {
		b.Add(first.Segment)
		b.Add(second.Segment)
		return
	}
	mid := (t0 + t1) / 2
	fitArcs(b, c, t0, mid, tol, depth+1)
	fitArcs(b, c, mid, t1, tol, depth+1)
}

// follows says whether c from t0 to t1 stays within tol of two arcs that are
// tangent to each other. Places on the curve are held against the arc on whose
// side of the joint they lie; the middle first, which tells soonest.
func follows(c curve, first, second Piece, t0, t1, tol float64) bool {
	joint, ahead := first.End, first.Tangent(1)
	if chord := second.End.Sub(first.From); ahead.Dot(chord) <= 0 {
		return false // a turn so sharp that sides of the joint mean nothing
	}
	a, b := measureFrom(first), measureFrom(second)
	const samples = 12
	for _, k := range [samples - 1]float64{6, 3, 9, 5, 7, 2, 10, 4, 8, 1, 11} {
		p := c.at(t0 + (t1-t0)*k/samples)
		m := a
		if p.Sub(joint).Dot(ahead) > 0 {
			m = b
		}
		if m.off(p) > tol {
			return false
		}
	}
	return true
}

// A measure tells how far points lie from the line or circle of a piece, or from the
// place of one without a length.
type measure struct {
	at   Point   // a point of the line, or the centre
	unit Point   // across the line, 0 where there is none
	r    float64 // 0 for a line
}

func measureFrom(p Piece) measure {
	if p.Kind == ArcTo {
		return measure{at: p.Center, r: p.From.Distance(p.Center)}
	}
	u := unit(p.End.Sub(p.From))
	return measure{at: p.From, unit: Point{-u.Y, u.X}}
}

func (m measure) off(p Point) float64 {
	d := p.Sub(m.at)
	if m.r == 0 && m.unit != (Point{}) {
		return math.Abs(d.Dot(m.unit))
	}
	return math.Abs(math.Sqrt(d.Dot(d)) - m.r)
}

// biarc joins p (leaving along the unit vector u) with q (arriving along v) by
// two arcs of equal tangent length that are tangent to each other.
func biarc(p, u, q, v Point) (first, second Piece, ok bool) {
	chord := q.Sub(p)
	// With joint controls p + du and q − dv, both d from their ends, the two
	// inner controls must be 2d apart: |chord − d(u+v)| = 2d.
	// The positive root is written so that it also serves u = v.
	w := u.Add(v)
	h, k := chord.Dot(w), chord.Dot(chord)
	d := k / (h + math.Sqrt(h*h+k*(4-w.Dot(w))))
	if !(d > 0) || math.IsInf(d, 0) {
		return Line(p, q), Line(q, q), false
	}
	joint := p.Add(u.Mul(d)).Lerp(q.Sub(v.Mul(d)), 0.5)
	first = arcAlong(p, u, joint)
	second = arcAlong(q, v.Mul(-1), joint).Reverse()
	return first, second, true
}

// arcAlong is the arc that leaves p along the unit vector u and ends at q, a
// line if that is straight ahead to within rounding.
func arcAlong(p, u, q Point) Piece {
	c := q.Sub(p)
	side := u.Cross(c)
	if math.Abs(side) <= 1e-11*max(1, c.Dot(c)) {
		return Line(p, q)
	}
	// The centre lies on the normal at p, as far from q as from p.
	r := c.Dot(c) / (2 * side)
	return Piece{p, Segment{Kind: ArcTo, End: q, Center: p.Add(Point{-u.Y, u.X}.Mul(r)), Clockwise: side > 0}}
}

// Arcs is the path with every cubic replaced by arcs within tol mm of it,
// tangent where the curve is smooth. Lines and arcs stay as they are.
func (p Path) Arcs(tol float64) Path {
	b := NewPath(p.Start).Room(4 * len(p.Segments))
	for piece := range p.Pieces() {
		if piece.Kind == CubicTo {
			c := piece.cubic()
			// Between the turning points the curve bends moderately.
			last := 0.0
			for _, t := range append(c.inflections(), 1) {
				if t-last > 1e-6 {
					fitArcs(b, c, last, t, tol*0.9, 0)
					last = t
				}
			}
			continue
		}
		b.Add(piece.Segment)
	}
	if p.Closed {
		return b.Close()
	}
	return b.Open()
}

// inflections are the parameters strictly inside (0, 1) at which the curve
// changes the side to which it bends: roots of p′ × p″.
func (c cubic) inflections() []float64 {
	a := c.p1.Sub(c.p0)
	b := c.p2.Sub(c.p1).Sub(a)
	d := c.p3.Sub(c.p2.Mul(3)).Add(c.p1.Mul(3)).Sub(c.p0)
	ts := appendRoots(nil, b.Cross(d), a.Cross(d), a.Cross(b))
	slices.Sort(ts)
	return ts
}

// An ellipse has its axes along X and Y; t is the eccentric angle.
type ellipse struct {
	center Point
	a, b   float64
}

func (e ellipse) at(t float64) Point {
	sin, cos := math.Sincos(t)
	return Point{e.center.X + e.a*cos, e.center.Y + e.b*sin}
}

func (e ellipse) tangent(t float64) Point {
	sin, cos := math.Sincos(t)
	return unit(Point{-e.a * sin, e.b * cos})
}

// axisTol is how far in mm arcs may lie from an ellipse that they stand for.
const axisTol = 1e-4

// ScaleXY scales X by kx and Y by ky, both > 0, about the origin. Rectangles
// stay rectangles, lines and cubics are mapped exactly; with kx ≠ ky circles
// and arcs become runs of circular arcs within 0.1 µm of the ellipse.
func ScaleXY(f Figure, kx, ky float64) Figure {
	if kx == ky {
		return Scale(kx).Apply(f)
	}
	at := func(p Point) Point { return Point{p.X * kx, p.Y * ky} }
	switch f := f.(type) {
	case Rect:
		return Rect{at(f.Min), f.W * kx, f.H * ky}
	case Circle:
		return scalePath(Paths(f)[0], at, kx, ky)
	case Path:
		return scalePath(f, at, kx, ky)
	case Outline:
		out := make(Outline, len(f))
		for i, p := range f {
			out[i] = scalePath(p, at, kx, ky)
		}
		return out
	}
	return f
}

func scalePath(p Path, at func(Point) Point, kx, ky float64) Path {
	b := NewPath(at(p.Start))
	for piece := range p.Pieces() {
		switch piece.Kind {
		case LineTo:
			b.Line(at(piece.End))
		case CubicTo:
			b.Cubic(at(piece.C1), at(piece.C2), at(piece.End))
		case ArcTo:
			a := piece.Arc()
			e := ellipse{at(a.Center), a.R * kx, a.R * ky}
			if a.Sweep > 0 {
				fitEllipse(b, e, a.Start, a.Start+a.Sweep)
			} else {
				// The same arcs for both senses: fit clockwise, then run back.
				back := NewPath(at(piece.End))
				fitEllipse(back, e, a.Start+a.Sweep, a.Start)
				for _, s := range back.Open().Reverse().Segments {
					b.Add(s)
				}
			}
			b.end(at(piece.End))
		}
	}
	if p.Closed {
		return b.Close()
	}
	return b.Open()
}

// fitEllipse fits quarter by quarter, so that the extrema are exact and the
// curvature changes one way only between cuts.
func fitEllipse(b *Builder, e ellipse, from, to float64) {
	quarter := math.Pi / 2
	for from < to-angleTol {
		next := math.Min(to, quarter*(math.Floor(from/quarter+1e-9)+1))
		fitArcs(b, e, from, next, axisTol*0.9, 0)
		from = next
	}
}

// end puts the last point, reached but for rounding, exactly at p.
func (b *Builder) end(p Point) {
	if n := len(b.path.Segments); n > 0 {
		b.path.Segments[n-1].End, b.at = p, p
	}
}
