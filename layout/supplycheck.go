package layout

import (
	"foredge/eval/design"
	"foredge/lang/diag"
	"foredge/lang/unit"
	"foredge/layout/advise"
	"foredge/layout/geom"
)

// offcutsTooLarge tells of offcuts of a stock that can't be left of one of its sheets, whichever
// way they lie; lengths are shown in a unit.
func offcutsTooLarge(s *design.Stock, in unit.Unit) (diags diag.List) {
	sheet, known := s.Size.Get()
	if !known || s.Quiet.Has("offcut-large") {
		return nil
	}
	within := func(w, h float64) bool { return w <= sheet.Width+geom.Tol && h <= sheet.Height+geom.Tol }
	length := func(mm float64) string { return unit.FormatLength(mm, in) }
	for i, o := range s.Offcuts {
		if w, h := o.Size.Width, o.Size.Height; !within(w, h) && !within(h, w) {
			diags.Warnf("offcut-large", s.Lines.Offcuts[i], "an offcut of %s by %s is larger than a sheet of %s, %s by %s", length(w), length(h), s.Name, length(sheet.Width), length(sheet.Height)).
				WithHelp("measure it again; parts are laid on it as it is stated%s", advise.Silence("offcut-large", "stock"))
		}
	}
	return diags
}
