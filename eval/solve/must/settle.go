package must

import (
	"math"

	"foredge/eval/relation"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

func (q *Problem) enqueue(r int32) {
	if !q.queued[r] && q.IsEquation(r) {
		q.queued[r] = true
		q.queue = append(q.queue, r)
	}
}

// settle makes a dimension known.
func (q *Problem) settle(v relation.VarID, value float64, grad []sparse.Term, by giver) {
	if q.Known[v] {
		return
	}
	if !sparse.Finite(value) {
		return
	}
	dim := &q.Sys.Vars[v]
	if dim.Whole {
		value, grad = q.whole(v, value, grad)
	}
	q.Value[v], q.Grad[v], q.Known[v], q.giver[v] = value, grad, true, by
	if q.signs && !dim.Signed && !dim.Whole && dim.Bench == 0 && value < -plan.Tolerance {
		q.note(nil, []relation.VarID{v})
	}
	for _, r := range q.Equations.Of(int32(v)) {
		if q.open[r]--; q.open[r] <= 1 {
			q.enqueue(r)
		}
	}
}

// whole rounds a count that is near enough to a whole number.
func (q *Problem) whole(v relation.VarID, value float64, grad []sparse.Term) (float64, []sparse.Term) {
	u := q.Uncertainty(grad)
	n, ok := plan.Whole(value, u)
	if !ok {
		q.Counts = append(q.Counts, OddCount{Var: v, Value: value, U: u})
		return value, grad
	}
	if shift := math.Abs(value - n); shift > 0 {
		if shift > plan.Tolerance {
			q.Rounded = append(q.Rounded, OddCount{Var: v, Value: value, U: u})
		}
		// The equations that gave it need not hold closer than the rounding.
		before := q.Value[v]
		q.Value[v] = n
		for _, r := range q.Equations.Of(int32(v)) {
			_, terms := q.Sys.Relations[r].Gradient(q.Value)
			for _, t := range terms {
				if t.Var != v {
					continue
				}
				k := math.Abs(t.Coef)
				if !sparse.Finite(k) {
					k = 1e3 // a factor not yet known: longer than any pitch
				}
				if q.leeway == nil {
					q.leeway = map[int32]float64{}
				}
				q.leeway[r] += 2 * k * shift
			}
		}
		q.Value[v] = before
	}
	return n, nil
}
