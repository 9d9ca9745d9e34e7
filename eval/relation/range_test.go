package relation

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Ranges of single operations, by hand.
func TestRange(t *testing.T) {
	inf := math.Inf(1)
	x, y := V(0), V(1)
	for _, test := range []struct {
		name string
		e    Expr
		x, y Range
		want Range
	}{
		{"a number", C(3), Range{}, Range{}, Range{3, 3}},
		{"sum", Add(x, y, C(1)), Range{1, 2}, Range{-5, inf}, Range{-3, inf}},
		{"product", Mul(x, y), Range{-2, 3}, Range{-5, 7}, Range{-15, 21}},
		{"product without an end", Mul(x, y), Range{9, inf}, Range{9, inf}, Range{81, inf}},
		{"0 times what has no end", Mul(x, y), Range{0, 5}, Range{0, inf}, Range{0, inf}},
		{"quotient", Div(x, y), Range{1, 6}, Range{2, 3}, Range{1.0 / 3, 3}},
		{"quotient by what may be 0", Div(x, y), Range{1, 6}, Range{0, 3}, Range{-inf, inf}},
		{"quotient of one", Call(Quotient, x), Range{1, 6}, Range{}, Range{-inf, inf}},
		{"max of none", Call(Max), Range{}, Range{}, Range{-inf, inf}},
		{"min", Call(Min, x, y), Range{1, 6}, Range{2, 3}, Range{1, 3}},
		{"max", Call(Max, x, y), Range{1, 6}, Range{2, 3}, Range{2, 6}},
		{"abs about 0", Call(Abs, x), Range{-4, 3}, Range{}, Range{0, 4}},
		{"abs below 0", Call(Abs, x), Range{-4, -3}, Range{}, Range{3, 4}},
		{"sqrt", Call(Sqrt, x), Range{-1, 9}, Range{}, Range{0, 3}},
		{"sqrt of what is below 0", Call(Sqrt, x), Range{-2, -1}, Range{}, Range{-inf, inf}},
		{"floor", Call(Floor, x), Range{1.2, inf}, Range{}, Range{1, inf}},
		{"ceil", Call(Ceil, x), Range{1.2, 2.1}, Range{}, Range{2, 3}},
		{"nearest", Call(Nearest, x, y), Range{1, 2}, Range{1, 1}, Range{-inf, inf}},
	} {
		got := test.e.Range(func(e *Expr) (Range, bool) {
			switch {
			case e.Op != Ref:
				return Range{}, false
			case e.Var == 0:
				return test.x, true
			}
			return test.y, true
		})
		if math.Abs(got.Low-test.want.Low) > 1e-12 || math.Abs(got.High-test.want.High) > 1e-12 {
			t.Errorf("%s: %v, want %v", test.name, got, test.want)
		}
	}
}

// No value leaves the range of an expression, whatever it is made of.
func TestNoValueLeavesItsRange(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 1))
	var make func(depth int) Expr
	make = func(depth int) Expr {
		if depth == 0 {
			if rng.IntN(3) == 0 {
				return C(float64(rng.IntN(9) - 4))
			}
			return V(VarID(rng.IntN(3)))
		}
		op := Op(2 + rng.IntN(int(Nearest)-1))
		args := []Expr{make(depth - 1)}
		if op <= Max {
			args = append(args, make(depth-1))
		}
		if op == Nearest {
			args = append(args, C(0.5))
		}
		return Expr{Op: op, Args: args}
	}
	tight := 0
	for range 2000 {
		e := make(1 + rng.IntN(3))
		var of [3]Range
		for i := range of {
			low := 8*rng.Float64() - 4
			of[i] = Range{low, low + 3*rng.Float64()}
		}
		r := e.Range(func(e *Expr) (Range, bool) {
			if e.Op != Ref {
				return Range{}, false
			}
			return of[e.Var], true
		})
		if r.Low > math.Inf(-1) && r.High < math.Inf(1) {
			tight++
		}
		for range 20 {
			var at [3]float64
			for i := range at {
				at[i] = of[i].Low + rng.Float64()*(of[i].High-of[i].Low)
			}
			v := e.Eval(at[:])
			if math.IsNaN(v) {
				continue
			}
			if slack := 1e-9 * max(1, math.Abs(v)); v < r.Low-slack || v > r.High+slack {
				t.Fatalf("%v is %g at %v, out of %v", e, v, at, r)
			}
		}
	}
	if tight < 500 {
		t.Errorf("only %d ranges have two ends", tight)
	}
}
