package tell

import (
	"math"
	"regexp"

	"foredge/eval/solution"
	"foredge/eval/solve"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// A Slip is a reading whose number was taken in the wrong unit, or whose point
// stands one place too far to the right: mended it agrees with all the others.
type Slip struct {
	Reading int     // into the report's Readings
	Number  float64 // as it was written
	Taken   unit.Unit
	Meant   unit.Unit
	Tenth   bool // a tenth of the number is meant, in the same unit
}

// Was and As are the reading as it was taken and as it was meant: 210 in, 210 mm.
func (p Slip) Was() string { return unit.FormatNumber(p.Number, 5) + " " + p.Taken.Name }
func (p Slip) As() string {
	number := p.Number
	if p.Tenth {
		number /= 10
	}
	return unit.FormatNumber(number, 5) + " " + p.Meant.Name
}

// factor is what the reading must be multiplied by.
func (p Slip) factor() float64 {
	if p.Tenth {
		return 0.1
	}
	return p.Meant.Size / p.Taken.Size
}

// slipsOf lists what a maker may have meant by a length that was read as a value
// in mm, where it is written at a place: the likeliest first.
func (t *teller) slipsOf(at source.Span, value float64) []Slip { return slipsOf(t.Solution, at, value) }

func slipsOf(s *solution.Solution, at source.Span, value float64) []Slip {
	inch, mm, cm := unit.Inch, unit.MM, unit.Unit{Name: "cm", Kind: unit.Length, Size: 10}
	taken := s.UnitOf(at)
	if m := regexp.MustCompile(`[0-9] *(mm|cm|in)\b`).FindStringSubmatch(at.Text()); m != nil {
		taken = map[string]unit.Unit{"mm": mm, "cm": cm, "in": inch}[m[1]]
	}
	meant := []unit.Unit{cm, inch}
	switch taken.Name {
	case inch.Name:
		meant = []unit.Unit{mm, cm}
	case cm.Name:
		meant = []unit.Unit{mm, inch}
	}
	var slips []Slip
	for _, u := range meant {
		slips = append(slips, Slip{Number: value / taken.Size, Taken: taken, Meant: u})
	}
	if taken.Name != cm.Name { // there it is the same as mm
		slips = append(slips, Slip{Number: value / taken.Size, Taken: taken, Meant: taken, Tenth: true})
	}
	return slips
}

// misread is the likeliest slip after which a length that was read at a place is
// as it should be; nil if there is none.
func (t *teller) misread(at source.Span, value float64, fits func(mended float64) bool) *Slip {
	for _, p := range t.slipsOf(at, value) {
		if fits(value * p.factor()) {
			return &p
		}
	}
	return nil
}

// How closely the others must say what a reading would be, beside that, before
// its unit is blamed: alone, and where other readings share the blame with it.
const (
	closely = 0.1
	sharply = 0.01
)

// SlipOf finds the reading of contradictory ones that only its unit or its point
// keeps from agreeing, nil if there is none or several would do.
func SlipOf(s *solution.Solution, b *solve.BenchReport) *Slip {
	if b.Freedom == 0 || b.ChiSquare <= b.Limit999 {
		return nil
	}
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
		for _, p := range slipsOf(s, rd.At, rd.Value) {
			// Mended it must agree as readings do of which nothing is told.
			off := (rd.Value*p.factor() - r.Implied) / math.Hypot(rd.U, r.ImpliedU)
			if others+off*off > b.Limit95 {
				continue
			}
			if found != nil {
				return nil
			}
			p.Reading = i
			found = &p
		}
	}
	return found
}
