package must

import (
	"foredge/eval/relation"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
	"math"
)

func (q *Problem) enqueue(r int32) {
	if !q.queued[r] && q.IsEquation(r) {
		q.queued[r] = true
		q.queue = append(q.queue, r)
	}
}

// settle makes a dimension known.
func (q *Problem) settle(v relation.VarID, value float64, g []sparse.Term, by giver) {
	if q.Known[v] {
		return
	}
	if !sparse.Finite(value) {
		return
	}
	dim := &q.Sys.Vars[v]
	if dim.Whole {
		value, g = q.whole(v, value, g)
	}
	q.Value[v], q.Grad[v], q.Known[v], q.giver[v] = value, g, true, by
	if q.signs && !dim.Signed && !dim.Whole && dim.Bench == 0 && value < -plan.Tolerance {
		q.Conflicts = append(q.Conflicts, Conflict{q.Support(nil, []relation.VarID{v})})
	}
	for _, r := range q.Equations.Of(int32(v)) {
		if q.open[r]--; q.open[r] <= 1 {
			q.enqueue(r)
		}
	}
}

// whole rounds a count that is near enough to a whole number.
func (q *Problem) whole(v relation.VarID, value float64, g []sparse.Term) (float64, []sparse.Term) {
	u := q.Uncertainty(g)
	near := plan.Tolerance
	if u > 1e-12 {
		near = max(plan.Tolerance, min(3*u, 0.2))
	}
	n := math.Round(value)
	if math.Abs(value-n) > near || n < 0 || n > plan.MostCount {
		q.Counts = append(q.Counts, OddCount{Var: v, Value: value, U: u})
		return value, g
	}
	if shift := math.Abs(value - n); shift > 0 {
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
