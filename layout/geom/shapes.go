package geom

import (
	"fmt"
	"math"
	"slices"
)

// A CornerKind is how a corner of a board is made.
type CornerKind uint8

const (
	Square CornerKind = iota
	Round
	Chamfer // cut off at 45 degrees
	Scoop   // hollowed out by a circle about it
)

// A Corner of a board: its radius, or what a chamfer or a scoop takes off each edge, in mm.
type Corner struct {
	Kind CornerKind
	Size float64
}

// The corners of a [Board], in the order in which its outline runs.
const (
	UpperLeft = iota
	UpperRight
	LowerRight
	LowerLeft
)

// A CornerError says that the two corners at one side of a board need more than
// the side's length.
type CornerError struct {
	First, Second int     // UpperLeft to LowerLeft
	Need, Have    float64 // mm
}

func (e CornerError) Error() string {
	return fmt.Sprintf("two corners take %.4g mm of a side of %.4g mm", e.Need, e.Have)
}

// Board is a board from (0, 0) to (w, h) with its corners in the order of
// UpperLeft to LowerLeft. It is a [Rect] if all corners are square, otherwise a
// closed path that runs clockwise from the upper edge. The error is a
// [CornerError].
func Board(w, h float64, corners [4]Corner) (Figure, error) {
	plain := true
	for _, c := range corners {
		plain = plain && (c.Kind == Square || c.Size <= touch)
	}
	if plain {
		return Rect{W: w, H: h}, nil
	}
	return Cornered([]Point{{0, 0}, {w, 0}, {w, h}, {0, h}}, corners[:])
}

// Cornered is the closed path that runs clockwise through some points, each side
// level or upright, with a form for the corner at each. The error is a
// [CornerError], whose numbers are those of the points.
func Cornered(points []Point, corners []Corner) (Path, error) {
	n := len(points)
	size := make([]float64, n)
	for i, c := range corners {
		if c.Kind != Square && c.Size > touch {
			size[i] = c.Size
		}
	}
	along := make([]Point, n) // of the side that leaves each point
	for i := range points {
		j := (i + 1) % n
		side := points[j].Sub(points[i])
		have := side.Norm()
		if need := size[i] + size[j]; need > have+touch {
			return Path{}, CornerError{i, j, need, have}
		}
		along[i] = Pt(sign(side.X), sign(side.Y)) // exactly, as the sides are level or upright
	}
	b := NewPath(points[0].Add(along[0].Mul(size[0])))
	for k := 1; k <= n; k++ {
		i := k % n
		in, out := along[(i+n-1)%n], along[i]
		arrive, leave := points[i].Sub(in.Mul(size[i])), points[i].Add(out.Mul(size[i]))
		right := in.Cross(out) > 0
		b.Line(arrive)
		switch {
		case size[i] > 0 && corners[i].Kind == Round:
			b.Arc(leave, arrive.Add(out.Mul(size[i])), right)
		case size[i] > 0 && corners[i].Kind == Scoop:
			b.Arc(leave, points[i], !right)
		default:
			b.Line(leave)
		}
	}
	return b.Close(), nil
}

func sign(v float64) float64 {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

// Arched is a [Board] whose upper edge is an arc of a circle that rises to its
// middle, at most half a circle. Its upper corners are square or round.
func Arched(w, h, rise float64, corners [4]Corner) (Figure, error) {
	var size [4]float64
	for i, c := range corners {
		if c.Kind != Square {
			size[i] = c.Size
		}
	}
	r := ArchRadius(w, rise)
	middle := Pt(w/2, r)
	// A round corner touches the side at start, which lies lower than its centre
	// would beside a straight edge.
	foot := func(size float64) float64 {
		return r - math.Sqrt(max(0, (r-size)*(r-size)-(w/2-size)*(w/2-size)))
	}
	// It keeps to its half of the arch.
	for i, other := range [2]int{UpperRight, UpperLeft} {
		if size[i] > w/2+touch {
			return nil, CornerError{i, other, 2 * size[i], w}
		}
	}
	left, right := foot(min(size[UpperLeft], w/2)), foot(min(size[UpperRight], w/2))
	if need := left + size[LowerLeft]; need > h+touch {
		return nil, CornerError{LowerLeft, UpperLeft, need, h}
	}
	if need := right + size[LowerRight]; need > h+touch {
		return nil, CornerError{UpperRight, LowerRight, need, h}
	}
	if need := size[LowerLeft] + size[LowerRight]; need > w+touch {
		return nil, CornerError{LowerRight, LowerLeft, need, w}
	}
	// meet is where the arc of a corner goes over into the arch.
	meet := func(c Point) Point {
		d := c.Sub(middle)
		return middle.Add(d.Mul(r / d.Norm()))
	}
	b := NewPath(Pt(0, left))
	if s := size[UpperLeft]; s > touch {
		b.Arc(meet(Pt(s, left)), Pt(s, left), true)
	}
	end := Pt(w, right)
	if s := size[UpperRight]; s > touch {
		end = meet(Pt(w-s, right))
	}
	b.Arc(end, middle, true)
	if s := size[UpperRight]; s > touch {
		b.Arc(Pt(w, right), Pt(w-s, right), true)
	}
	lower, err := Cornered([]Point{{0, 0}, {w, 0}, {w, h}, {0, h}}, []Corner{{}, {}, corners[LowerRight], corners[LowerLeft]})
	if err != nil {
		return nil, err
	}
	for _, s := range lower.Segments[1 : len(lower.Segments)-1] {
		b.Add(s)
	}
	return b.Close(), nil
}

// ArchRadius is the radius of an arch of that width and rise: the sagitta's
// rule, r = (w²/4 + rise²) / 2 rise.
func ArchRadius(w, rise float64) float64 { return (w*w/4 + rise*rise) / (2 * rise) }

// Plain is a figure in its simplest form: one closed line of straight pieces that runs round its box is
// that [Rect].
func Plain(f Figure) Figure {
	paths := Paths(f)
	if len(paths) != 1 || !paths[0].Closed || slices.ContainsFunc(paths[0].Segments, func(s Segment) bool { return s.Kind != LineTo }) {
		return f
	}
	box := f.Bounds()
	round := 2 * (box.Width() + box.Height())
	if math.Abs(Length(paths[0])-round) > Tol || math.Abs(math.Abs(paths[0].Area())-box.Width()*box.Height()) > Tol*round {
		return f
	}
	return Rect{box.Min, box.Width(), box.Height()}
}

// CenterRect is a rectangle about a centre.
func CenterRect(c Point, w, h float64) Rect {
	return Rect{Pt(c.X-w/2, c.Y-h/2), w, h}
}

// RoundRect is a rectangle about a centre with corners of radius r. With r = 0
// it is a [Rect], with both sides 2r a [Circle].
func RoundRect(c Point, w, h, r float64) (Figure, error) {
	if r > touch && max(w-2*r, h-2*r) <= touch && min(w-2*r, h-2*r) >= -touch {
		return Circle{c, r}, nil
	}
	corner := Corner{Round, r}
	f, err := Board(w, h, [4]Corner{corner, corner, corner, corner})
	if err != nil {
		return nil, err
	}
	if path, ok := f.(Path); ok {
		f = mergeHalfCircles(path)
	}
	return f.Move(Pt(c.X-w/2, c.Y-h/2)), nil
}

// Slot is a slot with round ends about a centre: w along X, h along Y. With
// equal sides it is a [Circle].
func Slot(c Point, w, h float64) Figure {
	f, err := RoundRect(c, w, h, min(w, h)/2)
	if err != nil {
		return CenterRect(c, w, h) // can't be: the radius fits by construction
	}
	return f
}

// mergeHalfCircles joins arcs that follow one another about one centre, so that
// the end of a slot is one half circle.
func mergeHalfCircles(p Path) Path {
	out := Path{Start: p.Start, Closed: p.Closed}
	for _, s := range p.Segments {
		if n := len(out.Segments); n > 0 && s.Kind == ArcTo {
			last := &out.Segments[n-1]
			if last.Kind == ArcTo && last.Clockwise == s.Clockwise && last.Center.Distance(s.Center) <= touch {
				last.End = s.End
				continue
			}
		}
		out.Segments = append(out.Segments, s)
	}
	// The seam may lie in the middle of a half circle.
	if n := len(out.Segments); n > 2 && out.Closed {
		first, last := out.Segments[0], out.Segments[n-1]
		if first.Kind == ArcTo && last.Kind == ArcTo && last.Clockwise == first.Clockwise && last.Center.Distance(first.Center) <= touch {
			out.Start = first.End
			out.Segments = append(out.Segments[1:n-1:n-1], Segment{Kind: ArcTo, End: first.End, Center: last.Center, Clockwise: last.Clockwise})
		}
	}
	return out
}
