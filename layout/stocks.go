package layout

import (
	"math"
	"slices"

	"foredge/eval/design"
	"foredge/layout/geom"
)

// A Size is how large in mm the sheets of a stock are, as far as the laser reaches them.
// The zero value is that of a sheet of which nothing says it.
type Size struct {
	Upright geom.Point
	// Turned is how far it reaches if the sheet lies on the bed turned by a quarter, still
	// along the sheet's own width and height.
	Turned geom.Point
}

// SheetSizes is how large the sheets are on which the parts of a drawing lie, by their
// stock, "" being none: the bed, or the sheets of the stock where those are smaller or no
// bed is known.
func SheetSizes(solved *design.Design, wanted *Drawing) map[string]Size {
	sizes := map[string]Size{}
	bed, known := solved.Laser.Bed.Get()
	for _, p := range wanted.Parts {
		sizes[p.Stock] = Size{geom.Pt(bed.Width, bed.Height), geom.Pt(bed.Height, bed.Width)}
	}
	for _, s := range solved.Stocks() {
		size, ok := s.Size.Get()
		if !ok {
			continue
		}
		if !known {
			bed = design.Size{Width: math.Inf(1), Height: math.Inf(1)}
		}
		sizes[s.Name] = Size{geom.Pt(min(bed.Width, size.Width), min(bed.Height, size.Height)),
			geom.Pt(min(bed.Height, size.Width), min(bed.Width, size.Height))}
	}
	return sizes
}

// FitsAsDrawn reports whether what is drawn can be cut as it stands: all of it is of one
// stock, each part is wanted once, and it is no larger than a sheet.
func (d *Drawing) FitsAsDrawn(sizes map[string]Size) bool {
	if !d.OneStock() || slices.ContainsFunc(d.Parts, func(p Part) bool { return p.Copies > 1 }) {
		return false
	}
	if len(d.Parts) == 0 {
		return true
	}
	size := sizes[d.Parts[0].Stock]
	holds := func(on geom.Point) bool { return d.Size.X <= on.X+geom.Tol && d.Size.Y <= on.Y+geom.Tol }
	return size == (Size{}) || holds(size.Upright)
}
