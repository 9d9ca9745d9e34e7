package optimize

import (
	"math"
	"slices"

	"foredge/eval/solve/lsq"
	"foredge/eval/solve/sparse"
)

// A QP is a least squares problem with limits: among all x with every
// limit at least 0, those for which the squares of the goals, each times its
// weight, add up to the least.
type QP struct {
	n      int
	goals  []sparse.Affine // forms that would best be 0
	weight []float64       // root of each weight
	limits []sparse.Affine // forms that must be at least 0, largest coefficient 1 as given
	// anchor is where what the goals leave open stays as near as it can; nil
	// until it is asked for.
	anchor []float64
	// sums say what the parameters are, where they aren't those given.
	sums *sums
	// Spend, if it is not nil, is called with the steps that the next piece of work
	// takes, before it is done; see [lsq.Shape.Steps].
	Spend func(steps int)
}

// An Optimum is the outcome of a QP.
type Optimum struct {
	X     []float64
	Worst float64 // by how much X breaks the limit it breaks most, a number below 0
	// Value is what each goal comes to, with the way it moves with what lies
	// outside the parameters.
	Value []sparse.Affine
	// Acting are the limits that hold the goals back: at 0 in every outcome
	// as good as this one.
	Acting []int
}

// NewQP takes forms over the given parameters, which are in order.
func NewQP(params []int32, goals, limits []sparse.Affine, weights []float64) *QP {
	w := &QP{n: len(params), goals: make([]sparse.Affine, 0, len(goals)), weight: make([]float64, 0, len(goals)), limits: make([]sparse.Affine, 0, len(limits))}
	// Where a parameter stands among those given.
	first, place := int32(0), []int32(nil)
	if len(params) > 0 {
		first = params[0]
		place = make([]int32, params[len(params)-1]-first+1)
		for i, p := range params {
			place[p-first] = int32(i)
		}
	}
	var terms sparse.Slab[sparse.Term]
	local := func(f sparse.Affine, k float64) sparse.Affine {
		out := sparse.Affine{Const: f.Const * k, Terms: terms.Take(len(f.Terms))[:0]}
		if len(f.Grad) > 0 {
			out.Grad = sparse.Scaled(f.Grad, k)
		}
		for _, t := range f.Terms {
			out.Terms = sparse.AppendTerm(out.Terms, place[t.At-first], t.Coef*k)
		}
		return out
	}
	largest := 0.0
	for i, f := range goals {
		w.goals = append(w.goals, local(f, 1))
		largest = max(largest, math.Sqrt(weights[i])*sparse.Largest(f.Terms))
	}
	for i := range goals {
		w.weight = append(w.weight, math.Sqrt(weights[i])/largest)
	}
	for _, f := range limits {
		w.limits = append(w.limits, local(f, 1/sparse.Largest(f.Terms)))
	}
	if slices.ContainsFunc(w.goals, isLong) || slices.ContainsFunc(w.limits, isLong) {
		if s, by := sumsOf(w.n, slices.Concat(w.goals, w.limits)); s != nil {
			w.sums, w.goals, w.limits = s, by[:len(w.goals)], by[len(w.goals):]
		}
	}
	return w
}

// given is a point by the parameters given.
func (w *QP) given(x []float64) []float64 {
	if w.sums == nil || x == nil {
		return x
	}
	return w.sums.given(x)
}

// factorise is [lsq.Factorise], accounted for.
func (w *QP) factorise(s *lsq.Shape, rows [][]sparse.Term, right []float64, loose float64) *lsq.Factor {
	if w.Spend != nil {
		w.Spend(s.Steps() + perRow*len(rows))
	}
	return lsq.Factorise(s, rows, right, loose)
}

// perRow is what it takes to make a row ready, and to use what became of it.
const perRow = 20

// rough is how far below 0, in mm, a limit may come out where only the
// interior-point method has settled it.
const rough = 1e-6

// holds is how far below 0, in mm, a limit may come out.
const holds = 1e-9

// worst is by how much x breaks the limit it breaks most, as a number below 0.
func (w *QP) worst(x []float64) float64 {
	worst := 0.0
	for _, f := range w.limits {
		worst = min(worst, f.Value(x))
	}
	return worst
}

// prox is the root of a weak goal for each parameter to stay where it is.
const prox = 1e-6

// still is a row for each parameter of that goal.
func (w *QP) still() [][]sparse.Term {
	rows, terms := make([][]sparse.Term, w.n), make([]sparse.Term, w.n)
	for c := range rows {
		terms[c] = sparse.Term{At: int32(c), Coef: prox}
		rows[c] = terms[c : c+1 : c+1]
	}
	return rows
}
