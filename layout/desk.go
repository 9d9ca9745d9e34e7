package layout

import (
	"foredge/eval"
	"foredge/lang/diag"
	"foredge/layout/lettering"
)

// A Desk is what lasts from one drawing to the next: the fonts that were read.
// The zero value is ready for use, by several goroutines at once. What is drawn
// is the same at any desk.
type Desk struct{ fonts lettering.Rack }

// Draw is [Draw] at this desk.
func (k *Desk) Draw(d *eval.Design) (*Drawing, diag.List) {
	return (&drawer{desk: k, design: d, out: newDrawing(d)}).draw()
}

// Inside is [Inside] at this desk.
func (k *Desk) Inside(d *eval.Design) ([]Face, diag.List) { return inside(k, d) }

// font is what a mark is lettered in.
func (k *Desk) font(m *eval.Mark) (*lettering.Font, error) {
	switch {
	case m.Data != nil && k == nil:
		return lettering.Parse(m.Font, m.Data)
	case m.Data != nil:
		return k.fonts.Parse(m.Font, m.Data)
	case m.Font == "":
		return lettering.Load(lettering.Default)
	}
	return lettering.Load(m.Font)
}
