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

// corners are those of a figure on the panel, from spine and head, curves within chord of
// them.
func (f Frame) corners(figure geom.Figure) (points []geom.Point) {
	for _, path := range geom.Paths(figure) {
		for _, p := range path.Flatten(chord) {
			at := p.Sub(f.Origin)
			if f.Mirrored {
				at.X = f.Width - at.X
			}
			points = append(points, at)
		}
	}
	return points
}
