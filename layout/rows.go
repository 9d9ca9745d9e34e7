package layout

import (
	"fmt"

	"foredge/layout/geom"
)

// Rows lays the parts of many drawings on sheets of one size, one after the
// other from left to right and row below row. It is the place where parts are
// one day nested. It holds one sheet at a time.
type Rows struct {
	width, height float64 // of the sheet
	sheet         *Drawing
	number        int     // of that sheet, from 1
	x, y, high    float64 // where the next part goes, and how high the row is
}

// sheetMargin is how far parts stay from the sheet's edges, in mm.
const sheetMargin = Spacing / 2

// NewRows starts with an empty sheet of a size in mm.
func NewRows(width, height float64) *Rows {
	return &Rows{width: width, height: height}
}

// A SheetError says that a part is larger than the sheet.
type SheetError struct {
	Part                       string
	Width, Height, OnW, OnHigh float64 // mm
}

func (e SheetError) Error() string {
	return fmt.Sprintf("%s, %.4g by %.4g mm, is too large for a bed of %.4g by %.4g mm with %d mm left free at its edges",
		e.Part, e.Width, e.Height, e.OnW, e.OnHigh, sheetMargin)
}

// Fits gives a [SheetError] if one of the drawing's parts is larger than a
// sheet.
func (r *Rows) Fits(d *Drawing) error {
	for _, p := range d.Parts {
		if b := p.Bounds; b.Width() > r.width-2*sheetMargin+geom.Tol || b.Height() > r.height-2*sheetMargin+geom.Tol {
			return SheetError{p.Name, b.Width(), b.Height(), r.width, r.height}
		}
	}
	return nil
}

// Add lays a drawing's parts, called name.PART from now on. It returns the
// numbers of the sheets, from 1, on which they lie, and the sheets that have
// become full. The drawing is as wanted, before kerf, and each of its parts fits.
func (r *Rows) Add(name string, d *Drawing) (on []int, full []*Drawing) {
	for _, p := range d.Parts {
		w, h := p.Bounds.Width(), p.Bounds.Height()
		if r.sheet != nil && r.x+w > r.width-sheetMargin+geom.Tol {
			r.x, r.y, r.high = sheetMargin, r.y+r.high+Spacing, 0
		}
		if r.sheet != nil && r.y+h > r.height-sheetMargin+geom.Tol {
			full = append(full, r.Rest())
		}
		if r.sheet == nil {
			r.sheet = &Drawing{Title: d.Title, Colors: d.Colors, ScaleX: d.ScaleX, ScaleY: d.ScaleY, Size: geom.Pt(r.width, r.height)}
			r.x, r.y, r.high = sheetMargin, sheetMargin, 0
			r.number++
		}
		if len(on) == 0 || on[len(on)-1] != r.number {
			on = append(on, r.number)
		}
		p = p.moved(geom.Pt(r.x-p.Bounds.Min.X, r.y-p.Bounds.Min.Y))
		shapes := make([]Shape, len(p.Shapes))
		for i, s := range p.Shapes {
			s.ID = name + "." + s.ID
			shapes[i] = s
		}
		p.Shapes, p.Name = shapes, name+"."+p.Name
		r.sheet.Parts = append(r.sheet.Parts, p)
		r.x, r.high = r.x+w+Spacing, max(r.high, h)
	}
	return on, full
}

// Rest takes the sheet that is being filled, nil if nothing lies on it.
func (r *Rows) Rest() *Drawing {
	d := r.sheet
	r.sheet = nil
	if d != nil {
		d.Desc = fmt.Sprintf("%d parts on %.4g by %.4g mm", len(d.Parts), r.width, r.height)
	}
	return d
}
