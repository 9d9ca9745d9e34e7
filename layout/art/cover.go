package art

import (
	"slices"

	"foredge/layout/geom"
)

// uncovered takes from lines what white areas above them cover, and notes those that let
// too much through to do so. What runs along such an area's edge is seen.
func uncovered(lines []Contour, layers []layer, work *effort) ([]Contour, []Note, *Error) {
	var white []*cover
	var boxes []geom.Box
	for i, l := range layers {
		if !l.paper {
			continue
		}
		w := newCover(l, work)
		w.place = i
		white, boxes = append(white, w), append(boxes, w.edge.Box)
	}
	if len(white) == 0 {
		return lines, nil, nil
	}
	index := geom.NewIndex(boxes)
	var out []Contour
	var faint []Note
	for _, line := range lines {
		rest := []geom.Path{line.Path}
		for _, k := range index.Near(line.Bounds(), 0) {
			if work.spend(1); white[k].place < line.below {
				continue
			}
			left, covers := white[k].spare(rest, work)
			if work.over() {
				return nil, nil, &Error{Where: line.Where, Message: "there is too much white above it for what is seen of it to be found",
					Advice: "cut away in the drawing program what white covers"}
			}
			switch {
			case !covers:
			case white[k].letsThrough(line.fades) <= halfLight:
				rest = left
			default:
				faint = append(faint, Note{Kind: Faint, Where: white[k].where})
			}
		}
		for _, p := range rest {
			seen := line
			seen.Path = p
			out = append(out, seen)
		}
	}
	return out, faint, nil
}

// A cover is a white layer with the edges at which what it covers may end.
type cover struct {
	edged
	place int // among the layers
	ends  *edges
}

func newCover(l layer, work *effort) *cover {
	w := &cover{edged: edged{layer: l}}
	var arcs geom.Outline
	for _, p := range l.paths {
		arcs = append(arcs, asArcs.path(p))
	}
	w.edge = geom.NewBoundary(arcs)
	for _, c := range l.clips {
		w.clips = append(w.clips, c.asked(asArcs))
	}
	w.ends = newEdges(slices.Concat(w.edge.Pieces, edgesOf(w.clips, w.edge.Box, work)))
	return w
}

// spare gives what is left of lines that a white layer covers in part, if it does; those
// that it doesn't reach stay as they are, curves too.
func (w *cover) spare(lines []geom.Path, work *effort) (out []geom.Path, covers bool) {
	for _, p := range lines {
		s := sight{edges: w.ends, work: work, seen: func(x geom.Point) bool { return w.edge.Within(x, slack) || !w.covers(x, work) }}
		parts, cut := s.cutLine(p.Arcs(curveTol))
		if !cut {
			parts = []geom.Path{p}
		}
		covers = covers || cut
		out = append(out, parts...)
	}
	return out, covers
}
