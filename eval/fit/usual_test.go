package fit_test

import (
	"fmt"
	"testing"

	"foredge/eval/evaltest"
	"foredge/eval/fit"
	"foredge/lang/foretest"
)

// What binders take for a book of 10 mm stands beside what its wire's circle asks for: a
// loop 3/16 in larger ("Requirements: wire", a bindery's page, author unknown, undated), and
// of those that are sold the next, 5/8 in. One that must be larger to turn right round is
// the next after that.
func TestUsual(t *testing.T) {
	usual := func(inset, count, thick string) *fit.Turn {
		s := evaltest.Sound(t, fmt.Sprintf(`notebook log {
  width = 148 exact; height = 210 exact%s
  binding wire { form = loop; ring = 30 exact; wire = 1 exact }
  row holes on spine { count = %s; pitch = 12.7 exact; first = 6 exact; hole = rect 5 by 5 exact; inset = %s exact }
}
panel front covers log { thick = 2; quiet = wire-loose }
panel back mirrors front`, thick, count, inset))
		return &fit.Of(s).Turns[0]
	}
	u := usual("3", "15", "; thick = 6 exact").Usual
	if u == nil || u.Sold == nil || u.Sold.Name != "loop-5-8" {
		t.Fatalf("binders take %+v", u)
	}
	foretest.Near(t, "ring", u.Ring, 10+25.4*3/16, 1e-9)
	// Two edges of 8 mm beside 10 mm of book: a ring of sqrt(16² + 10²) = 18.87 mm.
	if u := usual("8", "15", "; thick = 6 exact").Usual; u == nil || u.Sold == nil || u.Sold.Name != "loop-3-4" {
		t.Errorf("of deep holes binders take %+v", u)
	}
	if u := usual("3", "7", "; thick = 6 exact").Usual; u != nil {
		t.Errorf("of 7 holes binders take %+v", u)
	}
	if u := usual("3", "15", "").Usual; u != nil {
		t.Errorf("without leaves binders take %+v", u)
	}
}
