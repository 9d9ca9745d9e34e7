package tour

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"foredge/eval/maybe"
	"foredge/layout/geom"
)

// Lines that part a grid of boards come after every hole of these, whichever way the order is
// looked for, and what goes round them last; holes of other boards needn't wait.
func TestPartingComesLast(t *testing.T) {
	for seed := range uint64(40) {
		r := rand.New(rand.NewPCG(seed, 9))
		cols, rows := 1+r.IntN(4), 1+r.IntN(4)
		w, h := 20+r.Float64()*40, 20+r.Float64()*40
		wide, high := w*float64(cols), h*float64(rows)
		var items []Item
		holes := 0
		for k := range cols * rows {
			for range 1 + r.IntN(3) {
				at := geom.Pt(w*float64(k%cols)+4+r.Float64()*(w-12), h*float64(k/cols)+4+r.Float64()*(h-12))
				items = append(items, Item{Op: Cut, Part: k, Figure: geom.Rect{Min: at, W: 4, H: 4}})
				holes++
			}
		}
		line := func(a, b geom.Point) {
			items = append(items, Item{Op: Cut, Part: 100, Parting: true, Figure: geom.Path{Start: a, Segments: []geom.Segment{{End: b}}}})
		}
		for i := 1; i < cols; i++ {
			line(geom.Pt(w*float64(i), 0), geom.Pt(w*float64(i), high))
		}
		for i := 1; i < rows; i++ {
			line(geom.Pt(0, h*float64(i)), geom.Pt(wide, h*float64(i)))
		}
		items = append(items, Item{Op: Cut, Part: 100, Figure: geom.Rect{W: wide, H: high}})
		frame := len(items) - 1
		items = append(items, Item{Op: Cut, Part: 200, Figure: geom.Rect{Min: geom.Pt(wide+10, 0), W: w, H: h}})
		r.Shuffle(len(items), func(i, j int) {
			items[i], items[j] = items[j], items[i]
			switch frame {
			case i:
				frame = j
			case j:
				frame = i
			}
		})
		o := Options{Corners: seed%2 == 0, Steps: maybe.Is(500.0), Spread: maybe.If(5.0, seed%3 == 0)}
		plan, err := Order(context.Background(), items, o)
		if err != nil || len(plan.Runs) != len(items) {
			t.Fatal(err, len(plan.Runs))
		}
		left, lines := holes, cols+rows-2
		said := fmt.Sprintf("%d by %d, seed %d", cols, rows, seed)
		for _, run := range plan.Runs {
			switch it := items[run.Item]; {
			case it.Parting:
				if lines--; left > 0 {
					t.Errorf("%s: a line is run before %d holes", said, left)
				}
			case run.Item == frame:
				if left > 0 || lines > 0 {
					t.Errorf("%s: what goes round is run before %d holes and %d lines", said, left, lines)
				}
			case it.Part < 100:
				left--
			}
		}
	}
}
