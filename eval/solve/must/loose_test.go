package must_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"foredge/eval/relation"
	"foredge/eval/solve/solvetest"
)

// An equation that says nothing new decides nothing: what could be several things stays open,
// and a line more that is true of one of them gives that.
func TestWhatSaysNothingNew(t *testing.T) {
	c, mul, add := relation.C, relation.Mul, relation.Add
	for _, test := range []struct {
		name  string
		build func(s *solvetest.Shop)
		more  func(s *solvetest.Shop) // that decides the rest
		want  map[string]float64
	}{
		{"the least is what is known", func(s *solvetest.Shop) {
			s.Ge(s.V("p"), c(80))
			s.Is("q", 60)
			s.Eq(least(s.V("q"), s.V("p")), c(60))
			s.Eq(least(add(s.V("s"), s.V("p")), c(300)), c(120))
		}, func(s *solvetest.Shop) { s.Is("p", 100) }, map[string]float64{"p": 100, "s": 20}},
		{"the least is what is known, and one of another", func(s *solvetest.Shop) {
			s.Ge(s.V("p"), c(80))
			s.Is("q", 60)
			s.Eq(least(s.V("q"), s.V("p")), c(60))
			s.Eq(least(s.V("s"), s.V("p")), c(70))
		}, func(s *solvetest.Shop) { s.Is("p", 90) }, map[string]float64{"p": 90, "s": 70}},
		{"without a limit", func(s *solvetest.Shop) {
			s.Eq(least(c(60), s.V("p")), c(60))
			s.Eq(least(add(s.V("s"), s.V("p")), c(300)), c(120))
		}, func(s *solvetest.Shop) { s.Is("s", 50) }, map[string]float64{"p": 70}},
		{"the same twice", func(s *solvetest.Shop) {
			s.Eq(mul(s.V("run"), s.V("last")), c(680))
			s.Eq(mul(s.V("last"), relation.Div(s.V("run"), c(2))), c(340))
		}, func(s *solvetest.Shop) { s.Is("run", 40) }, map[string]float64{"last": 17}},
		{"what a product says said again", func(s *solvetest.Shop) {
			s.Own(s.V("run"), mul(relation.Minus(s.V("count"), c(1)), s.V("pitch")))
			s.Own(s.V("pitch"), add(s.V("web"), c(7)))
			s.Is("run", 38)
			s.Eq(s.V("run"), mul(relation.Minus(s.V("count"), c(1)), add(s.V("web"), c(7))))
		}, func(s *solvetest.Shop) { s.Is("count", 3) }, map[string]float64{"pitch": 19, "web": 12}},
		{"a quotient of a thing by itself", func(s *solvetest.Shop) {
			s.Own(s.V("run"), mul(relation.Minus(s.V("count"), c(1)), s.V("pitch")))
			s.Eq(relation.Div(s.V("pitch"), s.V("pitch")), c(1))
			s.Eq(mul(s.V("run"), s.V("pitch")), c(1452))
		}, func(s *solvetest.Shop) { s.Is("pitch", 11) }, map[string]float64{"run": 132, "count": 13}},
		{"quotients of a thing by itself, twice", func(s *solvetest.Shop) {
			s.Eq(relation.Div(s.V("x"), s.V("x")), c(1))
			s.Eq(relation.Div(most(s.V("x"), s.V("x")), s.V("x")), c(1))
		}, func(s *solvetest.Shop) { s.Is("x", 9) }, map[string]float64{"x": 9}},
		{"two at once the most, and a thing by itself", func(s *solvetest.Shop) {
			s.Eq(most(s.V("first"), s.V("last")), c(13))
			s.Eq(add(s.V("first"), s.V("run"), s.V("last")), c(91.5))
			s.Own(s.V("run"), mul(relation.Minus(s.V("count"), c(1)), add(s.V("web"), c(3))))
			s.Eq(relation.Div(s.V("web"), s.V("web")), c(1))
			s.Eq(least(s.V("run"), c(5.5)), c(5.5))
		}, func(s *solvetest.Shop) { s.Is("first", 12.5); s.Is("web", 8) }, map[string]float64{"last": 13, "run": 66, "count": 7}},
	} {
		s := solvetest.NewShop()
		test.build(s)
		if sol := s.Solve(); len(sol.Clashes)+len(sol.Tangles)+len(sol.Counts) > 0 || len(sol.Free) == 0 {
			t.Errorf("%s: not just open: %s", test.name, solvetest.Wrongs(s, sol))
		}
		test.more(s)
		solvetest.CheckValues(t, test.name+", with a line more", s, test.want)
	}
}

// A stretch of solutions that a limit ends where it begins is none, what is beside it is solved all
// the same, a wish chooses on it, and what can't be is still told.
func TestWhereSomethingIsSaid(t *testing.T) {
	c, mul, add := relation.C, relation.Mul, relation.Add
	both := func(s *solvetest.Shop) {
		s.Eq(least(c(60), s.V("p")), c(60))
		s.Eq(least(add(s.V("s"), s.V("p")), c(300)), c(120))
	}
	for _, test := range []struct {
		name  string
		build func(s *solvetest.Shop)
		want  map[string]float64
	}{
		{"a limit ends it", func(s *solvetest.Shop) { both(s); s.Le(s.V("p"), c(60)) }, map[string]float64{"p": 60, "s": 60}},
		{"a sign rule ends it", func(s *solvetest.Shop) {
			s.Eq(most(s.V("p"), c(0)), c(0))
			s.Eq(most(add(s.V("s"), s.V("p")), c(5)), c(20))
		}, map[string]float64{"p": 0, "s": 20}},
		{"a wish chooses", func(s *solvetest.Shop) { both(s); s.Prefer(s.V("p"), c(100), 1) }, map[string]float64{"p": 100, "s": 20}},
		{"what is beside it", func(s *solvetest.Shop) {
			x, y, z, w := s.V("x"), s.V("y"), s.V("z"), s.V("w")
			s.Eq(mul(x, y), c(6))
			s.Eq(mul(x, y, c(3)), c(18))
			s.Eq(mul(z, w), c(12))
			s.Eq(relation.Div(z, w), c(3))
			s.Eq(mul(add(z, x), s.V("v")), c(40))
			s.Prefer(x, c(4), 1)
		}, map[string]float64{"z": 6, "w": 2, "x": 4, "y": 1.5, "v": 4}},
	} {
		s := solvetest.NewShop()
		test.build(s)
		solvetest.CheckValues(t, test.name, s, test.want)
	}
	for name, build := range map[string]func(s *solvetest.Shop){
		"too much": func(s *solvetest.Shop) { both(s); s.Ge(s.V("p"), c(130)) },
		"the same said otherwise": func(s *solvetest.Shop) {
			s.Eq(mul(s.V("x"), s.V("y")), c(680))
			s.Eq(mul(s.V("x"), s.V("y"), c(0.5)), c(345))
		},
	} {
		s := solvetest.NewShop()
		build(s)
		if sol := s.Solve(); len(sol.Clashes)+len(sol.Tangles) == 0 {
			t.Errorf("%s: %s", name, solvetest.Wrongs(s, sol))
		}
	}
}

// Lines about sizes that are true of some values are never refused, though some of them say what
// others say, or nothing.
func TestTrueLinesAreNotRefused(t *testing.T) {
	for seed := range uint64(400) {
		rng := rand.New(rand.NewPCG(seed, 8))
		s := solvetest.NewShop()
		var values []float64
		for i := range 2 + rng.IntN(3) {
			s.Id(fmt.Sprint("x", i))
			values = append(values, 5+float64(rng.IntN(60))/2)
		}
		size := func() relation.Expr { return relation.V(relation.VarID(rng.IntN(len(values)))) }
		for range 1 + rng.IntN(5) {
			a, b := size(), size()
			factor := relation.C(float64(1 + rng.IntN(3)))
			e := [...]relation.Expr{
				relation.Mul(a, b), relation.Mul(factor, b, a), relation.Div(a, a), least(a, b), most(a, b), most(a, factor),
				least(relation.Add(a, b), size()), a,
			}[rng.IntN(8)]
			s.Eq(e, relation.C(e.Eval(values)))
		}
		if rng.IntN(2) == 0 {
			e := size()
			s.Ge(e, relation.C(e.Eval(values)-rng.Float64()))
		}
		sol := s.Solve()
		refused := len(sol.Clashes) > 0
		for _, x := range sol.Tangles {
			refused = refused || len(x.Found) == 0
		}
		if refused {
			t.Errorf("system %d, true of %v: %s", seed, values, solvetest.Wrongs(s, sol))
		}
	}
}
