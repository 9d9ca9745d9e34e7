package level_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/eval/solve/solvetest"
)

// The random designs of this file have few dimensions, equations, limits and wishes with
// max, min and abs among them, and mostly something that nothing decides.
const unfinishedVars = 3

// unfinished makes up such a design; if it is wild, with products and roundings too.
func unfinished(seed uint64, wild bool) *solvetest.Shop {
	r := rand.New(rand.NewPCG(seed, 23))
	s := solvetest.NewShop()
	vars := make([]relation.Expr, unfinishedVars)
	for i := range vars {
		vars[i] = s.V(fmt.Sprintf("x%d", i))
	}
	number := func(low, high int) relation.Expr { return relation.C(float64(5 * (low + r.IntN(high-low+1)))) }
	straight := func() relation.Expr {
		v, w := vars[r.IntN(len(vars))], vars[r.IntN(len(vars))]
		switch r.IntN(6) {
		case 0:
			return relation.Mul(relation.C(float64(2+r.IntN(2))), v)
		case 1:
			return relation.Add(v, w)
		case 2:
			return relation.Minus(v, w)
		}
		return v
	}
	part := func() relation.Expr {
		switch n := r.IntN(8); {
		case n < 3:
			return number(1, 12)
		case wild && n == 3:
			return relation.Mul(vars[r.IntN(len(vars))], vars[r.IntN(len(vars))])
		case wild && n == 4:
			return relation.Call(relation.Nearest, straight(), relation.C(5))
		}
		return straight()
	}
	bent := func() relation.Expr {
		switch r.IntN(4) {
		case 0:
			return straight()
		case 1:
			return relation.Call(relation.Abs, relation.Minus(part(), straight()))
		case 2:
			return relation.Call(relation.Min, part(), straight())
		}
		return relation.Call(relation.Max, part(), straight())
	}
	for range 1 + r.IntN(3) {
		e, v := bent(), number(2, 12)
		if r.IntN(2) == 0 {
			s.Ge(e, v)
		} else {
			s.Ge(v, e)
		}
	}
	if r.IntN(4) == 0 {
		s.Eq(vars[0], relation.Call(relation.Max, vars[1], number(2, 12)))
	}
	for range 1 + r.IntN(3) {
		goal := number(0, 16)
		if r.IntN(4) == 0 {
			goal = relation.Mul(relation.C(float64(1+r.IntN(3))), vars[r.IntN(len(vars))])
		}
		s.Prefer(bent(), goal, float64(1+r.IntN(3)))
	}
	return s
}

// No design ends in a fault of the solver, whatever it leaves open.
func TestUnfinishedDesignsEndInNoFault(t *testing.T) {
	n := uint64(300)
	if testing.Short() {
		n = 120
	}
	for seed := range n {
		for _, wild := range []bool{false, true} {
			func() {
				defer func() {
					if p := recover(); p != nil {
						t.Errorf("design %d, wild %t: %v", seed, wild, p)
					}
				}()
				s := unfinished(seed, wild)
				if sol := s.Solve(); len(sol.Values) != len(s.Vars) {
					t.Errorf("design %d, wild %t: %d values of %d", seed, wild, len(sol.Values), len(s.Vars))
				}
			}()
		}
	}
}

// What only one solution meets the wishes best is decided, what has a value is one of
// the best, and where nothing is told open the wishes are met as well as they can be: of
// some hundred random designs every side of each kink is tried.
func TestUnfinishedDesignsTakeTheBestSides(t *testing.T) {
	n := uint64(300)
	if testing.Short() {
		n = 80
	}
	decided, left := 0, 0
	for seed := range n {
		s := unfinished(seed, false)
		best, low, high := leastRanges(s)
		sol := s.Solve()
		switch {
		case math.IsInf(best, 1):
			if sol.OK() {
				t.Errorf("design %d can't hold, but has %v", seed, sol.Values)
			}
			continue
		case len(sol.Clashes) > 0:
			t.Errorf("design %d is refused, but has %v: %s", seed, low, solvetest.Wrongs(s, sol))
			continue
		case slices.ContainsFunc(sol.Tangles, func(t solve.Tangle) bool { return len(t.Found) > 1 }):
			continue // the musts alone have several solutions: wishes don't choose among those
		}
		if sol.OK() {
			if got := missed(s, sol.Values); math.Abs(got-best) > 1e-6*(1+best) {
				t.Errorf("design %d misses its wishes by %g at %v, by %g at %v to %v", seed, got, sol.Values, best, low, high)
			}
		}
		one := true
		for v, x := range sol.Values {
			one = one && high[v]-low[v] < 1e-6
			if x < low[v]-1e-5 || x > high[v]+1e-5 {
				t.Errorf("design %d has %v, its best are %v to %v: %s", seed, sol.Values, low, high, solvetest.Wrongs(s, sol))
				break
			}
		}
		if left++; one {
			left--
			decided++
			if !sol.OK() {
				t.Errorf("design %d leaves %v, though only %v is best: %s, given up %v", seed, sol.Values, low, solvetest.Wrongs(s, sol), sol.GivenUp)
			}
		}
	}
	if decided < int(n)/10 || left < int(n)/4 {
		t.Errorf("%d of %d designs are decided, %d leave something open", decided, n, left)
	}
}

// leastRanges is the least by which the wishes can be missed, and between what each
// dimension may lie then.
func leastRanges(shop *solvetest.Shop) (best float64, low, high []float64) {
	type reading struct {
		at                       []float64
		sum                      float64
		goals, equations, limits []affine
	}
	var all []reading
	best = math.Inf(1)
	none := make(affine, kinkedVars+1) // of what there isn't
	none[kinkedVars-1] = 1
	everySide(shop, func(goals, equations, limits []affine) {
		equations = independent(append(equations, none))
		x, sum := least(goals, equations, limits)
		best = min(best, sum)
		all = append(all, reading{x, sum, goals, equations, limits})
	})
	const far = 5000
	for v := range unfinishedVars {
		low, high = append(low, math.Inf(1)), append(high, math.Inf(-1))
		for _, r := range all {
			if !(r.sum <= best+1e-7*(1+best)) || r.at == nil {
				continue
			}
			equations := slices.Clone(r.equations)
			for _, g := range r.goals {
				g = slices.Clone(g)
				g[kinkedVars] -= g.value(r.at)
				equations = append(equations, g)
			}
			equations = independent(equations)
			for _, to := range []float64{-far, far} {
				goal := make(affine, kinkedVars+1)
				goal[v], goal[kinkedVars] = 1, -to
				if x, _ := least([]affine{goal}, equations, append(slices.Clip(r.limits), upTo(v, far))); x != nil {
					low[v], high[v] = min(low[v], x[v]), max(high[v], x[v])
				}
			}
		}
	}
	return best, low, high
}

// upTo holds a dimension below a number.
func upTo(v int, far float64) affine {
	f := make(affine, kinkedVars+1)
	f[v], f[kinkedVars] = -1, far
	return f
}

// independent leaves out the equations that follow from those before them.
func independent(equations []affine) []affine {
	var out, normal []affine
	for _, e := range equations {
		rest := slices.Clone(e[:kinkedVars])
		for _, n := range normal {
			dot := 0.0
			for i := range n {
				dot += n[i] * rest[i]
			}
			for i := range n {
				rest[i] -= dot * n[i]
			}
		}
		length := 0.0
		for _, x := range rest {
			length += x * x
		}
		if length = math.Sqrt(length); length < 1e-9 {
			if !slices.ContainsFunc(e[:kinkedVars], func(x float64) bool { return x != 0 }) && math.Abs(e[kinkedVars]) > 1e-9 {
				out = append(out, e) // it can't hold
			}
			continue
		}
		for i := range rest {
			rest[i] /= length
		}
		out, normal = append(out, e), append(normal, rest)
	}
	return out
}
