package geom

import "math"

// A Point is a place in the plane, in millimetres: X to the right, Y down.
type Point struct{ X, Y float64 }

// Pt is short for Point{x, y}.
func Pt(x, y float64) Point { return Point{x, y} }

func (p Point) Add(q Point) Point             { return Point{p.X + q.X, p.Y + q.Y} }
func (p Point) Sub(q Point) Point             { return Point{p.X - q.X, p.Y - q.Y} }
func (p Point) Mul(k float64) Point           { return Point{p.X * k, p.Y * k} }
func (p Point) Dot(q Point) float64           { return p.X*q.X + p.Y*q.Y }
func (p Point) Cross(q Point) float64         { return p.X*q.Y - p.Y*q.X }
func (p Point) Norm() float64                 { return math.Sqrt(p.X*p.X + p.Y*p.Y) }
func (p Point) Distance(q Point) float64      { return p.Sub(q).Norm() }
func (p Point) Lerp(q Point, t float64) Point { return p.Add(q.Sub(p).Mul(t)) }

// A Box is an upright rectangle from Min (left, upper) to Max (right, lower).
type Box struct{ Min, Max Point }

// EmptyBox holds nothing; growing it by a point gives that point's box.
func EmptyBox() Box {
	inf := math.Inf(1)
	return Box{Point{inf, inf}, Point{-inf, -inf}}
}

func (b Box) Empty() bool     { return b.Min.X > b.Max.X || b.Min.Y > b.Max.Y }
func (b Box) Width() float64  { return b.Max.X - b.Min.X }
func (b Box) Height() float64 { return b.Max.Y - b.Min.Y }

// Union is the least box that holds both.
func (b Box) Union(c Box) Box {
	return Box{
		Point{min(b.Min.X, c.Min.X), min(b.Min.Y, c.Min.Y)},
		Point{max(b.Max.X, c.Max.X), max(b.Max.Y, c.Max.Y)},
	}
}

// A Figure is a shape to draw: [Rect], [Circle], [Path] or [Outline].
type Figure interface {
	// Bounds is the least box that holds the figure, exact to rounding.
	Bounds() Box
	// Move shifts the figure by d.
	Move(d Point) Figure
	figure()
}

// A Rect is an upright rectangle with sharp corners.
type Rect struct {
	Min  Point // left, upper corner
	W, H float64
}

// A Circle is a full circle.
type Circle struct {
	Center Point
	R      float64
}

// A SegmentKind is the form of a [Segment].
type SegmentKind uint8

const (
	LineTo  SegmentKind = iota
	ArcTo               // a circular arc
	CubicTo             // a cubic Bézier curve
)

// A Segment goes from the end of the one before it (or the path's Start) to End.
type Segment struct {
	Kind SegmentKind
	End  Point
	// For an arc: its centre, and whether it turns clockwise as seen on the
	// drawing (Y down). An arc covers more than 0 and less than 360 degrees.
	Center    Point
	Clockwise bool
	// For a cubic: its two control points.
	C1, C2 Point
}

// A Path is an open or closed run of segments. A closed path's last segment
// ends at Start.
type Path struct {
	Start    Point
	Segments []Segment
	Closed   bool
}

// An Outline is several closed paths filled together by the non-zero rule:
// the letters of a title with their counters.
type Outline []Path

func (Rect) figure()    {}
func (Circle) figure()  {}
func (Path) figure()    {}
func (Outline) figure() {}
