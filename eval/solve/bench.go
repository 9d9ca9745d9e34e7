package solve

import (
	"math"
	"slices"

	"foredge/eval/relation"

	"gonum.org/v1/gonum/stat/distuv"
)

// A bench is one notebook being adjusted: its readings move as little as they
// can, each in proportion to its uncertainty, so that its musts hold.
type bench struct {
	*problem
	number   int
	within   scope
	readings []int // into System.Readings
	offset   int32 // of its parameters among those of all benches

	rows   [][]term // the readings by the parameters, divided by their uncertainty
	right  []float64
	space  *space
	factor *factor
	cov    *covariance
	nulls  [][]term // of each parameter, its part in each open direction
	at     []float64
	// The same two slices for all benches: each looks at its own dimensions.
	values []float64 // of dimensions, at the solution
	open   []bool    // dimensions of the bench that nothing decides
}

// adjustments is what all benches have found.
type adjustments struct {
	value   []float64
	known   []bool
	grad    [][]term
	benches []*bench
	ofParam []int32 // parameter to bench, from 0
}

// uncertainty is the standard uncertainty of what moves as g says with the
// parameters of the benches.
func (a *adjustments) uncertainty(g []term) float64 {
	sum := 0.0
	for i := 0; i < len(g); {
		b := a.benches[a.ofParam[g[i].at]]
		var part []term
		for ; i < len(g) && a.benches[a.ofParam[g[i].at]] == b; i++ {
			part = append(part, term{g[i].at - b.offset, g[i].c})
		}
		if b.factor != nil {
			sum += b.cov.spread(part)
		}
	}
	return math.Sqrt(max(0, sum))
}

// adjust solves every bench by itself.
func adjust(p *plan, sol *Solution) *adjustments {
	n := len(p.sys.Vars)
	a := &adjustments{value: make([]float64, n), known: make([]bool, n), grad: make([][]term, n)}
	for i := range a.value {
		a.value[i] = math.NaN()
	}
	readings := make([][]int, len(p.sys.Benches))
	for i := range p.sys.Readings {
		r := &p.sys.Readings[i]
		if r.Bench < 1 || r.Bench > len(readings) || !finite(r.Value) || !(r.U > 0) || !finite(1/r.U) {
			continue
		}
		if slices.ContainsFunc(p.readings[i].vars, func(v relation.VarID) bool { return v < 0 || int(v) >= n }) {
			continue
		}
		readings[r.Bench-1] = append(readings[r.Bench-1], i)
		p.benches[r.Bench-1].also(p, r.Bench, p.readings[i].vars)
	}
	values, open := make([]float64, n), make([]bool, n)
	var grads slab[term]
	for k := range p.sys.Benches {
		p.benches[k].sort()
		b := &bench{number: k + 1, within: p.benches[k], readings: readings[k], offset: int32(len(a.ofParam)), values: values, open: open}
		a.benches = append(a.benches, b)
		b.solve(p, p.own[k])
		for range b.params() {
			a.ofParam = append(a.ofParam, int32(k))
		}
		for _, v := range p.own[k] {
			switch {
			case b.known[v]:
				a.value[v], a.known[v] = b.value[v], true
			case b.space != nil && !b.open[v] && finite(b.values[v]):
				a.value[v], a.known[v] = b.values[v], true
				terms := b.varForm(v).terms
				a.grad[v] = grads.take(len(terms))
				for i, t := range terms {
					a.grad[v][i] = term{t.at + b.offset, t.c}
				}
			}
		}
		sol.Benches = append(sol.Benches, b.report())
		sol.Counts = append(sol.Counts, b.counts...)
		sol.Tangles = append(sol.Tangles, b.tangles...)
		sol.Clashes = append(sol.Clashes, p.clashes(b.problem)...)
		b.problem.leave()
		b.problem = nil
	}
	return a
}

func (b *bench) params() int {
	if b.space == nil {
		return 0
	}
	return len(b.space.uses)
}

// solve adjusts, again with each count that came out whole held exact.
func (b *bench) solve(p *plan, vars []relation.VarID) {
	held := map[relation.VarID]float64{}
	for {
		b.problem = newProblem(p, b.within, nil, false)
		for _, v := range vars {
			if n, ok := held[v]; ok {
				b.value[v], b.known[v] = n, true
			}
		}
		b.musts()
		b.fit(vars)
		again := false
		for _, v := range vars {
			if !p.sys.Vars[v].Whole || b.known[v] || b.open[v] || !finite(b.values[v]) {
				continue
			}
			u := 0.0
			if b.cov != nil {
				u = math.Sqrt(b.cov.spread(b.varForm(v).terms))
			}
			n := math.Round(b.values[v])
			if math.Abs(b.values[v]-n) > max(tolerance, min(3*u, 0.2)) || n < 0 || n > mostCount {
				b.counts = append(b.counts, CountProblem{Var: v, Value: b.values[v], U: u})
				continue
			}
			held[v] = n
			again = true
		}
		if !again {
			return
		}
		b.problem.leave()
	}
}

// fit is Gauss and Newton's method: least squares in what the musts leave
// open, with musts and readings that aren't linear replaced by their tangents
// at the values found last.
func (b *bench) fit(vars []relation.VarID) {
	for _, v := range b.within.vars {
		b.values[v] = b.value[v]
	}
	base := b.problem.space
	for _, v := range vars {
		if !b.known[v] {
			b.varForm(v) // so that all have a form
		}
	}
	for _, r := range b.pending {
		for _, v := range b.plan.vars[r] {
			if !b.known[v] {
				b.varForm(v)
			}
		}
	}
	for _, r := range b.readings {
		for _, v := range b.plan.readings[r].vars {
			if !b.known[v] {
				b.varForm(v)
			}
		}
	}
	forms := make([]affine, len(b.readings))
	straight := make([]bool, len(b.readings))
	curved := len(b.pending) > 0
	for i, r := range b.readings {
		f, ok := b.plan.readings[r].form, b.plan.readings[r].linear
		if !ok {
			f, ok = b.sys.Readings[r].Left.Linear(b.lookup)
		}
		straight[i] = ok
		if ok {
			forms[i] = b.form(f)
		} else {
			curved = true
		}
	}
	if curved {
		b.guess(vars)
	}
	last := math.Inf(1)
	for range 100 {
		b.problem.space = base
		if len(b.pending) > 0 {
			b.problem.space = base.clone()
			for _, r := range b.pending {
				if !b.isEquation(r) {
					continue
				}
				v, terms := b.sys.Relations[r].Gradient(b.values)
				f := b.tangent(v, terms)
				if len(f.terms) > 0 && finite(f.c) {
					b.problem.space.fix(f)
				}
			}
		}
		b.space = b.problem.space
		if b.rows == nil {
			b.rows, b.right = make([][]term, 0, len(b.readings)), make([]float64, 0, len(b.readings))
		}
		b.rows, b.right = b.rows[:0], b.right[:0]
		for i, r := range b.readings {
			read := &b.sys.Readings[r]
			f := forms[i]
			if !straight[i] {
				v, terms := read.Left.Gradient(b.values)
				f = b.tangent(v, terms)
			} else if len(b.pending) > 0 {
				lin, _ := read.Left.Linear(b.lookup)
				f = b.form(lin)
			}
			if !finite(f.c) {
				f = affine{c: read.Value}
			}
			row := b.kept.copy(f.terms)
			for j := range row {
				row[j].c *= 1 / read.U
			}
			b.rows = append(b.rows, row)
			b.right = append(b.right, (read.Value-f.c)/read.U)
		}
		b.factor = factorOf(b.shape(vars), b.rows, b.right, 1e-10)
		b.at = b.factor.solution()
		moved := 0.0
		for _, v := range vars {
			if b.known[v] {
				continue
			}
			f := b.varForm(v)
			x := f.c
			for _, t := range f.terms {
				x += t.c * b.at[t.at]
			}
			if d := math.Abs(x-b.values[v]) / max(1, math.Abs(x)); !(d <= moved) {
				moved = d
			}
			b.values[v] = x
		}
		if !curved || moved < 1e-12 || moved < 1e-9 && moved >= last {
			break
		}
		last = moved
	}
	b.cov = b.factor.covariance()
	b.nulls = make([][]term, len(b.space.uses))
	for i, null := range b.factor.nulls() {
		for _, t := range null {
			b.nulls[t.at] = append(b.nulls[t.at], term{int32(i), t.c})
		}
	}
	for _, v := range vars {
		b.open[v] = !b.known[v] && b.loose(b.varForm(v).terms)
	}
}

// shape plans for the readings, and for the variances of all dimensions that
// are given by few parameters.
func (b *bench) shape(vars []relation.VarID) *shape {
	rows := slices.Clone(b.rows)
	for _, v := range vars {
		if b.known[v] {
			continue
		}
		if terms := b.varForm(v).terms; len(terms) > 1 && len(terms) <= 8 {
			rows = append(rows, terms)
		}
	}
	return shapeOf(len(b.space.uses), rowsOf(rows))
}

// tangent is a linearised expression with the value given at today's values,
// in the parameters.
func (b *bench) tangent(value float64, terms []relation.Term) affine {
	f := relation.Form{Const: value}
	for _, t := range terms {
		if !finite(t.Coef) {
			return affine{c: math.NaN()}
		}
		f.Const -= t.Coef * b.values[t.Var]
		f.Terms = append(f.Terms, t)
	}
	return b.form(f)
}

// loose reports whether a form can change without any reading noticing.
func (b *bench) loose(terms []term) bool {
	var sum, part []term
	for _, t := range terms {
		n := b.nulls[t.at]
		if len(n) == 0 {
			continue
		}
		sum = combine(sum, t.c, n, 0)
		for _, x := range n {
			part = combine(part, 1, []term{{x.at, math.Abs(t.c * x.c)}}, 0)
		}
	}
	for _, s := range sum {
		i, ok := find(part, s.at)
		if ok && math.Abs(s.c) > 1e-9*part[i].c {
			return true
		}
	}
	return false
}

// guess gives every dimension a first value: from readings and musts with one
// dimension still unknown, in turn, and 1 where none gives it.
func (b *bench) guess(vars []relation.VarID) {
	q := newProblem(b.plan, b.within, nil, false)
	defer q.leave()
	for _, v := range b.within.vars {
		q.value[v], q.known[v] = b.value[v], b.known[v]
	}
	q.start()
	q.propagate()
	room := make([]relation.Term, 0, 8)
	for progress := true; progress; {
		progress = false
		for _, r := range b.readings {
			read := &b.sys.Readings[r]
			f, ok := read.Left.LinearIn(room, q.lookup)
			if !ok || len(f.Terms) != 1 {
				continue
			}
			x := (read.Value - f.Const) / f.Terms[0].Coef
			if v := f.Terms[0].Var; finite(x) && !q.known[v] {
				q.value[v], q.known[v] = x, true
				for _, e := range q.equations.of(int32(v)) {
					if q.open[e]--; q.open[e] <= 1 {
						q.enqueue(e)
					}
				}
				q.propagate()
				progress = true
			}
		}
	}
	for _, v := range vars {
		switch {
		case b.known[v]:
		case q.known[v]:
			b.values[v] = q.value[v]
		default:
			b.values[v] = 1
		}
	}
}

// report says what became of the readings.
func (b *bench) report() BenchReport {
	out := BenchReport{Bench: b.number, Scale: math.NaN()}
	rank := len(b.space.uses) - len(b.factor.loose)
	out.Freedom = len(b.readings) - rank
	out.Readings = make([]ReadingReport, 0, len(b.readings))
	for i, r := range b.readings {
		read := &b.sys.Readings[r]
		fit := 0.0
		for _, t := range b.rows[i] {
			fit += t.c * b.at[t.at]
		}
		rep := ReadingReport{Index: r, Implied: math.NaN(), ImpliedU: math.NaN()}
		v := b.right[i] - fit // in units of the reading's uncertainty
		share := min(1, b.cov.spread(b.rows[i]))
		out.ChiSquare += v * v
		rep.Deviation = v * read.U
		rep.Adjusted = read.Value - rep.Deviation
		rep.AdjustedU = read.U * math.Sqrt(share)
		if rest := 1 - share; rest > 1e-9 {
			rep.Redundancy = rest
			rep.Normalised = v / math.Sqrt(rest)
			rep.Implied = read.Value - rep.Deviation/rest
			rep.ImpliedU = read.U * math.Sqrt(share/rest)
		}
		out.Readings = append(out.Readings, rep)
	}
	if out.Freedom > 0 {
		chi := distuv.ChiSquared{K: float64(out.Freedom)}
		out.Limit95, out.Limit999 = chi.Quantile(0.95), chi.Quantile(0.999)
		out.Scale = math.Sqrt(out.ChiSquare / float64(out.Freedom))
		if out.ChiSquare > out.Limit95 {
			out.Suspects = b.suspects(&out)
		}
	} else {
		out.Freedom, out.ChiSquare = 0, 0
	}
	return out
}

const (
	// alike is the correlation of their tests above which two readings can't be
	// told apart.
	alike = 0.95
	// faint is the least redundancy, beside that of the main suspect, of a
	// reading worth naming with it: below it, ten times the mistake would be
	// needed to explain the same.
	faint = 0.01
)

// suspects finds the reading with the largest normalised deviation and those
// that nothing tells apart from it. Among equals it is the one in which the
// smallest mistake explains the most.
func (b *bench) suspects(rep *BenchReport) []int {
	main := -1
	for i, r := range rep.Readings {
		if r.Redundancy == 0 {
			continue
		}
		if main < 0 {
			main = i
			continue
		}
		m := rep.Readings[main]
		w, best := math.Abs(r.Normalised), math.Abs(m.Normalised)
		if w > best*(1+1e-6) || w > best*(1-1e-6) && r.Redundancy > m.Redundancy*(1+1e-9) {
			main = i
		}
	}
	if main < 0 {
		return nil
	}
	with := b.factor.column(b.rows[main])
	// Left out, a reading takes the square of its normalised deviation with it.
	// If without the main suspect the others agree, one without which they still
	// contradict each other is told apart by them, however alike the tests are.
	most := 1e-6 * rep.ChiSquare // what rounding leaves where nothing is left to check
	if rep.Freedom > 1 {
		most = distuv.ChiSquared{K: float64(rep.Freedom - 1)}.Quantile(0.999)
	}
	explains := func(i int) bool {
		w := rep.Readings[i].Normalised
		return rep.ChiSquare-w*w <= most
	}
	var out []int
	for i, r := range rep.Readings {
		if i == main {
			out = append(out, i)
			continue
		}
		if r.Redundancy < faint*rep.Readings[main].Redundancy || r.Redundancy == 0 {
			continue
		}
		if explains(main) && !explains(i) {
			continue
		}
		cov := 0.0
		for _, t := range b.rows[i] {
			cov += t.c * with[t.at]
		}
		if math.Abs(cov)/math.Sqrt(r.Redundancy*rep.Readings[main].Redundancy) > alike {
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(i, j int) int {
		switch a, b := rep.Readings[i].Redundancy, rep.Readings[j].Redundancy; {
		case i == main, j != main && a > b:
			return -1
		case j == main, a < b:
			return 1
		}
		return 0
	})
	return out
}
