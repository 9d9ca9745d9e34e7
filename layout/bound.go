package layout

import (
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
	corner := geom.Corner{Kind: geom.Chamfer, Size: max(0, cut)}
	side, err := geom.Board(wide, high, [4]geom.Corner{geom.UpperRight: corner, geom.LowerRight: corner})
	if err != nil {
		side = geom.Rect{W: wide, H: high}
	}
	part := dr.sheetPart(s, s.Name+".side", side, s.CoveringStock)
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
