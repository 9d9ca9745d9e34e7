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
		{"quotient by what may be 0", Div(x, y), Range{0, 6}, Range{0, 3}, Range{-inf, inf}},
		{"quotient above 0 by what may be 0 and isn't below", Div(x, y), Range{6, inf}, Range{0, 3}, Range{2, inf}},
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

// No value leaves the range of an expression, whatever it is made of, nor what the
// expression's value leaves of a dimension's range.
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
	tight, narrower := 0, 0
	for range 2000 {
		e := make(1 + rng.IntN(3))
		var of [3]Range
		for i := range of {
			low := 8*rng.Float64() - 4
			of[i] = Range{low, low + 3*rng.Float64()}
		}
		known := func(e *Expr) (Range, bool) {
			if e.Op != Ref {
				return Range{}, false
			}
			return of[e.Var], true
		}
		r := e.Range(known)
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
			for i, x := range at {
				got := e.Narrow(VarID(i), of[i], Range{v, v}, known)
				if slack := 1e-9 * max(1, math.Abs(v)); x < got.Low-slack || x > got.High+slack {
					t.Fatalf("%v is %g at %v, but leaves %v of the range of dimension %d", e, v, at, got, i)
				}
				if got.Low > of[i].Low || got.High < of[i].High {
					narrower++
				}
			}
		}
	}
	if tight < 500 {
		t.Errorf("only %d ranges have two ends", tight)
	}
	if narrower < 5000 {
		t.Errorf("only %d ranges became narrower", narrower)
	}
}

// What an expression's range leaves of a dimension in it, by hand.
func TestNarrow(t *testing.T) {
	inf := math.Inf(1)
	x, y := V(0), V(1)
	for _, test := range []struct {
		name  string
		e     Expr
		in, y Range
		want  Range
	}{
		{"itself", x, Range{-inf, 50}, Range{}, Range{0, 50}},
		{"one less, times 9 or more", Mul(Add(x, C(-1)), y), Range{-inf, 50}, Range{9, inf}, Range{0, 1 + 50.0/9}},
		{"times 150 or more", Mul(x, y), Range{0, 20000}, Range{150, inf}, Range{0, 20000.0 / 150}},
		{"times 22 at most", Mul(x, y), Range{400, inf}, Range{0, 22}, Range{400.0 / 22, inf}},
		{"times what is 0", Mul(x, y), Range{400, inf}, Range{0, 0}, Range{0, inf}},
		{"sum", Add(x, y), Range{-inf, 8}, Range{3, 5}, Range{0, 5}},
		{"divided", Div(x, y), Range{2, 3}, Range{2, 5}, Range{4, 15}},
		{"divisor", Div(y, x), Range{0.7, 0.7}, Range{7, 14}, Range{10, 20}},
		{"min", Call(Min, x, y), Range{4, 5}, Range{0, inf}, Range{4, inf}},
		{"max", Call(Max, x, y), Range{4, 5}, Range{0, inf}, Range{0, 5}},
		{"twice", Add(x, Mul(x, y)), Range{0, 12}, Range{2, 3}, Range{0, 6}},
		{"rounded down", Call(Floor, x), Range{4, 5}, Range{}, Range{4 - 4e-7, 6 + 5e-7}},
		{"rounded up", Call(Ceil, x), Range{4, 5}, Range{}, Range{3 - 4e-7, 5 + 5e-7}},
		{"by amount", Call(Abs, x), Range{4, 5}, Range{}, Range{0, 5}},
	} {
		got := test.e.Narrow(0, Range{0, inf}, test.in, func(e *Expr) (Range, bool) {
			if e.Op == Ref && e.Var == 0 {
				return Range{0, inf}, true
			}
			return test.y, e.Op == Ref
		})
		if math.Abs(got.Low-test.want.Low) > 1e-12 || math.Abs(got.High-test.want.High) > 1e-12 {
			t.Errorf("%s: %v, want %v", test.name, got, test.want)
		}
	}
}
