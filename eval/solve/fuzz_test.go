package solve_test

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/lang/foretest"
)

// wild makes a system of anything at all: numbers that are none, dimensions
// that there aren't, operators without arguments.
func wild(seed uint64) *relation.System {
	r := rand.New(rand.NewPCG(seed, 5))
	sys := &relation.System{}
	numbers := []float64{0, 1, -1, 2, 0.5, 1e-9, 1e9, 1e300, math.NaN(), math.Inf(1), math.Inf(-1), 10, 3, 7.25, 100}
	number := func() float64 {
		if r.IntN(4) > 0 {
			return float64(r.IntN(200)) / 4
		}
		return numbers[r.IntN(len(numbers))]
	}
	n := r.IntN(9)
	for range n {
		sys.Vars = append(sys.Vars, relation.Var{Signed: r.IntN(2) == 0, Whole: r.IntN(4) == 0, Most: r.IntN(8) == 0,
			Bench: max(0, r.IntN(5)-2), Needed: r.IntN(2) == 0})
	}
	for range r.IntN(3) {
		sys.Benches = append(sys.Benches, relation.Bench{})
	}
	var expr func(depth int) relation.Expr
	expr = func(depth int) relation.Expr {
		switch k := r.IntN(10); {
		case k < 3 || depth == 0:
			return relation.C(number())
		case k < 7:
			id := relation.VarID(r.IntN(max(1, n)))
			if r.IntN(40) == 0 {
				id = relation.VarID(r.IntN(30) - 5)
			}
			return relation.V(id)
		}
		e := relation.Expr{Op: relation.Op(2 + r.IntN(12)), Value: number()}
		for range r.IntN(4) {
			e.Args = append(e.Args, expr(depth-1))
		}
		return e
	}
	for range r.IntN(12) {
		sys.Relations = append(sys.Relations, relation.Relation{Sign: relation.Sign(max(0, r.IntN(5)-2)), Left: expr(3), Right: expr(2),
			Role: relation.Role(r.IntN(4)), Bench: max(0, r.IntN(6)-3)})
	}
	for range r.IntN(6) {
		sys.Readings = append(sys.Readings, relation.Reading{Left: expr(2), Bench: r.IntN(4), Value: number(), U: math.Abs(number()) / 100})
	}
	for range r.IntN(4) {
		sys.Wishes = append(sys.Wishes, relation.Wish{Left: expr(2), Right: expr(2), Weight: number()})
	}
	for range r.IntN(6) {
		d := relation.Default{Left: expr(1), Right: expr(1), Rank: r.IntN(3)}
		for range r.IntN(3) {
			d.Given = append(d.Given, relation.VarID(r.IntN(len(sys.Vars)+2)-1))
			d.Frame = append(d.Frame, relation.VarID(r.IntN(len(sys.Vars)+2)-1))
		}
		sys.Defaults = append(sys.Defaults, d)
	}
	return sys
}

// sound checks what must be so of every solution.
func sound(t *testing.T, seed uint64, sys *relation.System) {
	t.Helper()
	sol := solve.Solve(sys)
	if len(sol.Values) != len(sys.Vars) || len(sol.U) != len(sys.Vars) {
		t.Fatalf("system %d: wrong lengths", seed)
	}
	for v, x := range sol.Values {
		if math.IsInf(x, 0) || math.IsNaN(sol.U[v]) || sol.U[v] < 0 {
			t.Errorf("system %d: dimension %d = %g, uncertainty %g", seed, v, x, sol.U[v])
		}
		if math.IsNaN(x) != (sol.From[v] == solve.Unknown) {
			t.Errorf("system %d: dimension %d = %g comes from %v", seed, v, x, sol.From[v])
		}
	}
	again := solve.Solve(sys)
	for v := range sol.Values {
		if math.Float64bits(sol.Values[v]) != math.Float64bits(again.Values[v]) || !reflect.DeepEqual(sol.Cause[v], again.Cause[v]) {
			t.Errorf("system %d: dimension %d is solved another way the second time", seed, v)
		}
	}
}

func TestWildSystems(t *testing.T) {
	n := uint64(600)
	if foretest.CI() {
		n = 10000
	}
	for seed := range n {
		sound(t, seed, wild(seed))
	}
	sound(t, 0, &relation.System{})
}

func FuzzSolve(f *testing.F) {
	f.Add(uint64(1))
	f.Fuzz(func(t *testing.T, seed uint64) { sound(t, seed, wild(seed)) })
}
