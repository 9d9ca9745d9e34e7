package optimize

import (
	"math"

	"foredge/eval/solve/linear"
	"foredge/eval/solve/lsq"
	"foredge/eval/solve/sparse"
)

// Solve finds the best outcome: a least squares solution with the limits that
// act as equations, which is best because no limit is broken and none that
// acts pulls the wrong way. Which limits act is tried from the broken ones
// first, and left to the interior-point method where that goes astray.
func (w *QP) Solve() (*Optimum, bool) {
	b, ok := w.best()
	if b != nil {
		b.Worst, b.X = w.worst(b.X), w.given(b.X)
	}
	return b, ok
}

// best is the outcome by the problem's own parameters.
func (w *QP) best() (*Optimum, bool) {
	acting := make([]bool, len(w.limits))
	if b := w.settle(acting, true); b != nil {
		return b, true
	}
	x, slack, pull := w.interior(0)
	if x == nil {
		return nil, false
	}
	w.anchor = x
	for i := range acting {
		acting[i] = pull[i] > slack[i]
	}
	if b := w.settle(acting, false); b != nil {
		return b, true
	}
	// Not settled exactly: what the interior-point method found is within its
	// own accuracy, about 1e-9 of the sizes involved.
	b := &Optimum{X: x}
	for _, f := range w.goals {
		b.Value = append(b.Value, sparse.Affine{Const: f.Value(x), Grad: f.Grad})
	}
	return b, w.worst(x) >= -rough
}

// settle changes which limits act until the outcome is best, all at once that
// are wrong or one after another; nil if that leads nowhere.
func (w *QP) settle(acting []bool, atOnce bool) *Optimum {
	rounds := 200
	if atOnce {
		rounds = 20
	}
	seen := map[string]bool{}
	for range rounds {
		b, force := w.equal(acting)
		key := make([]byte, len(acting))
		in, out, worst, least := -1, -1, -holds, -1e-9
		changed := false
		for i, f := range w.limits {
			if acting[i] {
				key[i] = 1
				if force[i] < -1e-9 && atOnce {
					acting[i], changed = false, true
				} else if force[i] < least {
					out, least = i, force[i]
				}
				continue
			}
			if v := f.Value(b.X); v < -holds && atOnce {
				acting[i], changed = true, true
			} else if v < worst {
				in, worst = i, v
			}
		}
		switch {
		case atOnce:
		case in >= 0: // the limit broken worst
			acting[in], changed = true, true
		case out >= 0: // the one that pulls the wrong way hardest
			acting[out], changed = false, true
		}
		if !changed {
			for i := range acting {
				if acting[i] && force[i] > 1e-9 {
					b.Acting = append(b.Acting, i)
				}
			}
			return b
		}
		if seen[string(key)] {
			return nil
		}
		seen[string(key)] = true
	}
	return nil
}

// equal solves with the acting limits as equations, without those that
// contradict the others. The force of a limit is its Lagrange multiplier: how
// hard the goals lean on it.
func (w *QP) equal(acting []bool) (*Optimum, []float64) {
	var rows []sparse.Affine
	var from []int
	for i, on := range acting {
		if on {
			rows = append(rows, w.limits[i])
			from = append(from, i)
		}
	}
	if len(rows) == 0 {
		return w.outcome(w.least(w.goals)), nil
	}
	e := linear.Eliminate(rows, w.n)
	all := true
	for _, r := range e.Spare {
		if math.Abs(e.Rows[r].Const) > 1e-7 {
			acting[from[r]] = false // they can't all act
			all = false
		}
	}
	if !all {
		return w.equal(acting)
	}
	var b *Optimum
	reduced, pairs := w.reduced(e)
	if pairs > tangled {
		b = w.bind(rows).outcome()
	}
	if b == nil {
		y, moves := w.least(reduced)
		x := make([]float64, w.n)
		for c := range x {
			x[c] = e.Forms[c].Value(y)
		}
		b = w.outcome(x, moves)
	}
	force := make([]float64, len(w.limits))
	for i, v := range w.forces(rows, b) {
		force[from[i]] = v
	}
	return b, force
}

// reduced gives the goals by the parameters that an elimination leaves, and how many
// pairs of these stand in a goal together.
func (w *QP) reduced(e *linear.Elimination) (goals []sparse.Affine, pairs int) {
	sum := sparse.NewGatherer(w.n)
	goals = make([]sparse.Affine, len(w.goals))
	for i, f := range w.goals {
		out := sparse.Affine{Const: f.Const, Grad: f.Grad}
		for _, t := range f.Terms {
			sub := e.Forms[t.At]
			out.Const += t.Coef * sub.Const
			out.Grad = sparse.Combine(out.Grad, t.Coef, sub.Grad, 0)
			sum.Add(t.Coef, sub.Terms)
		}
		out.Terms = sum.Take(sparse.Vanish)
		goals[i] = out
		pairs += len(out.Terms) * len(out.Terms)
	}
	return goals, pairs
}

// forces says how hard the goals lean on limits that act, at an outcome.
func (w *QP) forces(acting []sparse.Affine, b *Optimum) []float64 {
	// G'force = slope of the goals.
	slope := make([]float64, w.n)
	for i, f := range w.goals {
		k := w.weight[i] * w.weight[i] * b.Value[i].Const
		for _, t := range f.Terms {
			slope[t.At] += k * t.Coef
		}
	}
	turned := make([][]sparse.Term, w.n)
	for i, r := range acting {
		for _, t := range r.Terms {
			turned[t.At] = append(turned[t.At], sparse.Term{At: int32(i), Coef: t.Coef})
		}
	}
	return w.factorise(lsq.NewShape(len(acting), lsq.Columns(turned)), turned, slope, 1e-10).Solution()
}

// least is the point of least squares for the goals, given by the parameters
// that the acting limits leave, and how each goal then moves with what lies
// outside the parameters. What the goals leave open stays at the anchor.
func (w *QP) least(goals []sparse.Affine) (y []float64, moves [][]sparse.Term) {
	var weighed sparse.Slab[sparse.Term]
	terms := make([][]sparse.Term, len(goals))
	right := make([]float64, len(goals))
	for i, f := range goals {
		terms[i] = weighed.Copy(f.Terms)
		for j := range terms[i] {
			terms[i][j].Coef *= w.weight[i]
		}
		right[i] = -f.Const * w.weight[i]
	}
	fac := w.factorise(lsq.NewShape(w.n, lsq.Columns(terms)), terms, right, 1e-10)
	if len(fac.Loose) == 0 {
		y = fac.Solution()
	} else {
		if w.anchor == nil {
			w.anchor = w.start()
		}
		y = make([]float64, w.n)
		for _, k := range fac.Loose {
			y[fac.Order[k]] = w.anchor[fac.Order[k]]
		}
		for range 3 {
			for c, dy := range fac.Correct(lsq.Residuals(terms, right, y)) {
				y[c] += dy
			}
		}
	}
	moves = make([][]sparse.Term, len(goals))
	for _, at := range touched(goals) {
		res := make([]float64, len(terms))
		for i, f := range goals {
			if j, ok := sparse.Find(f.Grad, at); ok {
				res[i] = -f.Grad[j].Coef * w.weight[i]
			}
		}
		dy := fac.Correct(res)
		for c, more := range fac.Correct(lsq.Residuals(terms, res, dy)) {
			dy[c] += more
		}
		for i, f := range goals {
			d := 0.0
			for _, t := range f.Terms {
				d += t.Coef * dy[t.At]
			}
			if j, ok := sparse.Find(f.Grad, at); ok {
				d += f.Grad[j].Coef
			}
			if math.Abs(d) > 1e-14 {
				moves[i] = append(moves[i], sparse.Term{At: at, Coef: d})
			}
		}
	}
	return y, moves
}

// outcome is what the goals come to at x.
func (w *QP) outcome(x []float64, moves [][]sparse.Term) *Optimum {
	b := &Optimum{X: x, Value: make([]sparse.Affine, len(w.goals))}
	for i, f := range w.goals {
		b.Value[i] = sparse.Affine{Const: f.Value(x), Grad: moves[i]}
	}
	return b
}
