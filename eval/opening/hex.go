package opening

import "math"

// hex is a regular hexagon, two of whose flats run along the row. Across is its
// size across the flats, along the one across its corners. All that is no nearer
// than a distance to its rim is a hexagon too, smaller across the flats by twice
// that distance.
type hex struct{}

// cornersOfFlats is the size of a regular hexagon across its corners for one
// across its flats, 2/√3.
const cornersOfFlats = 2 / 1.7320508075688772

func (hex) word() string             { return "hex" }
func (hex) usage() string            { return "hex ACROSS-FLATS" }
func (hex) single() (string, string) { return "hexagonal", "across the flats" }
func (hex) sign() string             { return "<>" }
func (hex) sizes() []Size            { return []Size{Across} }
func (hex) tie() (float64, string)   { return cornersOfFlats, "a regular hexagon" }
func (hex) corners() bool            { return false }
func (hex) jawsReadLow() bool        { return false }

func (hex) eased(o Opening, ease float64) Opening {
	o.Along, o.Across = o.Along+cornersOfFlats*ease, o.Across+ease
	return o
}

func (hex) area(o Opening) float64 { return o.Along * o.Across * 3 / 4 }

func (hex) depth(o Opening, along, across float64) float64 {
	return o.Across/2 - fromMiddle(math.Abs(along), math.Abs(across))
}

// fromMiddle is how far the farthest of the flats is from the middle in a hexagon
// on whose rim a point lies.
func fromMiddle(along, across float64) float64 {
	return max(across, along*math.Sqrt(3)/2+across/2)
}

func (hex) square(Opening) bool { return false }

func (h hex) room(o Opening, wire, more float64) Room {
	o = h.eased(o, more-wire)
	return Room{along: o.Along / 2, across: o.Across / 2}
}

func (h hex) play(o Opening, wire, pair float64) (along, across float64) {
	r := h.room(o, wire, 0)
	return r.along - (pair-wire)/2, r.across
}

func (hex) grown(r Room, by float64) Room {
	r.along, r.across = r.along+cornersOfFlats*by, r.across+by
	return r
}

func (hex) left(r Room) float64 { return min((r.along-r.apart)/cornersOfFlats, r.across) }

// span: the slanted flats come in from a corner by √3 across for each 1 along, so
// that a pair which lies apart has no room beyond √3 of what is left along.
func (hex) span(r Room) float64 { return min(r.across, (r.along-r.apart)*math.Sqrt(3)) }

func (hex) reach(r Room, across float64) float64 {
	return r.along - r.apart - across/math.Sqrt(3)
}

func (hex) lacks(r Room, along, across float64) float64 {
	return fromMiddle(along, across) - r.across
}

func (hex) even(Room) bool { return false }
