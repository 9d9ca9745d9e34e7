package opening

import (
	form "foredge/eval/opening"
	"foredge/layout/geom"
)

// A Placed is an opening in its place on the drawing.
type Placed struct {
	form.Opening
	At geom.Point // its middle
	// Upright says that its along runs from head to tail on the drawing, and not
	// from left to right.
	Upright bool
}

// Size is how wide and how high the opening is on the drawing.
func (p Placed) Size() (w, h float64) {
	if p.Upright {
		return p.Across, p.Along
	}
	return p.Along, p.Across
}

// Figure is the edge of the opening.
func (p Placed) Figure() geom.Figure { return drawn(p.Form).closed(p) }

// Fitted is an opening whose corners fit it. ok is false if their radius is more
// than half of the smaller size; the corners are then square.
func Fitted(o form.Opening) (fitted form.Opening, ok bool) {
	half := min(o.Along, o.Across) / 2
	if o.Radius > half+geom.Tol {
		o.Radius = 0
		return o, false
	}
	o.Radius = min(o.Radius, half)
	return o, true
}

// RoundEnded is an opening with half circles at its narrow ends, as the slots of
// a lattice are.
func RoundEnded(along, across float64) form.Opening {
	return form.Opening{Form: form.Slot, Along: along, Across: across}
}
