package scene

import (
	"foredge/eval/word"
	"foredge/layout/geom"
)

// A frame is where on a view a board lies, or what a board covers: its left upper
// corner, its size in mm, and whether its spine is on the right.
type frame struct {
	origin        geom.Point
	width, height float64
	mirrored      bool
}

// at is the point so far from the spine and the head.
func (f frame) at(spine, head float64) geom.Point {
	if f.mirrored {
		spine = f.width - spine
	}
	return f.origin.Add(geom.Pt(spine, head))
}

// along is the point so far along an edge, from its start, and in from it.
func (f frame) along(edge word.Edge, run, in float64) geom.Point {
	switch edge {
	case word.Head:
		return f.at(run, in)
	case word.Tail:
		return f.at(run, f.height-in)
	case word.Foredge:
		return f.at(f.width-in, run)
	}
	return f.at(in, run)
}

// length is how long an edge is.
func (f frame) length(edge word.Edge) float64 {
	if edge.Level() {
		return f.width
	}
	return f.height
}

// side is the side of the view on which an edge lies.
func (f frame) side(edge word.Edge) string {
	switch {
	case edge == word.Head:
		return "up"
	case edge == word.Tail:
		return "down"
	case (edge == word.Foredge) != f.mirrored:
		return "right"
	}
	return "left"
}

// within is the frame of something that lies in f, so far from its edges.
func (f frame) within(spine, head, width, height float64) frame {
	left := spine
	if f.mirrored {
		left = f.width - spine - width
	}
	return frame{f.origin.Add(geom.Pt(left, head)), width, height, f.mirrored}
}
