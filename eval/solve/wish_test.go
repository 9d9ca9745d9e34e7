package solve

import (
	"math"
	"testing"

	"foredge/eval/relation"
)

// The board of testdata/corpus/ring-board.fore: the best width for the wishes would
// be 218.78 (worked out by hand), and the limit of 215 acts.
func TestRingBoard(t *testing.T) {
	for _, limited := range []bool{true, false} {
		s := newShop()
		s.prefer(s.v("width"), relation.C(225), 1)
		s.prefer(s.v("height"), relation.C(305), 1)
		limit := -1
		if limited {
			limit = s.le(s.v("width"), relation.C(215))
		}
		s.eq(s.v("height"), relation.Mul(s.v("width"), relation.Expr{Op: relation.Sqrt, Args: []relation.Expr{relation.C(2)}}))
		sol := s.solve()
		if !sol.OK() {
			t.Fatal(wrongs(s, sol))
		}
		want := 215.0
		if !limited {
			want = (225 + math.Sqrt2*305) / 3 // least squares of (w-225, w√2-305)
			near(t, "width by hand", want, 218.78, 0.005)
		}
		near(t, "width", s.value(t, sol, "width"), want, 1e-9)
		near(t, "height", s.value(t, sol, "height"), want*math.Sqrt2, 1e-9)
		if limited {
			c := sol.Cause[s.ids["width"]]
			if c.Kind != ByLimit || c.Index != limit || sol.From[s.ids["width"]] != ByWish {
				t.Errorf("%+v %v", c, sol.From[s.ids["width"]])
			}
		}
	}
}

func TestWishesShareByWeight(t *testing.T) {
	s := newShop()
	s.eq(relation.Add(s.v("a"), s.v("b")), relation.C(10))
	s.prefer(s.v("a"), relation.C(8), 3)
	s.prefer(s.v("b"), relation.C(8), 1)
	// 3(a-8)² + (2-a)²: a = 6.5
	sol := s.solve()
	near(t, "a", s.value(t, sol, "a"), 6.5, 1e-9)
	if !sol.OK() {
		t.Error(wrongs(s, sol))
	}
}

// A wish and a limit that speak of a measured size carry its uncertainty.
func TestUncertaintyThroughWishes(t *testing.T) {
	s := newShop()
	b := s.bench("log")
	s.id("log.width")
	s.close(b)
	s.read(b, s.v("log.width"), 0.03, 148.2)
	u := 0.03 / math.Sqrt(3)
	s.prefer(s.v("a"), relation.Mul(relation.C(2), s.v("log.width")), 1)
	s.prefer(s.v("b"), s.v("log.width"), 1)
	s.prefer(s.v("b"), relation.C(100), 1)
	s.prefer(s.v("c"), relation.C(200), 1)
	s.le(s.v("c"), s.v("log.width"))
	s.standard(s.v("d"), relation.Add(s.v("log.width"), relation.C(1)))
	sol := s.solve()
	if !sol.OK() {
		t.Fatal(wrongs(s, sol))
	}
	for _, c := range []struct {
		name     string
		value, u float64
	}{{"a", 296.4, 2 * u}, {"b", 124.1, u / 2}, {"c", 148.2, u}, {"d", 149.2, u}} {
		near(t, c.name, s.value(t, sol, c.name), c.value, 1e-9)
		near(t, "u("+c.name+")", sol.U[s.ids[c.name]], c.u, 1e-9)
	}
}

// A wish beside an equation that isn't linear: least squares of (w - 225) and
// (h - 305) on w h = 60000. At the best point the wishes' slope is along the
// curve's normal (h, w).
func TestWishesOnACurve(t *testing.T) {
	s := newShop()
	s.eq(relation.Mul(s.v("w"), s.v("h")), relation.C(60000))
	s.prefer(s.v("w"), relation.C(225), 1)
	s.prefer(s.v("h"), relation.C(305), 1)
	sol := s.solve()
	if !sol.OK() {
		t.Fatal(wrongs(s, sol))
	}
	w, h := s.value(t, sol, "w"), s.value(t, sol, "h")
	near(t, "area", w*h, 60000, 1e-6)
	near(t, "slope", (w-225)*w-(h-305)*h, 0, 1e-3)
}
