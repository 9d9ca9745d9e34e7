package advice

import (
	"math"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/outcome"
	"foredge/eval/relation"
	"foredge/eval/word"
	"foredge/lang/diag/codes"
	"foredge/lang/unit"
)

// coilPlay is by how much the distance of two holes may differ from how far a coil
// climbs in a turn, in mm, beside what readings leave open (common practice, no
// source): a few holes on, a coil that differs more meets the board.
const coilPlay = 0.2

// coils warns of coils on holes that lie otherwise than they climb. A coil has the
// pitch of its row as a must where that is open; of a cover's row it is the
// notebook's, and a row of unequal gaps has none.
func (a *adviser) coils() {
	for _, n := range a.Things {
		row, ok := n.(*model.Row)
		if !ok || row.Panel == nil || !row.Panel.Built || row.Binding == nil || row.Binding.Form != word.Coil ||
			outcome.Quiet(a.Solution, row.Panel).Has("coil-pitch") {
			continue
		}
		climb, has := row.Binding.Dim(dim.Pitch)
		if !has || !a.Known(climb) {
			continue
		}
		apart := row.Gaps
		if id, even := row.Dim(dim.Pitch); even {
			apart = []relation.VarID{id}
		}
		for _, id := range apart {
			if a.Known(id) && a.offTheCoil(row, id, climb) {
				break
			}
		}
	}
}

// offTheCoil tells of a row two of whose holes lie otherwise apart than its coil climbs.
func (a *adviser) offTheCoil(row *model.Row, apart, climb relation.VarID) bool {
	open := 2 * math.Hypot(a.uncertainty(apart), a.uncertainty(climb))
	if !(math.Abs(a.Value(apart)-a.Value(climb)) > coilPlay+open+nearly) {
		return false
	}
	size := func(id relation.VarID) string { return a.Format(a.Value(id), unit.Length, row.At) }
	a.diags.Warnf("coil-pitch", row.At, "holes of %s lie %s apart, and %s climbs %s in a turn", row.Path, size(apart), row.Binding.Path, size(climb)).
		Note(row.Binding.At, "%s is declared here", row.Binding.Path).
		WithHelp("a coil can't be wound through them: measure both once more, or take a coil of their pitch%s", codes.Silence("coil-pitch", "panel"))
	return true
}
