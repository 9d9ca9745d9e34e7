package advice

import (
	"math"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/outcome"
	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// tightHole is by how much holes may be cut smaller than they were measured before
// that is told, in mm: less is nothing that a wire feels (common practice, no
// source).
const tightHole = 0.05

// looseHole is from where on in mm an ease is hardly meant: 0.2 to 0.8 are usual (common practice, no source).
const looseHole = 1.5

// cutWith reports whether an ease in mm makes the holes of a row what they are, along or
// across: one beside a size that is stated does nothing.
func (a *adviser) cutWith(row *model.Row, ease float64) bool {
	for _, n := range []dim.Name{dim.HoleAlong, dim.HoleAcross} {
		if by := a.Of(row.Base(), n) - a.Of(row.Covers.Base(), n) - ease; !(math.Abs(by) > 1e-6) {
			return true
		}
	}
	return false
}

// oddHoles warns of rows whose ease cuts the holes smaller than those measured, or far larger.
// A hole that the panel states itself is cut as stated.
func (a *adviser) oddHoles() {
	for _, n := range a.Things {
		row, ok := n.(*model.Row)
		if !ok || row.Panel == nil || !row.Panel.Built || row.Covers == nil || row.Hole != nil {
			continue
		}
		id, has := row.Dim(dim.Ease)
		if !has || !a.Known(id) {
			continue
		}
		ease := a.Value(id)
		if !a.cutWith(row, ease) {
			continue
		}
		code := diag.Code("tight-hole")
		switch {
		case ease < -math.Max(tightHole, 2*a.Numbers.U[id]):
		case ease > looseHole+1e-6:
			code = "loose-hole"
		default:
			continue
		}
		if outcome.Quiet(a.Solution, row.Panel).Has(code) {
			continue
		}
		at := row.Panel.At
		if row.Declared {
			at = row.At
		}
		at = a.statedAt(id, at)
		if of, ok := row.Panel.Dim(dim.Ease); ok {
			at = a.statedAt(of, at)
		}
		if code == "loose-hole" {
			a.diags.Warnf(code, at, "the holes of %s are cut %s larger than those measured", row.Path, a.Format(ease, unit.Length, at)).
				WithHelp("an ease of 0.2 to 0.8 mm is usual (common practice, no source): check its unit and its decimal point; quiet = loose-hole in the panel silences this")
			continue
		}
		a.diags.Warnf(code, at, "the holes of %s are cut %s smaller than those measured: its ease comes to %s", row.Path,
			a.Format(-ease, unit.Length, at), a.Format(ease, unit.Length, at)).
			WithHelp("an ease opens a hole, so it is above 0: check what gives it; if the holes are to be smaller, say so: quiet = tight-hole in the panel")
	}
}

// statedAt is the line that states a dimension, or the place otherwise if none does.
func (a *adviser) statedAt(id relation.VarID, otherwise source.Span) source.Span {
	if c := a.Numbers.Cause[id]; c.Kind == solve.ByRelation && c.Index >= 0 && a.System.Relations[c.Index].Role == relation.Stated {
		return a.System.Relations[c.Index].At
	}
	return otherwise
}

// idleEases warns of panels that state an ease themselves while all their rows on a notebook's state their own
// holes, which are cut as stated.
func (a *adviser) idleEases() {
	open := map[*model.Panel]bool{} // some row of it is opened
	stated := map[*model.Panel]*model.Row{}
	for _, n := range a.Things {
		row, ok := n.(*model.Row)
		switch {
		case !ok || row.Panel == nil || !row.Panel.Built || row.Covers == nil:
		case row.Hole == nil && a.cutWith(row, a.Of(row.Base(), dim.Ease)) || row.Neck == nil && row.Covers.Neck != nil:
			open[row.Panel] = true
		case stated[row.Panel] == nil:
			stated[row.Panel] = row
		}
	}
	if len(stated) == 0 {
		return
	}
	lines := map[relation.VarID]int{} // how many lines speak of a dimension
	count := func(id relation.VarID) bool {
		lines[id]++
		return false
	}
	for i := range a.System.Relations {
		if r := &a.System.Relations[i]; r.Role != relation.Held {
			r.Left.Mentions(count)
			r.Right.Mentions(count)
		}
	}
	for i := range a.System.Wishes {
		a.System.Wishes[i].Left.Mentions(count)
		a.System.Wishes[i].Right.Mentions(count)
	}
	for i := range a.System.Relations {
		r := &a.System.Relations[i]
		ease, ok := r.Subject()
		panel, isPanel := a.Owners[ease].(*model.Panel)
		if !ok || !isPanel || r.Role != relation.Stated || r.Sign != relation.EQ || r.Inherited != "" || !panel.Is(ease, dim.Ease) ||
			stated[panel] == nil || open[panel] || lines[ease] > 1 {
			continue
		}
		a.diags.Warnf("idle-ease", r.At, "this ease does nothing: the holes of %s are stated", stated[panel].Path).
			WithHelp("a hole that is stated is cut as stated; make it larger there if it should be looser")
	}
}
