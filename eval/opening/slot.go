package opening

// slot is a rectangle with half circles at its narrow ends.
type slot struct{ rounded }

func (slot) word() string             { return "slot" }
func (slot) usage() string            { return "slot ALONG by ACROSS" }
func (slot) single() (string, string) { return "", "" }
func (slot) sign() string             { return "[]" }
func (slot) sizes() []Size            { return []Size{Along, Across} }
func (slot) tie() (float64, string)   { return 1, "" }
func (slot) corners() bool            { return false }
func (slot) jawsReadLow() bool        { return false }

func (slot) area(o Opening) float64 { return roundedArea(o, min(o.Along, o.Across)/2) }

func (slot) depth(o Opening, along, across float64) float64 {
	return roundedDepth(o, min(o.Along, o.Across)/2, along, across)
}

func (slot) square(Opening) bool { return false }

func (slot) room(o Opening, wire, more float64) Room {
	r := squareRoom(o, wire, more)
	r.rounded, r.corner = true, min(r.along, r.across)
	return r
}
