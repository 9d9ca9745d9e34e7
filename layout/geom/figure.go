package geom

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// Bounds is the rectangle itself.
func (r Rect) Bounds() Box { return Box{r.Min, Point{r.Min.X + r.W, r.Min.Y + r.H}} }

// Bounds is the box of the circle.
func (c Circle) Bounds() Box { return Box{c.Center, c.Center}.Grow(c.R) }

// Bounds takes in the extrema of arcs and cubics.
func (p Path) Bounds() Box {
	b := Box{p.Start, p.Start}
	for piece := range p.Pieces() {
		b = b.Union(piece.Bounds())
	}
	return b
}

// Bounds is the box of all paths; empty for no paths.
func (o Outline) Bounds() Box {
	b := EmptyBox()
	for _, p := range o {
		b = b.Union(p.Bounds())
	}
	return b
}

func (r Rect) Move(d Point) Figure    { return Rect{r.Min.Add(d), r.W, r.H} }
func (c Circle) Move(d Point) Figure  { return Circle{c.Center.Add(d), c.R} }
func (p Path) Move(d Point) Figure    { return Shift(d).Path(p) }
func (o Outline) Move(d Point) Figure { return Shift(d).Outline(o) }

// Paths is the figure as paths. Rectangles and circles run clockwise as seen, a
// rectangle from its left upper corner, a circle as two half circles from its
// rightmost point.
func Paths(f Figure) []Path {
	switch f := f.(type) {
	case Rect:
		b := f.Bounds()
		return []Path{Polygon(f.Start(), Pt(b.Max.X, b.Min.Y), b.Max, Pt(b.Min.X, b.Max.Y))}
	case Circle:
		right, left := f.Start(), f.Center.Sub(Pt(f.R, 0))
		return []Path{NewPath(right).Arc(left, f.Center, true).Arc(right, f.Center, true).Close()}
	case Path:
		return []Path{f}
	case Outline:
		return f
	}
	return nil
}

// Start is where the path of a rectangle begins: its left upper corner.
func (r Rect) Start() Point { return r.Bounds().Min }

// Start is where the path of a circle begins: its rightmost point.
func (c Circle) Start() Point { return c.Center.Add(Pt(c.R, 0)) }

// Same says whether two figures are one and the same, to the last bit of their numbers and
// in the form that they have. It isn't for figures that one may take for equal.
func Same(f, g Figure) bool {
	switch f := f.(type) {
	case Path:
		g, ok := g.(Path)
		return ok && f.same(g)
	case Outline:
		g, ok := g.(Outline)
		return ok && slices.EqualFunc(f, g, Path.same)
	}
	switch g.(type) {
	case Path, Outline:
		return false
	}
	return f == g
}

func (p Path) same(q Path) bool {
	return p.Start == q.Start && p.Closed == q.Closed && slices.Equal(p.Segments, q.Segments)
}

// Area is the area of a figure in mm². For paths it is signed, positive where
// the path runs clockwise as seen on the drawing, so an outline whose counters
// run the other way gives the area of its material. It is exact to rounding for
// lines, arcs and cubics. Open paths count as if closed by a line.
func Area(f Figure) float64 {
	switch f := f.(type) {
	case Rect:
		return f.W * f.H
	case Circle:
		return math.Pi * f.R * f.R
	}
	sum := 0.0
	for _, p := range Paths(f) {
		sum += p.Area()
	}
	return sum
}

// Area is the signed area of the path; see [Area].
func (p Path) Area() float64 {
	sum := 0.0
	for piece := range p.Pieces() {
		sum += piece.area(p.Start)
	}
	return sum
}

// Length is the length of the figure's boundary in mm.
func Length(f Figure) float64 {
	switch f := f.(type) {
	case Rect:
		return 2 * (f.W + f.H)
	case Circle:
		return 2 * math.Pi * f.R
	}
	sum := 0.0
	for _, p := range Paths(f) {
		for piece := range p.Pieces() {
			sum += piece.Length()
		}
	}
	return sum
}

// Clockwise says whether a closed path runs clockwise as seen on the drawing.
func (p Path) Clockwise() bool { return p.Area() > 0 }

// Oriented is the path run in the asked sense.
func (p Path) Oriented(clockwise bool) Path {
	if p.Clockwise() == clockwise {
		return p
	}
	return p.Reverse()
}

// Reverse is the path run the other way.
func (p Path) Reverse() Path {
	out := Path{Start: p.End(), Segments: make([]Segment, len(p.Segments)), Closed: p.Closed}
	i := len(p.Segments)
	for piece := range p.Pieces() {
		i--
		out.Segments[i] = piece.Reverse().Segment
	}
	return out
}

// Flatten is the path as a polyline whose chords stay within tol mm of it. A
// closed path's last point is its first.
func (p Path) Flatten(tol float64) []Point {
	points := []Point{p.Start}
	for piece := range p.Pieces() {
		points = piece.flatten(points, tol)
	}
	return points
}

// flatten appends the points after From.
func (p Piece) flatten(points []Point, tol float64) []Point {
	n := 1
	switch p.Kind {
	case ArcTo:
		a := p.Arc()
		// A chord over the angle 2h is r(1 − cos h) = 2r sin²(h/2) from its arc.
		if x := math.Sqrt(tol / (2 * a.R)); x < 1 {
			n = max(1, int(math.Ceil(math.Abs(a.Sweep)/(4*math.Asin(x)))))
		}
		if math.Abs(a.Sweep) > math.Pi {
			n = max(n, 2)
		}
	case CubicTo:
		n = p.cubic().flattenSteps(tol)
	}
	for k := 1; k <= n; k++ {
		points = append(points, p.At(float64(k)/float64(n)))
	}
	return points
}

// String is the path in the manner of SVG path data, at 0.1 µm: for tests and
// for looking at.
func (p Path) String() string {
	var b strings.Builder
	point := func(letter string, p Point) {
		b.WriteString(letter + short(p.X) + " " + short(p.Y))
	}
	point("M", p.Start)
	last := len(p.Segments) - 1
	i := 0
	for piece := range p.Pieces() {
		switch {
		case piece.Kind == ArcTo:
			a := piece.Arc()
			b.WriteString("A" + short(a.R) + " " + short(a.R) + " 0 " + flag(math.Abs(a.Sweep) > math.Pi) + " " + flag(a.Sweep > 0))
			point(" ", piece.End)
		case piece.Kind == CubicTo:
			point("C", piece.C1)
			point(" ", piece.C2)
			point(" ", piece.End)
		case i < last || !p.Closed:
			point("L", piece.End)
		}
		i++
	}
	if p.Closed {
		b.WriteString("Z")
	}
	return b.String()
}

func short(x float64) string {
	x = math.Round(x*1e4) / 1e4
	return strconv.FormatFloat(x+0, 'f', -1, 64) // +0 turns -0 into 0
}

func flag(b bool) string {
	if b {
		return "1"
	}
	return "0"
}
