package advise

import (
	"math"
	"slices"

	"foredge/eval/design"
	"foredge/eval/word"
	"foredge/layout/geom"
)

// Panel tells what there is to say of a panel as a whole. outline are the corners of its
// edge, from spine and head, toEdge is how far each of its lines runs from the nearest
// straight stretch of the board's edge beside it, in mm.
func Panel(n *Notes, p *design.Panel, outline []geom.Point, toEdge []float64) {
	across, along := cuts(p, word.Spine, p.Width), cuts(p, word.Head, p.Height)
	w, h := narrowest(across), narrowest(along)
	Narrow(n, p, p.At, min(w, h), "of "+p.Name+" at its narrowest", "make it wider")
	if piece, small := smallPiece(across, along, outline, p.Thick.Or(0)); small {
		n.Warn(p.Quiet, "small-part", p.At, "%s makes a piece of %s by %s, small enough to be swallowed: it is not for children under 3", p.Name, n.Length(piece.X), n.Length(piece.Y)).
			WithHelp("16 CFR 1501.4: it fits into a cylinder of 31.7 mm (1 1/4 in) across and 57.1 mm (2 1/4 in) deep%s", Silence("small-part", "panel"))
	}
	lines(n, p, toEdge)
	grain(n, p)
	movement(n, p)
	corners(n, p)
}

// cuts are the places, rising from one edge to the other, at which a panel of
// that size is cut right across, with both edges.
func cuts(p *design.Panel, near word.Edge, size float64) []float64 {
	at := []float64{0, size}
	for _, l := range p.Lines {
		switch {
		case l.Op != word.Cut || l.From.Level() != near.Level():
		case l.From == near:
			at = append(at, l.Distance)
		default:
			at = append(at, size-l.Distance)
		}
	}
	slices.Sort(at)
	return at
}

// narrowest is the least distance between neighbours that are apart.
func narrowest(at []float64) float64 {
	least := math.Inf(1)
	for i := 1; i < len(at); i++ {
		if d := at[i] - at[i-1]; d > geom.Tol {
			least = min(least, d)
		}
	}
	return least
}

// smallPiece finds a piece of an outline between cuts that counts as a small part.
func smallPiece(across, along []float64, outline []geom.Point, thick float64) (piece geom.Point, found bool) {
	for i := 1; i < len(across); i++ {
		for k := 1; k < len(along); k++ {
			box := geom.Box{Min: geom.Pt(across[i-1], along[k-1]), Max: geom.Pt(across[i], along[k])}
			corners, left := within(outline, box), geom.EmptyBox()
			for _, c := range corners {
				left = left.Union(geom.Box{Min: c, Max: c})
			}
			if left.Empty() || min(left.Width(), left.Height()) <= geom.Tol {
				continue // the board ends before, as beside a tab
			}
			if IsSmallPart(left.Width(), left.Height(), thick) || goesIn(corners, thick) {
				return geom.Pt(left.Width(), left.Height()), true
			}
		}
	}
	return geom.Point{}, false
}

// lines warns of scores and lines that run too close to one another or to
// the edge.
func lines(n *Notes, p *design.Panel, toEdge []float64) {
	place := func(l *design.Line) (upright bool, at, size float64) {
		upright, at, size = !l.From.Level(), l.Distance, p.Height
		if upright {
			size = p.Width
		}
		if l.From == word.Foredge || l.From == word.Tail {
			at = size - at
		}
		return upright, at, size
	}
	close := func(d float64) bool { return d > geom.Tol && d < BurnsAway-geom.Tol }
	for i := range p.Lines {
		l := &p.Lines[i]
		upright, at, size := place(l)
		what, gap, twice, cuts := "", 0.0, "", false
		side := min(at, size-at)
		edge := min(side, toEdge[i])
		if close(edge) && (l.Op != word.Cut || edge < side) { // what is left beside a cut is told of the panel
			what, gap = "the edge", edge
		}
		if edge <= geom.Tol {
			twice, cuts = "the edge", l.Op == word.Cut
		}
		for k := range p.Lines[:i] {
			o := &p.Lines[k]
			up, other, _ := place(o)
			switch d := math.Abs(at - other); {
			case up != upright:
			case close(d):
				what, gap = o.Name, d
			case d <= geom.Tol && l.Op == o.Op:
				twice, cuts = o.Name, l.Op == word.Cut
			}
		}
		if twice != "" {
			is, does := "is", "works"
			if cuts {
				is, does = "is cut", "cuts"
			}
			n.Warn(p.Quiet, "thin-detail", l.At, "%s runs where %s %s, so the laser %s twice there", l.Name, twice, is, does).
				WithHelp("take it out, or move it by %s or more (two cutting services' guides)%s", n.Length(BurnsAway), Silence("thin-detail", "panel"))
		}
		if what != "" {
			n.Warn(p.Quiet, "thin-detail", l.At, "%s runs %s from %s: what lies between may burn away", l.Name, n.Length(gap), what).
				WithHelp("keep lines %s apart (two cutting services' guides)%s", n.Length(BurnsAway), Silence("thin-detail", "panel"))
		}
	}
}
