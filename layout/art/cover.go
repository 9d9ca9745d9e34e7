package art

import "foredge/layout/geom"

// uncovered takes from lines what white areas above them cover, and notes those that let
// too much through to do so. What runs along such an area's edge is seen.
func uncovered(lines []Contour, layers []layer) ([]Contour, []Note, *Error) {
	var white []edged
	var place []int // of each among the layers
	var boxes []geom.Box
	for i, l := range layers {
		if !l.paper {
			continue
		}
		w := edged{layer: l}
		var arcs geom.Outline
		for _, p := range l.paths {
			arcs = append(arcs, p.Arcs(curveTol))
		}
		w.edge = geom.NewBoundary(arcs)
		for _, c := range l.clips {
			w.clips = append(w.clips, c.asked())
		}
		white, place, boxes = append(white, w), append(place, i), append(boxes, w.edge.Box)
	}
	if len(white) == 0 {
		return lines, nil, nil
	}
	index := geom.NewIndex(boxes)
	var out []Contour
	var faint []Note
	work := 0
	for _, line := range lines {
		rest := []geom.Path{line.Path}
		for _, k := range index.Near(line.Bounds(), 0) {
			if place[k] < line.below {
				continue
			}
			edge := white[k].edges()
			if work += len(line.Segments) * len(edge); work > maxWork {
				return nil, nil, &Error{Where: line.Where, Message: "there is too much white above it for what is seen of it to be found",
					Advice: "cut away in the drawing program what white covers"}
			}
			left, covers := white[k].spare(rest, edge)
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

// edges are the pieces at which what the layer covers may end.
func (l *edged) edges() []geom.Piece {
	all := l.edge.Pieces
	for _, c := range l.clips {
		all = append(all[:len(all):len(all)], c.pieces...)
	}
	return all
}

// spare gives what is left of lines that a white layer covers in part, if it does; those
// that it doesn't reach stay as they are, curves too.
func (l *edged) spare(lines []geom.Path, edge []geom.Piece) (out []geom.Path, covers bool) {
	for _, p := range lines {
		hidden := false
		parts := cutLine(p.Arcs(curveTol), edge, func(x geom.Point) bool {
			covered := l.covers(x) && !l.edge.Within(x, slack)
			hidden = hidden || covered
			return !covered
		})
		if !hidden {
			parts = []geom.Path{p}
		}
		covers = covers || hidden
		out = append(out, parts...)
	}
	return out, covers
}
