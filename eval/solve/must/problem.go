package must

import (
	"context"
	"math"

	"foredge/eval/relation"
	"foredge/eval/solve/linear"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

// A Solver holds what all problems of one system share: its plan, and the rooms
// that problems write into.
type Solver struct {
	*plan.Plan
	rooms  rooms
	work   work
	listed listing
}

// NewSolver gets ready to solve the problems of a system, for as long as a context
// lasts.
func NewSolver(ctx context.Context, p *plan.Plan) *Solver {
	return &Solver{Plan: p, rooms: rooms{vars: len(p.Sys.Vars), relations: len(p.Sys.Relations)}, work: work{ctx, enough, -1}}
}

// A Problem is the musts of one part of a system, on the way to being solved.
type Problem struct {
	*Solver
	*room
	scope  plan.Scope
	Active []bool // which relations are in play
	signs  bool   // whether dimensions that aren't Signed must not be negative
	// benches says that the dimensions of benches are unknown too, and that what
	// was read of them stands in Extra.
	benches bool

	queue   []int32
	terms   [1]relation.Term // room for what one equation leaves
	piece   [1]relation.Form // room for the form of one limit
	sum     sparse.Sum
	Kept    sparse.Slab[sparse.Term] // terms of forms
	steps   []step                   // what made dimensions known by several relations
	solved  [][]int32                // the relations of each block that did
	leeway  map[int32]float64        // what rounding a count costs an equation
	Pending []int32                  // non-linear equations still with unknowns

	Conflicts []Conflict
	noted     int // how many relations those list together
	Counts    []OddCount
	Rounded   []OddCount // those that were no whole number, but near enough to one
	Undecided []Undecided
	// Uncertainty gives the standard uncertainty of a gradient.
	Uncertainty func([]sparse.Term) float64

	Space    *linear.Space
	settled  bool                // step and space are those of today
	step     *linear.Elimination // what the space was made from
	stepRows []int32             // the relation of each of its rows
	owner    []relation.VarID
	limit    []LimitForm
	ofForm   []int32          // form of the space to its place in limit, -1 if it has none
	formed   []relation.VarID // what got a form by being asked for, in the scope or, where it cancels, outside
	PartOf   []*Part          // parameter to its part, where that is worked out
	waits    map[int32]bool   // parameters that pending and hard wait for, once asked for
	Hard     []int32          // limits that can't be put as linear forms yet

	// Choosing are wishes, of the system's, that choose among several solutions of a block where they are about
	// nothing else that is open. Chosen are the dimensions of such blocks as they were chosen
	// before, which are chosen again.
	Choosing []int
	Chosen   map[relation.VarID]float64
	chose    []relation.VarID // those of this one

	// Extra are equations that later levels have fixed. Refused says that one
	// of them can't hold.
	Extra   []ExtraRow
	Refused bool
	refusal *Conflict // for a trial of benches, why
	Rough   bool      // some gradient has to be worked out again at the final values

	hung *hangings // once a trial has asked for it
}

// NewProblem makes a problem of a scope. Of its relations those marked active
// are in play, all of them if active is nil.
func NewProblem(p *Solver, s plan.Scope, active []bool, signs bool) *Problem {
	q := &Problem{
		Solver: p, scope: s, room: p.rooms.take(), Active: active, signs: signs,
		Uncertainty: func([]sparse.Term) float64 { return 0 },
	}
	if active == nil {
		q.Active = q.mine
		for _, r := range s.Relations {
			q.Active[r] = true
		}
	}
	return q
}

// Give takes the dimensions marked known as facts.
func (q *Problem) Give(value []float64, known []bool, grad [][]sparse.Term) {
	for _, v := range q.scope.Vars {
		if known[v] {
			q.Value[v], q.Known[v], q.Given[v], q.Grad[v] = value[v], true, true, grad[v]
		}
	}
}

// Lookup tells what is known so far. A dimension that there isn't is no number.
func (q *Problem) Lookup(v relation.VarID) (float64, bool) {
	if v < 0 || int(v) >= len(q.Value) {
		return math.NaN(), true
	}
	return q.Value[v], q.Known[v]
}

// IsEquation reports whether relation r is an equation in play.
func (q *Problem) IsEquation(r int32) bool {
	return q.Equation[r] && q.Active[r] && !q.dead[r]
}

// Allowed is how far equation r may be from holding.
func (q *Problem) Allowed(r int32) float64 { return plan.Tolerance + q.leeway[r] }

// Close sweeps the problem's room and gives it back. Nothing may be asked of
// the problem afterwards.
func (q *Problem) Close() {
	r := q.room
	for _, v := range q.scope.Vars {
		r.Value[v], r.Known[v], r.Given[v], r.Grad[v], r.giver[v], r.FormOf[v], r.seen[v] = math.NaN(), false, false, nil, giver{}, -1, false
		r.raised[v] = false
	}
	for _, v := range q.formed {
		r.FormOf[v] = -1
	}
	for _, i := range q.scope.Relations {
		r.open[i], r.queued[i], r.dead[i], r.mine[i] = 0, false, false, false
	}
	q.rooms.free = append(q.rooms.free, r)
	q.room = nil
}
