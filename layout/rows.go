package layout

import (
	"fmt"
	"slices"
	"strings"

	"foredge/layout/geom"
)

// Rows lays the parts of many drawings on sheets, those of one stock together,
// one after the other from left to right and row below row. It is the place
// where parts are one day nested. It holds one sheet of each stock at a time.
type Rows struct {
	size   func(stock string) geom.Point
	open   []*laying
	number int  // sheets so far
	plan   bool // nothing is drawn on them
}

// A Sheet is a sheet with what was laid on it.
type Sheet struct {
	Number int // from 1, as they were begun
	Outer  *Drawing
	// Inside has the marks of the inner faces as the sheet lies when it is turned
	// over like a page, from the same corner; nil if there are none. Its parts are
	// still one with the sheet: it is run first.
	Inside *Drawing
}

// A laying is a sheet that is being filled.
type laying struct {
	Sheet
	stock      string
	size       geom.Point
	x, y, high float64 // where the next part goes, and how high the row is
	row, place int     // of the part that was laid last, from 1
}

// sheetMargin is how far parts stay from the sheet's edges, in mm.
const sheetMargin = Spacing / 2

// NewRows starts with no sheet. Size says how large in mm those of a stock are,
// "" being that of parts which name none.
func NewRows(size func(stock string) geom.Point) *Rows {
	return &Rows{size: size}
}

// A SheetError says that a part is larger than the sheet.
type SheetError struct {
	Part                       string
	Width, Height, OnW, OnHigh float64 // mm
}

func (e SheetError) Error() string {
	return fmt.Sprintf("%s, %.4g by %.4g mm, is too large for a sheet of %.4g by %.4g mm with %d mm left free at its edges",
		e.Part, e.Width, e.Height, e.OnW, e.OnHigh, sheetMargin)
}

// Fits gives a [SheetError] if one of the drawing's parts is larger than a
// sheet.
func (r *Rows) Fits(d *Drawing) error {
	for _, p := range d.Parts {
		b, size := p.Bounds, r.size(p.Stock)
		if b.Width() > size.X-2*sheetMargin+geom.Tol || b.Height() > size.Y-2*sheetMargin+geom.Tol {
			return SheetError{p.Name, b.Width(), b.Height(), size.X, size.Y}
		}
	}
	return nil
}

// On says where a part lies on a sheet.
type On struct {
	Part       string // as it is called there
	Sheet      int
	Inside     bool       // on its inside too
	Row, Place int        // in which row from the top, and as which part of that from the left, from 1
	At         geom.Point // its left upper corner, in mm from that of the sheet
}

// Add lays a drawing's parts, called name.PART from now on and name.PART.2 and so on
// where several of one are wanted, with the marks of their inner faces as [Inside]
// draws them. It returns where they lie,
// and the sheets that have become full. The drawings are as wanted, before kerf,
// and each part fits.
func (r *Rows) Add(name string, d *Drawing, faces []Face) (on []On, full []Sheet) {
	for _, p := range d.Parts {
		for number := 1; number <= max(1, p.Copies); number++ {
			s, done := r.room(p, d)
			full = append(full, done...)
			on = append(on, s.add(name, number, p, d, faces))
		}
	}
	return on, full
}

// Where says where the parts of a drawing would lie if it were added under one name
// after the other, and lays nothing.
func (r *Rows) Where(names []string, d *Drawing, faces []Face) (on []On) {
	plan := &Rows{size: r.size, number: r.number, plan: true}
	for _, s := range r.open {
		again := *s
		again.Outer, again.Inside = nil, nil
		plan.open = append(plan.open, &again)
	}
	for _, name := range names {
		these, _ := plan.Add(name, d, faces)
		on = append(on, these...)
	}
	return on
}

// add puts a part, the so many of its kind, where the next one goes.
func (s *laying) add(name string, number int, p Part, d *Drawing, faces []Face) On {
	w, h := p.Bounds.Width(), p.Bounds.Height()
	s.place++
	on := On{Part: p.own(name, number), Sheet: s.Number, Row: s.row, Place: s.place, At: geom.Pt(s.x, s.y)}
	for _, f := range faces {
		if f.Panel != p.Name {
			continue
		}
		on.Inside = true
		if s.Outer == nil {
			continue // only planned
		}
		if s.Inside == nil {
			s.Inside = blank(d, s.size)
			s.Inside.Title += " (inside)"
		}
		// Turned like a page, left and right change.
		for _, marks := range f.Drawing.Parts {
			s.Inside.Parts = append(s.Inside.Parts, marks.laid(name, number, geom.Pt(s.size.X-s.x-w, s.y)))
		}
	}
	if s.Outer != nil {
		s.Outer.Parts = append(s.Outer.Parts, p.laid(name, number, geom.Pt(s.x, s.y)))
	}
	s.x, s.high = s.x+w+Spacing, max(s.high, h)
	return on
}

// room is the sheet on which there is room for a part, with those of its stock
// that are full.
func (r *Rows) room(p Part, d *Drawing) (s *laying, full []Sheet) {
	w, h := p.Bounds.Width(), p.Bounds.Height()
	i := slices.IndexFunc(r.open, func(s *laying) bool { return s.stock == p.Stock })
	if i >= 0 {
		s = r.open[i]
		if s.x+w > s.size.X-sheetMargin+geom.Tol {
			s.x, s.y, s.high = sheetMargin, s.y+s.high+Spacing, 0
			s.row, s.place = s.row+1, 0
		}
		if s.y+h <= s.size.Y-sheetMargin+geom.Tol {
			return s, nil
		}
		full = append(full, s.finish())
		r.open = slices.Delete(r.open, i, i+1)
	}
	r.number++
	size := r.size(p.Stock)
	s = &laying{Sheet: Sheet{Number: r.number}, stock: p.Stock, size: size, x: sheetMargin, y: sheetMargin, row: 1}
	if !r.plan {
		s.Outer = blank(d, size)
	}
	r.open = append(r.open, s)
	return s, full
}

// blank is an empty sheet for parts of a drawing.
func blank(d *Drawing, size geom.Point) *Drawing {
	return &Drawing{Title: d.Title, Unit: d.Unit, Colors: d.Colors, LineWidth: d.LineWidth, ScaleX: d.ScaleX, ScaleY: d.ScaleY, Size: size}
}

// own is what a part is called on a sheet.
func (p Part) own(name string, number int) string {
	own := name + "." + p.Name
	if number > 1 {
		own = fmt.Sprintf("%s.%d", own, number)
	}
	return own
}

// laid is a part under a name of its own, the corner of its bounds at a place.
func (p Part) laid(name string, number int, at geom.Point) Part {
	p = p.moved(at.Sub(p.Bounds.Min))
	p.Shapes = slices.Clone(p.Shapes)
	own := p.own(name, number)
	for i := range p.Shapes {
		p.Shapes[i].ID = own + strings.TrimPrefix(p.Shapes[i].ID, p.Name)
	}
	p.Name, p.Copies = own, 1
	return p
}

func (s *laying) finish() Sheet {
	of := ""
	if s.stock != "" {
		of = " of " + s.stock
	}
	for _, d := range []*Drawing{s.Outer, s.Inside} {
		if d != nil {
			parts := "1 part"
			if n := len(d.Parts); n != 1 {
				parts = fmt.Sprintf("%d parts", n)
			}
			d.Desc = fmt.Sprintf("%s on %.4g by %.4g mm%s", parts, s.size.X, s.size.Y, of)
		}
	}
	return s.Sheet
}

// Rest takes the sheets that are being filled, in their order.
func (r *Rows) Rest() []Sheet {
	var rest []Sheet
	for _, s := range r.open {
		rest = append(rest, s.finish())
	}
	r.open = nil
	slices.SortFunc(rest, func(a, b Sheet) int { return a.Number - b.Number })
	return rest
}
