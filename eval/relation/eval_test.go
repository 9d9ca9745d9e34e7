package relation

import (
	"math"
	"slices"
	"testing"
)

// What is a whole number but for rounding, a ten-millionth, is taken as
// one; what is further off is rounded.
func TestStep(t *testing.T) {
	for _, c := range []struct {
		op            Op
		x, size, want float64
	}{
		{Floor, 0.1 * 3 / 0.1, 1, 3}, {Floor, 3 - 1e-8, 1, 3}, {Ceil, 3 + 1e-8, 1, 3}, {Floor, 7.9, 0.5, 7.5}, {Ceil, 7.6, 0.5, 8},
		{Ceil, 1e-7, 1, 0}, {Ceil, 1.1e-7, 1, 1}, {Floor, -1e-7, 1, 0}, {Floor, -1.1e-7, 1, -1},
		{Ceil, 1000 + 0.9e-4, 1, 1000}, {Ceil, 1000 + 1.1e-4, 1, 1001}, // in proportion to the number
		{Floor, 2.7, 0, 2}, // a size of nothing is 1
	} {
		if got := (Expr{Op: c.op, Value: c.size, Args: []Expr{C(c.x)}}).Eval(nil); got != c.want {
			t.Errorf("%v of %v by %v is %v, want %v", c.op, c.x, c.size, got, c.want)
		}
	}
}

// The middle of two multiples goes away from 0, also where rounding keeps from it.
func TestNearest(t *testing.T) {
	for _, c := range []struct{ x, size, want float64 }{
		{20.5, 1, 21}, {20.5 - 1e-13, 1, 21}, {20.5 - 1e-9, 1, 20}, {-20.5 + 1e-13, 1, -21}, {0, 1, 0},
		{13.5, 3, 15},
	} {
		if got := Call(Nearest, C(c.x), C(c.size)).Eval(nil); got != c.want {
			t.Errorf("nearest to %v by %v is %v, want %v", c.x, c.size, got, c.want)
		}
	}
}

// What lacks an argument has no value.
func TestArgumentsMissing(t *testing.T) {
	for _, o := range []Op{Quotient, Nearest, Min, Max, Abs, Sqrt, Cos, Acos, Floor, Ceil} {
		if got := op(o).Eval(nil); !math.IsNaN(got) {
			t.Errorf("%v of nothing is %v", o, got)
		}
	}
	for _, o := range []Op{Quotient, Nearest} {
		if got := op(o, C(6)).Eval(nil); !math.IsNaN(got) {
			t.Errorf("%v of 6 and nothing is %v", o, got)
		}
	}
}

// Rounded off, a kink slopes to both sides, as its value does: held against
// differences. Far from it nothing changes.
func TestRoundedKinks(t *testing.T) {
	x, y := V(0), V(1)
	for _, e := range []Expr{Call(Max, x, y, C(3)), Call(Min, x, Mul(C(2), y)), Call(Abs, Minus(x, y)), Add(Call(Abs, x), Call(Max, C(1), Call(Min, x, y)))} {
		r := Relation{Left: e, Right: C(0.5)}
		if !r.HasKinks() {
			t.Errorf("%v has kinks", e)
		}
		for _, at := range [][]float64{{2, 2.5}, {3, 3}, {-1, 4}, {0.1, 0.1}} {
			_, terms := r.RoundedGradient(at, 0.7)
			for v := range at {
				const h = 1e-6
				up, down := slices.Clone(at), slices.Clone(at)
				up[v] += h
				down[v] -= h
				above, _ := r.RoundedGradient(up, 0.7)
				below, _ := r.RoundedGradient(down, 0.7)
				slope := 0.0
				for _, term := range terms {
					if term.Var == VarID(v) {
						slope = term.Coef
					}
				}
				if want := (above - below) / (2 * h); math.Abs(slope-want) > 1e-6 {
					t.Errorf("%v at %v: slope %v by %d, want %v", e, at, slope, v, want)
				}
			}
		}
		far := []float64{200, -300}
		sharp, _ := r.Gradient(far)
		if rounded, _ := r.RoundedGradient(far, 0.1); math.Abs(rounded-sharp) > 1e-4 {
			t.Errorf("%v is %v rounded off, %v else", e, rounded, sharp)
		}
	}
	r := Relation{Left: Mul(x, y), Right: Expr{Op: Sqrt, Args: []Expr{x}}}
	if r.HasKinks() {
		t.Error("a product has no kink")
	}
}

// Rounded off, stairs are the line that is off them by half a step at most.
func TestRoundedStairs(t *testing.T) {
	for _, o := range []Op{Floor, Ceil, Nearest} {
		r := Relation{Left: Call(o, Mul(C(0.25), V(0))), Right: C(0)}
		if !r.HasKinks() {
			t.Errorf("%v has steps", o)
		}
		for x := -10.0; x <= 10; x += 0.37 {
			exact, none := r.Gradient([]float64{x})
			line, slope := r.RoundedGradient([]float64{x}, 0.7)
			if math.Abs(line-exact) > 0.5+1e-12 || len(none) != 0 || len(slope) != 1 || slope[0].Coef != 0.25 {
				t.Errorf("%v at %v is %v rounded off with slope %v, and %v with %v else", o, x, line, slope, exact, none)
			}
		}
	}
}
