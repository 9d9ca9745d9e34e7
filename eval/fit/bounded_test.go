package fit

import (
	"fmt"
	"math"
	"testing"
)

// One hole whose place along the row alone is unsure, by g, in an opening that leaves
// r to each side: with even errors it clears with r/g, with normal ones of the
// deviation g/√3 with 2Φ(r√3/g) - 1. Two readings of its place leave half of each
// error, so that the even ones add up to a triangle: 1 - (1 - r/g)².
func TestBounded(t *testing.T) {
	const design = `notebook n { width = 100 exact; height = 200 exact; accuracy = 0.05
  row w on spine { count = 1; hole = rect 4 by 4 exact; inset = 5 exact; wire = 1 exact; %s } }
panel p covers n { thick = 3; row w { hole.along = %g; hole.across = 4 } }
`
	normal := func(r, u float64) float64 { return math.Erf(r / u / math.Sqrt2) }
	for _, c := range []struct {
		readings string
		room     float64
		u        float64 // of the place
		even     float64
	}{
		{"first = 10 ± 0.1", 0.05, 0.1 / math.Sqrt(3), 0.5},
		{"first = 10 ± 0.1", 0.11, 0.1 / math.Sqrt(3), 1},
		{"first = 10 ± 0.1; first = 10 ± 0.1", 0.03, 0.1 / math.Sqrt(6), 1 - 0.7*0.7},
	} {
		n := first(t, fmt.Sprintf(design, c.readings, 1+2*c.room))
		got := n.Rows[0].Covers[0]
		if p := got.Probability.Or(0); math.Abs(p-normal(c.room, c.u)) > 1e-4 {
			t.Errorf("%s: %.4f with normal errors, want %.4f", c.readings, p, normal(c.room, c.u))
		}
		want := math.Abs(c.even-normal(c.room, c.u)) > unlike
		if got.Bounded.Present() != want || want && math.Abs(got.Bounded.Or(0)-c.even) > 0.007 {
			t.Errorf("%s: %v with even errors, want %.3f (told: %v)", c.readings, got.Bounded, c.even, want)
		}
	}
}
