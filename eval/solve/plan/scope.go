package plan

import (
	"slices"

	"foredge/eval/relation"
)

// A Scope is the part of a system that a problem is about. What is done in a
// scope takes time by its size, not by that of the system.
type Scope struct {
	Relations []int32          // in order
	Vars      []relation.VarID // in order; all that the relations mention are among them
}

// Also adds the dimensions that are not of the bench itself: its own are in
// the scope already.
func (s *Scope) Also(sys *relation.System, bench int, vars []relation.VarID) {
	for _, v := range vars {
		if sys.Vars[v].Bench != bench {
			s.Vars = append(s.Vars, v)
		}
	}
}

// Clone is a copy that can be changed on its own.
func (s Scope) Clone() Scope {
	return Scope{Relations: slices.Clone(s.Relations), Vars: slices.Clone(s.Vars)}
}

// Sort brings a scope that was gathered into order.
func (s *Scope) Sort() {
	if !slices.IsSorted(s.Relations) {
		slices.Sort(s.Relations)
	}
	if !slices.IsSorted(s.Vars) {
		slices.Sort(s.Vars)
	}
	s.Relations, s.Vars = slices.Compact(s.Relations), slices.Compact(s.Vars)
}
