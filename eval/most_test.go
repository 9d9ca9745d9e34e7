package eval_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"foredge/eval/evaltest"
	"foredge/lang/foretest"
)

// No wish changes how many holes a row has on a board of open size, whatever limits say of
// that and of the row's ends. A wish for which they have no room is told.
func TestNoWishChangesHowMany(t *testing.T) {
	rng := rand.New(rand.NewPCG(10, 3))
	one := func(of ...string) string { return of[rng.IntN(len(of))] }
	limit := func(name string) string {
		return one("", fmt.Sprintf("%s >= %d", name, rng.IntN(40)-15), fmt.Sprintf("%s <= %d", name, rng.IntN(40)-15))
	}
	compared := 0
	for range foretest.Sample(300, 40) {
		edge, size, near, far := "spine", "height", "over-head", "over-tail"
		if rng.IntN(2) == 0 {
			edge, size, near, far = "head", "width", "over-spine", "over-foredge"
		}
		limits := limit(near) + "; " + limit(far) + "; " + one("", "", fmt.Sprintf("%s >= %d", size, 80+rng.IntN(40)), fmt.Sprintf("%s <= %d", size, 80+rng.IntN(40)))
		row := "row wire on " + edge + " { hole = round 6; inset = 5; count = most; " + one("pitch = 10", "pitch = 8", "web = 3", "pitch >= 9; web = 4") + "; " +
			one("", "first = 5; last = 5", "first >= 3; last >= 6", "first = 4", "first >= 6", "first = 3; 2 <= last <= 9") + " }"
		wish := one(fmt.Sprintf("%s = %d", size, 60+rng.IntN(140)), near+" = "+far, near+" = 7", far+" = 7", "wire.first = 20", size+" = 2 * wire.run")
		design := "notebook log { accuracy = 0.1; width = 100; height = 100 }\npanel front covers log { %s; %s\n%s }"
		plain, wrong := evaltest.Solve(fmt.Sprintf(design, limits, "", row), nil)
		if wrong.HasErrors() {
			continue
		}
		text := fmt.Sprintf(design, limits, "prefer "+wish, row)
		wished, wrong := evaltest.Solve(text, nil)
		if wrong.HasErrors() {
			continue
		}
		compared++
		before, after := evaltest.Dimension(t, plain, "front.wire.count").Value, evaltest.Dimension(t, wished, "front.wire.count").Value
		if before != after {
			t.Errorf("%g holes, %g without the wish:\n%s", after, before, text)
		}
	}
	if compared < foretest.Sample(200, 20) {
		t.Errorf("only %d designs compared", compared)
	}
}
