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
	edges  []*geom.Boundary // of the shapes, made when first asked for
}

// edge is the boundary of a shape.
func (in *inked) edge(i int) *geom.Boundary {
	if in.edges == nil {
		in.edges = make([]*geom.Boundary, len(in.shapes))
	}
	if in.edges[i] == nil {
		in.edges[i] = geom.NewBoundary(in.shapes[i].Figure)
	}
	return in.edges[i]
}

// How many pairs of shapes of a face are looked at for ink that lies on other ink,
// how many of these exactly, and how many pieces of boundaries those of all faces may
// have together, so that drawings of many thousands take no time.
const (
	mostPairs  = 100_000
	mostInk    = 2000
	mostPieces = 14_000_000
)

// inkLeft is how many more may be looked at.
type inkLeft struct{ pairs, exact, pieces int }

// take counts a pair that is looked at exactly; false if there is no room for it.
func (l *inkLeft) take(a, b *geom.Boundary) bool {
	l.exact--
	l.pieces -= len(a.Pieces) + len(b.Pieces)
	return l.exact >= 0 && l.pieces >= 0
}

// checkInk warns of marks of one region that lie on those of another. What is meant
// to be together stands in one region; a frame round a whole region meets nothing.
func (dr *draft) checkInk(p *design.Panel, all []inked) {
	boxes := make([]geom.Box, len(all))
	for i, in := range all {
		boxes[i] = in.box.Bounds()
	}
	index := geom.NewIndex(boxes)
	left := inkLeft{mostPairs, mostInk, mostPieces - dr.inked}
	defer func() { dr.inked = mostPieces - left.pieces }()
	for j := range all {
		b := &all[j]
		if left.pairs <= 0 || left.exact <= 0 || left.pieces <= 0 {
			return
		}
		for _, i := range index.Near(boxes[j], 0) {
			if left.pairs--; i >= j || left.pairs <= 0 {
				continue
			}
			a := &all[i]
			first, second, ok := overInk(a, b, &left)
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
func overInk(one, other *inked, left *inkLeft) (a, b *Shape, ok bool) {
	for i := range one.shapes {
		for k := range other.shapes {
			if left.pairs--; left.pairs <= 0 {
				return nil, nil, false
			}
			a, b := &one.shapes[i], &other.shapes[k]
			if a.Op == Cut || b.Op == Cut || !a.Figure.Bounds().Meets(b.Figure.Bounds()) {
				continue
			}
			edge, with := one.edge(i), other.edge(k)
			if !left.take(edge, with) {
				return nil, nil, false
			}
			if a.Op == Engrave && b.Op == Engrave {
				if edge.Overlaps(with) {
					return a, b, true
				}
			} else if edge.Meets(with) {
				return a, b, true
			}
		}
	}
	return nil, nil, false
}
