package adjust

import (
	"foredge/eval/relation"
	"foredge/eval/solve/linear"
	"foredge/eval/solve/lsq"
	"foredge/eval/solve/must"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
	"math"
)

// A Bench is one notebook being adjusted: its readings move as little as they
// can, each in proportion to its uncertainty, so that its musts hold.
type Bench struct {
	*must.Problem
	Number   int
	within   plan.Scope
	Readings []int // into System.Readings
	offset   int32 // of its parameters among those of all benches

	rows   [][]sparse.Term // the readings by the parameters, divided by their uncertainty
	right  []float64
	space  *linear.Space
	factor *lsq.Factor
	cov    *lsq.Covariance
	nulls  [][]sparse.Term // of each parameter, its part in each open direction
	at     []float64
	// The same two slices for all benches: each looks at its own dimensions.
	values []float64 // of dimensions, at the solution
	open   []bool    // dimensions of the bench that nothing decides
}

// Close gives up the bench's problem, of which nothing may be asked any more.
func (b *Bench) Close() {
	b.Problem.Close()
	b.Problem = nil
}

func (b *Bench) params() int {
	if b.space == nil {
		return 0
	}
	return len(b.space.Uses)
}

// solve adjusts, again with each count that came out whole held exact.
func (b *Bench) solve(p *must.Solver, vars []relation.VarID) {
	held := map[relation.VarID]float64{}
	for {
		b.Problem = must.NewProblem(p, b.within, nil, false)
		for _, v := range vars {
			if n, ok := held[v]; ok {
				b.Value[v], b.Known[v] = n, true
			}
		}
		b.Solve()
		b.fit(vars)
		again := false
		for _, v := range vars {
			if !p.Sys.Vars[v].Whole || b.Known[v] || b.open[v] || !sparse.Finite(b.values[v]) {
				continue
			}
			u := 0.0
			if b.cov != nil {
				u = math.Sqrt(b.cov.Variance(b.VarForm(v).Terms))
			}
			n := math.Round(b.values[v])
			if math.Abs(b.values[v]-n) > max(plan.Tolerance, min(3*u, 0.2)) || n < 0 || n > plan.MostCount {
				b.Counts = append(b.Counts, must.OddCount{Var: v, Value: b.values[v], U: u})
				continue
			}
			held[v] = n
			again = true
		}
		if !again {
			return
		}
		b.Problem.Close()
	}
}
