package layout

import (
	"foredge/eval/design"
	"foredge/lang/diag"
	"foredge/layout/lettering"
)

// A Desk is what lasts from one drawing to the next: the fonts that were read.
// The zero value is ready for use, by several goroutines at once. What is drawn
// is the same at any desk.
type Desk struct{ fonts lettering.Rack }

// Draw is [Draw] at this desk.
func (k *Desk) Draw(d *design.Design) (*Drawing, diag.List) {
	return (&drawer{desk: k, design: d, out: newDrawing(d)}).draw()
}

// Inside is [Inside] at this desk.
func (k *Desk) Inside(d *design.Design) ([]Face, diag.List) { return inside(k, d) }

// font is what a text is lettered in.
func (k *Desk) font(f design.Font) (*lettering.Font, error) {
	switch {
	case f.Data != nil && k == nil:
		return lettering.Parse(f.Name, f.Data)
	case f.Data != nil:
		return k.fonts.Parse(f.Name, f.Data)
	case f.Name == "":
		return lettering.Load(lettering.Default)
	}
	return lettering.Load(f.Name)
}
