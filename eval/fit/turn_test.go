package fit_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"foredge/eval"
	"foredge/eval/fit"
	"foredge/eval/wire"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// The wire that is in a notebook, and boards thicker than the covers it had: a
// ring of 13 mm with 6 mm of leaves takes two boards of 3 mm, if edge and leaves
// reach 2.5 mm in from it (5, 12 and 13 make a right triangle), and no more.
func TestDoesTheWireTurn(t *testing.T) {
	report := func(thick string) *fit.Report {
		tree, _ := parse.File(source.New("t.fore", []byte(`notebook log {
		  width = 148 exact; height = 210 exact; thick = 6 exact
		  binding loop { ring = 13 exact; wire = 1 exact }
		  row wire on spine { count = 24; pitch = 8 exact; first = 10 exact; hole = rect 4 by 6 exact; inset = 2.5 exact } }
		panel front covers log { `+thick+` }
		panel back mirrors front`)))
		m, ds := eval.Build(tree, nil)
		s, more := m.Solve()
		if ds.Add(more); ds.HasErrors() {
			t.Fatal(ds)
		}
		return fit.Of(s)
	}
	for _, c := range []struct {
		thick string
		turns bool
	}{{"thick = 1", true}, {"thick = 3", true}, {"thick = 3.01", false}} {
		r := report(c.thick)
		if len(r.Turns) != 2 || r.Turns[0].Name != "front.wire" || r.Turns[0].Binding != "log.loop" {
			t.Fatalf("%s: %+v", c.thick, r.Turns)
		}
		a := r.Turns[0].Answer
		if a == nil || a.Turns != c.turns || !a.Closes || a.Limit != wire.Turning || math.Abs(a.LargestBoard-3) > 1e-6 {
			t.Errorf("%s: %+v", c.thick, a)
		}
	}
	r := report("")
	if r.Turns[0].Answer != nil || !strings.Contains(r.Turns[0].Missing, "how thick front is") {
		t.Errorf("%+v", r.Turns[0])
	}
}

// Of a twin loop in small round holes it is the hole that says how many leaves there may
// be, long before the ring is full: with that many it goes through, with a few more not.
func TestMostLeavesThroughAHole(t *testing.T) {
	turn := func(leaves float64) fit.Turn {
		tree, _ := parse.File(source.New("t.fore", fmt.Appendf(nil, `notebook log { width = 148 exact; height = 210 exact; thick = %g exact }
		binding loop { form = loop; ring = 14; wire = 1 }
		panel front covers log { thick = 2; row wire on spine { count = 20; pitch = 8; hole = round 4; inset = 3; binding = loop } }`, leaves)))
		m, ds := eval.Build(tree, nil)
		s, more := m.Solve()
		if ds.Add(more); ds.HasErrors() {
			t.Fatal(ds)
		}
		return fit.Of(s).Turns[0]
	}
	most := turn(5).LargestLeaves
	if full := math.Sqrt(14*14-3*3) - 2; !(most > 5 && most < full-0.1) {
		t.Fatalf("room for %g mm of leaves in a ring with room for %g", most, full)
	}
	if a := turn(most - 0.01).Answer; !a.Turns || !a.Passes {
		t.Errorf("with the most leaves: %+v", a)
	}
	if a := turn(most + 0.01).Answer; !a.Turns || a.Passes {
		t.Errorf("with more: %+v", a)
	}
}
