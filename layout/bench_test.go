package layout_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"foredge/eval/evaltest"
	"foredge/layout"
)

// BenchmarkDraw lays out and compensates the harbour log 1, 10 and 100 times
// in one design, and reports each size's time over that of one log: linear
// growth keeps it at 1, 10 and 100. The number of shapes is checked.
func BenchmarkDraw(b *testing.B) {
	var one time.Duration
	for _, copies := range []int{1, 10, 100} {
		d := mustSolve(b, evaltest.HarbourLogs(b, copies))
		b.Run(fmt.Sprintf("%dx", copies), func(b *testing.B) {
			shapes := 0
			for b.Loop() {
				drawing, ds := layout.Draw(d)
				if ds.HasErrors() {
					b.Fatal(ds[0].Message)
				}
				cut, _ := drawing.ForLaser()
				shapes = 0
				for _, p := range cut.Parts {
					shapes += len(p.Shapes)
				}
			}
			each := b.Elapsed() / time.Duration(b.N)
			if copies == 1 {
				one = each
			}
			if one > 0 {
				b.ReportMetric(float64(each)/float64(one), "x-one")
			}
			// 24 holes and an outline for each of two panels, and a title.
			if want := copies * 51; shapes != want {
				b.Errorf("%d shapes, want %d", shapes, want)
			}
		})
	}
}

// BenchmarkSequenced puts one side of the harbour log into the order in which it is run:
// what each cover of a batch takes beside being drawn.
func BenchmarkSequenced(b *testing.B) {
	drawing, ds := layout.Draw(mustSolve(b, evaltest.HarbourLogs(b, 1)))
	if ds.HasErrors() {
		b.Fatal(ds[0].Message)
	}
	cut, _ := drawing.ForLaser()
	cut.Parts = cut.Parts[:1]
	b.ReportAllocs()
	for b.Loop() {
		if cut.Sequenced(context.Background(), 1).Sequence.Plan.Travel == 0 {
			b.Fatal("no way between its cuts")
		}
	}
}
