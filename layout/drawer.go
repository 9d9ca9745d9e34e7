package layout

import (
	"foredge/eval/design"
	"foredge/lang/diag"
	"foredge/layout/lettering"
)

// A Drawer draws many designs and reads each font of a maker's only once. The
// zero value is ready for use, by several goroutines at once. What it draws is
// what [Draw] and [Inside] do.
type Drawer struct{ fonts lettering.Cache }

// Draw is [Draw].
func (d *Drawer) Draw(solved *design.Design) (*Drawing, diag.List) {
	return newDraft(solved, &d.fonts).draw()
}

// Inside is [Inside].
func (d *Drawer) Inside(solved *design.Design) ([]Face, diag.List) {
	return inside(solved, &d.fonts)
}

// font is what a text is lettered in.
func (dr *draft) font(f design.Font) (*lettering.Font, error) {
	switch {
	case f.Data != nil && dr.fonts == nil:
		return lettering.Parse(f.Name, f.Data)
	case f.Data != nil:
		return dr.fonts.Parse(f.Name, f.Data)
	case f.Name == "":
		return lettering.Load(lettering.Default)
	}
	return lettering.Load(f.Name)
}
