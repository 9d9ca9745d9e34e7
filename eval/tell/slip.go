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

// How closely the others must say what a reading would be, beside that, before
// its unit is blamed: alone, and where other readings share the blame with it.
const (
	closely = 0.1
	sharply = 0.01
)

// SlipOf finds the reading of contradictory ones that only its unit keeps from
// agreeing, nil if there is none or several would do.
func SlipOf(s *solution.Solution, b *solve.BenchReport) *Slip {
	if b.Freedom == 0 || b.ChiSquare <= b.Limit999 {
		return nil
	}
	inch, mm, cm := unit.Inch, unit.MM, unit.Unit{Name: "cm", Kind: unit.Length, Size: 10}
	near := closely
	if len(b.Suspects) > 1 {
		near = sharply
	}
	var found *Slip
	for _, i := range b.Suspects {
		r := b.Readings[i]
		rd := s.System.Readings[r.Index]
		if s.KindOf(rd.Left) != unit.Length || math.IsNaN(r.Implied) || r.ImpliedU > r.Implied*near || rd.Flat > 0 {
			continue
		}
		others := b.ChiSquare - r.Normalised*r.Normalised
		for _, u := range []struct{ taken, meant unit.Unit }{{inch, mm}, {mm, inch}, {mm, cm}} {
			// Mended it must agree as readings do of which nothing is told.
			k := u.meant.Size / u.taken.Size
			off := (rd.Value*k - r.Implied) / math.Hypot(rd.U, r.ImpliedU)
			if others+off*off > b.Limit95 {
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
