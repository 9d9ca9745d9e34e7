package solve

import (
	"fmt"
	"math"
	"testing"

	"foredge/eval/relation"
)

// However large the design, a weaker level never bends a stronger one: with
// defaults that pull hard at a chain of 5,000 boxes, the wishes come to what
// they come to without them, and the musts hold. One sum of weighted squares
// over all levels gets it wrong, as is shown beside it.
func TestLevelsNeverBend(t *testing.T) {
	const n = 5000
	build := func(defaults bool) *shop {
		s := newShop()
		x := func(i int) relation.Expr { return s.v(fmt.Sprintf("x%d", i)) }
		gap := func(i int) relation.Expr { return s.v(fmt.Sprintf("gap%d", i)) }
		for i := range n {
			s.own(x(i+1), relation.Add(x(i), relation.C(5), gap(i)))
			least := 2.0
			if i%10 == 3 {
				least = 4
			}
			s.ge(gap(i), relation.C(least))
		}
		s.is("x0", 0)
		s.eq(x(n), relation.C(7.5*n))
		// The first half is wished to be even, the second is left to defaults.
		for i := 1; i < n/2; i++ {
			s.prefer(gap(i), gap(i-1), 1)
		}
		s.prefer(x(n/2), relation.C(7.5*n/2+0.02*n), 1)
		if defaults {
			for i := range 2 {
				s.standard(gap(n/2+i), relation.C(1000))
				s.standard(gap(i), relation.C(1000))
			}
		}
		return s
	}
	s := build(true)
	with, without := s.solve(), build(false).solve()
	if len(without.Values) > 0 && math.IsNaN(without.Values[s.ids["gap0"]]) {
		t.Fatal("the wishes were not solved")
	}
	if len(with.Clashes)+len(with.Counts)+len(with.Tangles) > 0 {
		t.Fatal(wrongs(s, with))
	}
	for i := range n / 2 {
		v := s.ids[fmt.Sprintf("gap%d", i)]
		near(t, s.Vars[v].Name, with.Values[v], without.Values[v], 1e-9)
	}
	place := s.value(t, with, fmt.Sprintf("x%d", n/2))
	near(t, "wished place", place, s.value(t, without, fmt.Sprintf("x%d", n/2)), 1e-9)
	if err := math.Abs(s.value(t, with, fmt.Sprintf("x%d", n)) - 7.5*n); err > 1e-6 {
		t.Errorf("the whole is off by %g", err)
	}
	// The first default takes what the least gaps leave of the second half: 5
	// for each box, 2 for each gap and 2 more for each tenth.
	v := s.value(t, with, fmt.Sprintf("gap%d", n/2))
	near(t, "first default", v, math.Min(1000, 7.5*n-place-5*n/2-2*n/2-2*n/20+2), 1e-6)

	// One weighted sum, 10⁶ for musts, 10³ for wishes and 1 for defaults, on
	// the wished half without its limits.
	var rows [][]term
	var right []float64
	add := func(weight, b float64, terms ...term) {
		rows = append(rows, scaled(terms, math.Sqrt(weight)))
		right = append(right, b*math.Sqrt(weight))
	}
	for i := range int32(n / 2) {
		if i > 0 {
			add(1e3, 0, term{i - 1, -1}, term{i, 1})
		}
		if i < 8 {
			add(1, 1000, term{i, 1})
		}
	}
	sum := make([]term, n/2)
	for i := range sum {
		sum[i] = term{int32(i), 1}
	}
	add(1e6, 2.5*n/2, sum...)
	gaps := factorOf(shapeOf(n/2, rowsOf(rows)), rows, right, 1e-12).solution()
	if bent := gaps[0] - gaps[n/2-1]; bent < 1 {
		t.Errorf("the weighted sum bends the wishes by %g only", bent)
	}
}

// A long sum read as a whole and in its parts: with equal uncertainties each
// part takes an equal share of what does not close, as in the closed form.
func TestLongSum(t *testing.T) {
	const n = 3000
	s := newShop()
	b := s.bench("log")
	parts, closing := make([]relation.Expr, n), 0.0
	for i := range parts {
		parts[i] = s.v(fmt.Sprintf("log.w%d", i))
	}
	s.own(relation.Add(parts...), s.v("log.total"))
	s.close(b)
	for i := range parts {
		v := 8 + 0.02*math.Sin(float64(i))
		s.read(b, parts[i], 0.03, v)
		closing += v
	}
	s.read(b, s.v("log.total"), 0.03, closing+1)
	sol := s.solve()
	share := 1.0 / (n + 1)
	near(t, "first part", sol.Values[0], 8+share, 1e-9)
	near(t, "last part", sol.Values[n-1], 8+0.02*math.Sin(n-1)+share, 1e-9)
	near(t, "total", s.value(t, sol, "log.total"), closing+1-share, 1e-9)
	near(t, "u(part)", sol.U[0], 0.03/math.Sqrt(3)*math.Sqrt(1-share), 1e-12)
	near(t, "redundancy", sol.Benches[0].Readings[n].Redundancy, share, 1e-9)
}
