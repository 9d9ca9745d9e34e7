package solve_test

import (
	"fmt"
	"math"
	"testing"

	"foredge/eval/solve"
	"foredge/eval/solve/solvetest"
)

// sizes measures 1,000 and 5,000 and reports the growth between them.
func sizes(b *testing.B, build func(n int) *solvetest.Shop, check func(s *solvetest.Shop, sol *solve.Solution, n int) error) {
	thousand := 0.0
	for _, n := range []int{1000, 5000} {
		s := build(n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if err := check(s, s.Solve(), n); err != nil {
					b.Fatal(err)
				}
			}
			each := b.Elapsed().Seconds() / float64(b.N)
			if n == 1000 {
				thousand = each
			} else if thousand > 0 {
				b.ReportMetric(each/thousand, "x-thousand")
			}
		})
	}
}

func BenchmarkReadings(b *testing.B) {
	sizes(b, solvetest.ChainOfReadings, func(s *solvetest.Shop, sol *solve.Solution, n int) error {
		if rep := sol.Benches[0]; rep.Freedom != 1 {
			return fmt.Errorf("freedom %d", rep.Freedom)
		}
		return solvetest.HoldsAll(s, sol)
	})
}

func BenchmarkEquations(b *testing.B) {
	sizes(b, solvetest.BoxesInARow, func(s *solvetest.Shop, sol *solve.Solution, n int) error {
		if gap := sol.Values[s.IDs["gap"]]; math.Abs(gap-2.5) > 1e-9 {
			return fmt.Errorf("gap %g", gap)
		}
		return solvetest.HoldsAll(s, sol)
	})
}

func BenchmarkWishes(b *testing.B) {
	sizes(b, solvetest.WishedBoxes, func(s *solvetest.Shop, sol *solve.Solution, n int) error { return solvetest.HoldsAll(s, sol) })
}

func BenchmarkHarbourLog(b *testing.B) {
	s, _ := solvetest.Harbour(4.45, true)
	for b.Loop() {
		if sol := s.Solve(); !sol.OK() {
			b.Fatal(solvetest.Wrongs(s, sol))
		}
	}
}
