package layout

import (
	"foredge/eval/opening"
	"foredge/layout/geom"
	drawn "foredge/layout/opening"
)

// A card is a rectangle, which may lie on a notebook in four ways, and only one is
// right. Its mark lies in one quarter, that of head and foredge, and off the middle
// of its edge, so that in each other way it is somewhere else.

// cardMarkSizes are how wide and how deep a mark is, in mm, and how much card stays
// beside it at the corner, and between it and a hole or the middle; the first is
// taken for which there is room.
var cardMarkSizes = [...]struct{ wide, deep, corner, clear float64 }{{4, 2.5, 2.5, 1.5}, {4, 2.5, 1.5, 1.5}, {3, 2, 1, 1}, {2, 1.2, 0.6, 0.6}}

const (
	cardMarkStep  = 0.5 // between the places that are tried, in mm
	cardMarkTries = 40
)

// cardMark finds a place for the mark of a card whose edges are box: in its head or
// else in the side that is the foredge's, as near to the corner between them as the
// holes leave room. ok is false if they leave none.
func cardMark(box geom.Box, foredge drawn.Side, holes []Shape) (mark drawn.Notch, ok bool) {
	corner := box.Min
	if foredge == drawn.Right {
		corner.X = box.Max.X
	}
	var near []geom.Figure // holes that a mark could touch
	reach := cardMarkStep*cardMarkTries + 10
	for i := range holes {
		if b := holes[i].Figure.Bounds(); b.Distance(geom.Box{Min: corner, Max: corner}) <= reach {
			near = append(near, holes[i].Figure)
		}
	}
	for _, size := range cardMarkSizes {
		for _, side := range []drawn.Side{drawn.Upper, foredge} {
			mark := drawn.Notch{Opening: opening.Opening{Form: opening.Rect, Along: size.wide, Across: size.deep}, Side: side, Neck: size.wide}
			start, inward, length, across := corner.Y, 1.0, box.Height(), box.Width()
			if side == drawn.Upper {
				start, length, across = corner.X, box.Width(), box.Height()
				if foredge == drawn.Right {
					inward = -1
				}
			}
			if size.deep+size.clear > across/2 {
				continue
			}
			for try := range cardMarkTries {
				from := size.corner + float64(try)*cardMarkStep
				if from+size.wide+size.clear > length/2 {
					break
				}
				mark.At = start + inward*(from+size.wide/2)
				if clears(mark.Figure(box), near, size.clear) {
					return mark, true
				}
			}
		}
	}
	return drawn.Notch{}, false
}

// clears reports whether a figure keeps its distance from all others.
func clears(f geom.Figure, others []geom.Figure, distance float64) bool {
	b := f.Bounds()
	for _, o := range others {
		if b.Distance(o.Bounds()) < distance && geom.Gap(f, o) < distance {
			return false
		}
	}
	return true
}
