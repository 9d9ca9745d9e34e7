package lettering

import (
	"foredge/layout/geom"
	"foredge/layout/internal/groups"
	"foredge/layout/internal/strand"
)

// curveTol is how far in mm the arcs that stand for curves lie from them, where
// letters overlap and are cut and joined; letters that stand free keep theirs.
const curveTol = geom.CurveTol

// A glyph is the outline of one sign.
type glyph struct {
	id      uint32 // in its font
	outline geom.Outline
	box     geom.Box // of the outline at the origin; not kept up when it is moved
	// clean says that its paths cross nowhere, that material runs clockwise and
	// counters the other way, and that no path lies inside its own material.
	clean bool
}

// A placed glyph is one in its place, in mm. Its box is not kept up.
type placed struct {
	glyph
	place
}

// A place says how a glyph was scaled from font units, bent if its letters hang
// together, turned and then moved.
type place struct {
	k, turn float64 // mm a unit; radians, clockwise as seen
	shift   geom.Point
	bend    bend
}

// similarity is what a place does to a glyph that isn't bent.
func (p place) similarity() geom.Similarity {
	return geom.Scale(p.k).Then(geom.Turn(geom.Point{}, p.turn)).Then(geom.Shift(p.shift))
}

func (g glyph) at(p place) placed {
	if p.bend.r == 0 {
		g.outline = p.similarity().Outline(g.outline)
		return placed{g, p}
	}
	bent := p.bend.outline(geom.Scale(p.k).Outline(g.outline))
	g.outline = geom.Turn(geom.Point{}, p.turn).Then(geom.Shift(p.shift)).Outline(bent)
	return placed{g, p}
}

// A part is what some glyphs that are connected fill.
type part struct {
	glyphs  []placed
	outline geom.Outline
}

// unite gives the outlines of what the glyphs fill by the non-zero rule, without
// overlaps. Glyphs that meet no other keep their segments.
func unite(glyphs []placed) []part {
	boxes := make([]geom.Box, len(glyphs))
	for i, g := range glyphs {
		boxes[i] = g.outline.Bounds()
	}
	ix := geom.NewIndex(boxes)
	hang := groups.New(len(glyphs))
	for i := range glyphs {
		for _, j := range ix.Near(boxes[i], 0) {
			if j > i && !hang.Same(i, j) && meet(glyphs[i].outline, glyphs[j].outline) {
				hang.Unite(i, j)
			}
		}
	}
	var out []part
	for _, group := range hang.Lists() {
		p := part{}
		for _, k := range group {
			p.glyphs = append(p.glyphs, glyphs[k])
			p.outline = append(p.outline, glyphs[k].outline...)
		}
		if len(group) > 1 || !glyphs[group[0]].clean {
			p.outline = uniteAll(p.outline)
		}
		out = append(out, p)
	}
	return out
}

func outlineOf(parts []part) geom.Outline {
	var out geom.Outline
	for _, p := range parts {
		out = append(out, p.outline...)
	}
	return out
}

// meet says whether two outlines cross, or one may lie inside a path of the
// other.
func meet(a, b geom.Outline) bool {
	for _, p := range a {
		for _, q := range b {
			if s, t := p.Bounds(), q.Bounds(); s.Holds(t) || t.Holds(s) {
				return true
			}
		}
	}
	return touches(pieces(a), pieces(b))
}

// uniteAll is what the paths fill by the non-zero rule.
func uniteAll(o geom.Outline) geom.Outline {
	out, ok := areas(o, nil)
	if !ok {
		return o // what is filled is the same; only its overlaps stay
	}
	return out
}

// areas is what the paths of o fill and those of minus don't, both by the
// non-zero rule. All are cut, as arcs, where they meet, and what has material on
// one side only is joined up. ok is false if that doesn't close.
func areas(o, minus geom.Outline) (out geom.Outline, ok bool) {
	edges := make([]*geom.Boundary, 0, len(o)+len(minus))
	boxes := make([]geom.Box, 0, len(o)+len(minus))
	var all []strand.Strand
	for i, p := range append(o[:len(o):len(o)], minus...) {
		p = p.Arcs(curveTol)
		b := geom.NewBoundary(p)
		edges, boxes = append(edges, b), append(boxes, b.Box)
		for piece := range p.Pieces() {
			all = append(all, strand.New(piece, i, len(all)))
		}
	}
	ix := geom.NewIndex(boxes)
	filled := func(x geom.Point) bool {
		in, off := 0, 0
		for _, j := range ix.Near(geom.Box{Min: x, Max: x}, 0) {
			if w := edges[j].Winding(x); j < len(o) {
				in += w
			} else {
				off += w
			}
		}
		return in != 0 && off == 0
	}
	const aside = 1e-6 // mm; far below the resolution of the files
	var kept []strand.Strand
	for _, s := range strand.Cut(all) {
		mid, u := s.At(0.5), s.Tangent(0.5)
		step := geom.Pt(u.Y, -u.X).Mul(aside)
		switch left, right := filled(mid.Add(step)), filled(mid.Sub(step)); {
		case right && !left:
			kept = append(kept, s)
		case left && !right:
			kept = append(kept, s.Reverse())
		}
	}
	loops, ok := strand.Loops(strand.Distinct(kept))
	if !ok {
		return nil, false
	}
	for _, loop := range loops {
		out = append(out, strand.Path(loop))
	}
	return out, true
}

// orient turns the paths of an outline that cross nowhere, and leaves out those
// inside its material. They are looked at as em makes them.
func orient(o geom.Outline, em geom.Similarity) geom.Outline {
	edges := make([]*geom.Boundary, len(o))
	for i, p := range o {
		edges[i] = geom.NewBoundary(em.Path(p).Arcs(1e-4))
	}
	var out geom.Outline
	for i, p := range o {
		outside := 0
		for j, e := range edges {
			if i != j && e.Box.Holds(edges[i].Box) {
				outside += e.Winding(em.Point(p.Start))
			}
		}
		inside := outside + 1
		if !p.Clockwise() {
			inside = outside - 1
		}
		switch {
		case outside == 0:
			out = append(out, p.Oriented(true))
		case inside == 0:
			out = append(out, p.Oriented(false))
		}
	}
	return out
}

func pieces(o geom.Outline) []geom.Piece {
	var all []geom.Piece
	for _, p := range o {
		for s := range p.Pieces() {
			all = append(all, s)
		}
	}
	return all
}

// touches says whether pieces of a meet pieces of b, or with no b whether those
// of a meet otherwise than end to start. Nearer than a micron, or a
// ten-thousandth of their size, is met.
func touches(a, b []geom.Piece) bool {
	within := b == nil
	if within {
		b = a
	}
	boxes := make([]geom.Box, len(b))
	all := geom.EmptyBox()
	for i, p := range b {
		boxes[i] = p.Bounds()
		all = all.Union(boxes[i])
	}
	ix := geom.NewIndex(boxes)
	fine := 1e-3 * max(1, all.Width()/10, all.Height()/10)
	for i, p := range a {
		for _, j := range ix.Near(p.Bounds(), 0) {
			if within && j <= i {
				continue
			}
			q := b[j]
			var joints []geom.Point
			if within && p.End == q.From {
				joints = append(joints, p.End)
			}
			if within && q.End == p.From {
				joints = append(joints, q.End)
			}
			if approach(p, q, joints, fine) {
				return true
			}
		}
	}
	return false
}

// approach says whether two pieces come closer than fine mm away from the joints
// that they share, by halving them.
func approach(p, q geom.Piece, joints []geom.Point, fine float64) bool {
	a, b := p.Bounds(), q.Bounds()
	if !a.Meets(b) {
		return false
	}
	if size := max(a.Width(), a.Height(), b.Width(), b.Height()); size < fine {
		for _, x := range joints {
			if a.Distance(geom.Box{Min: x, Max: x}) < 4*fine {
				return false
			}
		}
		return true
	}
	if max(a.Width(), a.Height()) < max(b.Width(), b.Height()) {
		p, q = q, p
	}
	return approach(p.Part(0, 0.5), q, joints, fine) || approach(p.Part(0.5, 1), q, joints, fine)
}
