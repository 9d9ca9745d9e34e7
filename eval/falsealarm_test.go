package eval_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"foredge/eval/evaltest"
	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
)

// Of 2,000 right designs, whose readings are off by no more than was promised, at
// most 6 % raise a warning and 0.3 % an error: the readings' test alone says of
// 5 % and 0.1 % that they disagree.
//
// How a tool's errors lie within its promise nobody states, so a third of the
// designs has each of three laws.
func TestRightDesignsRaiseNoAlarm(t *testing.T) {
	n := foretest.Sample(2000, 300)
	var warned, wrong, tried [evaltest.Laws]int
	shown := 0
	for seed := range n {
		law := evaltest.Law(seed % evaltest.Laws)
		text := evaltest.RightDesign(rand.New(rand.NewPCG(uint64(seed), 110)), law)
		_, diags := evaltest.Solve(text, evaltest.Shelved{})
		tried[law]++
		worst := diag.Info
		for _, d := range diags {
			if d.Severity == diag.Error || worst == diag.Info && d.Severity == diag.Warning {
				worst = d.Severity
			}
		}
		switch worst {
		case diag.Error:
			wrong[law]++
			if shown++; shown <= 3 {
				t.Logf("an error:\n%s%s", text, diagtest.Text(diags))
			}
		case diag.Warning:
			warned[law]++
		}
	}
	share := func(what string, limit float64, count, of int) {
		chance := 0.0
		if testing.Short() {
			chance = 3 * math.Sqrt(limit/float64(of)) // a smaller sample says less
		}
		if got := float64(count) / float64(of); got > limit+chance {
			t.Errorf("%s: %.2f %%, more than %.2g %%", what, 100*got, 100*limit)
		} else {
			t.Logf("%s: %.2f %%", what, 100*got)
		}
	}
	allWarned, allWrong := 0, 0
	for k := range evaltest.Laws {
		allWarned, allWrong = allWarned+warned[k], allWrong+wrong[k]
		t.Logf("%v: %d designs, %d warnings, %d errors", evaltest.Law(k), tried[k], warned[k], wrong[k])
	}
	share("warnings", 0.06, allWarned, n)
	share("errors", 0.003, allWrong, n)
}
