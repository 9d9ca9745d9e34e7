package advise_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"foredge/layout/advise"
)

// Whether a board fits the test cylinder, against boxes turned step by step: a
// box that is said to fit does so in some position, and one that is said not to
// fits in none of those tried.
func TestIsSmallPart(t *testing.T) {
	const wide, deep = 31.75, 57.15 // 16 CFR 1501.4: 1.25 in, 2.25 in
	for _, c := range []struct {
		a, b, c float64
		want    bool
	}{
		{31.7, 57.1, 0, true}, {31.8, 57.2, 0, false}, {31.75, 31.75, 31.75, false},
		{22.4, 22.4, 57, true}, {22.5, 22.5, 57.2, false}, {31, 31, 5, true}, {32, 32, 3, false},
		{64.5, 1, 0.5, true}, {65.4, 1, 0.5, false}, {60, 25, 3, false}, {58, 10, 3, true},
	} {
		if got := advise.IsSmallPart(c.a, c.b, c.c); got != c.want {
			t.Errorf("%v by %v by %v: %v", c.a, c.b, c.c, got)
		}
	}
	r := rand.New(rand.NewPCG(1, 2))
	for range 400 {
		s := [3]float64{r.Float64() * 70, r.Float64() * 40, r.Float64() * 12}
		got, tried := advise.IsSmallPart(s[0], s[1], s[2]), false
		slack := 0.0 // of the tried positions, which lie a step apart
		if got {
			slack = 0.05
		}
		for k := range 3 {
			level, p, q := s[k], s[(k+1)%3], s[(k+2)%3]
			for step := range 4000 {
				sin, cos := math.Sincos(float64(step) / 4000 * math.Pi / 2)
				// How far it reaches across the axis, with its corners on the wall, and along.
				across, along := p*sin+q*cos, p*cos+q*sin
				if across*across+level*level <= (wide+slack)*(wide+slack) && along <= deep+slack {
					tried = true
				}
			}
		}
		if got != tried {
			t.Errorf("%.3f: said %v, tried %v", s, got, tried)
		}
	}
}

// A square rod longer than the test cylinder is deep goes in slanted up to a
// thickness that is found here by turning it step by step: a little less counts as
// small, a little more doesn't. (Of a rod it is the same which side is held level.)
func TestIsSmallPartSlanted(t *testing.T) {
	const wide, deep = 31.75, 57.15 // 16 CFR 1501.4: 1.25 in, 2.25 in
	for long := 57.5; long < 65; long += 0.5 {
		goesIn := func(thick float64) bool {
			for step := range 10_000 {
				sin, cos := math.Sincos(float64(step) / 10_000 * math.Pi / 4)
				if math.Hypot(long*sin+thick*cos, thick) <= wide && long*cos+thick*sin <= deep {
					return true
				}
			}
			return false
		}
		least, most := 0.0, wide
		for most-least > 1e-4 {
			if half := (least + most) / 2; goesIn(half) {
				least = half
			} else {
				most = half
			}
		}
		if least < 0.1 {
			t.Fatalf("a rod of %v goes in no more", long)
		}
		if thick := least - 0.01; !advise.IsSmallPart(long, thick, thick) {
			t.Errorf("a rod %v long and %.3f thick goes in, and is not said to", long, thick)
		}
		if thick := least + 0.01; advise.IsSmallPart(long, thick, thick) {
			t.Errorf("a rod %v long and %.3f thick does not go in, and is said to", long, thick)
		}
	}
}
