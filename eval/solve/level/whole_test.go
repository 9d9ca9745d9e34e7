package level_test

import (
	"fmt"
	"math"
	"testing"

	"foredge/eval/relation"
	"foredge/eval/solve/solvetest"
	"foredge/lang/foretest"
)

// rowOf adds a row of round holes of 3, the last 5 from the edge, its pitch
// stated if it isn't 0.
func rowOf(s *solvetest.Shop, name, edge string, pitch float64) {
	s.Row(name, edge)
	s.Is(name+".hole.along", 3)
	s.Is(name+".last", 5)
	if pitch > 0 {
		s.Is(name+".pitch", pitch)
	}
}

// first is where the first of n holes lies on an edge of a length.
func first(length, pitch, n float64) float64 { return length - 5 - 3 - (n-1)*pitch }

// Of the two whole counts about what a wish or a default would have, it is the
// one with which that is met better, by hand; of two as good the smaller.
func TestWholeCounts(t *testing.T) {
	for _, c := range []struct{ length, want float64 }{
		{100, 11},  // 10 is 6 off, 11 is 3 off
		{97, 10},   // 3 and 6
		{98.5, 10}, // 4.5 and 4.5
		{103, 11},  // whole at once
	} {
		for _, wish := range []bool{true, false} {
			s := solvetest.NewShop()
			s.Is("height", c.length)
			rowOf(s, "row", "height", 9)
			if wish {
				s.Prefer(s.V("row.first"), relation.C(5), 1)
			} else {
				s.Standard(s.V("row.first"), s.V("row.last"))
			}
			sol := s.Solve()
			if !sol.OK() {
				t.Fatal(solvetest.Wrongs(s, sol))
			}
			what := fmt.Sprintf("%g long, wish %v: ", c.length, wish)
			foretest.Near(t, what+"count", s.Value(t, sol, "row.count"), c.want, 0)
			foretest.Near(t, what+"first", s.Value(t, sol, "row.first"), first(c.length, 9, c.want), 1e-9)
		}
	}
}

// With the pitch wished for as well what is left over is shared by the wishes:
// the count is the better of all there are, tried one by one.
func TestWholeCountOfProduct(t *testing.T) {
	for length := 90.0; length < 100; length += 0.7 {
		s := solvetest.NewShop()
		s.Is("height", length)
		rowOf(s, "row", "height", 0)
		s.Prefer(s.V("row.first"), relation.C(5), 1)
		s.Prefer(s.V("row.pitch"), relation.C(9), 4)
		sol := s.Solve()
		if !sol.OK() {
			t.Fatal(solvetest.Wrongs(s, sol))
		}
		// With n - 1 = k steps: first = 5 + e, pitch = 9 + f, e + k f = r, and
		// e² + 4 f² least is r² / (1 + k²/4).
		best, want := math.Inf(1), 0.0
		for n := 2.0; n < 30; n++ {
			r := length - 13 - (n-1)*9
			if miss := r * r / (1 + (n-1)*(n-1)/4); miss < best {
				best, want = miss, n
			}
		}
		foretest.Near(t, fmt.Sprintf("count on %g", length), s.Value(t, sol, "row.count"), want, 0)
	}
}

// Rows that have nothing to do with each other are chosen at once, as many as
// there are; rows on one edge whose length is wished for, one after another.
func TestManyWholeCounts(t *testing.T) {
	const n = 200
	s := solvetest.NewShop()
	for i := range n {
		s.Is(fmt.Sprintf("edge%d", i), 100)
		rowOf(s, fmt.Sprintf("row%d", i), fmt.Sprintf("edge%d", i), 9)
		s.Prefer(s.V(fmt.Sprintf("row%d.first", i)), relation.C(5), 1)
	}
	s.Prefer(s.V("edge"), relation.C(100), 1)
	for i, pitch := range []float64{9, 7} {
		name := fmt.Sprintf("tied%d", i)
		rowOf(s, name, "edge", pitch)
		s.Prefer(s.V(name+".first"), relation.C(5), 1)
	}
	sol := s.Solve()
	if !sol.OK() {
		t.Fatal(solvetest.Wrongs(s, sol))
	}
	for i := range n {
		foretest.Near(t, "count", s.Value(t, sol, fmt.Sprintf("row%d.count", i)), 11, 0)
	}
	// By hand, with the edge 100 + e: 11 and 13 holes come to e² + (e-3)² + (e+3)²,
	// 18 at best, 11 and 14 to e² + (e-3)² + (e-4)², 8.7, and no other two to less.
	for i, want := range []float64{11, 14} {
		foretest.Near(t, "tied count", s.Value(t, sol, fmt.Sprintf("tied%d.count", i)), want, 0)
	}
}

// Where no whole count is possible it is told.
func TestNoWholeCount(t *testing.T) {
	s := solvetest.NewShop()
	s.Is("height", 100)
	rowOf(s, "row", "height", 9)
	s.Prefer(s.V("row.first"), relation.C(5), 1)
	s.Ge(s.V("row.first"), relation.C(4))
	s.Le(s.V("row.first"), relation.C(6))
	sol := s.Solve()
	if len(sol.Counts) != 1 || math.Abs(sol.Counts[0].Value-32.0/3) > 1e-9 {
		t.Errorf("%+v %s", sol.Counts, solvetest.Wrongs(s, sol))
	}
}
