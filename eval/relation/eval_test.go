package relation

import (
	"math"
	"testing"
)

// What is a whole number but for rounding, a thousand-millionth, is taken as
// one; what is further off is rounded.
func TestStep(t *testing.T) {
	for _, c := range []struct {
		op            Op
		x, size, want float64
	}{
		{Floor, 0.1 * 3 / 0.1, 1, 3}, {Floor, 3 - 1e-10, 1, 3}, {Ceil, 3 + 1e-10, 1, 3}, {Floor, 7.9, 0.5, 7.5}, {Ceil, 7.6, 0.5, 8},
		{Ceil, 1e-9, 1, 0}, {Ceil, 1.1e-9, 1, 1}, {Floor, -1e-9, 1, 0}, {Floor, -1.1e-9, 1, -1},
		{Ceil, 1000 + 0.9e-6, 1, 1000}, {Ceil, 1000 + 1.1e-6, 1, 1001}, // in proportion to the number
		{Floor, 2.7, 0, 2}, // a size of nothing is 1
	} {
		if got := (Expr{Op: c.op, Value: c.size, Args: []Expr{C(c.x)}}).Eval(nil); got != c.want {
			t.Errorf("%v of %v by %v is %v, want %v", c.op, c.x, c.size, got, c.want)
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
