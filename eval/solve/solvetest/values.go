package solvetest

import (
	"testing"

	"foredge/eval/solve"
	"foredge/lang/foretest"
)

// CheckValues solves a system, in which nothing may be wrong, and holds dimensions against
// what they must come to. It reports whether nothing was.
func CheckValues(t *testing.T, name string, s *Shop, want map[string]float64) (*solve.Solution, bool) {
	t.Helper()
	sol := s.Solve()
	if !sol.OK() {
		t.Errorf("%s: %s", name, Wrongs(s, sol))
		return sol, false
	}
	for dimension, value := range want {
		foretest.Near(t, name+": "+dimension, s.Value(t, sol, dimension), value, 1e-6)
	}
	return sol, true
}
