package solve

import (
	"math"
	"slices"
	"testing"

	"foredge/eval/relation"
)

func sqrt(e relation.Expr) relation.Expr {
	return relation.Expr{Op: relation.Sqrt, Args: []relation.Expr{e}}
}

func most(e ...relation.Expr) relation.Expr  { return relation.Expr{Op: relation.Max, Args: e} }
func least(e ...relation.Expr) relation.Expr { return relation.Expr{Op: relation.Min, Args: e} }
func abs(e relation.Expr) relation.Expr {
	return relation.Expr{Op: relation.Abs, Args: []relation.Expr{e}}
}

func TestBlocks(t *testing.T) {
	c := relation.C
	for _, test := range []struct {
		name  string
		build func(s *shop)
		want  map[string]float64
	}{
		{"square root backwards", func(s *shop) { s.eq(c(3), sqrt(s.v("x"))) }, map[string]float64{"x": 9}},
		{"square", func(s *shop) { s.eq(relation.Mul(s.v("x"), s.v("x")), c(49)) }, map[string]float64{"x": 7}},
		{"sum and difference of squares", func(s *shop) {
			s.eq(relation.Add(s.v("x"), s.v("y")), c(30))
			s.eq(relation.Minus(relation.Mul(s.v("x"), s.v("x")), relation.Mul(s.v("y"), s.v("y"))), c(120))
		}, map[string]float64{"x": 17, "y": 13}},
		{"through a maximum", func(s *shop) {
			s.eq(most(s.v("x"), c(5)), c(8))
			s.eq(s.v("y"), most(s.v("x"), c(20)))
		}, map[string]float64{"x": 8, "y": 20}},
		{"quotient of two, then their sum", func(s *shop) {
			s.eq(relation.Div(s.v("x"), s.v("y")), c(1.5))
			s.eq(relation.Add(s.v("x"), s.v("y")), c(10))
		}, map[string]float64{"x": 6, "y": 4}},
		{"three together", func(s *shop) {
			s.eq(relation.Mul(s.v("x"), s.v("y")), c(6))
			s.eq(relation.Mul(s.v("y"), s.v("z")), c(12))
			s.eq(relation.Mul(s.v("x"), s.v("z")), c(8))
		}, map[string]float64{"x": 2, "y": 3, "z": 4}},
		{"the root of 0", func(s *shop) {
			s.eq(s.v("x"), sqrt(s.v("y")))
			s.is("y", 0)
			s.ge(s.v("z"), sqrt(s.v("y")))
			s.is("z", 0)
		}, map[string]float64{"x": 0, "y": 0, "z": 0}},
		{"a limit chooses", func(s *shop) { // 3 or 8
			s.eq(relation.Add(relation.Mul(s.v("x"), s.v("x")), c(24)), relation.Mul(c(11), s.v("x")))
			s.le(s.v("x"), c(5))
		}, map[string]float64{"x": 3}},
		{"a limit on what follows chooses", func(s *shop) {
			s.eq(relation.Mul(s.v("x"), s.v("y")), c(600))
			s.eq(relation.Add(s.v("x"), s.v("y")), c(50))
			s.eq(s.v("z"), relation.Add(s.v("x"), s.v("w")))
			s.is("w", 5)
			s.ge(s.v("z"), relation.Add(s.v("y"), c(1)))
		}, map[string]float64{"x": 30, "y": 20, "z": 35}},
		{"a sign chooses", func(s *shop) { // of 3 and 8, 3 leaves y at -2
			s.eq(relation.Add(relation.Mul(s.v("x"), s.v("x")), c(24)), relation.Mul(c(11), s.v("x")))
			s.eq(s.v("y"), relation.Minus(s.v("x"), c(5)))
		}, map[string]float64{"x": 8, "y": 3}},
		{"floor forwards", func(s *shop) {
			s.eq(s.v("n"), relation.Expr{Op: relation.Floor, Value: 1, Args: []relation.Expr{relation.Div(s.v("x"), c(3))}})
			s.is("x", 20)
		}, map[string]float64{"n": 6}},
		{"limits by max, min and abs", func(s *shop) {
			s.ge(s.v("a"), most(c(3), s.v("b")))
			s.is("b", 7)
			s.standard(s.v("a"), c(0))
			s.le(s.v("d"), least(c(3), s.v("b")))
			s.standard(s.v("d"), c(9))
			s.le(abs(relation.Minus(s.v("e"), c(10))), c(2))
			s.standard(s.v("e"), c(0))
		}, map[string]float64{"a": 7, "d": 3, "e": 8}},
	} {
		s := newShop()
		test.build(s)
		sol := s.solve()
		if !sol.OK() {
			t.Errorf("%s: %s", test.name, wrongs(s, sol))
			continue
		}
		for name, want := range test.want {
			near(t, test.name+": "+name, s.value(t, sol, name), want, 1e-6)
		}
		checkCauses(t, s, sol)
	}
}

func TestTangles(t *testing.T) {
	c := relation.C
	for _, test := range []struct {
		name  string
		build func(s *shop)
		want  [][]float64 // of the first tangle
	}{
		{"two roots", func(s *shop) { // (x - 3)(x - 8) = 0
			s.eq(relation.Add(relation.Mul(s.v("x"), s.v("x")), c(24)), relation.Mul(c(11), s.v("x")))
		}, [][]float64{{3}, {8}}},
		{"no root", func(s *shop) { s.eq(relation.Mul(s.v("x"), s.v("x")), c(-4)) }, nil},
		{"two sides of a sheet", func(s *shop) {
			s.eq(relation.Mul(s.v("x"), s.v("y")), c(600))
			s.eq(relation.Add(s.v("x"), s.v("y")), c(50))
		}, [][]float64{{20}, {30}}},
		{"no sheet is that large", func(s *shop) {
			s.eq(relation.Mul(s.v("x"), s.v("y")), c(700))
			s.eq(relation.Add(s.v("x"), s.v("y")), c(50))
		}, nil},
		{"two circles", func(s *shop) {
			x, y := s.v("x"), s.v("y")
			s.eq(relation.Add(relation.Mul(x, x), relation.Mul(y, y)), c(25))
			s.eq(relation.Mul(x, y), c(12))
		}, [][]float64{{3, 4}, {4, 3}}},
	} {
		s := newShop()
		test.build(s)
		sol := s.solve()
		if len(sol.Tangles) != 1 || len(sol.Tangles[0].Found) != len(test.want) || len(sol.Free)+len(sol.Clashes) != 0 {
			t.Errorf("%s: %s", test.name, wrongs(s, sol))
			continue
		}
		for i, f := range sol.Tangles[0].Found {
			for k, want := range test.want[i] {
				if k < len(f) {
					near(t, test.name, f[k], want, 1e-6)
				}
			}
		}
	}
}

// A product with a measured factor while the other is still open: its
// uncertainty is worked out at the final values.
func TestUncertaintyOfProducts(t *testing.T) {
	s := newShop()
	b := s.bench("log")
	s.id("log.thick")
	s.close(b)
	s.read(b, s.v("log.thick"), 0.06, 12)
	u := 0.06 / math.Sqrt(3)
	s.eq(relation.Add(relation.Mul(s.v("x"), s.v("log.thick")), s.v("y")), relation.C(100))
	s.eq(s.v("y"), relation.Add(s.v("x"), relation.C(9)))
	sol := s.solve()
	if !sol.OK() {
		t.Fatal(wrongs(s, sol))
	}
	// x = 91/(thick + 1)
	near(t, "x", s.value(t, sol, "x"), 7, 1e-12)
	near(t, "u(x)", sol.U[s.ids["x"]], u*91/169, 1e-9)
}

// What can't be computed is told, not left open without a word.
func TestNotComputable(t *testing.T) {
	for name, build := range map[string]func(s *shop){
		"quotient by 0":        func(s *shop) { s.eq(s.v("x"), relation.Div(relation.C(3), relation.C(0))) },
		"quotient by 0, later": func(s *shop) { s.eq(s.v("x"), relation.Div(relation.C(3), s.v("y"))); s.is("y", 0) },
		"root of less than 0": func(s *shop) {
			s.eq(s.v("x"), sqrt(relation.Minus(s.v("y"), relation.C(5))))
			s.is("y", 1)
		},
		"no number": func(s *shop) { s.eq(s.v("x"), relation.C(math.NaN())) },
	} {
		s := newShop()
		build(s)
		if sol := s.solve(); len(sol.Tangles) != 1 || len(sol.Tangles[0].Found) != 0 {
			t.Errorf("%s: %s", name, wrongs(s, sol))
		}
	}
}

// A limit that no solution of a block keeps clashes with it.
func TestLimitLeavesNoRoot(t *testing.T) {
	s := newShop()
	block := s.eq(relation.Add(relation.Mul(s.v("x"), s.v("x")), relation.C(24)), relation.Mul(relation.C(11), s.v("x")))
	limit := s.ge(s.v("x"), relation.C(9))
	sol := s.solve()
	if len(sol.Clashes) != 1 || len(sol.Tangles) != 0 || !slices.Equal(sol.Clashes[0].Relations, []int{block, limit}) {
		t.Error(wrongs(s, sol))
	}
}

// What a block without a solution leans on is told with it.
func TestTangleNamesWhatItLeansOn(t *testing.T) {
	s := newShop()
	sum := s.eq(relation.Add(s.v("x"), s.v("y")), relation.C(50))
	s.is("z", 4)
	product := s.eq(relation.Mul(s.v("x"), s.v("y")), relation.C(700))
	sol := s.solve()
	if len(sol.Tangles) != 1 || !slices.Equal(sol.Tangles[0].Relations, []int{product}) || !slices.Equal(sol.Tangles[0].Given, []int{sum}) {
		t.Errorf("%+v", sol.Tangles)
	}
}
