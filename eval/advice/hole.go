package advice

import (
	"math"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/outcome"
	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// tightHole is by how much holes may be cut smaller than they were measured before
// that is told, in mm: less is nothing that a wire feels (common practice, no
// source).
const tightHole = 0.05

// tightHoles warns of rows whose ease cuts the holes smaller than those measured.
// A hole that the panel states itself is cut as stated.
func (a *adviser) tightHoles() {
	for _, n := range a.Things {
		row, ok := n.(*model.Row)
		if !ok || row.Panel == nil || !row.Panel.Built || row.Covers == nil || row.Hole != nil || outcome.Quiet(a.Solution, row.Panel).Has("tight-hole") {
			continue
		}
		id, has := row.Dim(dim.Ease)
		if !has || !a.Known(id) {
			continue
		}
		ease := a.Value(id)
		if !(ease < -math.Max(tightHole, 2*a.Numbers.U[id])) {
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
		a.diags.Warnf("tight-hole", at, "the holes of %s are cut %s smaller than those measured: its ease comes to %s", row.Path,
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
