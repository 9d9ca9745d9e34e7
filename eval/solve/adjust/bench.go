package adjust

import (
	"foredge/eval/solve/linear"
	"foredge/eval/solve/lsq"
	"foredge/eval/solve/must"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

// A Bench is one notebook being adjusted: its readings move as little as they
// can, each in proportion to its uncertainty, so that its musts hold.
type Bench struct {
	*must.Problem
	Number   int
	within   plan.Scope
	Readings []int // into System.Readings
	offset   int32 // of its parameters among those of all benches

	rows     [][]sparse.Term // the readings by the parameters, divided by their uncertainty
	right    []float64
	space    *linear.Space
	factor   *lsq.Factor
	cov      *lsq.Covariance
	nulls    [][]sparse.Term  // of each parameter, its part in each open direction
	at       []float64        // the solution, by parameter
	bent     []int32          // the musts that aren't linear and decide nothing that is open
	unsolved []must.Undecided // musts that have no solution with what is linear alone
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
