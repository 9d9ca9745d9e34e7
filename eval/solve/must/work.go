package must

import (
	"context"

	"foredge/eval/relation"
)

// work is what solving a system may still cost. A text bounds how large its system
// is, but not what it takes to solve it: the work is counted, not timed, so that a
// design comes out the same on every machine.
type work struct {
	ctx  context.Context
	left int
	at   relation.VarID // what was worked on last
}

// perRelation is what it takes to propagate and eliminate one relation.
const perRelation = 60

// enough is the work that a system may cost, in steps of some 10 ns: ten
// times what any design of the tests takes, those made to be hard among them.
const enough = 200_000_000

// Spent is what [Solver.Spend] panics with: there is no use in going on, from
// however deep in the numerics. At is what was worked on, Err why it is of no use
// if it isn't the work.
type Spent struct {
	At  relation.VarID
	Err error
}

// Spend counts some steps of work on what hangs together with a dimension, -1 for
// the whole system. It panics with a Spent when the work is used up or the context
// of the solver is done.
func (s *Solver) Spend(steps int, at relation.VarID) {
	w := &s.work
	if at >= 0 {
		w.at = at
	}
	w.left -= steps
	if w.left < 0 {
		panic(Spent{At: w.at})
	}
	if err := w.ctx.Err(); err != nil {
		panic(Spent{At: w.at, Err: err})
	}
}

// Left is how many steps of work are left.
func (s *Solver) Left() int { return s.work.left }

// about is a dimension of which some limits speak, -1 if there is none.
func (q *Problem) about(limits []int32) relation.VarID {
	for _, l := range limits {
		switch by, ok := q.LimitOf(l); {
		case !ok:
		case by.Relation < 0:
			return by.Sign
		case len(q.Vars[by.Relation]) > 0:
			return q.Vars[by.Relation][0]
		}
	}
	return -1
}
