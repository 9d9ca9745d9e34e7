package level_test

import (
	"fmt"
	"math"
	"testing"

	"foredge/eval/relation"
	"foredge/eval/solve/lsq"
	"foredge/eval/solve/solvetest"
	"foredge/eval/solve/sparse"
	"foredge/lang/foretest"
)

// However large the design, a weaker level never bends a stronger one: with
// defaults that pull hard at a chain of 5,000 boxes, the wishes come to what
// they come to without them, and the musts hold. One sum of weighted squares
// over all levels gets it wrong, as is shown beside it.
func TestLevelsNeverBend(t *testing.T) {
	const n = 5000
	build := func(defaults bool) *solvetest.Shop {
		s := solvetest.NewShop()
		x := func(i int) relation.Expr { return s.V(fmt.Sprintf("x%d", i)) }
		gap := func(i int) relation.Expr { return s.V(fmt.Sprintf("gap%d", i)) }
		for i := range n {
			s.Own(x(i+1), relation.Add(x(i), relation.C(5), gap(i)))
			least := 2.0
			if i%10 == 3 {
				least = 4
			}
			s.Ge(gap(i), relation.C(least))
		}
		s.Is("x0", 0)
		s.Eq(x(n), relation.C(7.5*n))
		// The first half is wished to be even, the second is left to defaults.
		for i := 1; i < n/2; i++ {
			s.Prefer(gap(i), gap(i-1), 1)
		}
		s.Prefer(x(n/2), relation.C(7.5*n/2+0.02*n), 1)
		if defaults {
			for i := range 2 {
				s.Standard(gap(n/2+i), relation.C(1000))
				s.Standard(gap(i), relation.C(1000))
			}
		}
		return s
	}
	s := build(true)
	with, without := s.Solve(), build(false).Solve()
	if len(without.Values) > 0 && math.IsNaN(without.Values[s.IDs["gap0"]]) {
		t.Fatal("the wishes were not solved")
	}
	if len(with.Clashes)+len(with.Counts)+len(with.Tangles) > 0 {
		t.Fatal(solvetest.Wrongs(s, with))
	}
	for i := range n / 2 {
		v := s.IDs[fmt.Sprintf("gap%d", i)]
		foretest.Near(t, s.Vars[v].Name, with.Values[v], without.Values[v], 1e-9)
	}
	place := s.Value(t, with, fmt.Sprintf("x%d", n/2))
	foretest.Near(t, "wished place", place, s.Value(t, without, fmt.Sprintf("x%d", n/2)), 1e-9)
	if err := math.Abs(s.Value(t, with, fmt.Sprintf("x%d", n)) - 7.5*n); err > 1e-6 {
		t.Errorf("the whole is off by %g", err)
	}
	// The first default takes what the least gaps leave of the second half: 5
	// for each box, 2 for each gap and 2 more for each tenth.
	v := s.Value(t, with, fmt.Sprintf("gap%d", n/2))
	foretest.Near(t, "first default", v, math.Min(1000, 7.5*n-place-5*n/2-2*n/2-2*n/20+2), 1e-6)

	// One weighted sum, 10⁶ for musts, 10³ for wishes and 1 for defaults, on
	// the wished half without its limits.
	var rows [][]sparse.Term
	var right []float64
	add := func(weight, b float64, terms ...sparse.Term) {
		rows = append(rows, sparse.Scaled(terms, math.Sqrt(weight)))
		right = append(right, b*math.Sqrt(weight))
	}
	for i := range int32(n / 2) {
		if i > 0 {
			add(1e3, 0, sparse.Term{At: i - 1, Coef: -1}, sparse.Term{At: i, Coef: 1})
		}
		if i < 8 {
			add(1, 1000, sparse.Term{At: i, Coef: 1})
		}
	}
	sum := make([]sparse.Term, n/2)
	for i := range sum {
		sum[i] = sparse.Term{At: int32(i), Coef: 1}
	}
	add(1e6, 2.5*n/2, sum...)
	gaps := lsq.Factorise(lsq.NewShape(n/2, lsq.Columns(rows)), rows, right, 1e-12).Solution()
	if bent := gaps[0] - gaps[n/2-1]; bent < 1 {
		t.Errorf("the weighted sum bends the wishes by %g only", bent)
	}
}

// A long sum read as a whole and in its parts: with equal uncertainties each
// part takes an equal share of what does not close, as in the closed form.
func TestLongSum(t *testing.T) {
	const n = 3000
	s := solvetest.NewShop()
	b := s.Bench("log")
	parts, closing := make([]relation.Expr, n), 0.0
	for i := range parts {
		parts[i] = s.V(fmt.Sprintf("log.w%d", i))
	}
	s.Own(relation.Add(parts...), s.V("log.total"))
	s.Close(b)
	for i := range parts {
		v := 8 + 0.02*math.Sin(float64(i))
		s.Read(b, parts[i], 0.03, v)
		closing += v
	}
	s.Read(b, s.V("log.total"), 0.03, closing+1)
	sol := s.Solve()
	share := 1.0 / (n + 1)
	foretest.Near(t, "first part", sol.Values[0], 8+share, 1e-9)
	foretest.Near(t, "last part", sol.Values[n-1], 8+0.02*math.Sin(n-1)+share, 1e-9)
	foretest.Near(t, "total", s.Value(t, sol, "log.total"), closing+1-share, 1e-9)
	foretest.Near(t, "u(part)", sol.U[0], 0.03/math.Sqrt(3)*math.Sqrt(1-share), 1e-12)
	foretest.Near(t, "redundancy", sol.Benches[0].Readings[n].Redundancy, share, 1e-9)
}
