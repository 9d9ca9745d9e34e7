package advice

import (
	"foredge/eval/outcome"
	"foredge/eval/solution"
	"foredge/lang/diag"
)

// An adviser gathers the warnings about one solution.
type adviser struct {
	*solution.Solution
	bound []outcome.BoundRow
	diags diag.List
}

// Of is what there is to warn of in a solved design without errors.
func Of(s *solution.Solution) diag.List {
	a := &adviser{Solution: s, bound: outcome.BoundRows(s)}
	a.boards()
	a.wide()
	a.bare()
	a.noStock()
	a.oddHoles()
	a.idleEases()
	a.wires()
	a.pitches()
	a.unsaid()
	a.pairs()
	a.coils()
	wide, narrow := a.kerfs()
	if !wide { // else the unit of the file may be the slip that makes these large, too
		a.thick()
		a.bed()
	}
	a.speeds(wide, narrow)
	a.openings()
	a.sheets()
	a.marks()
	a.sizes()
	return a.diags
}
