package adjust

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/must"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

// Adjustments is what all benches have found.
type Adjustments struct {
	*must.Solver
	Value []float64
	Known []bool
	Grad  [][]sparse.Term
	// Open holds, of each bench, the readings that leave something of theirs open.
	Open     [][]must.ExtraRow
	benches  []*Bench
	ofParam  []int32 // parameter to bench, from 0
	readings [][]int // of each bench, those that are numbers: into System.Readings
	grads    sparse.Slab[sparse.Term]
	values   []float64 // see bench
	open     []bool
}

// Uncertainty is the standard uncertainty of what moves as grad says with the
// parameters of the benches.
func (a *Adjustments) Uncertainty(grad []sparse.Term) float64 {
	sum := 0.0
	for i := 0; i < len(grad); {
		b := a.benches[a.ofParam[grad[i].At]]
		var part []sparse.Term
		for ; i < len(grad) && a.benches[a.ofParam[grad[i].At]] == b; i++ {
			part = append(part, sparse.Term{At: grad[i].At - b.offset, Coef: grad[i].Coef})
		}
		if b.factor != nil {
			sum += b.cov.Variance(part)
		}
	}
	return math.Sqrt(max(0, sum))
}

// Covarying gives, for each parameter of the benches, how it varies together with what
// moves as grad says; 0 where it doesn't.
func (a *Adjustments) Covarying(grad []sparse.Term) []float64 {
	out := make([]float64, len(a.ofParam))
	for i := 0; i < len(grad); {
		b := a.benches[a.ofParam[grad[i].At]]
		moves := make([]float64, b.params())
		for ; i < len(grad) && a.benches[a.ofParam[grad[i].At]] == b; i++ {
			moves[grad[i].At-b.offset] += grad[i].Coef
		}
		if b.factor != nil {
			copy(out[b.offset:], b.factor.SolveNormal(moves))
		}
	}
	return out
}

// New gets ready to adjust the readings of a system.
func New(s *must.Solver) *Adjustments {
	n := len(s.Sys.Vars)
	a := &Adjustments{
		Solver: s, Value: make([]float64, n), Known: make([]bool, n), Grad: make([][]sparse.Term, n),
		readings: make([][]int, len(s.Sys.Benches)), values: make([]float64, n), open: make([]bool, n),
	}
	for i := range a.Value {
		a.Value[i] = math.NaN()
	}
	for i := range s.Sys.Readings {
		r := &s.Sys.Readings[i]
		if r.Bench < 1 || r.Bench > len(a.readings) || !sparse.Finite(r.Value) || !(r.U > 0) || !sparse.Finite(1/r.U) {
			continue
		}
		if slices.ContainsFunc(s.Readings[i].Vars, func(v relation.VarID) bool { return v < 0 || int(v) >= n }) {
			continue
		}
		a.readings[r.Bench-1] = append(a.readings[r.Bench-1], i)
	}
	return a
}

// Next adjusts the readings of the next bench. Its problem stands until it is
// closed.
func (a *Adjustments) Next() *Bench {
	k := len(a.benches)
	within := a.BenchScopes[k].Clone()
	for _, r := range a.readings[k] {
		within.Also(a.Sys, k+1, a.Plan.Readings[r].Vars)
	}
	within.Sort()
	b := &Bench{Number: k + 1, within: within, Readings: a.readings[k], offset: int32(len(a.ofParam)), values: a.values, open: a.open}
	a.benches = append(a.benches, b)
	b.solve(a.Solver, a.BenchVars[k])
	for range b.params() {
		a.ofParam = append(a.ofParam, int32(k))
	}
	for _, v := range a.BenchVars[k] {
		switch {
		case b.Known[v]:
			a.Value[v], a.Known[v] = b.Value[v], true
		case b.space != nil && !b.open[v] && sparse.Finite(b.values[v]):
			a.Value[v], a.Known[v] = b.values[v], true
			terms := b.VarForm(v).Terms
			a.Grad[v] = a.grads.Take(len(terms))
			for i, t := range terms {
				a.Grad[v][i] = sparse.Term{At: t.At + b.offset, Coef: t.Coef}
			}
		}
	}
	a.Open = append(a.Open, b.openReadings())
	return b
}

// solve adjusts, again with each count that came out whole held exact.
func (b *Bench) solve(p *must.Solver, vars []relation.VarID) {
	held := map[relation.VarID]float64{}
	for {
		b.Problem = must.NewProblem(p, b.within, nil, false)
		for _, v := range vars {
			if n, ok := held[v]; ok {
				b.Value[v], b.Known[v] = n, true
			}
		}
		b.Solve()
		b.fit(vars)
		again := false
		for _, v := range vars {
			if !p.Sys.Vars[v].Whole || b.Known[v] || b.open[v] || !sparse.Finite(b.values[v]) {
				continue
			}
			u := 0.0
			if b.cov != nil {
				u = math.Sqrt(b.cov.Variance(b.VarForm(v).Terms))
			}
			n, ok := plan.Whole(b.values[v], u)
			if !ok || u > plan.SureCount {
				b.Counts = append(b.Counts, must.OddCount{Var: v, Value: b.values[v], U: u})
				continue
			}
			held[v] = n
			again = true
		}
		if !again {
			return
		}
		b.Problem.Close()
	}
}
