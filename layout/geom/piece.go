package geom

import (
	"iter"
	"math"
)

// A Piece is one segment with the point that it starts from: a curve that can
// be measured by itself.
type Piece struct {
	From Point
	Segment
}

// Pieces yields the segments of a path with their starting points.
func (p Path) Pieces() iter.Seq[Piece] {
	return func(yield func(Piece) bool) {
		at := p.Start
		for _, s := range p.Segments {
			if !yield(Piece{at, s}) {
				return
			}
			at = s.End
		}
	}
}

// End is the point where the path ends.
func (p Path) End() Point {
	if n := len(p.Segments); n > 0 {
		return p.Segments[n-1].End
	}
	return p.Start
}

// Line is the straight piece between two points.
func Line(from, to Point) Piece { return Piece{from, Segment{Kind: LineTo, End: to}} }

// At is the point at parameter t from 0 to 1; 0 and 1 give the ends exactly.
func (p Piece) At(t float64) Point {
	switch {
	case t <= 0:
		return p.From
	case t >= 1:
		return p.End
	case p.Kind == ArcTo:
		return p.Arc().At(t)
	case p.Kind == CubicTo:
		return p.cubic().at(t)
	}
	return p.From.Lerp(p.End, t)
}

// Tangent is the unit vector in which the piece runs at t. It is zero only for
// a piece without length.
func (p Piece) Tangent(t float64) Point {
	switch p.Kind {
	case ArcTo:
		radius := p.At(t).Sub(p.Center)
		if p.Clockwise {
			return unit(Point{-radius.Y, radius.X})
		}
		return unit(Point{radius.Y, -radius.X})
	case CubicTo:
		return p.cubic().tangent(t)
	}
	return unit(p.End.Sub(p.From))
}

func unit(v Point) Point {
	if n := v.Norm(); n > 0 {
		return v.Mul(1 / n)
	}
	return Point{}
}

// Part is the piece between parameters t0 < t1.
func (p Piece) Part(t0, t1 float64) Piece {
	if t0 <= 0 && t1 >= 1 {
		return p
	}
	part := p
	part.From, part.End = p.At(t0), p.At(t1)
	if p.Kind == CubicTo {
		c := p.cubic()
		if t1 < 1 {
			c, _ = c.split(t1)
		}
		if t0 > 0 {
			_, c = c.split(t0 / t1)
		}
		part.C1, part.C2 = c.p1, c.p2
	}
	return part
}

// Reverse is the piece run the other way.
func (p Piece) Reverse() Piece {
	p.From, p.End = p.End, p.From
	p.C1, p.C2 = p.C2, p.C1
	p.Clockwise = p.Kind == ArcTo && !p.Clockwise
	return p
}

// Bounds is the least box that holds the piece.
func (p Piece) Bounds() Box {
	b := Box{p.From, p.From}.with(p.End)
	switch p.Kind {
	case ArcTo:
		r := p.radius()
		for quarter := range 4 {
			// Only extrema strictly between the ends: the ends are exact already.
			if v := quarterVector(quarter); p.reaches(v, -angleTol) {
				b = b.with(p.Center.Add(v.Mul(r)))
			}
		}
	case CubicTo:
		if b.Holds(Box{p.C1, p.C1}) && b.Holds(Box{p.C2, p.C2}) {
			return b // as the curve lies in the hull of its points
		}
		c := p.cubic()
		for _, t := range c.extrema() {
			b = b.with(c.at(t))
		}
	}
	return b
}

// Length is the length of the piece in mm: exact for lines and arcs, to about
// 1e-9 of itself for cubics.
func (p Piece) Length() float64 {
	switch p.Kind {
	case ArcTo:
		a := p.Arc()
		return a.R * math.Abs(a.Sweep)
	case CubicTo:
		return p.cubic().length()
	}
	return p.From.Distance(p.End)
}

// area is the signed area swept by the ray from o to a point that runs along
// the piece: half the integral of (p−o) × dp.
func (p Piece) area(o Point) float64 {
	a, b := p.From.Sub(o), p.End.Sub(o)
	switch p.Kind {
	case ArcTo:
		arc := p.Arc()
		return (a.Cross(b) + arc.R*arc.R*(arc.Sweep-math.Sin(arc.Sweep))) / 2
	case CubicTo:
		return cubic{a, p.C1.Sub(o), p.C2.Sub(o), b}.area()
	}
	return a.Cross(b) / 2
}

func (b Box) with(p Point) Box { return b.Union(Box{p, p}) }

// Grow widens the box by d on each side.
func (b Box) Grow(d float64) Box {
	return Box{Point{b.Min.X - d, b.Min.Y - d}, Point{b.Max.X + d, b.Max.Y + d}}
}

// Meets says whether two boxes share a point.
func (b Box) Meets(c Box) bool {
	return b.Min.X <= c.Max.X && c.Min.X <= b.Max.X && b.Min.Y <= c.Max.Y && c.Min.Y <= b.Max.Y
}

// Holds says whether c lies in b.
func (b Box) Holds(c Box) bool {
	return b.Min.X <= c.Min.X && c.Max.X <= b.Max.X && b.Min.Y <= c.Min.Y && c.Max.Y <= b.Max.Y
}

// Center is the middle of the box.
func (b Box) Center() Point { return b.Min.Lerp(b.Max, 0.5) }

// Distance is the distance between two boxes, 0 if they meet.
func (b Box) Distance(c Box) float64 {
	dx := max(0, b.Min.X-c.Max.X, c.Min.X-b.Max.X)
	dy := max(0, b.Min.Y-c.Max.Y, c.Min.Y-b.Max.Y)
	return math.Sqrt(dx*dx + dy*dy)
}
