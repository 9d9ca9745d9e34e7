package solvetest

import (
	"fmt"
	"slices"
	"testing"

	"foredge/eval/relation"
	"foredge/eval/solve"
)

// CheckCauses follows every explanation to its end: it never comes back to
// where it began except through relations that are solved together. What is
// said to come from a line comes from all else of which that speaks.
func CheckCauses(t *testing.T, s *Shop, sol *solve.Solution) {
	t.Helper()
	const (
		fresh = iota
		open
		done
	)
	state := make([]int, len(s.Vars))
	block := func(v relation.VarID) string {
		c := sol.Cause[v]
		if len(c.Together) == 0 {
			return ""
		}
		return fmt.Sprint(c.Together)
	}
	var visit func(v relation.VarID)
	visit = func(v relation.VarID) {
		state[v] = open
		for _, f := range sol.Cause[v].From {
			if state[f] == open && (block(f) == "" || block(f) != block(v)) {
				t.Errorf("%s is explained by itself, through %s", s.Vars[f].Name, s.Vars[v].Name)
			}
			if state[f] == fresh {
				visit(f)
			}
		}
		state[v] = done
	}
	for v := range s.Vars {
		if state[v] == fresh {
			visit(relation.VarID(v))
		}
		c := sol.Cause[v]
		switch c.Kind {
		case solve.NoCause:
			t.Errorf("%s has no cause", s.Vars[v].Name)
		case solve.ByRelation:
			vars := s.Relations[c.Index].Vars()
			if f, ok := s.Relations[c.Index].Difference(relation.Nothing); ok { // less what cancels
				vars = vars[:0]
				for _, x := range f.Terms {
					vars = append(vars, x.Var)
				}
			}
			if !slices.Contains(vars, relation.VarID(v)) {
				t.Errorf("%s comes from a line that does not speak of it", s.Vars[v].Name)
			}
			for _, w := range vars {
				if int(w) != v && !slices.Contains(c.From, w) {
					t.Errorf("%s comes from a line that speaks of %s, which is not named", s.Vars[v].Name, s.Vars[w].Name)
				}
			}
		}
	}
}
