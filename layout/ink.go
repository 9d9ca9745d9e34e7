package layout

import (
	"slices"

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

// inkTol is how near in mm lines are to one another that touch, as those of one drawing
// that are one line: what comes out is a line burnt twice.
const inkTol = 1e-3

// How many lines and curves of a panel are looked at for ink that lies on other ink, and
// how many of one region or of two, so that drawings of many thousands take little time and
// hide nothing of others; and how many are held ready at once.
// Of one panel no more than mostTold are told.
const (
	mostInk  = 4_000_000
	mostEach = 400_000
	mostHeld = 250_000
	mostTold = 20
)

// inkLeft is how many lines and curves may be looked at, in all and of what is looked at
// just now, how much may be told, and the edges of shapes that have been looked at.
type inkLeft struct {
	all, each, told int
	edges           map[*Shape]*geom.Boundary
	held            int // the lines and curves of edges
}

// spend takes the work of looking at n lines and curves; it is false where none was left.
func (l *inkLeft) spend(n int) bool {
	if l.all <= 0 || l.each <= 0 {
		return false
	}
	l.all, l.each = l.all-n, l.each-n
	return true
}

func (l *inkLeft) edge(s *Shape) *geom.Boundary {
	b, ok := l.edges[s]
	if !ok {
		b = geom.NewBoundary(s.Figure)
		if l.held += len(b.Pieces); l.held > mostHeld {
			clear(l.edges)
			l.held = len(b.Pieces)
		}
		l.edges[s] = b
	}
	l.spend(len(b.Pieces))
	return b
}

// near is an index of the boxes of shapes.
func near(shapes []Shape) *geom.Index {
	boxes := make([]geom.Box, len(shapes))
	for i := range shapes {
		boxes[i] = shapes[i].Figure.Bounds()
	}
	return geom.NewIndex(boxes)
}

// checkInk warns of marks that lie on others where that can't be meant. Lines that are
// meant to cross stand in one region; a frame round a whole region meets nothing.
func (dr *draft) checkInk(p *design.Panel, all []inked) {
	if p.Quiet.Has("ink") {
		return
	}
	boxes := make([]geom.Box, len(all))
	for i, in := range all {
		boxes[i] = in.box.Bounds()
	}
	index := geom.NewIndex(boxes)
	left := inkLeft{all: mostInk, told: mostTold, edges: map[*Shape]*geom.Boundary{}}
	for _, in := range all {
		left.each = mostEach
		dr.checkWithin(p, in, &left)
	}
	left.all = mostInk
	for j, b := range all {
		var ready *geom.Index // of the shapes of b
		for _, i := range index.Near(boxes[j], inkTol) {
			left.each = mostEach
			if i >= j || left.told <= 0 || !left.spend(1) {
				break
			}
			if ready == nil {
				ready = near(b.shapes)
			}
			a := all[i]
			first, second, ok := overInk(a.shapes, b.shapes, ready, &left)
			if !ok {
				continue
			}
			left.told--
			hint := "move one of the regions or make it smaller"
			if (!inks(first) || !inks(second)) && first.At != second.At && !isInlay(a.region, first) && !isInlay(b.region, second) {
				hint += "; lines that are meant to cross may stand in one region"
			}
			dr.notes.Warn(p.Quiet, "ink", second.At, "what is drawn in %s of %s lies on what is drawn in %s", b.region.Name, p.Name, a.region.Name).
				Note(first.At, "the other is here").WithHelp("%s", hint)
		}
	}
}

// isInlay says whether a shape of a region's marks is of what is laid in: nothing may stand in one
// region with it that lies on it.
func isInlay(r *design.Region, s *Shape) bool {
	return slices.ContainsFunc(r.Marks, func(m design.Mark) bool { return m.Place() == s.At && design.InlayOf(m) != nil })
}

// checkWithin warns of marks of one region of which one lies on the other where one is laid in,
// or both are engraved, or both are one line: what is burnt twice is deeper there, letters on
// letters can't be read, and a recess that is cut has no floor, nor have letters that are cut out.
// A line may run through letters, and a drawing that is engraved is a ground for letters that are cut.
func (dr *draft) checkWithin(p *design.Panel, in inked, left *inkLeft) {
	if len(in.region.Marks) < 2 {
		return
	}
	laid, letters := map[source.Span]bool{}, map[source.Span]bool{}
	for _, m := range in.region.Marks {
		laid[m.Place()] = design.InlayOf(m) != nil
		_, letters[m.Place()] = m.(*design.Lettering)
	}
	first, index := 0, near(in.shapes) // first of the shapes of this mark, which stand one after another
	for i := range in.shapes {
		if in.shapes[i].At != in.shapes[first].At {
			first = i
		}
		if first == 0 {
			continue
		}
		for _, k := range index.Near(in.shapes[i].Figure.Bounds(), inkTol) {
			if k >= first {
				break
			}
			a, b := &in.shapes[k], &in.shapes[i]
			if !left.spend(1) || left.told <= 0 {
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
			case letters[a.At] && letters[b.At] && (a.Op == Cut && inks(b) || inks(a) && b.Op == Cut):
				if left.edge(a).Overlaps(left.edge(b)) {
					message, hint = "of two texts here in %s of %s one is engraved where the other is cut out", "move one of them into a region beside it"
				}
			case a.Op == b.Op && a.Op != Cut && left.sameLine(a.Figure, b.Figure):
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

// sameLine reports whether two figures are one line, to [inkTol], in whatever form: a frame's
// rectangle and the path of one in a drawing are.
func (l *inkLeft) sameLine(f, g geom.Figure) bool {
	b, c := f.Bounds(), g.Bounds()
	if b.Min.Distance(c.Min) > inkTol || b.Max.Distance(c.Max) > inkTol {
		return false
	}
	apart, looked := geom.HausdorffCost(f, g)
	l.spend(looked)
	return apart <= inkTol
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
// an area, edges and lines that cross or touch, or a line within what is engraved all over,
// where it can't be seen and, if that is laid in, is lost. Of a picture what is dark
// counts. The index is of bs.
func overInk(as, bs []Shape, index *geom.Index, left *inkLeft) (a, b *Shape, ok bool) {
	for i := range as {
		a := &as[i]
		if a.Op == Cut {
			continue
		}
		for _, k := range index.Near(a.Figure.Bounds(), inkTol) {
			b := &bs[k]
			switch {
			case !left.spend(1):
				return nil, nil, false
			case b.Op == Cut:
			case a.Raster != nil:
				ok = left.burns(a, b)
			case b.Raster != nil:
				ok = left.burns(b, a)
			case a.Op == Engrave && b.Op == Engrave:
				ok = left.edge(a).Overlaps(left.edge(b))
			default:
				one, other := left.edge(a), left.edge(b)
				ok = one.Nears(other, inkTol) || inks(a) && other.Enters(one) || inks(b) && one.Enters(other)
			}
			if ok {
				return a, b, true
			}
		}
	}
	return nil, nil, false
}
