package opening_test

import (
	"math"
	"testing"

	form "foredge/eval/opening"
	"foredge/layout/opening"
)

// Beside the neck of a round hole stays what lies below the chord that is as long as the neck is wide.
func TestFlank(t *testing.T) {
	disc := form.Opening{Form: form.Round, Along: 6, Across: 6}
	box := form.Opening{Form: form.Rect, Along: 8, Across: 5}
	for _, c := range []struct {
		notch opening.Notch
		want  float64
	}{
		{opening.Notch{Opening: disc, Neck: 3}, 3 - math.Sqrt(9-1.5*1.5)},
		{opening.Notch{Opening: disc, Neck: 4.8, Near: 1}, 1 + 3 - 1.8}, // 1.8, 2.4, 3
		{opening.Notch{Opening: disc, Neck: 6}, math.Inf(1)},
		{opening.Notch{Opening: disc, Neck: 3, Near: -1}, math.Inf(1)},
		{opening.Notch{Opening: box, Neck: 3, Near: 0.25}, 0.25},
		{opening.Notch{Opening: box, Neck: 6, Near: 0.25}, 0.25},
		{opening.Notch{Opening: box, Neck: 6, Near: 0.25, Turned: true}, math.Inf(1)},
	} {
		if got := c.notch.Flank(); !(got == c.want || math.Abs(got-c.want) < 1e-6) {
			t.Errorf("%+v: %v, want %v", c.notch, got, c.want)
		}
	}
}
