package layout

import (
	"fmt"
	"strconv"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/word"
	"foredge/lang/diag"
	"foredge/layout/advise"
	"foredge/layout/geom"
	"foredge/layout/lettering"
	"foredge/layout/raster"
)

// A strip of greys has eleven fields, from the bare board to where all of it is engraved.
// Lengths are in mm.
const (
	greyFields  = 11
	greyField   = 8 // size of a field
	greyMargin  = 3 // round the fields, and between them and their numbers
	greyNumbers = 3 // height of the numbers below them
)

// Greys draws a strip of greys for each stock that pictures are engraved on, each
// line-distance and each shade: eleven fields at equal steps, to be engraved on a piece of
// the stock and measured. Below each field stands how much of it is engraved, in percent.
func Greys(d *design.Design) (*Drawing, diag.List) {
	dr := newDraft(d, nil)
	type ground struct {
		stock string
		apart float64
		shade word.Shade
	}
	made := map[ground]bool{}
	for i := range d.Panels {
		p := &d.Panels[i]
		for k := range p.Regions {
			for _, m := range p.Regions[k].Marks {
				a, ok := m.(*design.Artwork)
				if !ok || !raster.IsPicture(a.Data) {
					continue
				}
				g := ground{apart: a.Dots.LineDistance.Or(usualLineDistance), shade: a.Dots.Shade}
				if p.Stock != nil {
					g.stock = p.Stock.Name
				}
				if made[g] {
					continue
				}
				made[g] = true
				dr.strip(dr.greys(p, a, len(made)))
			}
		}
	}
	if len(made) == 0 && !dr.notes.HasErrors() {
		dr.notes.Errorf("no-picture", d.At, "no picture is engraved here, so there is no strip of greys to make").
			WithHelp("a strip is for the pictures of a design, as in engrave art \"sea.png\"")
	}
	advise.Materials(&dr.notes, d)
	dr.drawing.Title += " (strip of greys)"
	dr.finish()
	return dr.drawing, dr.notes.List
}

// greys is the strip for a picture on a panel, the n-th one of its drawing.
func (dr *draft) greys(p *design.Panel, m *design.Artwork, n int) Part {
	name := "greys"
	if p.Stock != nil && p.Stock.Name != "" {
		name = p.Stock.Name + ".greys"
	}
	if n > 1 {
		name += fmt.Sprintf(".%d", n)
	}
	box := geom.Rect{W: greyFields*greyField + 2*greyMargin, H: greyField + greyNumbers + 3*greyMargin}
	part := Part{Name: name, Bounds: box.Bounds(), At: m.At, Want: maybe.Is(0.0)} // nothing of it is cut
	if p.Stock != nil {
		part.Stock, part.Of = p.Stock.Name, p.Stock
	}
	apart := m.Dots.LineDistance.Or(usualLineDistance)
	across := max(1, int(greyField/apart+0.5))
	font, err := lettering.Load(word.Stroke.String())
	switch {
	case across*across > raster.MaxDots:
		dr.notes.Errorf("too-many-dots", m.At, "lines %s apart make %d by %d dots of a field of %s, more than %d million", dr.fineLength(apart), across, across,
			dr.length(greyField), raster.MaxDots/1_000_000).WithHelp("make the line-distance larger: %s is usual", dr.length(usualLineDistance))
		return part
	case err != nil:
		dr.notes.Fail("font-file", m.At, err, "copy the program again from its source")
		return part
	case !dr.count(2*greyFields+1, m.At):
		return part
	}
	for i := range greyFields {
		field := geom.Rect{Min: geom.Pt(greyMargin+float64(i)*greyField, greyMargin), W: greyField, H: greyField}
		level := uint8((255*(greyFields-1-i) + (greyFields-1)/2) / (greyFields - 1))
		photo := &raster.Photo{W: 1, H: 1, Grey: []uint8{level}}
		if im := photo.Engrave(across, across, shadeOf(m.Dots.Shade), raster.Tone{}); !im.Blank() {
			part.Shapes = append(part.Shapes, Shape{ID: fmt.Sprintf("%s.%d", name, i+1), Op: Engrave, Figure: field, Raster: im, At: m.At})
		}
		number, err := lettering.Fit(font, strconv.Itoa(100*i/(greyFields-1)), greyField, greyNumbers, lettering.Style{})
		if err != nil {
			dr.notes.Fail("font-file", m.At, err, "copy the program again from its source")
			return part
		}
		part.Shapes = append(part.Shapes, Shape{ID: fmt.Sprintf("%s.%d", name, i+1), Op: Mark,
			Figure: number.Outline.Move(geom.Pt(field.Min.X, 2*greyMargin+greyField)), At: m.At})
	}
	part.Shapes = append(part.Shapes, Shape{ID: name + ".frame", Op: Mark, Figure: box, At: m.At})
	return part
}
