package opening

import "math"

// hex is a regular hexagon, two of whose flats run along the row. Across is its
// size across the flats, along the one across its corners.
type hex struct{}

// cornersOfFlats is the size of a regular hexagon across its corners for one
// across its flats.
const cornersOfFlats = 2 / 1.7320508075688772

func (hex) word() string           { return "hex" }
func (hex) sizes() []Size          { return []Size{Across} }
func (hex) tie() (float64, string) { return cornersOfFlats, "the hole is a regular hexagon" }
func (hex) corners() bool          { return false }

func (hex) eased(o Opening, ease float64) Opening {
	o.Along, o.Across = o.Along+cornersOfFlats*ease, o.Across+ease
	return o
}

func (hex) area(o Opening) float64 { return o.Along * o.Across * 3 / 4 }

func (hex) depth(o Opening, along, across float64) float64 {
	x, y := math.Abs(along), math.Abs(across)
	return o.Across/2 - max(y, x*math.Sqrt(3)/2+y/2)
}
