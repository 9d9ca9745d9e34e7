package relation

import (
	"math"
	"math/rand/v2"
	"testing"
)

func op(o Op, args ...Expr) Expr { return Expr{Op: o, Args: args} }

func TestLinear(t *testing.T) {
	x, y := V(0), V(1)
	known := func(v VarID) (float64, bool) { return 7, v == 1 }
	for _, c := range []struct {
		name  string
		e     Expr
		known Known
		ok    bool
		terms []Term
		c     float64
	}{
		{"constants fold", Mul(x, op(Sqrt, C(2))), Nothing, true, []Term{{0, math.Sqrt2}}, 0},
		{"sum of all kinds", Add(Mul(C(3), x), Neg(y), Div(x, C(2)), C(4)), Nothing, true, []Term{{0, 3.5}, {1, -1}}, 4},
		{"what cancels goes", Minus(Add(x, y), x), Nothing, true, []Term{{1, 1}}, 0},
		{"product of two", Mul(x, y), Nothing, false, nil, 0},
		{"product with a known one", Mul(x, y), known, true, []Term{{0, 7}}, 0},
		{"times 0", Mul(x, y, C(0)), Nothing, true, nil, 0},
		{"quotient by one that cancels", Div(x, Add(Minus(y, y), C(2))), Nothing, true, []Term{{0, 0.5}}, 0},
		{"quotient by a dimension", Div(C(1), x), Nothing, false, nil, 0},
		{"largest of constants", op(Max, C(4), C(9), y), known, true, nil, 9},
		{"largest of dimensions", op(Max, x, C(9)), Nothing, false, nil, 0},
		{"floor of what is known", Expr{Op: Floor, Value: 1, Args: []Expr{Div(y, C(2))}}, known, true, nil, 3},
	} {
		f, ok := c.e.Linear(c.known)
		if ok != c.ok {
			t.Errorf("%s: linear %v", c.name, ok)
			continue
		}
		if !ok {
			continue
		}
		if len(f.Terms) != len(c.terms) || math.Abs(f.Const-c.c) > 1e-15 {
			t.Errorf("%s: %+v", c.name, f)
			continue
		}
		for i := range f.Terms {
			if f.Terms[i].Var != c.terms[i].Var || math.Abs(f.Terms[i].Coef-c.terms[i].Coef) > 1e-15 {
				t.Errorf("%s: %+v", c.name, f)
			}
		}
	}
	if f, ok := Div(x, C(0)).Linear(Nothing); !ok || !math.IsNaN(f.Const) {
		t.Errorf("quotient by 0: %+v %v", f, ok)
	}
}

// The forms of a limit are all at least 0 exactly where the limit holds.
func TestLimits(t *testing.T) {
	x, y, z := V(0), V(1), V(2)
	r := rand.New(rand.NewPCG(1, 2))
	for name, rel := range map[string]Relation{
		"A >= max(B, C)":         {Sign: GE, Left: x, Right: op(Max, y, z)},
		"A <= min(B, C)":         {Sign: LE, Left: x, Right: op(Min, y, z, C(3))},
		"abs(A - B) <= C":        {Sign: LE, Left: op(Abs, Minus(x, y)), Right: z},
		"2 max(A, B) + 1 <= C":   {Sign: LE, Left: Add(Mul(C(2), op(Max, x, y)), C(1)), Right: z},
		"-min(A, B)/2 <= C":      {Sign: LE, Left: Div(op(Min, x, y), C(-2)), Right: z},
		"min(A, B) >= max(C, 1)": {Sign: GE, Left: op(Min, x, y), Right: op(Max, z, C(1))},
	} {
		forms, ok := rel.Limits(Nothing)
		if !ok || len(forms) < 2 {
			t.Errorf("%s: %v %v", name, forms, ok)
			continue
		}
		for range 500 {
			v := []float64{r.NormFloat64() * 3, r.NormFloat64() * 3, r.NormFloat64() * 3}
			holds := rel.Residual(v) >= 0
			if rel.Sign == LE {
				holds = rel.Residual(v) <= 0
			}
			all := true
			for _, f := range forms {
				all = all && f.Eval(v) >= 0
			}
			if all != holds {
				t.Errorf("%s at %v: the limit holds %v, its forms %v", name, v, holds, all)
			}
		}
	}
	bad := Relation{Sign: LE, Left: x, Right: op(Max, y, z)}
	if _, ok := bad.Limits(Nothing); ok {
		t.Error("A <= max(B, C) is no limit")
	}
}

// Gradients against central differences.
func TestGradient(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	x, y := V(0), V(1)
	for name, e := range map[string]Expr{
		"product":        Mul(x, y, Add(x, C(2))),
		"quotient":       Div(Add(x, C(1)), Mul(y, y)),
		"root":           op(Sqrt, Add(Mul(x, x), y)),
		"greatest":       op(Max, x, Mul(C(2), y)),
		"least":          op(Min, Mul(x, y), C(2), y),
		"amount":         op(Abs, Minus(x, Mul(y, y))),
		"same one twice": Minus(Mul(x, x), Mul(x, C(3))),
	} {
		for range 50 {
			v := []float64{0.5 + 3*r.Float64(), 0.5 + 3*r.Float64()}
			value, terms := e.Gradient(v)
			if value != e.Eval(v) {
				t.Fatalf("%s: value %g, %g", name, value, e.Eval(v))
			}
			for i := range v {
				const h = 1e-6
				up, down := append([]float64{}, v...), append([]float64{}, v...)
				up[i] += h
				down[i] -= h
				want, got := (e.Eval(up)-e.Eval(down))/(2*h), 0.0
				for _, d := range terms {
					if d.Var == VarID(i) {
						got = d.Coef
					}
				}
				if math.Abs(got-want) > 1e-6*(1+math.Abs(want)) {
					t.Errorf("%s at %v by %d: %g, differences give %g", name, v, i, got, want)
				}
			}
		}
	}
}

func TestHides(t *testing.T) {
	e := Add(V(0), Expr{Op: Floor, Value: 1, Args: []Expr{V(1)}})
	if e.Hides(0) || !e.Hides(1) {
		t.Error("only what stands inside floor is hidden")
	}
}
