package driver

import (
	"foredge/layout"
	"foredge/layout/geom"
)

// alone is a drawing of one part of d, moved to the corner.
func alone(d *layout.Drawing, p layout.Part) *layout.Drawing {
	box := geom.EmptyBox()
	for _, s := range p.Shapes {
		box = box.Union(s.Figure.Bounds())
	}
	out := *d
	out.Sequence = nil
	out.Title = d.Title + ": " + p.Name
	out.Desc = p.Described(!d.OneStock()) + " mm"
	out.Size = geom.Pt(box.Width(), box.Height())
	by := geom.Pt(-box.Min.X, -box.Min.Y)
	shapes := make([]layout.Shape, len(p.Shapes))
	for i, s := range p.Shapes {
		s.Figure = s.Figure.Move(by)
		shapes[i] = s
	}
	p.Shapes = shapes
	p.Bounds = geom.Box{Min: p.Bounds.Min.Add(by), Max: p.Bounds.Max.Add(by)}
	out.Parts = []layout.Part{p}
	return &out
}
