package solve

import (
	"math"
	"testing"

	"foredge/eval/relation"
)

// Design 4 of the language reference: the best width for the wishes would be
// 218.78, and the limit of 215 acts.
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
			near(t, "page's width", want, 218.78, 0.005)
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
