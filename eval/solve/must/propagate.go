package must

import (
	"math"

	"foredge/eval/relation"
	"foredge/eval/solve/root"
	"foredge/eval/solve/sparse"
)

// start counts the unknowns of each equation and puts those with one at most
// in line.
func (q *Problem) start() {
	q.queue = make([]int32, 0, len(q.scope.Relations))
	for _, r := range q.scope.Relations {
		if !q.IsEquation(r) {
			continue
		}
		q.open[r] = 0
		for _, v := range q.Vars[r] {
			if !q.Known[v] {
				q.open[r]++
			}
		}
		if q.open[r] <= 1 {
			q.enqueue(r)
		}
	}
}

// propagate takes equations with one unknown, in turn.
func (q *Problem) propagate() {
	for len(q.queue) > 0 {
		r := q.queue[0]
		q.queue = q.queue[1:]
		q.queued[r] = false
		if q.IsEquation(r) {
			q.one(r)
		}
	}
}

// FollowAll works out all that follows equation by equation.
func (q *Problem) FollowAll() {
	q.start()
	q.propagate()
}

// Follow supposes a value of a dimension and works out what follows from it
// equation by equation.
func (q *Problem) Follow(v relation.VarID, x float64) {
	q.Value[v], q.Known[v] = x, true
	for _, r := range q.Equations.Of(int32(v)) {
		if q.open[r]--; q.open[r] <= 1 {
			q.enqueue(r)
		}
	}
	q.propagate()
}

// one takes an equation with at most one unknown.
func (q *Problem) one(r int32) {
	unknown, count := relation.VarID(-1), 0
	for _, v := range q.Vars[r] {
		if !q.Known[v] {
			unknown = v
			count++
		}
	}
	if count > 1 {
		return
	}
	form, ok := q.difference(r, q.terms[:0])
	if count == 0 || ok && len(form.Terms) == 0 {
		if ok && !(math.Abs(form.Const) <= q.Allowed(r)+1e-13*q.magnitude(r)) {
			q.dead[r] = true
			q.note([]int32{r}, nil)
		}
		return
	}
	if ok {
		t := form.Terms[0]
		if x := -form.Const / t.Coef; sparse.Finite(x) {
			q.giveOne(r, t.Var, x)
			return
		}
		// What it is made of can't be computed: a root of less than 0, a
		// quotient by 0.
		q.dead[r] = true
		q.Undecided = append(q.Undecided, q.undecide([]relation.VarID{t.Var}, []int32{r}))
		return
	}
	if q.Sys.Relations[r].Hides(unknown) {
		return
	}
	roots, any := q.roots(r, unknown)
	if any {
		return
	}
	switch len(roots) {
	case 0:
		q.dead[r] = true
		q.Undecided = append(q.Undecided, q.undecide([]relation.VarID{unknown}, []int32{r}))
	case 1:
		q.giveOne(r, unknown, roots[0])
	} // of several, limits may leave one: that is for a block to find
}

// giveOne settles the last unknown of equation r.
func (q *Problem) giveOne(r int32, v relation.VarID, x float64) {
	var grad []sparse.Term
	old := q.Value[v]
	q.Value[v] = x
	if moved := q.moved(r); len(moved) > 0 {
		if d := q.slope(r, v); d != 0 && sparse.Finite(d) {
			grad = sparse.Scaled(moved, -1/d)
		}
	}
	q.Value[v] = old
	q.settle(v, x, grad, giver{kind: byOne, at: r})
}

// magnitude is the size of what equation r adds up, to allow for rounding.
func (q *Problem) magnitude(r int32) float64 {
	m := 0.0
	for _, t := range q.Forms[r].Terms {
		if q.Known[t.Var] {
			m += math.Abs(t.Coef * q.Value[t.Var])
		}
	}
	return m
}

// roots finds the values of one dimension for which equation r holds, all else
// in it being known. any says that it holds for a whole stretch of values.
func (q *Problem) roots(r int32, v relation.VarID) (found []float64, any bool) {
	low := -root.Far
	if !q.Sys.Vars[v].Signed && q.signs {
		low = 0
	}
	before := q.Value[v]
	defer func() { q.Value[v] = before }()
	rel := &q.Sys.Relations[r]
	return root.Scan(func(x float64) float64 {
		q.Value[v] = x
		return rel.Residual(q.Value)
	}, low, root.Far)
}
