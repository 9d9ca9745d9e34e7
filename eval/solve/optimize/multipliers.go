package optimize

import (
	"maps"
	"math"
	"slices"

	"foredge/eval/solve/lsq"
	"foredge/eval/solve/sparse"
)

const (
	// stiff is how much more a limit that acts counts than a goal in each round of the
	// method of multipliers.
	stiff = 1e4
	// multiplierRounds are more rounds than it takes: each makes what is left wrong
	// smaller by stiff², times how far the limits are from depending on one another.
	multiplierRounds = 50
	// tangled is the work, in pairs of parameters in a goal, from which goals are not
	// given by the parameters that the limits leave.
	tangled = 1_000_000
)

// bound solves with some limits as equations, which don't contradict one another, by
// the method of multipliers (M. R. Hestenes, J. Optim. Theory Appl. 4 (1969) 303;
// M. J. D. Powell in R. Fletcher, Optimization, 1969, 283): the limits count as very
// heavy goals, and what they are still missed by is added to what they ask for, until
// they hold. So all rows stay as short as they are, where limits that hang together
// make goals long that are given by what these leave.
type bound struct {
	*QP
	acting []sparse.Affine
	rows   [][]sparse.Term // of the goals, by their weights, and of the limits
	fac    *lsq.Factor
}

func (w *QP) bind(acting []sparse.Affine) *bound {
	b := &bound{QP: w, acting: acting, rows: make([][]sparse.Term, 0, len(w.goals)+len(acting))}
	for i, f := range w.goals {
		b.rows = append(b.rows, sparse.Scaled(f.Terms, w.weight[i]))
	}
	for _, f := range acting {
		b.rows = append(b.rows, sparse.Scaled(f.Terms, stiff))
	}
	b.fac = w.factorise(lsq.NewShape(w.n, lsq.Columns(b.rows)), b.rows, make([]float64, len(b.rows)), 1e-10)
	return b
}

// point is the point of least squares for goals and limits with the given constants.
// What nothing decides stays at the anchor, or at 0 if that is nil. It reports whether
// the limits came to hold.
func (b *bound) point(goals, limits, anchor []float64) (x []float64, ok bool) {
	x = make([]float64, b.n)
	if anchor != nil {
		for _, k := range b.fac.Loose {
			x[b.fac.Order[k]] = anchor[b.fac.Order[k]]
		}
	}
	right := make([]float64, len(b.rows))
	for i, c := range goals {
		right[i] = -c * b.weight[i]
	}
	first := len(goals)
	for i, c := range limits {
		right[first+i] = -c * stiff
	}
	added := make([]float64, len(limits))
	missed := math.Inf(1)
	for round := range multiplierRounds {
		res := lsq.Residuals(b.rows, right, x)
		worst := 0.0
		for i := range limits {
			worst = max(worst, math.Abs(res[first+i]/stiff))
			if round > 0 {
				added[i] += res[first+i]
				res[first+i] += added[i]
			}
		}
		if round > 1 && worst <= holds/100 && worst > missed/2 { // no better for all that is done
			return x, true
		}
		missed = worst
		for c, d := range b.fac.Correct(res) {
			x[c] += d
		}
		if b.Spend != nil {
			b.Spend(perRow * len(b.rows))
		}
	}
	return x, missed <= holds/100
}

// outcome is the best with the limits as equations, and how each goal then moves with
// what lies outside the parameters; nil if it can't be found this way.
func (b *bound) outcome() *Optimum {
	goals, limits := make([]float64, len(b.goals)), make([]float64, len(b.acting))
	constants := func(of func(f sparse.Affine) float64) {
		for i, f := range b.goals {
			goals[i] = of(f)
		}
		for i, f := range b.acting {
			limits[i] = of(f)
		}
	}
	constants(func(f sparse.Affine) float64 { return f.Const })
	if len(b.fac.Loose) > 0 && b.anchor == nil {
		b.anchor = b.start()
	}
	x, ok := b.point(goals, limits, b.anchor)
	if !ok {
		return nil
	}
	moves := make([][]sparse.Term, len(b.goals))
	for _, at := range touched(b.goals, b.acting) {
		along := func(f sparse.Affine) float64 {
			if j, ok := sparse.Find(f.Grad, at); ok {
				return f.Grad[j].Coef
			}
			return 0
		}
		constants(along)
		dx, ok := b.point(goals, limits, nil)
		if !ok {
			return nil
		}
		for i, f := range b.goals {
			if d := along(f) + (sparse.Affine{Terms: f.Terms}).Value(dx); math.Abs(d) > 1e-14 {
				moves[i] = append(moves[i], sparse.Term{At: at, Coef: d})
			}
		}
	}
	return b.QP.outcome(x, moves)
}

// touched lists what forms move with that lies outside the parameters.
func touched(forms ...[]sparse.Affine) []int32 {
	at := map[int32]bool{}
	for _, f := range slices.Concat(forms...) {
		for _, t := range f.Grad {
			at[t.At] = true
		}
	}
	return slices.Sorted(maps.Keys(at))
}
