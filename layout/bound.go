package layout

import (
	"slices"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/layout/geom"
)

// How a case in quarter or half is covered. The spine's cloth goes from board to
// board, some way onto each, and is turned in at head and tail. A side lies over the
// edge of that cloth and is turned in at the other three edges. In half each outer
// corner of a board has a piece of the same cloth: a side is cut off where it shows,
// at 45 degrees, and the cloth goes on under the side. All cuts run on straight over
// the edges of the board, so what is turned in meets as what shows does.

// bound draws the pieces that cover a case in quarter or half: spine, sides, corners.
// Equal pieces are one part with so many copies.
func (dr *draft) bound(s *design.Case, b design.Bound, mitre maybe.Of[float64]) {
	board, ok := dr.boards(s)
	if !ok {
		return
	}
	turnIn := s.TurnIn.Or(0)
	high := s.Height + 2*turnIn
	spine := geom.Rect{W: s.Width - 2*board + 2*(b.SpineReach+b.Overlap), H: high}
	dr.place(dr.sheetPart(s, s.Name+".spine", spine, s.SpineStock))

	wide := board - b.SpineReach + turnIn
	cut := turnIn*2 - mitre.Or(0)*sqrt2 // off the side's corners, along each edge
	if !mitre.Present() {
		cut = 0
	}
	reach, inHalf := b.CornerReach.Get()
	if inHalf {
		cut = reach + 2*turnIn
	}
	if !(wide-turnIn > smallest) || b.SpineReach+b.Overlap > board+geom.Tol || inHalf && (cut > wide+geom.Tol || 2*cut > high+geom.Tol) {
		dr.noSide(s, b, board)
		return
	}
	part := dr.sheetPart(s, s.Name+".side", mitred(wide, high, 0, max(0, cut)), s.CoveringStock)
	part.Copies *= 2
	dr.place(part)
	if inHalf {
		part := dr.sheetPart(s, s.Name+".corner", cornerCloth(turnIn, reach+b.Overlap*sqrt2, mitre), s.SpineStock)
		part.Copies *= 4
		dr.place(part)
	}
}

// boards is how wide each of the two boards of a case is. A side is cut twice alike,
// so it reports boards that aren't equally wide.
func (dr *draft) boards(s *design.Case) (wide float64, ok bool) {
	first, last := s.Parts[0], s.Parts[len(s.Parts)-1]
	if d := first.Width - last.Width; d > geom.Tol || d < -geom.Tol {
		dr.notes.Errorf("uneven-sides", last.At, "%s is %s wide but %s is %s: the boards of a case that is bound in quarter or half must be equally wide", last.Name,
			dr.length(last.Width), first.Name, dr.length(first.Width)).WithHelp("tie them together, as in width = %s.width", first.Name)
		return 0, false
	}
	return first.Width, true
}

// noSide reports that no room is left for the sides.
func (dr *draft) noSide(s *design.Case, b design.Bound, board float64) {
	reach, inHalf := b.CornerReach.Get()
	if !inHalf {
		dr.notes.Errorf("no-side", s.At, "nothing is left of the sides of %s: the spine's cloth shows on %s of boards that are %s wide, and goes on for %s below the side", s.Name,
			dr.length(b.SpineReach), dr.length(board), dr.length(b.Overlap)).WithHelp("state a smaller spine-reach or overlap")
		return
	}
	dr.notes.Errorf("no-side", s.At, "the corners of %s leave no room for its sides: boards of %s by %s would have to hold spine-reach + corner-reach + turn-in, %s + %s + %s, across and twice the last two, %s, from head to tail",
		s.Name, dr.length(board), dr.length(s.Height), dr.length(b.SpineReach), dr.length(reach), dr.length(s.TurnIn.Or(0)), dr.length(2*(reach+s.TurnIn.Or(0)))).
		WithHelp("state a smaller corner-reach or spine-reach")
}

// cornerCloth is the cloth of a corner as it lies at the upper right of a board: it
// covers the board's corner as far along both edges as reach, and is turned in there.
// Without a mitre its own corner stays square.
func cornerCloth(turnIn, reach float64, mitre maybe.Of[float64]) geom.Figure {
	long := reach + 2*turnIn
	cut := max(0, 2*turnIn-mitre.Or(0)*sqrt2)
	if !mitre.Present() || cut == 0 {
		return geom.NewPath(geom.Pt(0, 0)).Line(geom.Pt(long, 0)).Line(geom.Pt(long, long)).Close()
	}
	return geom.NewPath(geom.Pt(0, 0)).Line(geom.Pt(long-cut, 0)).Line(geom.Pt(long, cut)).Line(geom.Pt(long, long)).Close()
}

// mitred is a piece of w by h whose corners are cut off at 45 degrees, at its left and at
// its right by so much along each edge. Of an edge that is shorter than what two cuts take of
// it nothing is left: they meet before it.
func mitred(w, h, left, right float64) geom.Figure {
	corner := func(size float64) geom.Corner { return geom.Corner{Kind: geom.Chamfer, Size: size} }
	if fig, err := geom.Board(w, h, [4]geom.Corner{corner(left), corner(right), corner(right), corner(left)}); err == nil {
		return fig
	}
	var half []geom.Point // the upper half, clockwise from the left
	if 2*left <= h {
		half = append(half, geom.Pt(0, left))
	} else {
		half = append(half, geom.Pt(left-h/2, h/2))
	}
	switch {
	case left+right <= w:
		half = append(half, geom.Pt(left, 0), geom.Pt(w-right, 0))
	case left == 0:
		half[0] = geom.Pt(0, right-w)
	default:
		half = append(half, geom.Pt((left+w-right)/2, (left+right-w)/2))
	}
	if 2*right <= h {
		half = append(half, geom.Pt(w, right))
	} else {
		half = append(half, geom.Pt(w-right+h/2, h/2))
	}
	path := geom.NewPath(half[0])
	last := half[0]
	line := func(to geom.Point) {
		if to.Distance(last) > geom.Tol && to.Distance(half[0]) > geom.Tol {
			path.Line(to)
			last = to
		}
	}
	for _, p := range half[1:] {
		line(p)
	}
	for _, p := range slices.Backward(half) {
		line(geom.Pt(p.X, h-p.Y))
	}
	return path.Close()
}
