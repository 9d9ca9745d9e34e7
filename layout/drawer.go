package layout

import (
	"foredge/eval/design"
	"foredge/lang/diag"
	"foredge/layout/lettering"
	"foredge/layout/raster"
	"foredge/layout/tour"
)

// A Drawer draws many designs, reads each font of a maker's only once, and puts cuts that many
// share in order only once. The zero value is ready for use, by several goroutines at once.
// What it gives is what [Draw], [Inside] and [Drawing.Sequenced] do.
type Drawer struct {
	fonts  lettering.Cache
	photos raster.Cache
	orders tour.Cache
}

// Draw is [Draw].
func (d *Drawer) Draw(solved *design.Design) (*Drawing, diag.List) {
	return newDraft(solved, d).draw()
}

// Inside is [Inside].
func (d *Drawer) Inside(solved *design.Design) ([]Face, diag.List) {
	return inside(solved, d)
}

// fontsOf is what a text is lettered in, those for what the first font lacks with it. The
// error is about the font that is returned beside it.
func (dr *draft) fontsOf(m *design.Lettering) (*lettering.Font, design.Font, error) {
	all := make([]*lettering.Font, 0, 1+len(m.Spare))
	for _, f := range append([]design.Font{m.Font}, m.Spare...) {
		font, err := dr.font(f)
		if err != nil {
			return nil, f, err
		}
		all = append(all, font)
	}
	switch {
	case len(all) == 1:
		return all[0], m.Font, nil
	case dr.kept == nil:
		return all[0].WithSpares(all[1:]...), m.Font, nil
	}
	return dr.kept.fonts.WithSpares(all...), m.Font, nil
}

// font is one font.
func (dr *draft) font(f design.Font) (*lettering.Font, error) {
	switch {
	case f.Data != nil && dr.kept == nil:
		return lettering.Parse(f.Name, f.Data)
	case f.Data != nil:
		return dr.kept.fonts.Parse(f.Name, f.Data)
	case f.Name == "":
		return lettering.Load(lettering.Default)
	}
	return lettering.Load(f.Name)
}
