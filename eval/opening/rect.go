package opening

// rect is a rectangle with square or rounded corners.
type rect struct{ rounded }

func (rect) word() string             { return "rect" }
func (rect) usage() string            { return "rect ALONG by ACROSS" }
func (rect) single() (string, string) { return "", "" }
func (rect) sign() string             { return "[]" }
func (rect) sizes() []Size            { return []Size{Along, Across} }
func (rect) tie() (float64, string)   { return 1, "" }
func (rect) corners() bool            { return true }
func (rect) jawsReadLow() bool        { return false }

func (rect) area(o Opening) float64 { return roundedArea(o, rectRadius(o)) }

func (rect) depth(o Opening, along, across float64) float64 {
	return roundedDepth(o, rectRadius(o), along, across)
}

// rectRadius is the radius that the corners can have.
func rectRadius(o Opening) float64 { return min(o.Radius, min(o.Along, o.Across)/2) }

func (rect) square(o Opening) bool { return o.Radius == 0 }

func (rect) room(o Opening, wire, more float64) Room {
	r := squareRoom(o, wire, more)
	if o.Radius > 0 {
		r.rounded, r.corner = true, min(o.Radius+(more-wire)/2, r.along, r.across)
	}
	return r
}
