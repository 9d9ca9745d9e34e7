package solve

import (
	"fmt"
	"math"
	"testing"

	"foredge/eval/relation"
)

// chainOfReadings is a notebook of n segments end to end, each segment and
// each position read.
func chainOfReadings(n int) *shop {
	s := newShop()
	b := s.bench("log")
	x, w := make([]relation.Expr, n+1), make([]relation.Expr, n)
	for i := range x {
		x[i] = s.v(fmt.Sprintf("log.x%d", i))
	}
	s.own(x[0], relation.C(0))
	for i := range w {
		w[i] = s.v(fmt.Sprintf("log.w%d", i))
		s.own(x[i+1], relation.Add(x[i], w[i]))
	}
	s.close(b)
	for i := range w {
		noise := 0.02 * math.Sin(float64(7*i))
		if i%2 == 0 {
			s.read(b, w[i], 0.03, 8+noise)
		} else {
			s.read(b, x[i], 0.03, 8*float64(i)+noise)
		}
	}
	s.read(b, x[n], 0.03, 8*float64(n))
	return s
}

// boxesInARow is n boxes of known width with one gap between neighbours, on a
// panel of known width.
func boxesInARow(n int) *shop {
	s := newShop()
	gap := s.v("gap")
	sum := 0.0
	for i := range n {
		x, w := s.v(fmt.Sprintf("x%d", i)), s.v(fmt.Sprintf("w%d", i))
		width := 5 + float64(i%7)
		sum += width
		s.eq(w, relation.C(width))
		next := s.v(fmt.Sprintf("x%d", i+1))
		s.own(next, relation.Add(x, w, gap))
	}
	s.eq(s.v("x0"), relation.C(10))
	s.eq(s.v(fmt.Sprintf("x%d", n)), relation.C(10+sum+2.5*float64(n)))
	return s
}

// wishedBoxes is n boxes with a least gap each, wishes for equal gaps and for
// some positions.
func wishedBoxes(n int) *shop {
	s := newShop()
	for i := range n {
		s.own(s.v(fmt.Sprintf("x%d", i+1)), relation.Add(s.v(fmt.Sprintf("x%d", i)), relation.C(5), s.v(fmt.Sprintf("gap%d", i))))
		least := 2.0
		if i%10 == 3 {
			least = 4
		}
		s.ge(s.v(fmt.Sprintf("gap%d", i)), relation.C(least))
		if i > 0 {
			s.prefer(s.v(fmt.Sprintf("gap%d", i)), s.v(fmt.Sprintf("gap%d", i-1)), 1)
		}
	}
	s.eq(s.v("x0"), relation.C(0))
	s.eq(s.v(fmt.Sprintf("x%d", n)), relation.C(7.5*float64(n)))
	return s
}

// sizes measures 1,000 and 5,000 and reports the growth between them.
func sizes(b *testing.B, build func(n int) *shop, check func(s *shop, sol *Solution, n int) error) {
	thousand := 0.0
	for _, n := range []int{1000, 5000} {
		s := build(n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if err := check(s, s.solve(), n); err != nil {
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

// holdsAll is how far any equation is from holding.
func holdsAll(s *shop, sol *Solution) error {
	if !sol.OK() {
		return fmt.Errorf("%.300s", wrongs(s, sol))
	}
	for i := range s.Relations {
		r := &s.Relations[i]
		d := r.Residual(sol.Values)
		switch r.Sign {
		case relation.GE:
			d = min(d, 0)
		case relation.LE:
			d = max(d, 0)
		}
		if !(math.Abs(d) <= tolerance) {
			return fmt.Errorf("relation %d is off by %g", i, d)
		}
	}
	return nil
}

func BenchmarkReadings(b *testing.B) {
	sizes(b, chainOfReadings, func(s *shop, sol *Solution, n int) error {
		if rep := sol.Benches[0]; rep.Freedom != 1 {
			return fmt.Errorf("freedom %d", rep.Freedom)
		}
		return holdsAll(s, sol)
	})
}

func BenchmarkEquations(b *testing.B) {
	sizes(b, boxesInARow, func(s *shop, sol *Solution, n int) error {
		if gap := sol.Values[s.ids["gap"]]; math.Abs(gap-2.5) > 1e-9 {
			return fmt.Errorf("gap %g", gap)
		}
		return holdsAll(s, sol)
	})
}

func BenchmarkWishes(b *testing.B) {
	sizes(b, wishedBoxes, func(s *shop, sol *Solution, n int) error { return holdsAll(s, sol) })
}

func BenchmarkHarbourLog(b *testing.B) {
	s, _ := harbour(4.45, true)
	for b.Loop() {
		if sol := s.solve(); !sol.OK() {
			b.Fatal(wrongs(s, sol))
		}
	}
}
