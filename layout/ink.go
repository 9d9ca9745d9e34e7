package layout

import (
	"foredge/eval/design"
	"foredge/layout/geom"
)

// An inked is what a region's marks draw on a face of its board.
type inked struct {
	region *design.Region
	box    geom.Rect
	shapes []Shape
}

// How many pairs of shapes of a face are looked at for ink that lies on other ink,
// and how many of these exactly, so that drawings of many thousands take no time.
const (
	mostPairs = 100_000
	mostInk   = 2000
)

// inkLeft is how many more may be looked at.
type inkLeft struct{ pairs, exact int }

// checkInk warns of marks of one region that lie on those of another. What is meant
// to be together stands in one region; a frame round a whole region meets nothing.
func (dr *draft) checkInk(p *design.Panel, all []inked) {
	boxes := make([]geom.Box, len(all))
	for i, in := range all {
		boxes[i] = in.box.Bounds()
	}
	index := geom.NewIndex(boxes)
	left := inkLeft{mostPairs, mostInk}
	for j, b := range all {
		if left.pairs <= 0 || left.exact <= 0 {
			return
		}
		for _, i := range index.Near(boxes[j], 0) {
			if left.pairs--; i >= j || left.pairs <= 0 {
				continue
			}
			a := all[i]
			first, second, ok := overInk(a.shapes, b.shapes, &left)
			if !ok {
				continue
			}
			dr.notes.Warn(p.Quiet, "ink", second.At, "what is drawn in %s of %s lies on what is drawn in %s", b.region.Name, p.Name, a.region.Name).
				Note(first.At, "the other is here").
				WithHelp("move one of the regions or make it smaller; what belongs together may stand in one region")
		}
	}
}

// overInk finds two shapes of which one lies on the other: filled ones that share
// an area, or edges and lines that cross.
func overInk(as, bs []Shape, left *inkLeft) (a, b *Shape, ok bool) {
	for i := range as {
		for k := range bs {
			if left.pairs--; left.pairs <= 0 {
				return nil, nil, false
			}
			a, b := &as[i], &bs[k]
			if a.Op == Cut || b.Op == Cut || !a.Figure.Bounds().Meets(b.Figure.Bounds()) {
				continue
			}
			if left.exact--; left.exact < 0 {
				return nil, nil, false
			}
			if a.Op == Engrave && b.Op == Engrave {
				if geom.Overlap(a.Figure, b.Figure) {
					return a, b, true
				}
			} else if geom.NewBoundary(a.Figure).Meets(geom.NewBoundary(b.Figure)) {
				return a, b, true
			}
		}
	}
	return nil, nil, false
}
