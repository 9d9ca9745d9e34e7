package nest

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"
)

// BenchmarkParts lays 200 and 2,000 parts of 20 and 200 shapes on sheets: the start, and a
// search of 500 places for each part.
func BenchmarkParts(b *testing.B) {
	for _, n := range []int{200, 2000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			r := rand.New(rand.NewPCG(9, 9))
			job := Job{Spacing: 1, Margin: 3, Seed: 1, Steps: 500 * n}
			for range n / 10 {
				job.Parts = append(job.Parts, Part{Outline: randomFigure(r), Turns: []float64{0, 90, 180, 270}, Copies: 10})
			}
			for b.Loop() {
				got, err := Sheets(context.Background(), job, []Stock{{Width: 600, Height: 400, Cost: 1}})
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(len(got.Sheets)), "sheets")
			}
		})
	}
}
