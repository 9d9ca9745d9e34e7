package geom

import "math"

// A Similarity moves, turns, mirrors and scales alike in both directions, so
// circles stay circles and arcs arcs. Make one with [Shift], [MirrorX],
// [MirrorY], [Turn] or [Scale] and join several with Then.
type Similarity struct {
	// As complex numbers p' = (a + bi)·p + t, with p conjugated first if flip.
	a, b float64
	flip bool
	t    Point
}

// Shift moves by d.
func Shift(d Point) Similarity { return Similarity{a: 1, t: d} }

// MirrorX mirrors left and right about the vertical line at x.
func MirrorX(x float64) Similarity { return Similarity{a: -1, flip: true, t: Pt(2*x, 0)} }

// MirrorY mirrors up and down about the horizontal line at y.
func MirrorY(y float64) Similarity { return Similarity{a: 1, flip: true, t: Pt(0, 2*y)} }

// Turn turns about c by an angle in radians, positive clockwise as seen. Whole
// quarter turns are exact.
func Turn(c Point, angle float64) Similarity {
	sin, cos := math.Sincos(angle)
	if q := math.Round(angle / (math.Pi / 2)); math.Abs(angle-q*math.Pi/2) < 1e-14*max(1, math.Abs(angle)) {
		v := quarterVector(int(math.Mod(q, 4)))
		cos, sin = v.X, v.Y
	}
	s := Similarity{a: cos, b: sin}
	s.t = c.Sub(s.Point(c))
	return s
}

// Scale scales about the origin by k > 0.
func Scale(k float64) Similarity { return Similarity{a: k} }

// Then is s followed by u.
func (s Similarity) Then(u Similarity) Similarity {
	b := s.b
	if u.flip {
		b = -b
	}
	return Similarity{u.a*s.a - u.b*b, u.b*s.a + u.a*b, s.flip != u.flip, u.Point(s.t)}
}

// Point maps a point.
func (s Similarity) Point(p Point) Point {
	if s.flip {
		p.Y = -p.Y
	}
	return Point{s.a*p.X - s.b*p.Y + s.t.X, s.b*p.X + s.a*p.Y + s.t.Y}
}

// Factor is by how much lengths grow.
func (s Similarity) Factor() float64 { return math.Hypot(s.a, s.b) }

// Quarters is by how many quarter turns clockwise it turns, 0 to 3, if it does nothing else
// but move; ok is false where it turns by another angle or mirrors.
func (s Similarity) Quarters() (n int, ok bool) {
	for n = range 4 {
		if v := quarterVector(n); !s.flip && s.a == v.X && s.b == v.Y {
			return n, true
		}
	}
	return 0, false
}

// Apply maps a figure. A rectangle stays one under whole quarter turns.
func (s Similarity) Apply(f Figure) Figure {
	switch f := f.(type) {
	case Rect:
		if s.a != 0 && s.b != 0 {
			return s.Path(Paths(f)[0])
		}
		b := f.Bounds()
		min := Box{}
		min.Min, min.Max = s.Point(b.Min), s.Point(b.Min)
		min = min.with(s.Point(b.Max))
		w, h := f.W*s.Factor(), f.H*s.Factor()
		if s.a == 0 {
			w, h = h, w
		}
		return Rect{min.Min, w, h}
	case Circle:
		return Circle{s.Point(f.Center), f.R * s.Factor()}
	case Path:
		return s.Path(f)
	case Outline:
		return s.Outline(f)
	}
	return f
}

// Path maps a path.
func (s Similarity) Path(p Path) Path {
	out := Path{Start: s.Point(p.Start), Segments: make([]Segment, len(p.Segments)), Closed: p.Closed}
	for i, seg := range p.Segments {
		m := Segment{Kind: seg.Kind, End: s.Point(seg.End)}
		switch seg.Kind {
		case ArcTo:
			m.Center, m.Clockwise = s.Point(seg.Center), seg.Clockwise != s.flip
		case CubicTo:
			m.C1, m.C2 = s.Point(seg.C1), s.Point(seg.C2)
		}
		out.Segments[i] = m
	}
	return out
}

// Outline maps an outline.
func (s Similarity) Outline(o Outline) Outline {
	out := make(Outline, len(o))
	for i, p := range o {
		out[i] = s.Path(p)
	}
	return out
}
