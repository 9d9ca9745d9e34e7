package geom

import "slices"

// touch is the distance in mm below which two points of a path are one: far
// below what any machine resolves, far above the rounding of coordinates of a
// few metres.
const touch = 1e-9

// A Builder makes a [Path] segment by segment. Segments with no length are
// left out, so that a corner radius of 0 leaves a plain corner.
type Builder struct {
	path Path
	at   Point
}

// NewPath starts a path at a point.
func NewPath(start Point) *Builder {
	return &Builder{path: Path{Start: start}, at: start}
}

// Room makes room for so many more segments.
func (b *Builder) Room(n int) *Builder {
	b.path.Segments = slices.Grow(b.path.Segments, n)
	return b
}

// Line goes straight to a point.
func (b *Builder) Line(to Point) *Builder {
	if b.at.Distance(to) > touch {
		b.add(Segment{Kind: LineTo, End: to})
	}
	return b
}

// Arc goes to a point along the circle about center, clockwise as seen on the
// drawing or not. The point must be as far from the centre as the point before.
func (b *Builder) Arc(to, center Point, clockwise bool) *Builder {
	if b.at.Distance(to) > touch {
		b.add(Segment{Kind: ArcTo, End: to, Center: center, Clockwise: clockwise})
	}
	return b
}

// Cubic goes to a point along a cubic Bézier curve.
func (b *Builder) Cubic(c1, c2, to Point) *Builder {
	if max(b.at.Distance(to), b.at.Distance(c1), b.at.Distance(c2)) > touch {
		b.add(Segment{Kind: CubicTo, End: to, C1: c1, C2: c2})
	}
	return b
}

// Add appends a segment as it is.
func (b *Builder) Add(s Segment) *Builder {
	switch s.Kind {
	case ArcTo:
		return b.Arc(s.End, s.Center, s.Clockwise)
	case CubicTo:
		return b.Cubic(s.C1, s.C2, s.End)
	}
	return b.Line(s.End)
}

func (b *Builder) add(s Segment) {
	b.path.Segments = append(b.path.Segments, s)
	b.at = s.End
}

// At is the point reached so far.
func (b *Builder) At() Point { return b.at }

// Open ends the path where it is.
func (b *Builder) Open() Path { return b.path }

// Close ends the path at its start, by a line if it isn't there yet.
func (b *Builder) Close() Path {
	b.Line(b.path.Start)
	b.path.Closed = true
	if n := len(b.path.Segments); n > 0 {
		b.path.Segments[n-1].End = b.path.Start
	}
	return b.path
}

// Polygon is the closed path through the points.
func Polygon(points ...Point) Path {
	if len(points) == 0 {
		return Path{Closed: true}
	}
	b := NewPath(points[0]).Room(len(points))
	for _, p := range points[1:] {
		b.Line(p)
	}
	return b.Close()
}
