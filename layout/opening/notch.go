package opening

import (
	"cmp"
	"math"
	"slices"

	form "foredge/eval/opening"
	"foredge/layout/geom"
)

// A Side is a side of a board on the drawing.
type Side uint8

// The sides, in the order in which an outline runs, clockwise.
const (
	Upper Side = iota
	Right
	Lower
	Left
)

// Level reports whether the side runs from left to right.
func (s Side) Level() bool { return s == Upper || s == Lower }

// A Notch is an opening that is open to a side of its board, so that it is part
// of the board's outline: a slot for a disc, a thumb cut, a lattice's slot that
// runs out.
type Notch struct {
	form.Opening
	Side Side
	At   float64 // its middle: X on the upper and lower side, Y on the others
	// Near is the distance from the side to the opening's near edge. Below 0 the
	// opening reaches past the side, and what lies out there is nothing.
	Near float64
	// Turned says that the opening's along runs away from the side, and not along
	// it.
	Turned bool
	Neck   float64 // width of what joins it with the side, at most the opening's
}

// size is the opening's size along the side and away from it.
func (n Notch) size() (along, away float64) {
	if n.Turned {
		return n.Across, n.Along
	}
	return n.Along, n.Across
}

// Wide is how wide the opening is along its side: the most that a neck may be.
func (n Notch) Wide() float64 {
	along, _ := n.size()
	return along
}

// Beside is how far a notch that takes up a box lies from the other sides of its board.
func (n Notch) Beside(box, board geom.Box) float64 {
	gaps := [...]float64{Upper: box.Min.Y - board.Min.Y, Right: board.Max.X - box.Max.X, Lower: board.Max.Y - box.Max.Y, Left: box.Min.X - board.Min.X}
	gaps[n.Side] = math.Inf(1)
	return slices.Min(gaps[:])
}

// Flank is how thick, in mm, the board is at the least that stays between the opening and its side
// beside the neck; infinite where the neck is as wide as the opening, or this reaches past the side.
func (n Notch) Flank() float64 {
	if n.Near < 0 || n.Neck > n.Wide()-geom.Tol {
		return math.Inf(1)
	}
	near, neck := n.Near, n.Neck
	n.Neck = 0 // which the mouth isn't wider than
	_, away := n.size()
	low, high := 0.0, away/2 // between which the opening gets as wide as the neck
	for range 40 {
		n.Near = -(low + high) / 2
		if n.Mouth() < neck {
			low = -n.Near
		} else {
			high = -n.Near
		}
	}
	return near + high
}

// Figure is the notch closed along the side of a board.
func (n Notch) Figure(board geom.Box) geom.Path {
	b := geom.NewPath(n.on(board).at(-n.Mouth()/2, 0))
	n.trace(b, board)
	return b.Close()
}

// trace goes from one end of the notch's mouth round the opening to the other, as
// an outline that runs clockwise does.
func (n Notch) trace(b *geom.Builder, board geom.Box) {
	t := n.on(board)
	t.path = b
	n.run(&t)
}

func (n Notch) run(t *tracer) {
	t.cut = n.Near < 0
	t.line(-n.Neck/2, 0)
	drawn(n.Form).open(t, n)
	t.line(n.Neck/2, 0)
}

// Mouth is how wide the notch is at its side: its neck, or the opening itself
// where that reaches past the side and is wider there, or has only its far end
// on the board; 0 if none of it lies on the board.
func (n Notch) Mouth() float64 {
	if n.Near >= 0 {
		return n.Neck
	}
	t := tracer{path: geom.NewPath(geom.Pt(0, -1)), run: geom.Pt(1, 0), inward: geom.Pt(0, 1)}
	n.run(&t)
	path := t.path.Open()
	if len(path.Segments) == 0 {
		return 0
	}
	return -2 * path.Segments[0].End.X
}

// on is the tracer of the notch on a board.
func (n Notch) on(board geom.Box) tracer {
	switch n.Side {
	case Upper:
		return tracer{middle: geom.Pt(n.At, board.Min.Y), run: geom.Pt(1, 0), inward: geom.Pt(0, 1)}
	case Right:
		return tracer{middle: geom.Pt(board.Max.X, n.At), run: geom.Pt(0, 1), inward: geom.Pt(-1, 0)}
	case Lower:
		return tracer{middle: geom.Pt(n.At, board.Max.Y), run: geom.Pt(-1, 0), inward: geom.Pt(0, -1)}
	}
	return tracer{middle: geom.Pt(board.Min.X, n.At), run: geom.Pt(0, -1), inward: geom.Pt(1, 0)}
}

// A tracer draws a path in the directions of a board's side: u is the distance
// from the middle of a notch in the sense of the outline, v that from the side
// inwards.
type tracer struct {
	path                *geom.Builder
	middle, run, inward geom.Point
	// cut says that what lies past the side, with v below 0, is left out; u and v
	// are how far the edge has been followed.
	cut  bool
	u, v float64
}

func (t tracer) at(u, v float64) geom.Point {
	return t.middle.Add(t.run.Mul(u)).Add(t.inward.Mul(v))
}

func (t *tracer) line(u, v float64) {
	switch {
	case !t.cut:
		t.path.Line(t.at(u, v))
	case t.v <= 0 && v <= 0:
	default:
		across := t.u
		if v != t.v {
			across += (u - t.u) * -t.v / (v - t.v)
		}
		if t.v <= 0 {
			t.path.Line(t.at(across, 0))
		}
		if v < 0 {
			t.path.Line(t.at(across, 0))
		} else {
			t.path.Line(t.at(u, v))
		}
	}
	t.u, t.v = u, v
}

// arc goes round the centre (cu, cv) as the edge of an opening does: inwards on
// the left of the centre, as seen from the side, and outwards on its right.
func (t *tracer) arc(u, v, cu, cv float64) {
	if !t.cut {
		t.path.Arc(t.at(u, v), t.at(cu, cv), false)
		return
	}
	r := math.Hypot(t.u-cu, t.v-cv)
	half := math.Sqrt(max(0, r*r-cv*cv)) // of what the side cuts off the circle
	dips := t.v > 0 || v > 0 || t.u < cu && cu < u && cv+r > 0
	if dips {
		if t.v <= 0 {
			t.path.Line(t.at(cu-half, 0))
		}
		if v < 0 {
			t.path.Arc(t.at(cu+half, 0), t.at(cu, cv), false)
		} else {
			t.path.Arc(t.at(u, v), t.at(cu, cv), false)
		}
	}
	t.u, t.v = u, v
}

// WithNotches is an outline with its notches, and those that found no straight
// stretch of it wide enough for their mouths.
func WithNotches(outline geom.Figure, notches []Notch) (edge geom.Figure, lost []Notch) {
	if len(notches) == 0 {
		return outline, nil
	}
	board := outline.Bounds()
	var sides [4][]Notch
	for _, n := range notches {
		sides[n.Side] = append(sides[n.Side], n)
	}
	for i, list := range sides {
		backwards := Side(i) == Lower || Side(i) == Left
		slices.SortFunc(list, func(a, b Notch) int {
			if backwards {
				a, b = b, a
			}
			return cmp.Compare(a.At, b.At)
		})
	}
	path := geom.Paths(outline)[0].Oriented(true)
	b := geom.NewPath(path.Start)
	for piece := range path.Pieces() {
		if side, ok := sideOf(piece, board); ok {
			from, to := piece.From.Y, piece.End.Y
			if side.Level() {
				from, to = piece.From.X, piece.End.X
			}
			from, to = min(from, to), max(from, to)
			var rest []Notch
			for _, n := range sides[side] {
				half := n.Mouth() / 2
				if n.At-half < from-geom.Tol || n.At+half > to+geom.Tol {
					rest = append(rest, n)
					continue
				}
				n.trace(b, board)
			}
			sides[side] = rest
		}
		b.Add(piece.Segment)
	}
	for _, list := range sides {
		lost = append(lost, list...)
	}
	return b.Close(), lost
}

// Beside is what is left of an outline without one of its sides.
func Beside(outline geom.Figure, side Side) geom.Path {
	board := outline.Bounds()
	var before, after []geom.Piece
	met := false
	for piece := range geom.Paths(outline)[0].Oriented(true).Pieces() {
		if s, ok := sideOf(piece, board); ok && s == side {
			met = true
			continue
		}
		if met {
			after = append(after, piece)
		} else {
			before = append(before, piece)
		}
	}
	all := append(after, before...)
	if len(all) == 0 {
		return geom.Path{}
	}
	b := geom.NewPath(all[0].From)
	for _, piece := range all {
		b.Add(piece.Segment)
	}
	return b.Open()
}

// sideOf says on which side of a board a straight piece of its outline lies.
func sideOf(p geom.Piece, board geom.Box) (side Side, ok bool) {
	on := func(a, b, edge float64) bool { return math.Abs(a-edge) <= geom.Tol && math.Abs(b-edge) <= geom.Tol }
	switch {
	case p.Kind != geom.LineTo:
		return 0, false
	case on(p.From.Y, p.End.Y, board.Min.Y):
		return Upper, true
	case on(p.From.X, p.End.X, board.Max.X):
		return Right, true
	case on(p.From.Y, p.End.Y, board.Max.Y):
		return Lower, true
	}
	return Left, on(p.From.X, p.End.X, board.Min.X)
}
