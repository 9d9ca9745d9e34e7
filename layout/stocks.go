package layout

import (
	"foredge/eval/maybe"
	"math"
	"slices"

	"foredge/eval/design"
	"foredge/layout/geom"
)

// A Supply is what there is of a stock: how large its sheets are in mm, as far as the laser
// reaches them, and what is left of earlier ones.
type Supply struct {
	// Sheet is how large a sheet is; 0 by 0 where nothing says it. Bed is how far the laser
	// reaches, without end where that isn't stated.
	Sheet, Bed geom.Point
	Quantity   maybe.Of[int]     // of sheets; absent, as many as it takes
	Price      maybe.Of[float64] // of a sheet
	Offcuts    []geom.Point
	// Margin is how far parts stay from the edges of a sheet and Spacing how far from each
	// other, measured from what is cut.
	Margin, Spacing float64
	// Apart says that one of the two is stated.
	Apart bool
}

// Known reports whether anything says how large the sheets are.
func (s Supply) Known() bool { return s.Sheet != (geom.Point{}) }

// reached is how much of a sheet or an offcut the laser reaches, which lies upright or,
// still along its own width and height, turned by a quarter.
func (s Supply) reached(size geom.Point, turned bool) geom.Point {
	bed := s.Bed
	if turned {
		bed = geom.Pt(bed.Y, bed.X)
	}
	return geom.Pt(min(bed.X, size.X), min(bed.Y, size.Y))
}

// Supplies is what there is of each stock of a drawing's parts, "" being none: sheets as
// large as is stated, or as the bed.
func Supplies(solved *design.Design, wanted *Drawing) map[string]Supply {
	all := map[string]Supply{}
	for _, p := range wanted.Parts {
		all[p.Stock] = SupplyOf(nil, solved.Laser.Bed)
	}
	for _, s := range solved.Stocks() {
		all[s.Name] = SupplyOf(s, solved.Laser.Bed)
	}
	return all
}

// SupplyOf is what there is of a stock, or of what has none if that is nil, for a laser with
// such a bed.
func SupplyOf(s *design.Stock, bed maybe.Of[design.Size]) Supply {
	supply := Supply{Bed: geom.Pt(math.Inf(1), math.Inf(1)), Margin: sheetMargin, Spacing: Spacing}
	if size, known := bed.Get(); known {
		supply.Bed = geom.Pt(size.Width, size.Height)
		supply.Sheet = supply.Bed
	}
	if s == nil {
		return supply
	}
	if size, ok := s.Size.Get(); ok {
		supply.Sheet = geom.Pt(size.Width, size.Height)
	}
	supply.Quantity, supply.Price = s.Quantity, s.Price
	supply.Margin, supply.Spacing = s.Margin.Or(supply.Margin), s.Spacing.Or(supply.Spacing)
	supply.Apart = s.Margin.Present() || s.Spacing.Present()
	for _, o := range s.Offcuts {
		supply.Offcuts = append(supply.Offcuts, geom.Pt(o.Width, o.Height))
	}
	return supply
}

// FitsAsDrawn reports whether what is drawn can be cut as it stands: all of it is of one
// stock, each part is wanted once, it is no larger than a sheet, no offcut waits to be used,
// and nothing says how far parts are to stay apart.
func (d *Drawing) FitsAsDrawn(supplies map[string]Supply) bool {
	if !d.OneStock() || slices.ContainsFunc(d.Parts, func(p Part) bool { return p.Copies > 1 }) {
		return false
	}
	if len(d.Parts) == 0 {
		return true
	}
	supply := supplies[d.Parts[0].Stock]
	on := supply.reached(supply.Sheet, false)
	return len(supply.Offcuts) == 0 && !supply.Apart && (!supply.Known() || d.Size.X <= on.X+geom.Tol && d.Size.Y <= on.Y+geom.Tol)
}

// beyond are the sizes of what is left of a sheet where the laser doesn't reach.
func (s Supply) beyond(size geom.Point, turned bool) (left []geom.Point) {
	on := s.reached(size, turned)
	for _, rest := range []geom.Point{geom.Pt(size.X-on.X, size.Y), geom.Pt(on.X, size.Y-on.Y)} {
		if min(rest.X, rest.Y) >= leastLeft {
			left = append(left, rest)
		}
	}
	return left
}
