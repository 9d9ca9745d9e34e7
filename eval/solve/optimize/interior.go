package optimize

import (
	"math"
	"slices"

	"foredge/eval/solve/lsq"
	"foredge/eval/solve/sparse"
)

// start is a point between what the goals and what the limits would like.
func (w *QP) start() []float64 {
	rows := make([][]sparse.Term, 0, len(w.goals)+len(w.limits)+w.n)
	right := make([]float64, 0, cap(rows))
	for i, f := range w.goals {
		rows = append(rows, sparse.Scaled(f.Terms, w.weight[i]))
		right = append(right, -f.Const*w.weight[i])
	}
	for _, f := range w.limits {
		rows = append(rows, f.Terms)
		right = append(right, max(0, -f.Const))
	}
	rows = append(rows, w.still()...)
	right = append(right, make([]float64, w.n)...)
	return w.factorise(lsq.NewShape(w.n, lsq.Columns(rows)), rows, right, 0).Solution()
}

// Project looks for an allowed point: Newton's method for the least sum of
// squares by which limits are broken (Mangasarian, Optim. Methods Softw. 17
// (2002) 913). It reports whether it came to 0.
func (w *QP) Project() (x []float64, ok bool) {
	x = make([]float64, w.n)
	in := make([]bool, len(w.limits))
	still := w.still()
	rows, right := make([][]sparse.Term, 0, len(w.limits)+w.n), make([]float64, 0, len(w.limits)+w.n)
	for range 12 {
		rows, right = rows[:0], right[:0]
		broken := false
		for i, f := range w.limits {
			v := f.Value(x)
			broken = broken || v < -holds
			if in[i] = v < -holds || in[i] && v <= holds; in[i] {
				rows = append(rows, f.Terms)
				right = append(right, -f.Const)
			}
		}
		if !broken {
			return w.given(x), true
		}
		rows = append(rows, still...)
		for _, v := range x {
			right = append(right, prox*v)
		}
		fac := w.factorise(lsq.NewShape(w.n, lsq.Columns(rows)), rows, right, 0)
		x = fac.Unrefined() // near enough for a question of yes or no
	}
	return nil, false
}

// Interior is Mehrotra's predictor-corrector method (SIAM J. Optim. 2 (1992)
// 575) for the QP, with every linear system solved by the orthogonal
// factor of its rows, so that the ever wider range of weights costs no digits.
// With give > 0 a limit may be broken at the price of give⁻¹ times half its
// square: then pull/… measures by how much, and the problem always has an
// outcome. It returns the point, by how much that breaks the limit it breaks most (a
// number below 0), and how hard each limit pulls.
func (w *QP) Interior(give float64) (x []float64, worst float64, pull []float64) {
	x, _, pull = w.interior(give)
	if x == nil {
		return nil, 0, nil
	}
	return w.given(x), w.worst(x), pull
}

// interior is the same by the problem's own parameters, with how far each limit is
// from 0.
func (w *QP) interior(give float64) (x, slack, pull []float64) {
	p := w.newInteriorPoint(give)
	comp := make([]float64, len(w.limits))
	for range 100 {
		mu, off, lean := p.residuals()
		if !sparse.Finite(mu) || !sparse.Finite(off) || !sparse.Finite(lean) {
			return nil, nil, nil
		}
		if mu < 1e-14 && off < 1e-10 && lean < 1e-10 || give > 0 && w.worst(p.x) >= -holds {
			break
		}
		p.refactor()
		for i := range comp {
			comp[i] = -p.slack[i] * p.pull[i]
		}
		p.direct(comp)
		k := p.longest()
		after := 0.0
		for i := range p.slack {
			after += (p.slack[i] + k*p.dslack[i]) * (p.pull[i] + k*p.dpull[i])
		}
		after /= float64(max(1, len(w.limits)))
		sigma := math.Pow(after/mu, 3)
		for i := range comp {
			comp[i] = sigma*mu - p.slack[i]*p.pull[i] - p.dslack[i]*p.dpull[i]
		}
		p.direct(comp)
		k = min(1, 0.995*p.longest())
		if k < 1e-10 {
			break
		}
		p.advance(k)
	}
	return p.x, p.slack, p.pull
}

// An interiorPoint is a point on the way through the inside of what the limits
// leave. How far a limit is from 0 and how hard it pulls are both kept above 0.
type interiorPoint struct {
	*QP
	give           float64
	x, slack, pull []float64
	anchor         []float64 // where x began
	// Residuals: of the slope of the goals, and of each limit.
	dual, primal []float64
	// The rows of the goals, the limits by the root of theta, and still.
	rows  [][]sparse.Term
	right []float64 // all 0
	plan  *lsq.Shape
	theta []float64 // how hard a limit pulls more for each mm
	fac   *lsq.Factor
	// The direction of the next step.
	dx, dslack, dpull []float64
}

// newInteriorPoint begins well inside, with every slack and pull about as large as
// what is still wrong (Mehrotra's advice).
func (w *QP) newInteriorPoint(give float64) *interiorPoint {
	m, n := len(w.limits), w.n
	p := &interiorPoint{
		QP: w, give: give, x: w.start(), slack: make([]float64, m), pull: make([]float64, m),
		dual: make([]float64, n), primal: make([]float64, m), theta: make([]float64, m),
		dslack: make([]float64, m), dpull: make([]float64, m), rows: make([][]sparse.Term, 0, len(w.goals)+m+n),
	}
	p.anchor = slices.Clone(p.x)
	for i, f := range w.goals {
		p.rows = append(p.rows, sparse.Scaled(f.Terms, w.weight[i]))
	}
	for _, f := range w.limits {
		p.rows = append(p.rows, slices.Clone(f.Terms))
	}
	p.rows = append(p.rows, w.still()...)
	p.right = make([]float64, len(p.rows))
	p.plan = lsq.NewShape(n, lsq.Columns(p.rows))
	shift := 1 - 1.5*w.worst(p.x)
	slope := 1.0
	for i, f := range w.goals {
		slope = max(slope, w.weight[i]*w.weight[i]*math.Abs(f.Value(p.x))*sparse.Largest(f.Terms))
	}
	for i, f := range w.limits {
		p.slack[i] = max(0, f.Value(p.x)) + shift
		p.pull[i] = slope
	}
	return p
}

// residuals works out by how much the point is not the outcome: mu is the mean
// of slack times pull, off and lean are the largest residuals of limits and of
// the slope.
func (p *interiorPoint) residuals() (mu, off, lean float64) {
	for c := range p.dual {
		p.dual[c] = prox * prox * (p.x[c] - p.anchor[c])
	}
	for i, f := range p.goals {
		k := p.weight[i] * p.weight[i] * f.Value(p.x)
		for _, t := range f.Terms {
			p.dual[t.At] += k * t.Coef
		}
	}
	for i, f := range p.limits {
		for _, t := range f.Terms {
			p.dual[t.At] -= p.pull[i] * t.Coef
		}
		p.primal[i] = f.Value(p.x) - p.slack[i] + p.give*p.pull[i]
		off = max(off, math.Abs(p.primal[i]))
		mu += p.slack[i] * p.pull[i]
	}
	mu /= float64(max(1, len(p.limits)))
	for c := range p.dual {
		lean = max(lean, math.Abs(p.dual[c]))
	}
	return mu, off, lean
}

// refactor makes the factor of the linear system at this point.
func (p *interiorPoint) refactor() {
	first := len(p.goals)
	for i := range p.theta {
		p.theta[i] = 1 / (p.give + p.slack[i]/p.pull[i])
		k := math.Sqrt(p.theta[i])
		for j, t := range p.limits[i].Terms {
			p.rows[first+i][j].Coef = k * t.Coef
		}
	}
	p.fac = p.factorise(p.plan, p.rows, p.right, 0)
}

// direct finds the direction in which all residuals vanish and slack times pull
// changes by comp, to first order.
func (p *interiorPoint) direct(comp []float64) {
	b := make([]float64, p.n)
	for c := range b {
		b[c] = -p.dual[c]
	}
	for i, f := range p.limits {
		k := p.theta[i] * (-p.primal[i] + comp[i]/p.pull[i])
		for _, t := range f.Terms {
			b[t.At] += k * t.Coef
		}
	}
	p.dx = p.fac.SolveNormal(b)
	for i, f := range p.limits {
		along := 0.0
		for _, t := range f.Terms {
			along += t.Coef * p.dx[t.At]
		}
		p.dpull[i] = p.theta[i] * (-p.primal[i] + comp[i]/p.pull[i] - along)
		p.dslack[i] = (comp[i] - p.slack[i]*p.dpull[i]) / p.pull[i]
	}
}

// longest is the longest step, at most 1, that takes no slack and no pull below
// 0.
func (p *interiorPoint) longest() float64 {
	k := 1.0
	for i := range p.slack {
		if p.dslack[i] < 0 {
			k = min(k, -p.slack[i]/p.dslack[i])
		}
		if p.dpull[i] < 0 {
			k = min(k, -p.pull[i]/p.dpull[i])
		}
	}
	return k
}

// advance takes a step of length k.
func (p *interiorPoint) advance(k float64) {
	for c := range p.x {
		p.x[c] += k * p.dx[c]
	}
	for i := range p.slack {
		p.slack[i] = max(1e-300, p.slack[i]+k*p.dslack[i])
		p.pull[i] = max(1e-300, p.pull[i]+k*p.dpull[i])
	}
}
