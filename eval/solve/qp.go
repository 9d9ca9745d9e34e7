package solve

import (
	"math"
	"slices"
)

// A wishing is a least squares problem with limits: among all x with every
// limit at least 0, those for which the squares of the wishes, each times its
// weight, add up to the least.
type wishing struct {
	n      int
	wishes []affine  // forms that would best be 0
	weight []float64 // root of each weight
	limits []affine  // forms that must be at least 0, largest coefficient 1
	// anchor is where what the wishes leave open stays as near as it can; nil
	// until it is asked for.
	anchor []float64
}

// A best is the outcome of a wishing.
type best struct {
	x []float64
	// value is what each wish comes to, with the way it moves with the benches.
	value []affine
	// acting are the limits that hold the wishes back: at 0 in every outcome
	// as good as this one.
	acting []int
}

// newWishing takes forms over the given parameters, which are in order.
func newWishing(params []int32, wishes, limits []affine, weights []float64) *wishing {
	w := &wishing{n: len(params), wishes: make([]affine, 0, len(wishes)), weight: make([]float64, 0, len(wishes)), limits: make([]affine, 0, len(limits))}
	// Where a parameter stands among those given.
	first, place := int32(0), []int32(nil)
	if len(params) > 0 {
		first = params[0]
		place = make([]int32, params[len(params)-1]-first+1)
		for i, p := range params {
			place[p-first] = int32(i)
		}
	}
	var terms slab[term]
	local := func(f affine, k float64) affine {
		out := affine{c: f.c * k, terms: terms.take(len(f.terms))}
		if len(f.g) > 0 {
			out.g = scaled(f.g, k)
		}
		for i, t := range f.terms {
			out.terms[i] = term{place[t.at-first], t.c * k}
		}
		return out
	}
	largest := 0.0
	for i, f := range wishes {
		w.wishes = append(w.wishes, local(f, 1))
		largest = max(largest, math.Sqrt(weights[i])*size(f.terms))
	}
	for i := range wishes {
		w.weight = append(w.weight, math.Sqrt(weights[i])/largest)
	}
	for _, f := range limits {
		w.limits = append(w.limits, local(f, 1/size(f.terms)))
	}
	return w
}

// holds is how far below 0, in mm, a limit may come out.
const holds = 1e-9

// solve finds the best outcome: a least squares solution with the limits that
// act as equations, which is best because no limit is broken and none that
// acts pulls the wrong way. Which limits act is tried from the broken ones
// first, and left to the interior-point method where that goes astray.
func (w *wishing) solve() (*best, bool) {
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
	b := &best{x: x}
	for _, f := range w.wishes {
		b.value = append(b.value, affine{c: valueAt(f, x), g: f.g})
	}
	return b, w.worst(x) >= -tolerance
}

// settle changes which limits act until the outcome is best, all at once that
// are wrong or one after another; nil if that leads nowhere.
func (w *wishing) settle(acting []bool, atOnce bool) *best {
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
			if v := valueAt(f, b.x); v < -holds && atOnce {
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
					b.acting = append(b.acting, i)
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

func valueAt(f affine, x []float64) float64 {
	v := f.c
	for _, t := range f.terms {
		v += t.c * x[t.at]
	}
	return v
}

func (w *wishing) worst(x []float64) float64 {
	worst := 0.0
	for _, f := range w.limits {
		worst = min(worst, valueAt(f, x))
	}
	return worst
}

// equal solves with the acting limits as equations, less those that contradict
// the others. The force of a limit is
// its Lagrange multiplier: how hard the wishes lean on it.
func (w *wishing) equal(acting []bool) (*best, []float64) {
	var rows []affine
	var from []int
	for i, on := range acting {
		if on {
			rows = append(rows, w.limits[i])
			from = append(from, i)
		}
	}
	if len(rows) == 0 {
		return w.outcome(w.least(w.wishes)), nil
	}
	e := eliminate(rows, w.n)
	all := true
	for _, r := range e.spare {
		if math.Abs(e.rows[r].c) > 1e-7 {
			acting[from[r]] = false // they can't all act
			all = false
		}
	}
	if !all {
		return w.equal(acting)
	}
	sum := newGatherer(w.n)
	reduced := make([]affine, len(w.wishes))
	for i, f := range w.wishes {
		out := affine{c: f.c, g: f.g}
		for _, t := range f.terms {
			sub := e.forms[t.at]
			out.c += t.c * sub.c
			out.g = combine(out.g, t.c, sub.g, 0)
			sum.add(t.c, sub.terms)
		}
		out.terms = sum.take(vanish)
		reduced[i] = out
	}
	y, moves := w.least(reduced)
	x := make([]float64, w.n)
	for c := range x {
		x[c] = valueAt(e.forms[c], y)
	}
	b := w.outcome(x, moves)
	// G'force = slope of the wishes.
	slope := make([]float64, w.n)
	for i, f := range w.wishes {
		k := w.weight[i] * w.weight[i] * b.value[i].c
		for _, t := range f.terms {
			slope[t.at] += k * t.c
		}
	}
	turned := make([][]term, w.n)
	for i, r := range rows {
		for _, t := range r.terms {
			turned[t.at] = append(turned[t.at], term{int32(i), t.c})
		}
	}
	solved := factorOf(shapeOf(len(rows), rowsOf(turned)), turned, slope, 1e-10).solution()
	force := make([]float64, len(w.limits))
	for i, v := range solved {
		force[from[i]] = v
	}
	return b, force
}

// least is the point of least squares for the wishes, given by the parameters
// that the acting limits leave, and how each wish then moves with the benches.
// What the wishes leave open stays at the anchor.
func (w *wishing) least(wishes []affine) (y []float64, moves [][]term) {
	var weighed slab[term]
	terms := make([][]term, len(wishes))
	right := make([]float64, len(wishes))
	touched := map[int32]bool{}
	for i, f := range wishes {
		terms[i] = weighed.copy(f.terms)
		for j := range terms[i] {
			terms[i][j].c *= w.weight[i]
		}
		right[i] = -f.c * w.weight[i]
		for _, t := range f.g {
			touched[t.at] = true
		}
	}
	fac := factorOf(shapeOf(w.n, rowsOf(terms)), terms, right, 1e-10)
	if len(fac.loose) == 0 {
		y = fac.solution()
	} else {
		if w.anchor == nil {
			w.anchor = w.start()
		}
		y = make([]float64, w.n)
		for _, k := range fac.loose {
			y[fac.order[k]] = w.anchor[fac.order[k]]
		}
		for range 3 {
			for c, dy := range fac.correct(residuals(terms, right, y)) {
				y[c] += dy
			}
		}
	}
	moves = make([][]term, len(wishes))
	for _, at := range sortedKeys(touched) {
		res := make([]float64, len(terms))
		for i, f := range wishes {
			if j, ok := find(f.g, at); ok {
				res[i] = -f.g[j].c * w.weight[i]
			}
		}
		dy := fac.correct(res)
		for c, more := range fac.correct(residuals(terms, res, dy)) {
			dy[c] += more
		}
		for i, f := range wishes {
			d := 0.0
			for _, t := range f.terms {
				d += t.c * dy[t.at]
			}
			if j, ok := find(f.g, at); ok {
				d += f.g[j].c
			}
			if math.Abs(d) > 1e-14 {
				moves[i] = append(moves[i], term{at, d})
			}
		}
	}
	return y, moves
}

// outcome is what the wishes come to at x.
func (w *wishing) outcome(x []float64, moves [][]term) *best {
	b := &best{x: x, value: make([]affine, len(w.wishes))}
	for i, f := range w.wishes {
		b.value[i] = affine{c: valueAt(f, x), g: moves[i]}
	}
	return b
}

// residuals is right - rows·x.
func residuals(rows [][]term, right, x []float64) []float64 {
	res := make([]float64, len(rows))
	for i, r := range rows {
		res[i] = right[i]
		for _, t := range r {
			res[i] = math.FMA(-t.c, x[t.at], res[i])
		}
	}
	return res
}

// prox is the root of a weak wish for each parameter to stay where it is.
const prox = 1e-6

// still is a row for each parameter of that wish.
func (w *wishing) still() [][]term {
	rows, terms := make([][]term, w.n), make([]term, w.n)
	for c := range rows {
		terms[c] = term{int32(c), prox}
		rows[c] = terms[c : c+1 : c+1]
	}
	return rows
}

// project looks for an allowed point: Newton's method for the least sum of
// squares by which limits are broken (Mangasarian, Optim. Methods Softw. 17
// (2002) 913). It reports whether it came to 0.
func (w *wishing) project() bool {
	x := make([]float64, w.n)
	in := make([]bool, len(w.limits))
	still := w.still()
	rows, right := make([][]term, 0, len(w.limits)+w.n), make([]float64, 0, len(w.limits)+w.n)
	for range 12 {
		rows, right = rows[:0], right[:0]
		broken := false
		for i, f := range w.limits {
			v := valueAt(f, x)
			broken = broken || v < -holds
			if in[i] = v < -holds || in[i] && v <= holds; in[i] {
				rows = append(rows, f.terms)
				right = append(right, -f.c)
			}
		}
		if !broken {
			return true
		}
		rows = append(rows, still...)
		for _, v := range x {
			right = append(right, prox*v)
		}
		fac := factorOf(shapeOf(w.n, rowsOf(rows)), rows, right, 0)
		x = fac.byColumn(fac.back(fac.rhs)) // near enough for a question of yes or no
	}
	return false
}

// start is a point between what the wishes and what the limits would like.
func (w *wishing) start() []float64 {
	rows := make([][]term, 0, len(w.wishes)+len(w.limits)+w.n)
	right := make([]float64, 0, cap(rows))
	for i, f := range w.wishes {
		rows = append(rows, scaled(f.terms, w.weight[i]))
		right = append(right, -f.c*w.weight[i])
	}
	for _, f := range w.limits {
		rows = append(rows, f.terms)
		right = append(right, max(0, -f.c))
	}
	rows = append(rows, w.still()...)
	right = append(right, make([]float64, w.n)...)
	return factorOf(shapeOf(w.n, rowsOf(rows)), rows, right, 0).solution()
}

// interior is Mehrotra's predictor-corrector method (SIAM J. Optim. 2 (1992)
// 575) for the wishing, with every linear system solved by the orthogonal
// factor of its rows, so that the ever wider range of weights costs no digits.
// With give > 0 a limit may be broken at the price of give⁻¹ times half its
// square: then pull/… measures by how much, and the problem always has an
// outcome. It returns the point, how far each limit is from 0, and how hard
// each pulls.
func (w *wishing) interior(give float64) (x, slack, pull []float64) {
	m, n := len(w.limits), w.n
	rows := make([][]term, 0, len(w.wishes)+m+n)
	for i, f := range w.wishes {
		rows = append(rows, scaled(f.terms, w.weight[i]))
	}
	first := len(w.wishes)
	for _, f := range w.limits {
		rows = append(rows, slices.Clone(f.terms))
	}
	rows = append(rows, w.still()...)
	plan := shapeOf(n, rowsOf(rows))
	right := make([]float64, len(rows))
	x, slack, pull = w.start(), make([]float64, m), make([]float64, m)
	anchor := slices.Clone(x)
	// Begin well inside, with every slack and pull about as large as what is
	// still wrong (Mehrotra's advice).
	shift := 1 - 1.5*w.worst(x)
	slope := 1.0
	for i, f := range w.wishes {
		slope = max(slope, w.weight[i]*w.weight[i]*math.Abs(valueAt(f, x))*size(f.terms))
	}
	for i, f := range w.limits {
		slack[i] = max(0, valueAt(f, x)) + shift
		pull[i] = slope
	}
	dual := make([]float64, n)
	primal := make([]float64, m)
	for range 100 {
		// Residuals.
		for c := range dual {
			dual[c] = prox * prox * (x[c] - anchor[c])
		}
		for i, f := range w.wishes {
			k := w.weight[i] * w.weight[i] * valueAt(f, x)
			for _, t := range f.terms {
				dual[t.at] += k * t.c
			}
		}
		mu, off, lean := 0.0, 0.0, 0.0
		for i, f := range w.limits {
			for _, t := range f.terms {
				dual[t.at] -= pull[i] * t.c
			}
			primal[i] = valueAt(f, x) - slack[i] + give*pull[i]
			off = max(off, math.Abs(primal[i]))
			mu += slack[i] * pull[i]
		}
		mu /= float64(max(1, m))
		for c := range dual {
			lean = max(lean, math.Abs(dual[c]))
		}
		if !finite(mu) || !finite(off) || !finite(lean) {
			return nil, nil, nil
		}
		if mu < 1e-14 && off < 1e-10 && lean < 1e-10 || give > 0 && w.worst(x) >= -holds {
			break
		}
		theta := make([]float64, m)
		for i := range theta {
			theta[i] = 1 / (give + slack[i]/pull[i])
			k := math.Sqrt(theta[i])
			for j, t := range w.limits[i].terms {
				rows[first+i][j].c = k * t.c
			}
		}
		fac := factorOf(plan, rows, right, 0)
		dx, ds, dp := make([]float64, n), make([]float64, m), make([]float64, m)
		step := func(comp []float64) {
			b := make([]float64, n)
			for c := range b {
				b[c] = -dual[c]
			}
			for i, f := range w.limits {
				k := theta[i] * (-primal[i] + comp[i]/pull[i])
				for _, t := range f.terms {
					b[t.at] += k * t.c
				}
			}
			dx = fac.normal(b)
			for i, f := range w.limits {
				along := 0.0
				for _, t := range f.terms {
					along += t.c * dx[t.at]
				}
				dp[i] = theta[i] * (-primal[i] + comp[i]/pull[i] - along)
				ds[i] = (comp[i] - slack[i]*dp[i]) / pull[i]
			}
		}
		room := func() float64 {
			k := 1.0
			for i := range slack {
				if ds[i] < 0 {
					k = min(k, -slack[i]/ds[i])
				}
				if dp[i] < 0 {
					k = min(k, -pull[i]/dp[i])
				}
			}
			return k
		}
		comp := make([]float64, m)
		for i := range comp {
			comp[i] = -slack[i] * pull[i]
		}
		step(comp)
		k := room()
		after := 0.0
		for i := range slack {
			after += (slack[i] + k*ds[i]) * (pull[i] + k*dp[i])
		}
		after /= float64(max(1, m))
		sigma := math.Pow(after/mu, 3)
		for i := range comp {
			comp[i] = sigma*mu - slack[i]*pull[i] - ds[i]*dp[i]
		}
		step(comp)
		k = min(1, 0.995*room())
		if k < 1e-10 {
			break
		}
		for c := range x {
			x[c] += k * dx[c]
		}
		for i := range slack {
			slack[i] = max(1e-300, slack[i]+k*ds[i])
			pull[i] = max(1e-300, pull[i]+k*dp[i])
		}
	}
	return x, slack, pull
}

// normal solves R'R x = b, by column.
func (f *factor) normal(b []float64) []float64 {
	y := make([]float64, f.n)
	for c, v := range b {
		y[f.pos[c]] = v / f.scale[c]
	}
	f.forth(y)
	return f.byColumn(f.back(y))
}
