package sheet

import (
	"cmp"
	"math"
	"slices"

	"foredge/layout/geom"
)

// unitsPerMM is how many of the package's units of length make a millimetre.
const unitsPerMM = 1_000_000

// unit is what lengths are divided by before they are multiplied, so that areas stay
// whole numbers: areas count in 0.01 mm by 0.01 mm.
const unit = 10_000

// whole is a length in units.
func whole(mm float64) int64 { return int64(math.Round(mm * unitsPerMM)) }

func mm(n int64) float64 { return float64(n) / unitsPerMM }

// effort is the factor of the number of steps.
func effort(o Options) float64 {
	switch {
	case o.Effort == 0:
		return 1
	case o.Effort < 0:
		return 0
	}
	return o.Effort
}

// sizeOn is how large a part is on a stock, with a spacing.
func sizeOn(p Part, s Stock, gap int64) size {
	w, h := whole(p.Width)+gap, whole(p.Height)+gap
	z := size{w, h, h, w}
	straight, quarter := true, p.Turns == QuarterTurn
	if p.Grain != NoGrain && s.Grain != NoGrain {
		straight = p.Grain == s.Grain
		quarter = quarter && !straight
	}
	if !straight {
		z.w, z.h = never, never
	}
	if !quarter || straight && w == h {
		z.tw, z.th = never, never
	}
	return z
}

// placed is a copy of a part at a spot within a margin.
func placed(p Part, at spot, margin int64, part, copy int) Placement {
	q := Placement{Part: part, Copy: copy, At: geom.Pt(mm(at.x+margin), mm(at.y+margin))}
	if at.turned { // clockwise, so that what was its left upper corner lies to the right
		q.Turn = 90
		q.At.X = mm(at.x + margin + whole(p.Height))
	}
	return q
}

// sortPlacements sorts by where the parts lie, row by row.
func sortPlacements(all []Placement) {
	slices.SortFunc(all, func(a, b Placement) int {
		return cmp.Or(cmp.Compare(a.Part, b.Part), cmp.Compare(a.Copy, b.Copy))
	})
}
