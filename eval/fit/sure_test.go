package fit_test

import (
	"math"
	"testing"

	"foredge/eval/evaltest"
	"foredge/eval/fit"
)

// What is said at a glance is what the report says: the chance of a row is that of
// the report, and no hole is less sure than its two end holes, worked out by hand
// from independent readings of ± a (u = a / √3): first + run for the last hole, so
// twice √(2 u² + (u/2)²) with half the hole.
func TestSureOf(t *testing.T) {
	s := evaltest.Sound(t, `notebook log { accuracy = 0.03; width = 148; height = 210 exact
  row wire on spine { count = 24; hole = rect 4 by 4; first = 5.6; run = 194.7; inset = 4; wire = 3.7 ± 0.02 } }
panel front covers log { ease = 0.1 }
panel back mirrors front
panel own covers log { row wire { hole = rect 5 by 5 } }`)
	sure := fit.SureOf(s)
	if len(sure) != 3 {
		t.Fatalf("%d rows: %v", len(sure), sure)
	}
	u := 0.03 / math.Sqrt(3)
	want := 2 * math.Sqrt(2*u*u+u*u/4)
	for _, c := range fit.Of(s).Notebooks[0].Rows[0].Covers {
		got := sure[c.Name]
		if got.Clears != c.Probability {
			t.Errorf("%s clears with %v, in the report %v", c.Name, got.Clears, c.Probability)
		}
		if math.Abs(got.Off-want) > 1e-6 {
			t.Errorf("%s: a hole may be off by %g, want %g", c.Name, got.Off, want)
		}
		if slack, ok := got.Slack.Get(); ok != (c.Name != "own.wire") || ok && math.Abs(slack-0.05) > 1e-9 {
			t.Errorf("%s: %g of slack, %v", c.Name, slack, ok)
		}
	}
}

// Where nothing can be told nothing is said: of readings that contradict each
// other, of a place that is open, of a row that lies on nothing.
func TestSureOfNothing(t *testing.T) {
	for what, text := range map[string]string{
		"contradiction": `notebook log { accuracy = 0.01; width = 148; height = 210; row wire on spine { count = 2; hole = round 4; first = 5; run = 190; last = 5; inset = 4 } }
panel front covers log`,
		"open": `notebook log { accuracy = 0.01; width = 148; height = 210; row wire on spine { count = 2; hole = round 4; first = 5 } }
panel front covers log`,
		"no readings": "panel front { width = 100; height = 200; row wire on spine { count = 2; pitch = 50; hole = round 4; inset = 5 } }",
	} {
		s, _ := evaltest.Solve(text, nil)
		if sure := fit.SureOf(s); len(sure) != 0 {
			t.Errorf("%s: %v", what, sure)
		}
	}
}

// The row of a panel counts as this design's where the panel is, though another
// file says what the row is like.
func TestSureOfRowsOfUsedFiles(t *testing.T) {
	s := evaltest.SoundWith(t, "use \"log.fore\"\npanel gift like front", evaltest.Files{"log.fore": `notebook log { accuracy = 0.03; width = 148; height = 210
  row wire on spine { count = 24; hole = rect 4 by 4; first = 5.6; run = 194.7; inset = 4 } }
panel front covers log { ease = 0.1; row wire { ease = 0.2 } }`})
	sure := fit.SureOf(s)
	if slack := sure["gift.wire"].Slack.Or(0); len(sure) != 1 || math.Abs(slack-0.1) > 1e-9 {
		t.Errorf("%v", sure)
	}
}
