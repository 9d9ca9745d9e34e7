package must_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"foredge/eval/relation"
	"foredge/eval/solve/solvetest"
	"foredge/lang/foretest"
)

func sqrt(e relation.Expr) relation.Expr {
	return relation.Expr{Op: relation.Sqrt, Args: []relation.Expr{e}}
}

func most(e ...relation.Expr) relation.Expr { return relation.Expr{Op: relation.Max, Args: e} }

func least(e ...relation.Expr) relation.Expr { return relation.Expr{Op: relation.Min, Args: e} }

func abs(e relation.Expr) relation.Expr {
	return relation.Expr{Op: relation.Abs, Args: []relation.Expr{e}}
}

func TestBlocks(t *testing.T) {
	c := relation.C
	for _, test := range []struct {
		name  string
		build func(s *solvetest.Shop)
		want  map[string]float64
	}{
		{"square root backwards", func(s *solvetest.Shop) { s.Eq(c(3), sqrt(s.V("x"))) }, map[string]float64{"x": 9}},
		{"square", func(s *solvetest.Shop) { s.Eq(relation.Mul(s.V("x"), s.V("x")), c(49)) }, map[string]float64{"x": 7}},
		{"sum and difference of squares", func(s *solvetest.Shop) {
			s.Eq(relation.Add(s.V("x"), s.V("y")), c(30))
			s.Eq(relation.Minus(relation.Mul(s.V("x"), s.V("x")), relation.Mul(s.V("y"), s.V("y"))), c(120))
		}, map[string]float64{"x": 17, "y": 13}},
		{"what hangs on another one too waits for it", func(s *solvetest.Shop) {
			s.Eq(relation.Add(s.V("x"), s.V("y")), c(30))
			s.Eq(relation.Minus(relation.Mul(s.V("x"), s.V("x")), relation.Mul(s.V("y"), s.V("y"))), c(120))
			s.Eq(s.V("z"), relation.Add(s.V("x"), s.V("w")))
			s.Standard(s.V("w"), c(5))
		}, map[string]float64{"x": 17, "y": 13, "w": 5, "z": 22}},
		{"through a maximum", func(s *solvetest.Shop) {
			s.Eq(most(s.V("x"), c(5)), c(8))
			s.Eq(s.V("y"), most(s.V("x"), c(20)))
		}, map[string]float64{"x": 8, "y": 20}},
		{"quotient of two, then their sum", func(s *solvetest.Shop) {
			s.Eq(relation.Div(s.V("x"), s.V("y")), c(1.5))
			s.Eq(relation.Add(s.V("x"), s.V("y")), c(10))
		}, map[string]float64{"x": 6, "y": 4}},
		{"three together", func(s *solvetest.Shop) {
			s.Eq(relation.Mul(s.V("x"), s.V("y")), c(6))
			s.Eq(relation.Mul(s.V("y"), s.V("z")), c(12))
			s.Eq(relation.Mul(s.V("x"), s.V("z")), c(8))
		}, map[string]float64{"x": 2, "y": 3, "z": 4}},
		{"the root of 0", func(s *solvetest.Shop) {
			s.Eq(s.V("x"), sqrt(s.V("y")))
			s.Is("y", 0)
			s.Ge(s.V("z"), sqrt(s.V("y")))
			s.Is("z", 0)
		}, map[string]float64{"x": 0, "y": 0, "z": 0}},
		{"a limit chooses", func(s *solvetest.Shop) { // 3 or 8
			s.Eq(relation.Add(relation.Mul(s.V("x"), s.V("x")), c(24)), relation.Mul(c(11), s.V("x")))
			s.Le(s.V("x"), c(5))
		}, map[string]float64{"x": 3}},
		{"a limit on what follows chooses", func(s *solvetest.Shop) {
			s.Eq(relation.Mul(s.V("x"), s.V("y")), c(600))
			s.Eq(relation.Add(s.V("x"), s.V("y")), c(50))
			s.Eq(s.V("z"), relation.Add(s.V("x"), s.V("w")))
			s.Is("w", 5)
			s.Ge(s.V("z"), relation.Add(s.V("y"), c(1)))
		}, map[string]float64{"x": 30, "y": 20, "z": 35}},
		{"a sign chooses", func(s *solvetest.Shop) { // of 3 and 8, 3 leaves y at -2
			s.Eq(relation.Add(relation.Mul(s.V("x"), s.V("x")), c(24)), relation.Mul(c(11), s.V("x")))
			s.Eq(s.V("y"), relation.Minus(s.V("x"), c(5)))
		}, map[string]float64{"x": 8, "y": 3}},
		{"what else a dimension hangs on stays open", func(s *solvetest.Shop) {
			s.Eq(relation.Add(s.V("x"), s.V("y")), c(30))
			s.Eq(relation.Minus(relation.Mul(s.V("x"), s.V("x")), relation.Mul(s.V("y"), s.V("y"))), c(120))
			s.Eq(s.V("z"), relation.Add(s.V("x"), s.V("w")))
			s.Standard(s.V("w"), c(5))
		}, map[string]float64{"x": 17, "y": 13, "z": 22, "w": 5}},
		{"a long sum of unknowns", func(s *solvetest.Shop) {
			all := []relation.Expr{s.V("x0")}
			for i := 1; i < 50; i++ {
				x := s.V(fmt.Sprintf("x%d", i))
				s.Eq(x, relation.Add(s.V(fmt.Sprintf("x%d", i-1)), s.V("step")))
				all = append(all, x)
			}
			s.Eq(s.V("x49"), relation.Mul(c(3), s.V("x0")))
			s.Eq(relation.Add(all...), c(200)) // 50 times the mean of the first and the last
		}, map[string]float64{"x0": 2, "x49": 6, "step": 4.0 / 49}},
		{"a count of tenths", func(s *solvetest.Shop) { // 0.7/0.1 isn't 7 in floating point
			s.Eq(relation.Mul(s.Count("n"), c(0.1)), c(0.7))
		}, map[string]float64{"n": 7}},
		{"floor forwards", func(s *solvetest.Shop) {
			s.Eq(s.V("n"), relation.Expr{Op: relation.Floor, Value: 1, Args: []relation.Expr{relation.Div(s.V("x"), c(3))}})
			s.Is("x", 20)
		}, map[string]float64{"n": 6}},
		{"limits by max, min and abs", func(s *solvetest.Shop) {
			s.Ge(s.V("a"), most(c(3), s.V("b")))
			s.Is("b", 7)
			s.Standard(s.V("a"), c(0))
			s.Le(s.V("d"), least(c(3), s.V("b")))
			s.Standard(s.V("d"), c(9))
			s.Le(abs(relation.Minus(s.V("e"), c(10))), c(2))
			s.Standard(s.V("e"), c(0))
		}, map[string]float64{"a": 7, "d": 3, "e": 8}},
	} {
		s := solvetest.NewShop()
		test.build(s)
		if sol, ok := solvetest.CheckValues(t, test.name, s, test.want); ok {
			solvetest.CheckCauses(t, s, sol)
		}
	}
}

func TestTangles(t *testing.T) {
	c := relation.C
	for _, test := range []struct {
		name  string
		build func(s *solvetest.Shop)
		want  [][]float64 // of the first tangle
	}{
		{"two roots", func(s *solvetest.Shop) { // (x - 3)(x - 8) = 0
			s.Eq(relation.Add(relation.Mul(s.V("x"), s.V("x")), c(24)), relation.Mul(c(11), s.V("x")))
		}, [][]float64{{3}, {8}}},
		{"no root", func(s *solvetest.Shop) { s.Eq(relation.Mul(s.V("x"), s.V("x")), c(-4)) }, nil},
		{"two sides of a sheet", func(s *solvetest.Shop) {
			s.Eq(relation.Mul(s.V("x"), s.V("y")), c(600))
			s.Eq(relation.Add(s.V("x"), s.V("y")), c(50))
		}, [][]float64{{20}, {30}}},
		{"no sheet is that large", func(s *solvetest.Shop) {
			s.Eq(relation.Mul(s.V("x"), s.V("y")), c(700))
			s.Eq(relation.Add(s.V("x"), s.V("y")), c(50))
		}, nil},
		{"two circles", func(s *solvetest.Shop) {
			x, y := s.V("x"), s.V("y")
			s.Eq(relation.Add(relation.Mul(x, x), relation.Mul(y, y)), c(25))
			s.Eq(relation.Mul(x, y), c(12))
		}, [][]float64{{3, 4}, {4, 3}}},
	} {
		s := solvetest.NewShop()
		test.build(s)
		sol := s.Solve()
		if len(sol.Tangles) != 1 || len(sol.Tangles[0].Found) != len(test.want) || len(sol.Free)+len(sol.Clashes) != 0 {
			t.Errorf("%s: %s", test.name, solvetest.Wrongs(s, sol))
			continue
		}
		for i, f := range sol.Tangles[0].Found {
			for k, want := range test.want[i] {
				if k < len(f) {
					foretest.Near(t, test.name, f[k], want, 1e-6)
				}
			}
		}
	}
}

// A product with a measured factor while the other is still open: its
// uncertainty is worked out at the final values.
func TestUncertaintyOfProducts(t *testing.T) {
	s := solvetest.NewShop()
	b := s.Bench("log")
	s.Id("log.thick")
	s.Close(b)
	s.Read(b, s.V("log.thick"), 0.06, 12)
	u := 0.06 / math.Sqrt(3)
	s.Eq(relation.Add(relation.Mul(s.V("x"), s.V("log.thick")), s.V("y")), relation.C(100))
	s.Eq(s.V("y"), relation.Add(s.V("x"), relation.C(9)))
	sol := s.Solve()
	if !sol.OK() {
		t.Fatal(solvetest.Wrongs(s, sol))
	}
	// x = 91/(thick + 1)
	foretest.Near(t, "x", s.Value(t, sol, "x"), 7, 1e-12)
	foretest.Near(t, "u(x)", sol.U[s.IDs["x"]], u*91/169, 1e-9)
}

// A block that measured sizes move: x + y = 30 and x² - y² = 120·thick, that is
// x = 15 + 2·thick.
func TestUncertaintyThroughABlock(t *testing.T) {
	s := solvetest.NewShop()
	b := s.Bench("log")
	s.Id("log.thick")
	s.Close(b)
	s.Read(b, s.V("log.thick"), 0.06, 1.5)
	u := 0.06 / math.Sqrt(3)
	square := func(name string) relation.Expr { return relation.Mul(s.V(name), s.V(name)) }
	s.Eq(relation.Add(s.V("x"), s.V("y")), relation.C(30))
	s.Eq(relation.Minus(square("x"), square("y")), relation.Mul(relation.C(120), s.V("log.thick")))
	sol := s.Solve()
	if !sol.OK() {
		t.Fatal(solvetest.Wrongs(s, sol))
	}
	foretest.Near(t, "x", s.Value(t, sol, "x"), 18, 1e-9)
	foretest.Near(t, "u(x)", sol.U[s.IDs["x"]], 2*u, 1e-9)
	foretest.Near(t, "u(y)", sol.U[s.IDs["y"]], 2*u, 1e-9)
}

// Where a block's equation has no slope, at the root of 0, no uncertainty comes
// out as no number.
func TestUncertaintyAtTheRootOf0(t *testing.T) {
	s := solvetest.NewShop()
	b := s.Bench("log")
	s.Id("log.width")
	s.Close(b)
	s.Read(b, s.V("log.width"), 0.06, 100)
	s.Eq(relation.Add(s.V("x"), s.V("y")), s.V("log.width"))
	s.Eq(sqrt(relation.Minus(relation.Add(relation.Mul(relation.C(2), s.V("x")), s.V("y")), relation.C(200))), relation.C(0))
	sol := s.Solve()
	for _, name := range []string{"x", "y"} {
		if u := sol.U[s.IDs[name]]; math.IsNaN(u) || math.IsInf(u, 0) {
			t.Errorf("u(%s) is %g", name, u)
		}
	}
	foretest.Near(t, "x", s.Value(t, sol, "x"), 100, 1e-6)
}

// What can't be computed is told, not left open without a word.
func TestNotComputable(t *testing.T) {
	for name, build := range map[string]func(s *solvetest.Shop){
		"quotient by 0":        func(s *solvetest.Shop) { s.Eq(s.V("x"), relation.Div(relation.C(3), relation.C(0))) },
		"quotient by 0, later": func(s *solvetest.Shop) { s.Eq(s.V("x"), relation.Div(relation.C(3), s.V("y"))); s.Is("y", 0) },
		"root of less than 0": func(s *solvetest.Shop) {
			s.Eq(s.V("x"), sqrt(relation.Minus(s.V("y"), relation.C(5))))
			s.Is("y", 1)
		},
		"no number": func(s *solvetest.Shop) { s.Eq(s.V("x"), relation.C(math.NaN())) },
	} {
		s := solvetest.NewShop()
		build(s)
		if sol := s.Solve(); len(sol.Tangles) != 1 || len(sol.Tangles[0].Found) != 0 {
			t.Errorf("%s: %s", name, solvetest.Wrongs(s, sol))
		}
	}
}

// A limit that no solution of a block keeps clashes with it.
func TestLimitLeavesNoRoot(t *testing.T) {
	s := solvetest.NewShop()
	block := s.Eq(relation.Add(relation.Mul(s.V("x"), s.V("x")), relation.C(24)), relation.Mul(relation.C(11), s.V("x")))
	limit := s.Ge(s.V("x"), relation.C(9))
	sol := s.Solve()
	if len(sol.Clashes) != 1 || len(sol.Tangles) != 0 || !slices.Equal(sol.Clashes[0].Relations, []int{block, limit}) {
		t.Error(solvetest.Wrongs(s, sol))
	}
}

// What a block without a solution leans on is told with it.
func TestTangleNamesWhatItLeansOn(t *testing.T) {
	s := solvetest.NewShop()
	sum := s.Eq(relation.Add(s.V("x"), s.V("y")), relation.C(50))
	s.Is("z", 4)
	product := s.Eq(relation.Mul(s.V("x"), s.V("y")), relation.C(700))
	sol := s.Solve()
	if len(sol.Tangles) != 1 || !slices.Equal(sol.Tangles[0].Relations, []int{product}) || !slices.Equal(sol.Tangles[0].Given, []int{sum}) {
		t.Errorf("%+v", sol.Tangles)
	}
}

// A limit that asks for less than nothing clashes with the rule that no
// dimension is negative, in a product that is still open too.
func TestLimitBelow0InAnOpenProduct(t *testing.T) {
	s := solvetest.NewShop()
	s.Eq(relation.Mul(s.V("x"), s.V("y")), s.V("z"))
	limit := s.Le(s.V("x"), relation.C(-5))
	sol := s.Solve()
	if len(sol.Clashes) != 1 || !slices.Equal(sol.Clashes[0].Relations, []int{limit}) {
		t.Error(solvetest.Wrongs(s, sol))
	}
}
