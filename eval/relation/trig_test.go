package relation

import (
	"math"
	"testing"
)

// Angles are in degrees: 60° and 45° have known cosines, and what can't be the
// cosine of an angle has none.
func TestCosine(t *testing.T) {
	cos := func(e Expr) Expr { return Expr{Op: Cos, Args: []Expr{e}} }
	acos := func(e Expr) Expr { return Expr{Op: Acos, Args: []Expr{e}} }
	for _, c := range []struct {
		e    Expr
		want float64
	}{
		{cos(C(60)), 0.5}, {cos(C(-60)), 0.5}, {cos(C(45)), math.Sqrt2 / 2}, {cos(C(180)), -1},
		{acos(C(0.5)), 60}, {acos(C(-1)), 180}, {acos(C(1)), 0}, {acos(cos(C(33))), 33},
		{acos(C(1.0001)), math.NaN()}, {cos(V(0)), 0.5},
	} {
		got := c.e.Eval([]float64{60})
		if math.Abs(got-c.want) > 1e-12 || math.IsNaN(got) != math.IsNaN(c.want) {
			t.Errorf("%v gives %v, want %v", c.e, got, c.want)
		}
	}
	// Once what it takes is known, it is a number; before, it is no linear form.
	if f, ok := Add(cos(V(0)), V(1)).Linear(func(v VarID) (float64, bool) { return 60, v == 0 }); !ok ||
		len(f.Terms) != 1 || math.Abs(f.Const-0.5) > 1e-12 {
		t.Errorf("cos(60) + v is %v, %v", f, ok)
	}
	if _, ok := cos(V(0)).Linear(Nothing); ok {
		t.Error("the cosine of an unknown angle passes for linear")
	}
	// Slopes against differences.
	for _, e := range []Expr{cos(V(0)), acos(V(0)), cos(Mul(V(0), V(0))), acos(Div(V(0), C(3)))} {
		for _, x := range []float64{0.1, 0.4, 0.9} {
			const h = 1e-6
			_, terms := e.Gradient([]float64{x})
			want := (e.Eval([]float64{x + h}) - e.Eval([]float64{x - h})) / (2 * h)
			if len(terms) != 1 || math.Abs(terms[0].Coef-want) > 1e-4*math.Abs(want) {
				t.Errorf("the slope of %v at %v is %v, want %v", e, x, terms, want)
			}
		}
	}
}
