package solvetest

import (
	"fmt"
	"math"

	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/eval/solve/plan"
)

// ChainOfReadings is a notebook of n segments end to end, each segment and
// each position read.
func ChainOfReadings(n int) *Shop {
	s := NewShop()
	b := s.Bench("log")
	x, w := make([]relation.Expr, n+1), make([]relation.Expr, n)
	for i := range x {
		x[i] = s.V(fmt.Sprintf("log.x%d", i))
	}
	s.Own(x[0], relation.C(0))
	for i := range w {
		w[i] = s.V(fmt.Sprintf("log.w%d", i))
		s.Own(x[i+1], relation.Add(x[i], w[i]))
	}
	s.Close(b)
	for i := range w {
		noise := 0.02 * math.Sin(float64(7*i))
		if i%2 == 0 {
			s.Read(b, w[i], 0.03, 8+noise)
		} else {
			s.Read(b, x[i], 0.03, 8*float64(i)+noise)
		}
	}
	s.Read(b, x[n], 0.03, 8*float64(n))
	return s
}

// BoxesInARow is n boxes of known width with one gap between neighbours, on a
// panel of known width.
func BoxesInARow(n int) *Shop {
	s := NewShop()
	gap := s.V("gap")
	sum := 0.0
	for i := range n {
		x, w := s.V(fmt.Sprintf("x%d", i)), s.V(fmt.Sprintf("w%d", i))
		width := 5 + float64(i%7)
		sum += width
		s.Eq(w, relation.C(width))
		next := s.V(fmt.Sprintf("x%d", i+1))
		s.Own(next, relation.Add(x, w, gap))
	}
	s.Eq(s.V("x0"), relation.C(10))
	s.Eq(s.V(fmt.Sprintf("x%d", n)), relation.C(10+sum+2.5*float64(n)))
	return s
}

// WishedBoxes is n boxes with a least gap each, wishes for equal gaps and for
// some positions.
func WishedBoxes(n int) *Shop {
	s := NewShop()
	for i := range n {
		s.Own(s.V(fmt.Sprintf("x%d", i+1)), relation.Add(s.V(fmt.Sprintf("x%d", i)), relation.C(5), s.V(fmt.Sprintf("gap%d", i))))
		least := 2.0
		if i%10 == 3 {
			least = 4
		}
		s.Ge(s.V(fmt.Sprintf("gap%d", i)), relation.C(least))
		if i > 0 {
			s.Prefer(s.V(fmt.Sprintf("gap%d", i)), s.V(fmt.Sprintf("gap%d", i-1)), 1)
		}
	}
	s.Eq(s.V("x0"), relation.C(0))
	s.Eq(s.V(fmt.Sprintf("x%d", n)), relation.C(7.5*float64(n)))
	return s
}

// HoldsAll is how far any equation is from holding.
func HoldsAll(s *Shop, sol *solve.Solution) error {
	if !sol.OK() {
		return fmt.Errorf("%.300s", Wrongs(s, sol))
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
		if !(math.Abs(d) <= plan.Tolerance) {
			return fmt.Errorf("relation %d is off by %g", i, d)
		}
	}
	return nil
}

// Harbour is the notebook of testdata/corpus/harbour-log.fore with its
// covering panel.
func Harbour(web float64, withRun bool) (*Shop, map[string]int) {
	s := NewShop()
	b := s.Bench("log")
	s.Row("log.wire", "log.height")
	for _, d := range []string{"log.width", "log.wire.inset", "log.wire.hole.across"} {
		s.Id(d)
	}
	s.Is("log.wire.count", 24)
	s.Close(b)
	at := map[string]int{}
	read := func(name string, values ...float64) { at[name] = s.Read(b, s.V(name), 0.03, values...) }
	read("log.width", 148.2)
	read("log.height", 210.1, 210.0, 210.1)
	read("log.wire.hole.along", 4.02)
	read("log.wire.hole.across", 4.05)
	read("log.wire.first", 5.62)
	read("log.wire.last", 5.66)
	read("log.wire.inset", 4.10)
	read("log.wire.web", web)
	if withRun {
		read("log.wire.run", 194.76)
	}

	// panel front covers log
	for _, d := range []string{"over-head", "over-tail", "over-spine", "over-foredge", "wire.ease"} {
		s.Signed("front." + d)
		s.Standard(s.V("front."+d), relation.C(0))
	}
	s.Fact(s.V("front.height"), relation.Add(s.V("log.height"), s.V("front.over-head"), s.V("front.over-tail")))
	s.Fact(s.V("front.width"), relation.Add(s.V("log.width"), s.V("front.over-spine"), s.V("front.over-foredge")))
	s.Row("front.wire", "front.height")
	s.Fact(s.V("front.wire.count"), s.V("log.wire.count"))
	s.Fact(s.V("front.wire.pitch"), s.V("log.wire.pitch"))
	s.Fact(s.V("front.wire.hole.along"), relation.Add(s.V("log.wire.hole.along"), s.V("front.wire.ease")))
	half := relation.Mul(relation.C(0.5), s.V("front.wire.ease"))
	s.Fact(s.V("front.wire.first"), relation.Minus(relation.Add(s.V("log.wire.first"), s.V("front.over-head")), half))
	s.Is("front.wire.ease", 0.3)
	return s, at
}

// EvenBoxes is n boxes in a row with a least gap each and wishes that
// neighbouring gaps be equal, which all can be.
func EvenBoxes(n int) *Shop {
	s := NewShop()
	for i := range n {
		s.Own(s.V(fmt.Sprintf("x%d", i+1)), relation.Add(s.V(fmt.Sprintf("x%d", i)), relation.C(5), s.V(fmt.Sprintf("gap%d", i))))
		s.Ge(s.V(fmt.Sprintf("gap%d", i)), relation.C(2))
		if i > 0 {
			s.Prefer(s.V(fmt.Sprintf("gap%d", i)), s.V(fmt.Sprintf("gap%d", i-1)), 1)
		}
	}
	s.Eq(s.V("x0"), relation.C(0))
	s.Eq(s.V(fmt.Sprintf("x%d", n)), relation.C(7.5*float64(n)))
	return s
}

// AgreeingReadings is a notebook of n segments end to end, each segment and
// each position read, so that the readings agree.
func AgreeingReadings(n int) *Shop {
	s := NewShop()
	b := s.Bench("log")
	s.Own(s.V("log.x0"), relation.C(0))
	for i := range n {
		x, next, w := s.V(fmt.Sprintf("log.x%d", i)), s.V(fmt.Sprintf("log.x%d", i+1)), s.V(fmt.Sprintf("log.w%d", i))
		s.Own(next, relation.Add(x, w))
		s.Read(b, w, 0.03, 8)
		s.Read(b, next, 0.03, 8*float64(i+1))
	}
	s.Close(b)
	return s
}
