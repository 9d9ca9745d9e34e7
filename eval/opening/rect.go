package opening

import "math"

// rect is a rectangle with square or rounded corners.
type rect struct{}

func (rect) word() string           { return "rect" }
func (rect) sizes() []Size          { return []Size{Along, Across} }
func (rect) tie() (float64, string) { return 1, "" }
func (rect) corners() bool          { return true }

func (rect) eased(o Opening, ease float64) Opening {
	o.Along, o.Across = o.Along+ease, o.Across+ease
	if o.Radius > 0 {
		o.Radius = max(0, o.Radius+ease/2)
	}
	return o
}

func (rect) area(o Opening) float64 { return roundedArea(o, o.Radius) }

func (rect) depth(o Opening, along, across float64) float64 {
	return roundedDepth(o, min(o.Radius, min(o.Along, o.Across)/2), along, across)
}

// roundedArea is the area of a rectangle whose corners have a radius.
func roundedArea(o Opening, radius float64) float64 {
	return o.Along*o.Across - (4-math.Pi)*radius*radius
}

// roundedDepth is how deep a point lies inside a rectangle whose corners have a
// radius.
func roundedDepth(o Opening, radius, along, across float64) float64 {
	u, v := math.Abs(along)-o.Along/2+radius, math.Abs(across)-o.Across/2+radius
	return radius - math.Hypot(max(u, 0), max(v, 0)) - min(max(u, v), 0)
}
