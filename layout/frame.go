package layout

import (
	"foredge/eval/design"
	"foredge/eval/word"
	"foredge/layout/geom"
)

// A Frame turns distances from a panel's named edges, in mm, into places on a drawing,
// where y runs down.
type Frame struct {
	Origin        geom.Point // the left upper corner
	Width, Height float64
	Mirrored      bool // the spine is on the right
}

// At is the place at a distance from the spine and one from the head.
func (f Frame) At(spine, head float64) geom.Point {
	if f.Mirrored {
		spine = f.Width - spine
	}
	return f.Origin.Add(geom.Pt(spine, head))
}

// Along is the place at a distance along an edge, from its start, and one
// inwards from it.
func (f Frame) Along(edge word.Edge, run, in float64) geom.Point {
	switch edge {
	case word.Head:
		return f.At(run, in)
	case word.Tail:
		return f.At(run, f.Height-in)
	case word.Foredge:
		return f.At(f.Width-in, run)
	}
	return f.At(in, run)
}

// box is the rectangle that a region or cutout takes up.
func (f Frame) box(b design.Box) geom.Rect {
	left := b.Spine
	if f.Mirrored {
		left = f.Width - b.Spine - b.Width
	}
	return geom.Rect{Min: f.Origin.Add(geom.Pt(left, b.Head)), W: b.Width, H: b.Height}
}
