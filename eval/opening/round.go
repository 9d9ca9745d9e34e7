package opening

// round is a circle; along is its diameter.
type round struct{ slot }

func (round) word() string           { return "round" }
func (round) sizes() []Size          { return []Size{Along} }
func (round) tie() (float64, string) { return 1, "the hole is round" }
