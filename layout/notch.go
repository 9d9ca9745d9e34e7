package layout

import (
	"fmt"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/word"
	"foredge/layout/geom"
	"foredge/layout/opening"
)

// side is where an edge of a panel lies on the drawing.
func (f Frame) side(edge word.Edge) opening.Side {
	switch {
	case edge == word.Head:
		return opening.Upper
	case edge == word.Tail:
		return opening.Lower
	case (edge == word.Spine) != f.Mirrored:
		return opening.Left
	}
	return opening.Right
}

// openTo gives a shape that is an opening the form that it has as one open to an
// edge, near being the distance from there to the opening's near side. False for
// one that can't be drawn so, which is told.
func (dr *draft) openTo(s Shape, neck *design.Neck, f Frame, hole opening.Placed, near float64, kerf maybe.Of[float64]) (Shape, bool) {
	n := opening.Notch{Opening: hole.Opening, Side: f.side(neck.Edge), At: hole.At.Y, Near: near, Turned: hole.Upright == neck.Edge.Level()}
	if n.Side.Level() {
		n.At = hole.At.X
	}
	switch {
	case neck.Wide > n.Wide()+geom.Tol:
		dr.notes.Errorf("neck", neck.At, "the neck of %s is %s wide, but the opening only %s", inPanel(s.ID), dr.length(neck.Wide), dr.length(n.Wide())).
			WithHelp("make the neck no wider than the opening")
		return s, near >= 0
	case neck.Wide <= max(kerf.Or(0), smallest):
		dr.notes.Errorf("kerf", neck.At, "the neck of %s is %s wide, no wider than the laser's cut", inPanel(s.ID), dr.length(neck.Wide)).
			WithHelp("make it wider")
		return s, near >= 0
	}
	n.Neck = min(neck.Wide, n.Wide())
	if near < 0 {
		switch mouth := n.Mouth(); {
		case !(mouth > smallest):
			dr.notes.Errorf("outside", s.At, "%s lies past the %s of its panel by %s, so nothing of it is on the board", inPanel(s.ID), neck.Edge, dr.length(-near)).
				WithHelp("a distance below 0 puts part of an opening past the edge: state one nearer to 0, half its size for a half-round notch")
			return s, false
		case neck.Stated && mouth > neck.Wide+geom.Tol:
			dr.notes.Errorf("neck-outside", neck.At, "the neck of %s is to be %s wide, but %s reaches past the %s by %s and is %s wide there", inPanel(s.ID),
				dr.length(neck.Wide), inPanel(s.ID), neck.Edge, dr.length(-near), dr.length(mouth)).
				WithHelp("take the neck out, or move the opening inwards: %s = 0 or more", neck.Edge)
			return s, false
		case mouth <= kerf.Or(0):
			dr.notes.Errorf("kerf", s.At, "%s is %s wide at the %s, no wider than the laser's cut", inPanel(s.ID), dr.length(mouth), neck.Edge).
				WithHelp("make it larger, or move it inwards")
			return s, false
		}
	}
	s.Figure = n.Figure(geom.Rect{Min: f.Origin, W: f.Width, H: f.Height}.Bounds())
	s.notch = &n
	return s, true
}

// atCorner reports whether a notch finds no straight stretch of an outline for its
// mouth.
func atCorner(outline geom.Figure, n opening.Notch) bool {
	_, lost := opening.WithNotches(outline, []opening.Notch{n})
	return len(lost) > 0
}

// notches takes the openings that are open to an edge out of a list of shapes.
func (dr *draft) notches(p *design.Panel, outline geom.Figure, shapes []Shape) (closed []Shape, open []opening.Notch) {
	for _, s := range shapes {
		if s.notch == nil {
			closed = append(closed, s)
			continue
		}
		if atCorner(outline, *s.notch) {
			help := fmt.Sprintf("move it away from the%s, or %s", cornerOf(p), cornerHelp(p))
			if p.Tab != nil {
				help += fmt.Sprintf("; along the %s only the tab reaches the edge", p.Tab.Edge)
			}
			dr.notes.Errorf("outside", s.At, "%s meets the edge of %s at %s", inPanel(s.ID), p.Name, "a"+cornerOf(p)).WithHelp("%s", help)
			continue
		}
		open = append(open, *s.notch)
	}
	return closed, open
}
