package layout

import (
	"foredge/eval/design"
	"foredge/lang/source"
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
// Of one panel no more than mostTold are told.
const (
	mostPairs = 100_000
	mostInk   = 500
	mostTold  = 20
)

// inkLeft is how many more may be looked at and told, and the edges of the shapes
// that have been looked at.
type inkLeft struct {
	pairs, exact, told int
	edges              map[*Shape]*geom.Boundary
}

func (l *inkLeft) edge(s *Shape) *geom.Boundary {
	b, ok := l.edges[s]
	if !ok {
		b = geom.NewBoundary(s.Figure)
		l.edges[s] = b
	}
	return b
}

// checkInk warns of marks that lie on others where that can't be meant. Lines that are
// meant to cross stand in one region; a frame round a whole region meets nothing.
func (dr *draft) checkInk(p *design.Panel, all []inked) {
	boxes := make([]geom.Box, len(all))
	for i, in := range all {
		boxes[i] = in.box.Bounds()
	}
	index := geom.NewIndex(boxes)
	left := inkLeft{mostPairs, mostInk, mostTold, map[*Shape]*geom.Boundary{}}
	within := left
	for _, in := range all {
		dr.checkWithin(p, in, &within)
	}
	left.told = within.told
	for j, b := range all {
		if left.pairs <= 0 || left.exact <= 0 || left.told <= 0 {
			return
		}
		for _, i := range index.Near(boxes[j], 0) {
			if left.pairs--; i >= j || left.pairs <= 0 || left.told <= 0 {
				continue
			}
			a := all[i]
			first, second, ok := overInk(a.shapes, b.shapes, &left)
			if !ok {
				continue
			}
			left.told--
			hint := "move one of the regions or make it smaller"
			if !inks(first) || !inks(second) {
				hint += "; lines that are meant to cross may stand in one region"
			}
			dr.notes.Warn(p.Quiet, "ink", second.At, "what is drawn in %s of %s lies on what is drawn in %s", b.region.Name, p.Name, a.region.Name).
				Note(first.At, "the other is here").WithHelp("%s", hint)
		}
	}
}

// checkWithin warns of marks of one region of which one lies on the other where one is laid in,
// or both are engraved, or both are one line: what is burnt twice is deeper there, letters on
// letters can't be read, and a recess that is cut has no floor. A line may run through letters.
func (dr *draft) checkWithin(p *design.Panel, in inked, left *inkLeft) {
	if len(in.region.Marks) < 2 {
		return
	}
	laid := map[source.Span]bool{}
	for _, m := range in.region.Marks {
		laid[m.Place()] = design.InlayOf(m) != nil
	}
	first := 0 // of the shapes of this mark, which stand one after another
	for i := range in.shapes {
		if in.shapes[i].At != in.shapes[first].At {
			first = i
		}
		for k := range in.shapes[:first] {
			a, b := &in.shapes[k], &in.shapes[i]
			if a.At == b.At {
				continue
			}
			if left.pairs--; left.pairs <= 0 || left.told <= 0 {
				return
			}
			if !a.Figure.Bounds().Meets(b.Figure.Bounds()) {
				continue
			}
			if left.exact--; left.exact < 0 {
				return
			}
			message, hint := "", ""
			switch {
			case laid[a.At] || laid[b.At]:
				if left.liesOn(a, b) {
					message, hint = "what is drawn here in %s of %s lies on something else in it, and one of the two is laid in", "move one of them into a region beside it"
				}
			case inks(a) && inks(b):
				if left.edge(a).Overlaps(left.edge(b)) {
					message, hint = "what is engraved here in %s of %s lies on what else is engraved in it", "move one of them into a region beside it; the lines of one text are written as one, with \\n between them"
				}
			case a.Op == b.Op && a.Op != Cut && sameLine(a.Figure, b.Figure):
				message, hint = "what is drawn here in %s of %s is drawn twice, and would be burnt twice", "take one of them out"
			}
			if message != "" {
				dr.notes.Warn(p.Quiet, "ink", b.At, message, in.region.Name, p.Name).Note(a.At, "the other is here").WithHelp("%s", hint)
				left.told--
				return
			}
		}
	}
}

// sameLine reports whether two figures are one line, in whatever form: a frame's rectangle and
// the path of one in a drawing are.
func sameLine(f, g geom.Figure) bool {
	b, c := f.Bounds(), g.Bounds()
	return b.Min.Distance(c.Min) < geom.Tol && b.Max.Distance(c.Max) < geom.Tol && geom.Hausdorff(f, g) < 2*geom.HausdorffTol
}

// liesOn reports whether of two shapes one lies on the other, or crosses or touches it.
func (l *inkLeft) liesOn(a, b *Shape) bool {
	one, other := l.edge(a), l.edge(b)
	return one.Meets(other) || filled(a) && other.Enters(one) || filled(b) && one.Enters(other) || filled(a) && filled(b) && one.Overlaps(other)
}

// inks says whether a shape is engraved all over; a picture is so where it is dark alone.
func inks(s *Shape) bool { return s.Op == Engrave && s.Raster == nil }

// filled says whether a shape takes away all that it bounds.
func filled(s *Shape) bool { return s.Op == Engrave || s.Op == Cut }

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
				if left.edge(a).Overlaps(left.edge(b)) {
					return a, b, true
				}
			} else if left.edge(a).Meets(left.edge(b)) {
				return a, b, true
			}
		}
	}
	return nil, nil, false
}
