package opening

// round is a circle, a slot as wide as it is long; along is its diameter.
type round struct{ slot }

func (round) word() string             { return "round" }
func (round) usage() string            { return "round DIAMETER" }
func (round) single() (string, string) { return "round", "wide" }
func (round) sign() string             { return "()" }
func (round) sizes() []Size            { return []Size{Along} }
func (round) tie() (float64, string)   { return 1, "the hole is round" }
func (round) jawsReadLow() bool        { return true }
