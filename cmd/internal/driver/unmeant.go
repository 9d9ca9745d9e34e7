package driver

import (
	"cmp"
	"fmt"
	"math"

	"foredge/lang/diag"
	"foredge/lang/unit"
	"foredge/layout"
	"foredge/layout/advise"
	"foredge/layout/geom"
)

// Unmeant warns of how parts of a stock lie, which a maker can hardly have meant: edges of two
// that are one line, parts that a saw reaches, and parts that take a whole sheet each for the sake of a
// margin or a spacing.
func Unmeant(u layout.Use, in unit.Unit) (diags diag.List) {
	of, kind := u.Stock, "laser"
	if of == "" {
		of = "the stock"
	}
	if u.Supply.Stated {
		kind = "stock"
	}
	if t := u.Twice; t.Times > 0 && !u.Supply.Quiet.Has("cut-twice") {
		more := ""
		if t.Times > 1 {
			if more = ", and so does one more such pair"; t.Times > 2 {
				more = fmt.Sprintf(", and so do %d more such pairs", t.Times-1)
			}
		}
		share := "edges of equal rectangles are cut once for both with shared-cuts = yes; else "
		if u.Shared.Yes {
			share = ""
		}
		diags.Warnf("cut-twice", cmp.Or(u.Supply.Lines.Spacing, u.At), "edges of %s and %s lie on one line, which the laser cuts twice%s", t.A, t.B, more).
			WithHelp("%slet spacing be several times the kerf, as in spacing = %s%s", share, unit.Example(2, in), advise.Silence("cut-twice", kind))
	}
	if near, ok := u.NearSaw.Get(); ok && !u.Supply.Quiet.Has("sawn-edge") {
		help := fmt.Sprintf("let margin be more than the saw's cut is wide, as in margin = %s; or, where what cuts the sheet up takes nothing away, silence this", unit.Example(marginBySaw(u.Supply), in))
		if near < u.Supply.Margin-geom.Tol {
			help = "what leaves no margin lies alone: let it be smaller, or cut it from a sheet that isn't sawn; or, where what cuts the sheet up takes nothing away, silence this"
		}
		diags.Warnf("sawn-edge", cmp.Or(u.Supply.Lines.Margin, u.At), "parts of %s come to %s from a line along which their sheet is sawn, and the saw's cut may reach them", of, unit.FormatLength(near, in)).
			WithHelp("%s%s", help, advise.Silence("sawn-edge", kind))
	}
	w := u.Wasteful
	if w.Parts == 0 || u.Supply.Quiet.Has("lies-alone") {
		return diags
	}
	margin, lessMargin := w.Margin.Get()
	spacing, lessSpacing := w.Spacing.Get()
	at, why, with := u.At, "", ""
	if lessSpacing {
		at, why = cmp.Or(u.Supply.Lines.Spacing, u.At), "a spacing of "+unit.FormatLength(u.Supply.Spacing, in)
		with = "spacing = " + unit.Example(spacing, in)
	}
	if lessMargin {
		at = cmp.Or(u.Supply.Lines.Margin, u.At)
		its := "a margin of " + unit.FormatLength(u.Supply.Margin, in)
		if why != "" {
			why, with = its+" and "+why, "margin = "+unit.Example(margin, in)+" and "+with
		} else {
			why, with = its, "margin = "+unit.Example(margin, in)
		}
	}
	if !u.Supply.Stated {
		with = "a stock that says " + with
	}
	they, lie := "they leave", fmt.Sprintf("%d parts of %s take a whole sheet each", w.Parts, of)
	if w.Parts == 1 {
		they, lie = "it leaves", fmt.Sprintf("1 part of %s takes a whole sheet", of)
	}
	said := "for " + why
	if w.Tight {
		said = "as " + they + " no room for " + why
	}
	do := "two of them find room on one"
	switch {
	case w.Sheets == 0:
	case w.Fewer == 0:
		do = fmt.Sprintf("all that is cut from %s finds room on its offcuts", of)
	case w.Fewer == 1:
		do = fmt.Sprintf("all that is cut from %s takes one sheet, not %d", of, w.Sheets)
	default:
		do = fmt.Sprintf("all that is cut from %s takes %d sheets, not %d", of, w.Fewer, w.Sheets)
	}
	diags.Warnf("lies-alone", at, "%s, %s", lie, said).WithHelp("with %s %s%s", with, do, advise.Silence("lies-alone", kind))
	return diags
}

// marginBySaw is a margin in mm that no cut reaches by which a sheet is sawn or cut up.
func marginBySaw(s layout.Supply) float64 {
	if s.Way.Knife.Yes {
		return max(5, math.Ceil(s.Spacing+1))
	}
	return 5
}
