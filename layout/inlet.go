package layout

import (
	"cmp"
	"math"
	"slices"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/opening"
	"foredge/eval/word"
	"foredge/layout/geom"
)

// An inlet is an opening that is open to an edge of its board, so that it is
// part of the board's outline: a slot for a disc, a thumb cut, a lattice's slot
// that runs out. It is symmetric about its middle.
type inlet struct {
	side   int     // of the drawing
	at     float64 // its middle: X on the upper and lower side, Y on the others
	near   float64 // from the edge to the opening's near side
	along  float64 // the opening's size along the edge
	across float64 // and away from it
	radius float64 // of the opening's corners
	neck   float64 // width of what joins it with the edge
}

// The sides of a board, in the order in which its outline runs, clockwise.
const (
	upper = iota
	right
	lower
	left
)

// side is where an edge of a panel lies on the drawing.
func (f panelFrame) side(edge word.Edge) int {
	switch {
	case edge == word.Head:
		return upper
	case edge == word.Tail:
		return lower
	case (edge == word.Spine) != f.mirrored:
		return left
	}
	return right
}

// place gives the middle of an inlet on the edge of a board, with the directions
// of the outline there and of the board's inside.
func (in inlet) place(board geom.Box) (middle, run, inward geom.Point) {
	switch in.side {
	case upper:
		return geom.Pt(in.at, board.Min.Y), geom.Pt(1, 0), geom.Pt(0, 1)
	case right:
		return geom.Pt(board.Max.X, in.at), geom.Pt(0, 1), geom.Pt(-1, 0)
	case lower:
		return geom.Pt(in.at, board.Max.Y), geom.Pt(-1, 0), geom.Pt(0, -1)
	}
	return geom.Pt(board.Min.X, in.at), geom.Pt(0, -1), geom.Pt(1, 0)
}

// trace goes from one end of the inlet's mouth round the opening to the other,
// as an outline that runs clockwise does. Arcs stay arcs.
func (in inlet) trace(b *geom.Builder, board geom.Box) {
	middle, run, inward := in.place(board)
	at := func(u, v float64) geom.Point { return middle.Add(run.Mul(u)).Add(inward.Mul(v)) }
	half, q, r := in.along/2, in.neck/2, in.radius
	flat := half - r // half of the opening's straight near and far sides
	near, far := in.near+r, in.near+in.across-r
	arc := func(u, v, cu, cv float64) { b.Arc(at(u, v), at(cu, cv), false) }

	// Where the neck meets the opening: on its near side or in the corner.
	mouth := in.near
	if q > flat {
		d := min(q-flat, r)
		mouth = near - math.Sqrt(r*r-d*d)
	}
	b.Line(at(-q, 0)).Line(at(-q, mouth))
	if q < flat {
		b.Line(at(-flat, in.near))
	}
	arc(-half, near, -flat, near)
	b.Line(at(-half, far))
	if flat <= geom.Tol {
		arc(half, far, 0, far)
	} else {
		arc(-flat, in.near+in.across, -flat, far)
		b.Line(at(flat, in.near+in.across))
		arc(half, far, flat, far)
	}
	b.Line(at(half, near))
	if q < flat {
		arc(flat, in.near, flat, near)
	} else {
		arc(q, mouth, flat, near)
	}
	b.Line(at(q, mouth)).Line(at(q, 0))
}

// figure is the inlet closed along the edge.
func (in inlet) figure(board geom.Box) geom.Path {
	middle, run, _ := in.place(board)
	b := geom.NewPath(middle.Sub(run.Mul(in.neck / 2)))
	in.trace(b, board)
	return b.Close()
}

// withInlets is an outline with its inlets, and those that found no straight
// stretch of it wide enough for their mouths.
func withInlets(outline geom.Figure, inlets []inlet) (edge geom.Figure, lost []inlet) {
	if len(inlets) == 0 {
		return outline, nil
	}
	board := outline.Bounds()
	var sides [4][]inlet
	for _, in := range inlets {
		sides[in.side] = append(sides[in.side], in)
	}
	for i, list := range sides {
		slices.SortFunc(list, func(a, b inlet) int {
			if i == lower || i == left {
				a, b = b, a
			}
			return cmp.Compare(a.at, b.at)
		})
	}
	path := geom.Paths(outline)[0].Oriented(true)
	b := geom.NewPath(path.Start)
	for piece := range path.Pieces() {
		if side, ok := sideOf(piece, board); ok {
			from, to := piece.From.X, piece.End.X
			if side == left || side == right {
				from, to = piece.From.Y, piece.End.Y
			}
			from, to = min(from, to), max(from, to)
			var rest []inlet
			for _, in := range sides[side] {
				if in.at-in.neck/2 < from-geom.Tol || in.at+in.neck/2 > to+geom.Tol {
					rest = append(rest, in)
					continue
				}
				in.trace(b, board)
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

// sideOf says on which side of a board a straight piece of its outline lies.
func sideOf(p geom.Piece, board geom.Box) (side int, ok bool) {
	on := func(a, b, edge float64) bool { return math.Abs(a-edge) <= geom.Tol && math.Abs(b-edge) <= geom.Tol }
	switch {
	case p.Kind != geom.LineTo:
		return 0, false
	case on(p.From.Y, p.End.Y, board.Min.Y):
		return upper, true
	case on(p.From.X, p.End.X, board.Max.X):
		return right, true
	case on(p.From.Y, p.End.Y, board.Max.Y):
		return lower, true
	}
	return left, on(p.From.X, p.End.X, board.Min.X)
}

// openTo gives a shape that is an opening the form that it has as one open to an
// edge. middle is where the edge is crossed, near the distance to the opening's
// near side.
func (dr *drawer) openTo(s Shape, n *design.Neck, f panelFrame, middle geom.Point, near, along, across float64, form opening.Form, radius float64, kerf maybe.Of[float64]) Shape {
	in := inlet{side: f.side(n.Edge), at: middle.X, near: near, along: along, across: across, radius: radius, neck: n.Wide}
	if in.side == left || in.side == right {
		in.at = middle.Y
	}
	if form != opening.Rect {
		in.radius = min(along, across) / 2
	}
	in.radius = min(in.radius, along/2, across/2)
	switch {
	case n.Wide > along+geom.Tol:
		dr.diags.Errorf("neck", n.At, "the neck of %s is %s wide, but the opening only %s", inPanel(s.ID), dr.length(n.Wide), dr.length(along)).
			WithHelp("a neck is at most as wide as what it leads to")
		return s
	case n.Wide <= max(kerf.Or(0), smallest):
		dr.diags.Errorf("neck", n.At, "the neck of %s is %s wide, no wider than the laser's cut", inPanel(s.ID), dr.length(n.Wide)).
			WithHelp("make it wider")
		return s
	}
	in.neck = min(in.neck, along)
	s.Figure = in.figure(geom.Rect{Min: f.origin, W: f.width, H: f.height}.Bounds())
	s.inlet = &in
	return s
}

// inlets takes the openings that are open to an edge out of a list of shapes.
func (dr *drawer) inlets(p *design.Panel, outline geom.Figure, shapes []Shape) (closed []Shape, open []inlet) {
	for _, s := range shapes {
		if s.inlet == nil {
			closed = append(closed, s)
			continue
		}
		if _, lost := withInlets(outline, []inlet{*s.inlet}); len(lost) > 0 {
			dr.diags.Errorf("outside", s.At, "%s meets the edge of %s in a corner", inPanel(s.ID), p.Name).
				WithHelp("move it away from the corner, or make the corner smaller")
			continue
		}
		open = append(open, *s.inlet)
	}
	return closed, open
}
