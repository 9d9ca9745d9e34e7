package tell

import (
	"math"

	"foredge/eval/solution"
	"foredge/eval/solve"
	"foredge/lang/unit"
)

// A Slip is a reading whose number was taken in the wrong unit: in the other
// one it agrees with all the others.
type Slip struct {
	Reading int     // into the report's Readings
	Number  float64 // as it was written
	Taken   unit.Unit
	Meant   unit.Unit
}

// Was and As are the reading as it was taken and as it was meant: 210 in, 210 mm.
func (p Slip) Was() string { return unit.FormatNumber(p.Number, 5) + " " + p.Taken.Name }
func (p Slip) As() string  { return unit.FormatNumber(p.Number, 5) + " " + p.Meant.Name }

// SlipOf finds the reading of contradictory ones that only its unit keeps from
// agreeing, nil if there is none or several would do.
func SlipOf(s *solution.Solution, b *solve.BenchReport) *Slip {
	if b.Freedom == 0 || b.ChiSquare <= b.Limit999 {
		return nil
	}
	inch, mm, cm := unit.Inch, unit.MM, unit.Unit{Name: "cm", Kind: unit.Length, Size: 10}
	var found *Slip
	for i, r := range b.Readings {
		rd := s.System.Readings[r.Index]
		// Without it the others must agree, and say closely what it would be.
		if s.KindOf(rd.Left) != unit.Length || math.IsNaN(r.Implied) || b.ChiSquare-r.Normalised*r.Normalised > b.Limit999 ||
			r.ImpliedU > r.Implied/10 || rd.Flat > 0 {
			continue
		}
		for _, u := range []struct{ taken, meant unit.Unit }{{inch, mm}, {mm, inch}, {mm, cm}} {
			k := u.meant.Size / u.taken.Size
			if math.Abs(rd.Value*k-r.Implied) > 3*math.Hypot(rd.U*k, r.ImpliedU) {
				continue
			}
			if found != nil {
				return nil
			}
			found = &Slip{Reading: i, Number: rd.Value / u.taken.Size, Taken: u.taken, Meant: u.meant}
		}
	}
	return found
}
