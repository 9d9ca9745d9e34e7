package layout

import (
	"foredge/eval/design"
	"foredge/lang/diag"
	"foredge/lang/unit"
	"foredge/layout/advise"
	"foredge/layout/geom"
)

// offcutsTooLarge tells of offcuts of a stock that can't be left of one of its sheets, whichever
// way they lie or, where the stock has a grain, with theirs as the sheet's; lengths are shown in a unit.
func offcutsTooLarge(s *design.Stock, in unit.Unit) (diags diag.List) {
	sheet, known := s.Size.Get()
	if !known || s.Quiet.Has("offcut-large") {
		return nil
	}
	within := func(w, h float64) bool { return w <= sheet.Width+geom.Tol && h <= sheet.Height+geom.Tol }
	length := func(mm float64) string { return unit.FormatLength(mm, in) }
	for i, o := range s.Offcuts {
		switch w, h := o.Size.Width, o.Size.Height; {
		case within(w, h):
		case s.Grain != 0 && within(h, w):
			diags.Warnf("offcut-large", s.Lines.Offcuts[i], "an offcut of %s by %s, with its grain along its %s, can't be left of a sheet of %s, %s by %s", length(w), length(h), s.Grain, s.Name, length(sheet.Width), length(sheet.Height)).
				WithHelp("state it as it lies with its grain along its %s, which may be as %s by %s: parts are laid on it as it is stated%s", s.Grain, length(h), length(w), advise.Silence("offcut-large", "stock"))
		case !within(h, w):
			diags.Warnf("offcut-large", s.Lines.Offcuts[i], "an offcut of %s by %s is larger than a sheet of %s, %s by %s", length(w), length(h), s.Name, length(sheet.Width), length(sheet.Height)).
				WithHelp("measure it again; parts are laid on it as it is stated%s", advise.Silence("offcut-large", "stock"))
		}
	}
	return diags
}
