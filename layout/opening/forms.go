package opening

import (
	form "foredge/eval/opening"
	"foredge/layout/geom"
)

// A drawing is how openings of one form are drawn.
type drawing interface {
	// closed is the edge of an opening that is closed all round.
	closed(p Placed) geom.Figure
	// open goes round a notch's opening, from where the left side of its neck, as
	// seen from the edge, meets it to where the right one does.
	open(t *tracer, n Notch)
}

// drawn is how a form is drawn.
func drawn(f form.Form) drawing {
	switch f {
	case form.Round:
		return circle{rounded{roundEnds}}
	case form.Slot:
		return rounded{roundEnds}
	case form.Hex:
		return polygon(hexagon)
	}
	return rounded{ownRadius}
}

func ownRadius(o form.Opening) float64 { return o.Radius }

func roundEnds(o form.Opening) float64 { return min(o.Along, o.Across) / 2 }

// circle is a slot that is as long as it is wide, to the tolerance of designs.
type circle struct{ rounded }

func (c circle) closed(p Placed) geom.Figure {
	w, h := p.Size()
	if w-h <= geom.Tol && h-w <= geom.Tol {
		return geom.Circle{Center: p.At, R: w / 2}
	}
	return c.rounded.closed(p)
}

// hexagon is the corners of a regular hexagon two of whose flats run along.
func hexagon(o form.Opening) []geom.Point {
	x, y := o.Along/2, o.Across/2
	return []geom.Point{{X: x}, {X: x / 2, Y: y}, {X: -x / 2, Y: y}, {X: -x}, {X: -x / 2, Y: -y}, {X: x / 2, Y: -y}}
}
