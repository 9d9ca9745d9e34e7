package advise

import (
	"fmt"
	"math"
	"slices"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/word"
	"foredge/layout/geom"
)

// Numbers of case work, in thicknesses of the board.
const (
	// Common practice, no source: a board that is to swing right round.
	swingJoint = 2
	// A. W. Johnson, "A Joint Venture", Skin Deep 15, 2003: the joint of a case.
	caseJoint = 1.5
	// From the covering's corner: its turn-ins meet at the top of the board's edge, as
	// high as the board is thick, if the cut stands thick / sqrt(2) from the corner.
	leastMitre = math.Sqrt2 / 2
)

// wideJoint is from where on in mm a joint beside a spine strip is hardly meant, of boards up to
// a part of that thick (common practice, no source).
const (
	wideJoint = 20
	wideFor   = 5
)

// wideTurnIn is from where on in mm a turn-in is hardly meant (common practice, no source: 15 to 20 are usual).
const wideTurnIn = 40

// leastLap is how far a covering should reach over the inside of a board, in mm:
// turn-ins are 15 to 20 mm wide, and less than that lap hardly holds (common
// practice, no source).
const leastLap = 5

// Case warns of gaps in which its boards can't swing, of a case that is laid the wrong
// way round, of a covering too small for its boards' edges and corners, and of a
// lining that leaves turned-in edges bare. mitre is how far from the boards' corners
// the covering's are cut off.
func Case(n *Notes, s *design.Case, mitre maybe.Of[float64]) {
	joints(n, s)
	ends(n, s)
	bare(n, s)
	gaps(n, s)
	copies(n, s)
	if !foredges(n, s) {
		innerCorners(n, s)
	}
	turnIns(n, s, mitre)
	hidden(n, s)
	stiffLining(n, s)
	if b, ok := s.Bound.Get(); ok {
		bound(n, s, b)
	}
	lining, lined := s.Lining.Get()
	thick := thickest(s)
	if turnIn := s.TurnIn.Or(0); lined && lining > turnIn-thick-geom.Tol && turnIn > 0 {
		edges, help := "", "make lining smaller than "+n.Length(turnIn)
		if left := turnIn - thick; thick > 0 && left > geom.Tol {
			edges, help = fmt.Sprintf(", and %s of that go round the edge of a board", n.Length(thick)), "make lining smaller than "+n.Length(left)
		} else if thick > 0 {
			edges, help = fmt.Sprintf(", and the edge of a board takes up %s", n.Length(thick)), "make turn-in larger"
		}
		n.Warn(s.Quiet, "short-lining", s.At, "the lining of %s stays %s inside its edges, but the covering turns in by only %s%s: its raw edge shows", s.Name, n.Length(lining), n.Length(turnIn), edges).
			WithHelp("a lining should cover the turned-in edges: %s%s", help, Silence("short-lining", "case"))
	}
}

// Unlaid warns of spine strips, and of boards of which a case lays the mirror image, that
// no case lays, as high as one, of its boards' stock and without holes by which anything
// else could hold them: left out of what it lays, whose covering then comes out too narrow.
func Unlaid(n *Notes, d *design.Design) {
	for i := range d.Panels {
		p := &d.Panels[i]
		if p.InCase || len(p.Rows)+len(p.Stitches)+len(p.Cutouts) > 0 {
			continue
		}
		for _, s := range d.Cases {
			laid := slices.ContainsFunc(s.Parts, func(part design.CasePart) bool {
				return part.Board != nil && part.Board.Mirrored == p.Mirrored && math.Abs(p.Width-part.Width) <= geom.Tol
			})
			beside := func(part design.CasePart) bool {
				return part.Cut && sameBoard(part.Board, p) && (p.Width <= part.Width/2+geom.Tol ||
					!laid && p.Mirrored != part.Board.Mirrored && math.Abs(p.Width-part.Width) <= geom.Tol)
			}
			if math.Abs(s.Height-p.Height) > geom.Tol || !slices.ContainsFunc(s.Parts, beside) {
				continue
			}
			n.Warn(p.Quiet, "unlaid-board", p.At, "no case lays %s, which is as high as %s and of the same board", p.Name, s.Name).
				Note(s.At, "%s is here", s.Name).
				WithHelp("name it in the lay of the case%s", Silence("unlaid-board", "panel"))
			break
		}
	}
}

// sameBoard reports whether two panels are cut from one board.
func sameBoard(a, b *design.Panel) bool {
	if a.Stock == nil || b.Stock == nil {
		return a.Stock == b.Stock && a.Thick == b.Thick
	}
	return a.Stock.Name == b.Stock.Name
}

// ends warns of a case that begins or ends with a gap: a board is likely to have been left out of what it lays.
func ends(n *Notes, s *design.Case) {
	last := len(s.Parts) - 1
	for _, i := range []int{0, last} {
		if part := s.Parts[i]; part.Board == nil {
			n.Warn(s.Quiet, "end-gap", part.At, "%s lies at the edge of %s, with no board on its other side", part.Name, s.Name).
				WithHelp("lay the board that is missing there, or leave the gap out%s", Silence("end-gap", "case"))
		}
		if last == 0 {
			return
		}
	}
}

// gaps warns of two gaps side by side: a board is likely to have been left out between them.
func gaps(n *Notes, s *design.Case) {
	for i := range len(s.Parts) - 1 {
		if one, other := s.Parts[i], s.Parts[i+1]; one.Board == nil && other.Board == nil {
			n.Warn(s.Quiet, "two-gaps", other.At, "%s and %s of %s lie side by side, with no board between them", one.Name, other.Name, s.Name).
				WithHelp("lay the board that is missing there, as in lay = back, joint, spine-strip, joint, front, or state one wider gap%s", Silence("two-gaps", "case"))
			return
		}
	}
}

// innerCorners warns of corners that are cut where a board lies at a joint: they leave holes in the case.
func innerCorners(n *Notes, s *design.Case) {
	for i, part := range s.Parts {
		if part.Board == nil {
			continue
		}
		for k, which := range word.Corners() {
			c := part.Board.Corners[k]
			atSpine := which == word.HeadSpine || which == word.TailSpine
			outer := i == 0 && atSpine != part.Board.Mirrored || i == len(s.Parts)-1 && atSpine == part.Board.Mirrored // the spine lies left, of what is mirrored right
			if c.Form == word.Square || c.Size <= geom.Tol || outer {
				continue
			}
			n.Warn(s.Quiet, "inner-corner", c.At, "the corner %s of %s is cut, and lies inside %s, where the board would be missing", which, part.Name, s.Name).
				WithHelp("cut the outer corners alone, as in corner head-foredge = radius %s%s", n.Length(c.Size), Silence("inner-corner", "case"))
			break
		}
	}
}

// bare warns of a case that names a stock for a covering or a lining that no dimension gives it.
func bare(n *Notes, s *design.Case) {
	if !s.TurnIn.Present() && s.CoveringStock != nil {
		n.Warn(s.Quiet, "bare-case", s.At, "%s says what its covering is cut from, but nothing says how far that is turned in, so there is none", s.Name).
			WithHelp("state it, as in turn-in = 15, or leave covering-stock out%s", Silence("bare-case", "case"))
	}
	if !s.Lining.Present() && s.LiningStock != nil {
		n.Warn(s.Quiet, "bare-case", s.At, "%s says what its lining is cut from, but nothing says how far inside the edges that lies, so there is none", s.Name).
			WithHelp("state it, as in lining = 2, or leave lining-stock out%s", Silence("bare-case", "case"))
	}
}

// copies warns of a case whose panels are cut in different numbers: what comes out makes no whole number of cases.
func copies(n *Notes, s *design.Case) {
	var first *design.CasePart
	many := func(part *design.CasePart) int { return max(1, part.Board.Copies) }
	for i := range s.Parts {
		part := &s.Parts[i]
		if !part.Cut || !part.Board.InCase {
			continue
		}
		if first == nil {
			first = part
		}
		if a, b := many(first), many(part); a != b {
			n.Warn(s.Quiet, "odd-copies", s.At, "of %s %s is cut %s and %s %s, so they make no whole number of cases", s.Name, first.Name, times(a), part.Name, times(b)).
				WithHelp("state the same copies for all that it lays%s", Silence("odd-copies", "case"))
			return
		}
	}
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

// joints warns of gaps that are too narrow for the boards beside them.
func joints(n *Notes, s *design.Case) {
	for i := range len(s.Parts) - 1 {
		one, other := s.Parts[i], s.Parts[i+1]
		if one.Board != nil && other.Board != nil {
			n.Warn(s.Quiet, "tight-joint", s.At, "%s and %s of %s lie against one another, with no joint between them", one.Name, other.Name, s.Name).
				WithHelp("lay a gap between them, as in lay = %s, joint, %s%s", one.Name, other.Name, Silence("tight-joint", "case"))
		}
	}
	for _, j := range jointsOf(s) {
		first, before, after := s.Parts[j.from], s.Parts[j.from-1], s.Parts[j.to]
		between := first.Name + " is"
		if j.to > j.from+1 {
			between = fmt.Sprintf("what lies between %s and %s is", before.Name, after.Name)
		}
		// Where a thickness isn't known, only that of the other board counts.
		thick := max(before.Board.Thick.Or(0), after.Board.Thick.Or(0))
		if strip(s, j.from-1) || strip(s, j.to) {
			if j.width < caseJoint*thick-geom.Tol {
				n.Warn(s.Quiet, "tight-joint", first.Of, "%s %s wide, too narrow for a case of boards of %s to open freely", between, n.Length(j.width), n.Length(thick)).
					WithHelp("a case's joint is one and a half times as deep as its board is thick, %s (an article on joints in a binders' journal of 2003), more for thick boards and coarse cloth%s",
						n.Length(caseJoint*thick), Silence("tight-joint", "case"))
			} else if j.width > max(wideJoint, wideFor*thick) {
				n.Warn(s.Quiet, "wide-joint", first.Of, "%s %s wide, which is much for a joint beside a spine strip", between, n.Length(j.width)).
					WithHelp("6 to 10 mm are usual (common practice, no source): check it%s", Silence("wide-joint", "case"))
			}
			continue
		}
		if j.width < swingJoint*thick-geom.Tol {
			n.Warn(s.Quiet, "tight-joint", first.Of, "%s %s wide, too narrow for boards of %s to swing right round in it", between, n.Length(j.width), n.Length(thick)).
				WithHelp("a joint needs twice the thickness of the board, %s, plus that of the covering (common practice, no source; 1/16 in is enough for thin board that folds one way only, according to a scrapbook maker's page)%s",
					n.Length(swingJoint*thick), Silence("tight-joint", "case"))
		}
	}
}

// A joint is what lies between two panels of a case: the parts from, up to to, which are
// gaps, in all as wide as width.
type joint struct {
	from, to int
	width    float64
}

func jointsOf(s *design.Case) []joint {
	var all []joint
	j := joint{from: len(s.Parts)} // until a panel is met: what lies before it is no joint
	for i, part := range s.Parts {
		if part.Board == nil {
			j.width += part.Width
			continue
		}
		if j.to = i; j.from < i {
			all = append(all, j)
		}
		j = joint{from: i + 1}
	}
	return all
}

// strip reports whether a part of a case is its spine strip: a panel between two gaps
// that has no holes and is at most half as wide as the widest. The boards beside such a
// strip open by a quarter of a turn from it; one that hangs on a strip with holes, or
// folds on another board, swings right round.
func strip(s *design.Case, i int) bool {
	if i < 1 || i+1 >= len(s.Parts) || s.Parts[i-1].Board != nil || s.Parts[i+1].Board != nil {
		return false
	}
	widest := 0.0
	for _, part := range s.Parts {
		if part.Board != nil {
			widest = max(widest, part.Width)
		}
	}
	board := s.Parts[i].Board
	return board != nil && len(board.Rows) == 0 && s.Parts[i].Width <= widest/2+geom.Tol
}

// foredges warns of a case whose boards lie with their foredges at the joint: as it
// is seen from outside, the back lies at the left, its spine at the right. Of a board
// that hangs on a strip with holes along its spine those lie at the other side.
func foredges(n *Notes, s *design.Case) (told bool) {
	first, last := s.Parts[0], s.Parts[len(s.Parts)-1]
	one, other := first.Board, last.Board
	if one == nil || other == nil || len(s.Parts) == 1 {
		return false
	}
	if one.Mirrored == other.Mirrored {
		board, strip := first, last
		inside, outside := other, one
		if one.Mirrored {
			board, strip, inside, outside = last, first, one, other
		}
		if alongSpine(inside) && !alongSpine(outside) {
			n.Warn(s.Quiet, "foredge-joint", first.At, "%s lies with its foredge at the joint, and the holes of %s lie at it too", board.Name, strip.Name).
				WithHelp("lay lists what is seen from outside, from left to right, so turn it round, as in lay = %s, ..., %s%s", last.Name, first.Name, Silence("foredge-joint", "case"))
			return true
		}
		if cutAtForedge(outside) {
			n.Warn(s.Quiet, "foredge-joint", first.At, "%s lies with its foredge, whose corners are cut, at the joint", board.Name).
				WithHelp("let it be the mirror of the other, as in panel %s mirrors %s%s", board.Name, strip.Name, Silence("foredge-joint", "case"))
			return true
		}
		return stripsAtJoint(n, s)
	}
	if one.Mirrored {
		return stripsAtJoint(n, s)
	}
	n.Warn(s.Quiet, "foredge-joint", first.At, "%s and %s lie with their foredges at the joint", first.Name, last.Name).
		WithHelp("lay lists what is seen from outside, from left to right: the mirrored board comes first, as in lay = %s, ..., %s%s", last.Name, first.Name, Silence("foredge-joint", "case"))
	return true
}

// offMiddle is how far from a strip's middle holes lie that aren't meant to lie in it, in mm.
const offMiddle = 1

// stripsAtJoint warns of a strip at one end of a case whose holes lie at the joint and not at its
// outer edge, where it was to be the mirror of another.
func stripsAtJoint(n *Notes, s *design.Case) (told bool) {
	first, last := s.Parts[0], s.Parts[len(s.Parts)-1]
	for _, end := range []struct {
		strip, board design.CasePart
		joint        word.Edge // of the strip, where it isn't mirrored
	}{{first, last, word.Foredge}, {last, first, word.Spine}} {
		joint := end.joint
		if end.strip.Board.Mirrored {
			joint = joint.Opposite()
		}
		if end.strip.Width > end.board.Width/2+geom.Tol || len(end.board.Board.Rows) > 0 || !holesNear(end.strip, joint) {
			continue
		}
		n.Warn(s.Quiet, "foredge-joint", end.strip.At, "the holes of %s lie at the joint", end.strip.Name).
			WithHelp("if they are to lie at its outer edge, let it be a mirror image, or turn its row%s", Silence("foredge-joint", "case"))
		return true
	}
	return false
}

// holesNear reports whether all rows along the sides of a strip lie nearer to one of them.
func holesNear(strip design.CasePart, side word.Edge) bool {
	any := false
	for _, r := range strip.Board.Rows {
		switch off := r.Inset + r.Opening.Across/2; {
		case r.Edge != word.Spine && r.Edge != word.Foredge:
		case r.Edge != side || off > strip.Width/2-offMiddle:
			return false // in its middle, or at the outer edge
		default:
			any = true
		}
	}
	return any
}

// cutAtForedge reports whether corners are cut at a panel's foredge, and none at its spine.
func cutAtForedge(p *design.Panel) bool {
	some := false
	for i, c := range word.Corners() {
		switch {
		case p.Corners[i].Size == 0:
		case c == word.HeadSpine || c == word.TailSpine:
			return false
		default:
			some = true
		}
	}
	return some
}

// alongSpine reports whether a panel has a row of holes along its spine.
func alongSpine(p *design.Panel) bool {
	return slices.ContainsFunc(p.Rows, func(r design.Row) bool { return r.Edge == word.Spine })
}

// thickest is the thickness of a case's thickest board, 0 if none is known.
func thickest(s *design.Case) float64 {
	thick := 0.0
	for _, part := range s.Parts {
		if part.Board != nil {
			thick = max(thick, part.Board.Thick.Or(0))
		}
	}
	return thick
}

// turnIns warns of a covering that doesn't reach round its boards' edges, or leaves
// their corners bare.
func turnIns(n *Notes, s *design.Case, mitre maybe.Of[float64]) {
	turnIn, thick := s.TurnIn.Or(0), thickest(s)
	if turnIn <= 0 || thick == 0 {
		return
	}
	if turnIn < thick+leastLap-geom.Tol {
		n.Warn(s.Quiet, "short-turn-in", s.At, "the covering of %s turns in by %s: round the edge of a board of %s that leaves %s to hold on the inside", s.Name,
			n.Length(turnIn), n.Length(thick), n.Length(max(0, turnIn-thick))).
			WithHelp("make turn-in %s or more; 15 to 20 mm are usual (common practice, no source)%s", n.Length(thick+leastLap), Silence("short-turn-in", "case"))
	}
	if turnIn > wideTurnIn {
		n.Warn(s.Quiet, "wide-turn-in", s.At, "the covering of %s turns in by %s, far onto the inside of the boards", s.Name, n.Length(turnIn)).
			WithHelp("15 to 20 mm are usual (common practice, no source): check it%s", Silence("wide-turn-in", "case"))
	}
	off, ok := mitre.Get()
	if ok && off >= turnIn*math.Sqrt2-geom.Tol {
		n.Warn(s.Quiet, "wide-mitre", s.At, "the covering of %s turns in by %s, so its corners lie %s from the boards' and a mitre of %s cuts nothing off", s.Name,
			n.Length(turnIn), n.Length(turnIn*math.Sqrt2), n.Length(off)).
			WithHelp("make mitre smaller: 1.5 times the thickness of the board is usual (two lessons in bookbinding)%s", Silence("wide-mitre", "case"))
	}
	if ok && off < leastMitre*thick-geom.Tol {
		n.Warn(s.Quiet, "short-mitre", s.At, "the covering of %s is cut off %s from its boards' corners, so their corners, %s thick, show", s.Name, n.Length(off), n.Length(thick)).
			WithHelp("make mitre %s or more: 0.71 times as far as the board is thick just covers its corner, 1.5 times is usual (two lessons in bookbinding)%s",
				n.Length(math.Ceil(leastMitre*thick*100)/100), Silence("short-mitre", "case"))
	}
}
