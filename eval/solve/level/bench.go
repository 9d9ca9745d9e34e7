package level

import (
	"foredge/eval/relation"
	"foredge/eval/solve/adjust"
	"foredge/eval/solve/must"
	"foredge/eval/solve/sparse"
)

// Bench meets the wishes of a bench, after its readings. They decide only what
// the readings leave open, so that no reading is moved, and before anything is
// made from the bench, so that it follows no line of the design. What they decide
// the bench knows from then on.
func Bench(s *must.Solver, adj *adjust.Adjustments, number int) *Design {
	d := &Design{Solver: s, Adj: adj, bench: number, scope: s.BenchScopes[number-1].Clone(), read: adj.Open[number-1]}
	d.scope.Sort()
	d.Musts()
	defer func() { d.Problem.Close() }()
	if len(d.Problem.Conflicts) > 0 || len(d.Problem.Undecided) > 0 {
		return d // told where the bench was adjusted
	}
	d.Wishes()
	result := d.result
	if d.Problem.Rough {
		values, grad := d.Result()
		result = func(v relation.VarID) (float64, []sparse.Term) { return values[v], grad[v] }
	}
	for _, v := range s.BenchVars[number-1] {
		if adj.Known[v] {
			continue
		}
		if value, grad := result(v); sparse.Finite(value) {
			adj.Value[v], adj.Known[v], adj.Grad[v] = value, true, grad
			d.wished = append(d.wished, v)
		}
	}
	return d
}
