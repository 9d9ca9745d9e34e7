package fit

import (
	"math"
	"testing"
)

// The least number of steps is found whatever the probability grows like, and with few
// tries where it grows as a normal one does.
func TestLeastSteps(t *testing.T) {
	const step, left = 0.01, 0.13
	for _, c := range []struct {
		name string
		of   func(room float64) float64 // the probability, by the room to each side
		want float64                    // the least room for 99 %, NaN for none
		most int                        // tries
	}{
		{"normal", func(room float64) float64 { return math.Erf(room / 0.08 / math.Sqrt2) }, 2.5758293035489 * 0.08, 6},
		{"nearly sure", func(room float64) float64 { return math.Erf(room / 1e-6 / math.Sqrt2) }, 2.5758293035489e-6, 6},
		{"far", func(room float64) float64 { return math.Erf(room / 50 / math.Sqrt2) }, 2.5758293035489 * 50, 30},
		{"a jump", func(room float64) float64 {
			if room > 0.777 {
				return 1
			}
			return 0
		}, 0.777, 25},
		{"even", func(room float64) float64 { return math.Min(1, room/3.003) }, 2.97297, 20},
		{"nearly 0 up to there", func(room float64) float64 { return math.Min(1, math.Pow(room/2, 40)) }, 2 * math.Pow(0.99, 1.0/40), 25},
		{"never", func(room float64) float64 { return math.Min(0.5, room) }, math.NaN(), 40},
	} {
		tries := 0
		none := int(math.Floor(-2*left/step)) - 1
		got, ok := leastSteps(none, func(steps int) (p, room float64) {
			tries++
			room = left + float64(steps)*step/2
			if room > 0 {
				p = c.of(room)
			}
			return p, room
		}, func(room float64) int { return int(math.Ceil(2 * (room - left) / step)) })
		if ok == math.IsNaN(c.want) {
			t.Errorf("%s: found %v", c.name, ok)
			continue
		}
		if want := int(math.Ceil(2 * (c.want - left) / step)); ok && got != want {
			t.Errorf("%s: %d steps, want %d", c.name, got, want)
		}
		if tries > c.most {
			t.Errorf("%s: %d tries, want at most %d", c.name, tries, c.most)
		}
	}
}
