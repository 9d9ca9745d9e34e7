package opening

import "math"

// rounded is what all forms share that are a rectangle with rounded corners: for
// a slot and a circle they meet.
type rounded struct{}

func (rounded) eased(o Opening, ease float64) Opening {
	o.Along, o.Across = o.Along+ease, o.Across+ease
	if o.Radius > 0 {
		o.Radius = max(0, o.Radius+ease/2)
	}
	return o
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

// squareRoom is the room in a rectangle with square corners.
func squareRoom(o Opening, wire, more float64) Room {
	return Room{along: (o.Along + more - wire) / 2, across: (o.Across + more - wire) / 2}
}

func (rounded) play(o Opening, wire, pair float64) (along, across float64) {
	return (o.Along - pair) / 2, (o.Across - wire) / 2
}

func (rounded) grown(r Room, by float64) Room {
	r.along, r.across, r.corner = r.along+by, r.across+by, r.corner+by
	return r
}

func (rounded) left(r Room) float64 { return min(r.along-r.apart, r.across) }

func (rounded) span(r Room) float64 { return r.across }

func (f rounded) reach(r Room, across float64) float64 {
	over := across - (r.across - r.corner)
	if f.even(r) || over <= 0 {
		return r.along - r.apart
	}
	return r.along - r.apart - r.corner + math.Sqrt(max(0, r.corner*r.corner-over*over))
}

// lacks: a rectangle with rounded corners is all that is no farther than corner
// from a smaller one, which growing doesn't change.
func (rounded) lacks(r Room, along, across float64) float64 {
	if !r.rounded {
		return max(along-r.along, across-r.across)
	}
	u, v := along-(r.along-r.corner), across-(r.across-r.corner)
	if u > 0 && v > 0 {
		return math.Hypot(u, v) - r.corner
	}
	return max(u, v) - r.corner
}

func (rounded) even(r Room) bool { return !r.rounded || r.corner <= 0 }
