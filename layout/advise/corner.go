package advise

import (
	"foredge/eval/design"
	"foredge/eval/opening"
	"foredge/lang/source"
	"foredge/layout/geom"
)

// corners warns of openings whose inner corners are sharper than their material
// bears.
func corners(n *Notes, p *design.Panel) {
	if p.Stock == nil {
		return
	}
	least, ok := p.Stock.LeastRadius.Get()
	if !ok {
		return
	}
	tell := func(name string, at source.Span, o opening.Opening) {
		need := min(least, min(o.Along, o.Across)/2)
		if o.Form != opening.Rect || o.Radius >= need-geom.Tol {
			return
		}
		why := "the material's least-radius"
		if need < least {
			why = "as round as these can be"
		}
		n.Warn(p.Quiet, "sharp-corner", at, "the inner corners of %s have a radius of %s, and %s cracks from corners sharper than %s", name, n.Length(o.Radius), p.Stock.Material.Name, n.Length(least)).
			WithHelp("round them, as in %s by %s radius %s (%s)%s", n.Length(o.Along), n.Length(o.Across), n.Length(need), why, Silence("sharp-corner", "panel"))
	}
	for i := range p.Rows {
		tell("the holes of "+p.Rows[i].Name, p.Rows[i].HoleAt, p.Rows[i].Opening)
	}
	for i := range p.Stitches {
		tell("the holes of "+p.Stitches[i].Name, p.Stitches[i].HoleAt, p.Stitches[i].Opening)
	}
	for i := range p.Cutouts {
		tell(p.Cutouts[i].Name, p.Cutouts[i].At, p.Cutouts[i].Opening)
	}
}
