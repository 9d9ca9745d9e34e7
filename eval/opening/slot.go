package opening

// slot is a rectangle with half circles at its narrow ends.
type slot struct{}

func (slot) word() string           { return "slot" }
func (slot) sizes() []Size          { return []Size{Along, Across} }
func (slot) tie() (float64, string) { return 1, "" }
func (slot) corners() bool          { return false }

func (slot) eased(o Opening, ease float64) Opening {
	o.Along, o.Across = o.Along+ease, o.Across+ease
	return o
}

func (slot) area(o Opening) float64 { return roundedArea(o, min(o.Along, o.Across)/2) }

func (slot) depth(o Opening, along, across float64) float64 {
	return roundedDepth(o, min(o.Along, o.Across)/2, along, across)
}
