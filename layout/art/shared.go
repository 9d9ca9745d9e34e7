package art

import (
	"math"
	"slices"

	"foredge/layout/geom"
	"foredge/layout/internal/groups"
	"foredge/layout/internal/strand"
)

// united makes of closed lines that share stretches, as neighbours do, the outline of all
// that they hold, and lines along what parts it: what is cut out together has one edge to
// the board, which is allowed for the width of the cut, and each of the others is cut
// once. Only lines of the operations of whole are looked at, and lines that cross stay as
// they are. It notes what has become part of another.
func united(lines []Contour, whole map[int]bool) (out []Contour, notes []Note) {
	var rings []int
	var edges []*geom.Boundary
	var boxes []geom.Box
	for i, l := range lines {
		if l.Closed && whole[l.Op] {
			rings = append(rings, i)
			edges = append(edges, geom.NewBoundary(l.Arcs(curveTol)))
			boxes = append(boxes, edges[len(edges)-1].Box)
		}
	}
	meet := groups.New(len(rings))
	index := geom.NewIndex(boxes)
	work := 0
	for i := range rings {
		for _, j := range index.Near(boxes[i], sameLine) {
			if work += len(edges[i].Pieces); j > i && work < maxPairs && lines[rings[i]].Op == lines[rings[j]].Op && edges[i].Clearance(edges[j]) <= sameLine {
				meet.Unite(i, j)
			}
		}
	}
	instead := map[int][]Contour{} // of the first of a group
	gone := map[int]bool{}
	for _, group := range meet.Lists() {
		if len(group) < 2 {
			continue
		}
		var all []Contour
		for _, k := range group {
			all = append(all, lines[rings[k]])
		}
		if parts, ok := outlineOf(all); ok {
			instead[rings[group[0]]] = parts
			for i, k := range group {
				if gone[rings[k]] = true; i > 0 {
					notes = append(notes, Note{Kind: Twice, Where: lines[rings[k]].Where})
				}
			}
		}
	}
	for i, l := range lines {
		out = append(out, instead[i]...)
		if !gone[i] {
			out = append(out, l)
		}
	}
	return out, notes
}

// outlineOf is the outline of what closed lines hold together, and behind it what parts
// that; ok is false where they cross, or where that can't be told.
func outlineOf(rings []Contour) (out []Contour, ok bool) {
	rings = aligned(rings)
	var layers []layer
	var all []strand.Strand
	var edges []*geom.Boundary
	var boxes []geom.Box
	for i, r := range rings {
		arcs := r.Arcs(curveTol)
		layers = append(layers, layer{paths: []geom.Path{arcs}, color: black(), where: r.Where})
		edges = append(edges, geom.NewBoundary(arcs))
		boxes = append(boxes, edges[i].Box)
		for p := range arcs.Pieces() {
			all = append(all, strand.New(p, i, len(all)))
		}
	}
	cut := strand.Cut(all)
	if cross(cut, edges, geom.NewIndex(boxes)) {
		return nil, false
	}
	work := newEffort()
	outline, _, err := resolve(layers, work)
	if err != nil {
		return nil, false
	}
	once, _, _ := single(rings, nil)
	a := newArea(layers, work, func(p geom.Path) geom.Path { return p }, nil)
	var inner []Contour
	for _, s := range cut {
		if left, right := a.beside(s.Piece, anywhere); a.seen(left, nil).inked && a.seen(right, nil).inked {
			inner = append(inner, Contour{Path: geom.Path{Start: s.From, Segments: []geom.Segment{s.Segment}}, Where: rings[s.Ring].Where})
		}
	}
	inner, _, _ = single(inner, nil)
	long := 0.0
	for _, c := range append(slices.Clone(outline), inner...) {
		long += geom.Length(c.Path)
	}
	for _, c := range once {
		long -= geom.Length(c.Path)
	}
	if math.Abs(long) > 0.01 {
		return nil, false
	}
	for i := range outline {
		outline[i].Op, outline[i].Width = rings[0].Op, rings[0].Width
	}
	for _, c := range Joined(inner, sameLine) {
		if geom.Length(c.Path) <= sameLine {
			continue // where corners of several meet nothing is left to cut
		}
		c.Op, c.Width, c.Inner = rings[0].Op, rings[0].Width, true
		c.Closed = false // there is board on both sides of it, so it is cut along its middle
		outline = append(outline, c)
	}
	return outline, true
}

// aligned are closed lines whose corners lie in one upright or level line where they do
// so to within sameLine, as those of a grid that a file rounds. Those with arcs or curves
// stay as they are.
func aligned(rings []Contour) []Contour {
	straight := func(r Contour) bool {
		return !slices.ContainsFunc(r.Segments, func(s geom.Segment) bool { return s.Kind != geom.LineTo })
	}
	var xs, ys []float64
	for _, r := range rings {
		for _, s := range r.Segments {
			xs, ys = append(xs, s.End.X), append(ys, s.End.Y)
		}
	}
	toX, toY := nearest(xs), nearest(ys)
	out := slices.Clone(rings)
	for i, r := range rings {
		if !straight(r) {
			continue
		}
		var corners []geom.Point
		for _, s := range r.Segments {
			corners = append(corners, geom.Pt(toX[s.End.X], toY[s.End.Y]))
		}
		out[i].Path = geom.Polygon(corners...)
	}
	return out
}

// nearest gives for each number the least of those that it stands for: all within
// sameLine above it.
func nearest(all []float64) map[float64]float64 {
	slices.Sort(all)
	out := make(map[float64]float64, len(all))
	first := math.Inf(-1)
	for _, v := range all {
		if v-first > sameLine {
			first = v
		}
		out[v] = first
	}
	return out
}

// cross says whether a closed line lies in another one in part, and in part outside.
func cross(cut []strand.Strand, edges []*geom.Boundary, index *geom.Index) bool {
	inside, outside := map[[2]int]bool{}, map[[2]int]bool{}
	for _, s := range cut {
		mid := s.At(0.5)
		for _, other := range index.Near(edges[s.Ring].Box, 0) {
			if other == s.Ring || edges[other].Within(mid, sameLine) {
				continue
			}
			pair := [2]int{s.Ring, other}
			if edges[other].Contains(mid) {
				inside[pair] = true
			} else {
				outside[pair] = true
			}
			if inside[pair] && outside[pair] {
				return true
			}
		}
	}
	return false
}
