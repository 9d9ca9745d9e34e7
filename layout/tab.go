package layout

import (
	"errors"

	"foredge/eval/design"
	"foredge/eval/word"
	"foredge/layout/advise"
	"foredge/layout/geom"
	"foredge/layout/opening"
)

// tabbed is the outline of a divider: its board, set back at one edge but for the
// tab. Where the tab is at an end of the edge it has the board's corner there.
func (dr *draft) tabbed(p *design.Panel, f Frame, corners [4]geom.Corner) geom.Figure {
	whole := geom.Rect{W: p.Width, H: p.Height}
	if !dr.checkTab(p) {
		return whole
	}
	t := p.Tab
	side := f.side(t.Edge)
	long, deep := p.Height, p.Width
	if side.Level() {
		long, deep = deep, long
	}
	from, to := t.From, t.To
	// The outline runs clockwise, so on some sides against the edge.
	if side == opening.Lower || side == opening.Left {
		from, to = long-to, long-from
	}
	if side.Level() && p.Mirrored {
		from, to = long-to, long-from
	}
	outer := geom.Corner{Kind: geom.Round, Size: t.Radius}
	var points []geom.Point // along the side and away from it
	var forms []geom.Corner
	var own []bool // the corner is the board's
	add := func(along, away float64, c geom.Corner, board bool) {
		points, forms, own = append(points, geom.Pt(along, away)), append(forms, c), append(own, board)
	}
	if from > geom.Tol {
		add(0, t.Extension, corners[side], true)
		add(from, t.Extension, geom.Corner{}, false)
		add(from, 0, outer, false)
	} else {
		add(0, 0, corners[side], true)
	}
	if to < long-geom.Tol {
		add(to, 0, outer, false)
		add(to, t.Extension, geom.Corner{}, false)
		add(long, t.Extension, corners[(side+1)%4], true)
	} else {
		add(long, 0, corners[(side+1)%4], true)
	}
	add(long, deep, corners[(side+2)%4], true)
	add(0, deep, corners[(side+3)%4], true)
	for i, at := range points {
		points[i] = onSide(side, at, p.Width, p.Height)
	}
	fig, err := geom.Cornered(points, forms)
	var tooBig geom.CornerError
	if errors.As(err, &tooBig) {
		what, need, at := "two corners", "need", t.At
		if !own[tooBig.First] && !own[tooBig.Second] {
			what, need = "the tab", "needs"
		}
		dr.notes.Errorf("corner-large", at, "%s of %s %s %s of a side that is only %s long", what, p.Name, need, dr.length(tooBig.Need), dr.length(tooBig.Have)).
			WithHelp("make the radius of the tab or the corners of the board smaller")
		return whole
	}
	return fig
}

// onSide turns a place along a side, in the sense of the outline, and away from it
// into one on a board that has its upper left corner at 0.
func onSide(s opening.Side, at geom.Point, w, h float64) geom.Point {
	switch s {
	case opening.Right:
		return geom.Pt(w-at.Y, at.X)
	case opening.Lower:
		return geom.Pt(w-at.X, h-at.Y)
	case opening.Left:
		return geom.Pt(at.Y, h-at.X)
	}
	return at
}

// checkTab sees that a divider can have its tab.
func (dr *draft) checkTab(p *design.Panel) bool {
	t := p.Tab
	deep := p.Width
	if t.Edge.Level() {
		deep = p.Height
	}
	switch {
	case p.Arch != nil:
		dr.notes.Errorf("arch", p.Arch.At, "the head edge of %s is an arch, which goes with no tabs", p.Name).
			Note(t.At, "the tabs are here").WithHelp("leave out one of the two")
		return false
	case !(t.Extension > smallest) || t.Extension >= deep-smallest:
		dr.notes.Errorf("tabs", t.At, "a tab of %s can't stand out by %s: %s measures %s from there to the %s, over the tab", p.Name,
			dr.length(t.Extension), p.Name, dr.length(deep), t.Edge.Opposite()).
			WithHelp("the size of a divider goes over its tab: state a smaller extension")
		return false
	}
	advise.Narrow(&dr.notes, p, t.At, min(t.To-t.From, t.Extension), "of the tab of "+p.Name, "make it larger")
	return true
}

// lineBesideTab is where a line across a divider begins and ends: beside the tab
// there is no board.
func lineBesideTab(p *design.Panel, l *design.Line, long float64) (from, to float64) {
	t := p.Tab
	if l.From.Level() == t.Edge.Level() {
		fromTab := l.Distance
		if l.From != t.Edge {
			fromTab = p.Width - l.Distance
			if t.Edge.Level() {
				fromTab = p.Height - l.Distance
			}
		}
		if fromTab < t.Extension+geom.Tol {
			return t.From, t.To // at the tab's foot, too: beside it the board's edge is cut there
		}
		return 0, long
	}
	along := l.Distance
	switch l.From {
	case word.Foredge:
		along = p.Width - along
	case word.Tail:
		along = p.Height - along
	}
	switch in := along >= t.From && along <= t.To; {
	case in:
		return 0, long
	case t.Edge == word.Head || t.Edge == word.Spine:
		return t.Extension, long
	}
	return 0, long - t.Extension
}
