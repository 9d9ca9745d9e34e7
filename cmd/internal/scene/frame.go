package scene

import (
	"foredge/eval/word"
	"foredge/layout"
	"foredge/layout/geom"
)

// A frame is where on a view a board lies, or what a board covers.
type frame struct{ layout.Frame }

// length is how long an edge is.
func (f frame) length(edge word.Edge) float64 {
	if edge.Level() {
		return f.Width
	}
	return f.Height
}

// side is the side of the view on which an edge lies.
func (f frame) side(edge word.Edge) string {
	switch {
	case edge == word.Head:
		return "up"
	case edge == word.Tail:
		return "down"
	case (edge == word.Foredge) != f.Mirrored:
		return "right"
	}
	return "left"
}

// within is the frame of something that lies in f, so far from its edges.
func (f frame) within(spine, head, width, height float64) frame {
	left := spine
	if f.Mirrored {
		left = f.Width - spine - width
	}
	return frame{layout.Frame{Origin: f.Origin.Add(geom.Pt(left, head)), Width: width, Height: height, Mirrored: f.Mirrored}}
}
