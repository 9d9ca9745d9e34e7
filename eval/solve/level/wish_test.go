package level_test

import (
	"math"
	"testing"

	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/eval/solve/solvetest"
	"foredge/lang/foretest"
)

// The board of testdata/corpus/ring-board.fore: the best width for the wishes would
// be 218.78 (worked out by hand), and the limit of 215 acts.
func TestRingBoard(t *testing.T) {
	for _, limited := range []bool{true, false} {
		s := solvetest.NewShop()
		s.Prefer(s.V("width"), relation.C(225), 1)
		s.Prefer(s.V("height"), relation.C(305), 1)
		limit := -1
		if limited {
			limit = s.Le(s.V("width"), relation.C(215))
		}
		s.Eq(s.V("height"), relation.Mul(s.V("width"), relation.Expr{Op: relation.Sqrt, Args: []relation.Expr{relation.C(2)}}))
		sol := s.Solve()
		if !sol.OK() {
			t.Fatal(solvetest.Wrongs(s, sol))
		}
		want := 215.0
		if !limited {
			want = (225 + math.Sqrt2*305) / 3 // least squares of (w-225, w√2-305)
			foretest.Near(t, "width by hand", want, 218.78, 0.005)
		}
		foretest.Near(t, "width", s.Value(t, sol, "width"), want, 1e-9)
		foretest.Near(t, "height", s.Value(t, sol, "height"), want*math.Sqrt2, 1e-9)
		if limited {
			c := sol.Cause[s.IDs["width"]]
			if c.Kind != solve.ByLimit || c.Index != limit || sol.From[s.IDs["width"]] != solve.ByWish {
				t.Errorf("%+v %v", c, sol.From[s.IDs["width"]])
			}
		}
	}
}

func TestWishesShareByWeight(t *testing.T) {
	s := solvetest.NewShop()
	s.Eq(relation.Add(s.V("a"), s.V("b")), relation.C(10))
	s.Prefer(s.V("a"), relation.C(8), 3)
	s.Prefer(s.V("b"), relation.C(8), 1)
	// 3(a-8)² + (2-a)²: a = 6.5
	sol := s.Solve()
	foretest.Near(t, "a", s.Value(t, sol, "a"), 6.5, 1e-9)
	if !sol.OK() {
		t.Error(solvetest.Wrongs(s, sol))
	}
}

// A wish and a limit that speak of a measured size carry its uncertainty.
func TestUncertaintyThroughWishes(t *testing.T) {
	s := solvetest.NewShop()
	b := s.Bench("log")
	s.Id("log.width")
	s.Close(b)
	s.Read(b, s.V("log.width"), 0.03, 148.2)
	u := 0.03 / math.Sqrt(3)
	s.Prefer(s.V("a"), relation.Mul(relation.C(2), s.V("log.width")), 1)
	s.Prefer(s.V("b"), s.V("log.width"), 1)
	s.Prefer(s.V("b"), relation.C(100), 1)
	s.Prefer(s.V("c"), relation.C(200), 1)
	s.Le(s.V("c"), s.V("log.width"))
	s.Standard(s.V("d"), relation.Add(s.V("log.width"), relation.C(1)))
	sol := s.Solve()
	if !sol.OK() {
		t.Fatal(solvetest.Wrongs(s, sol))
	}
	for _, c := range []struct {
		name     string
		value, u float64
	}{{"a", 296.4, 2 * u}, {"b", 124.1, u / 2}, {"c", 148.2, u}, {"d", 149.2, u}} {
		foretest.Near(t, c.name, s.Value(t, sol, c.name), c.value, 1e-9)
		foretest.Near(t, "u("+c.name+")", sol.U[s.IDs[c.name]], c.u, 1e-9)
	}
}

// A wish beside an equation that isn't linear: least squares of (w - 225) and
// (h - 305) on w h = 60000. At the best point the wishes' slope is along the
// curve's normal (h, w).
func TestWishesOnACurve(t *testing.T) {
	s := solvetest.NewShop()
	s.Eq(relation.Mul(s.V("w"), s.V("h")), relation.C(60000))
	s.Prefer(s.V("w"), relation.C(225), 1)
	s.Prefer(s.V("h"), relation.C(305), 1)
	sol := s.Solve()
	if !sol.OK() {
		t.Fatal(solvetest.Wrongs(s, sol))
	}
	w, h := s.Value(t, sol, "w"), s.Value(t, sol, "h")
	foretest.Near(t, "area", w*h, 60000, 1e-6)
	foretest.Near(t, "slope", (w-225)*w-(h-305)*h, 0, 1e-3)
}

// Of wishes about one dimension, the one that is met explains it, wherever it
// stands.
func TestMetWishExplains(t *testing.T) {
	s := solvetest.NewShop()
	for _, x := range []float64{10, 20, 15} {
		s.Prefer(s.V("a"), relation.C(x), 1)
	}
	sol := s.Solve()
	foretest.Near(t, "a", s.Value(t, sol, "a"), 15, 1e-9)
	if c := sol.Cause[s.IDs["a"]]; c.Kind != solve.ByWishLine || c.Index != 2 {
		t.Errorf("a comes from %+v", c)
	}
}

// A stated limit of 0 is named where it acts, not the rule that no dimension is
// negative.
func TestStatedLimitOfNothingIsNamed(t *testing.T) {
	s := solvetest.NewShop()
	s.Prefer(s.V("a"), relation.C(-3), 1)
	limit := s.Ge(s.V("a"), relation.C(0))
	sol := s.Solve()
	foretest.Near(t, "a", s.Value(t, sol, "a"), 0, 1e-9)
	if c := sol.Cause[s.IDs["a"]]; c.Kind != solve.ByLimit || c.Index != limit {
		t.Errorf("a comes from %+v", c)
	}
}
