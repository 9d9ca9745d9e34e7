package layout

import (
	"fmt"
	"math"
	"slices"

	"foredge/eval/design"
	"foredge/layout/advise"
	"foredge/layout/art"
	"foredge/layout/geom"
)

// cutArt cuts artwork out of a panel. Closed contours are openings, and what
// lies in an opening falls out; open lines are slits. Lines whose ends meet are
// one. What parts an opening is cut once, in the middle of its line.
func (dr *draft) cutArt(p *design.Panel, m *design.Artwork, f Frame, pic *art.Picture, id string) []Shape {
	var rings, slits []art.Contour
	rings = append(rings, pic.Fill...)
	inner := slices.DeleteFunc(slices.Clone(pic.Lines), func(l art.Contour) bool { return !l.Inner })
	lines := slices.DeleteFunc(slices.Clone(pic.Lines), func(l art.Contour) bool { return l.Inner })
	for _, l := range art.Joined(lines, endsMeet) {
		if l.Closed {
			rings = append(rings, l)
			continue
		}
		slits = append(slits, l)
	}
	depth, ok := dr.nested(m, rings, len(pic.Fill))
	if !ok || !dr.slits(p, m, f, slits, rings) || !dr.count(1+len(slits)+len(inner), m.At) {
		return nil
	}
	var shapes []Shape
	for i, c := range inner { // while what they part is still held
		shapes = append(shapes, Shape{ID: fmt.Sprintf("%s%s%d", id, innerLine, i+1), Op: Cut, Hole: true, Figure: c.Path, At: m.At, parting: true})
	}
	if len(rings) > 0 {
		var o geom.Outline
		for i, c := range rings {
			o = append(o, c.Path.Oriented(depth[i]%2 == 0))
		}
		dr.fallsOut(p, m, f, rings, depth)
		dr.details(p, m, f, rings, o)
		shapes = append(shapes, Shape{ID: id, Op: Cut, Hole: true, Figure: o, At: m.At})
	}
	for i, c := range slits {
		// As openings, slits are cut before the panel is free.
		shapes = append(shapes, Shape{ID: fmt.Sprintf("%s.line.%d", id, i+1), Op: Cut, Hole: true, Figure: c.Path, At: m.At})
	}
	return shapes
}

func others(n int) string {
	switch n {
	case 1:
		return ""
	case 2:
		return " (and one other like it)"
	}
	return fmt.Sprintf(" (and %d others like it)", n-1)
}

// nested says how many contours lie round each. Contours that cross themselves
// or each other are reported. The first filled ones are outlines of what is
// filled, the others lines.
func (dr *draft) nested(m *design.Artwork, rings []art.Contour, filled int) (depth []int, ok bool) {
	edges, boxes := boundaries(rings)
	for i, c := range rings {
		switch {
		case edges[i].Simple():
		case i < filled:
			dr.notes.Errorf("art-crosses", m.At, "%s, %s: the outline of a filled shape touches itself, so it isn't clear what is to be cut out", m.File, c.Where).
				WithHelp("separate what is joined at a point only, or fill it completely: its fill-rule, or something white, leaves parts unfilled")
			return nil, false
		default:
			dr.notes.Errorf("art-crosses", m.At, "%s, %s: this line crosses or touches itself, so it isn't clear what is to be cut out", m.File, c.Where).
				WithHelp("draw it so that it doesn't, or give it a fill instead of a stroke: its outline is then cut")
			return nil, false
		}
	}
	depth = make([]int, len(rings))
	ix := geom.NewIndex(boxes)
	var meet [][2]int // that only lie on one another, as what is to be moved is beside them
	for i := range rings {
		for _, j := range ix.Near(boxes[i], 0) {
			switch {
			case i == j:
			case j > i && edges[i].Meets(edges[j]):
				if meet = append(meet, [2]int{i, j}); !onlyLiesOn(rings[i].Path, edges[j]) && !onlyLiesOn(rings[j].Path, edges[i]) {
					dr.meeting(m, rings, i, j, filled)
					return nil, false
				}
			case edges[j].Box.Holds(boxes[i]) && edges[j].Contains(rings[i].Start):
				depth[i]++
			}
		}
	}
	if len(meet) > 0 {
		dr.meeting(m, rings, meet[0][0], meet[0][1], filled)
	}
	return depth, len(meet) == 0
}

// onLine is how near in mm two lines are one, as where artwork is read.
const onLine = 1e-3

// onlyLiesOn reports whether stretches of a closed line lie on another, and it lies nowhere else on
// both sides of that.
func onlyLiesOn(line geom.Path, on *geom.Boundary) bool {
	const each = 10 // of the points of a piece at which it is looked
	var lies, inside, outside bool
	for p := range line.Pieces() {
		before := false
		for k := range each {
			at := p.At((float64(k) + 0.5) / each)
			here := on.Within(at, onLine)
			lies = lies || here && before
			if before = here; !here {
				within := on.Contains(at)
				inside, outside = inside || within, outside || !within
			}
		}
	}
	return lies && !(inside && outside)
}

// meeting reports two contours that meet, of which the first filled are outlines of what is
// filled.
func (dr *draft) meeting(m *design.Artwork, rings []art.Contour, i, j, filled int) {
	if rings[i].Where == rings[j].Where && j < filled {
		dr.notes.Errorf("art-crosses", m.At, "%s, %s: outlines of filled shapes touch one another, so it isn't clear what is to be cut out", m.File, rings[i].Where).
			WithHelp("separate what is joined at a point only, or fill it completely: its fill-rule, or something white, leaves parts unfilled")
		return
	}
	dr.crosses(m, rings[i].Where, rings[j].Where)
}

// crosses reports lines of artwork that meet.
func (dr *draft) crosses(m *design.Artwork, one, other art.Where) {
	dr.notes.Errorf("art-crosses", m.At, "%s: what is drawn in %s and in %s crosses or touches, so it isn't clear what is to be cut out", m.File, one, other).
		WithHelp("move them apart or unite them in the drawing program")
}

// at tells where on its panel something lies, to a tenth of a mm or a
// hundredth of an inch: near enough to find it.
func (dr *draft) at(f Frame, b geom.Box) string {
	c := b.Center().Sub(f.Origin)
	if f.Mirrored {
		c.X = f.Width - c.X
	}
	near := func(mm float64) string { return dr.length(math.Round(10*mm) / 10) }
	if dr.design.Unit.Imperial() {
		near = func(mm float64) string {
			return dr.length(math.Round(100*mm/dr.design.Unit.Size) / 100 * dr.design.Unit.Size)
		}
	}
	return fmt.Sprintf("%s from the head and %s from the spine", near(c.Y), near(c.X))
}

// fallsOut warns of what lies free within an opening.
func (dr *draft) fallsOut(p *design.Panel, m *design.Artwork, f Frame, rings []art.Contour, depth []int) {
	n, first := 0, 0
	for i := range rings {
		if depth[i]%2 == 1 {
			if n++; n == 1 {
				first = i
			}
		}
	}
	if n > 0 {
		dr.notes.Warn(p.Quiet, "art-falls-out", m.At, "%s, %s: what lies inside falls out of %s, %s%s", m.File, rings[first].Where, p.Name,
			dr.at(f, rings[first].Bounds()), others(n)).
			WithHelp("leave bridges to it in the drawing, or engrave it instead%s", advise.Silence("art-falls-out", "panel"))
	}
}

// leastDetail is the least of artwork cut out of a board, and of what that leaves: what may burn
// away; the material may ask for more.
func leastDetail(p *design.Panel) float64 {
	if p.Stock == nil {
		return advise.BurnsAway
	}
	return p.Stock.LeastDetail.Or(advise.BurnsAway)
}

// artFine warns of a detail of artwork that is cut. what follows its file, at says where it lies.
func (dr *draft) artFine(p *design.Panel, m *design.Artwork, what, at string, least float64) {
	dr.notes.Warn(p.Quiet, "art-fine", m.At, "%s%s, %s; cut details should be at least %s", m.File, what, at, dr.length(least)).
		WithHelp("make the artwork larger, or remove details as fine as that%s", advise.Silence("art-fine", "panel"))
}

// details warns of what is too small to be cut well. What the laser's cut is too wide for goes before it: that stays board.
func (dr *draft) details(p *design.Panel, m *design.Artwork, f Frame, rings []art.Contour, o geom.Outline) {
	least := leastDetail(p)
	warn := func(where art.Where, b geom.Box, what string) {
		dr.artFine(p, m, ", "+where.String()+": "+what, dr.at(f, b), least)
	}
	boxes := make([]geom.Box, len(rings))
	edges := make([]*geom.Boundary, len(rings))
	for i, c := range rings {
		boxes[i], edges[i] = c.Bounds(), geom.NewBoundary(c.Path)
	}
	// around is the ring that a place is of.
	around := func(x geom.Point) (of art.Where) {
		nearest := math.Inf(1)
		for i, e := range edges {
			if d := e.Distance(x); d < nearest {
				nearest, of = d, rings[i].Where
			}
		}
		return of
	}
	cut := dr.kerfOf(p).Or(0)
	if loss, ok := dr.lost(o, cut); ok && !loss.Whole { // of the whole of one it is told where all cuts are
		warn(around(loss.At), loss.Box(), fmt.Sprintf("a part of what is cut out is narrower than the laser's cut of %s and stays board", dr.length(cut)))
		return
	}
	for i, c := range rings {
		if size := min(boxes[i].Width(), boxes[i].Height()); size < least-geom.Tol {
			warn(c.Where, boxes[i], fmt.Sprintf("this is only %s wide", dr.length(size)))
			return
		}
	}
	ix := geom.NewIndex(boxes)
	for i := range rings {
		for _, j := range ix.Near(boxes[i], least) {
			if j <= i {
				continue
			}
			if gap := edges[i].Clearance(edges[j]); gap < least-geom.Tol {
				warn(rings[i].Where, boxes[i], fmt.Sprintf("only %s is left between it and %s", dr.length(gap), rings[j].Where))
				return
			}
		}
	}
	// What is narrow somewhere along its way is gone, or in more pieces, once its
	// edges close in by half of the least; an arm is gone from it.
	narrow, what := least-2*geom.Tol, fmt.Sprintf("something that is cut out is narrower than %s", dr.length(least))
	if shrunk, err := dr.offset.Offset(o, -narrow/2); err != nil || len(geom.Paths(shrunk)) != len(o) {
		warn(rings[0].Where, o.Bounds(), what)
		return
	}
	if loss, ok := dr.lost(o, narrow); ok {
		warn(around(loss.At), loss.Box(), what)
		return
	}
	for i, c := range rings {
		if loss, ok := dr.lost(c.Path, -narrow); ok && o[i].Clockwise() { // what lies in it falls out
			warn(c.Where, loss.Box(), fmt.Sprintf("a tongue of the board that it leaves is narrower than %s", dr.length(least)))
			return
		}
	}
}
