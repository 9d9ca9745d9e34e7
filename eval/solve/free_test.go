package solve_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"foredge/eval/relation"
	"foredge/eval/solve/solvetest"
	"foredge/lang/foretest"

	"gonum.org/v1/gonum/mat"
)

// Which dimensions are free, and what moves together, against the null space
// of all equations by singular values.
func TestFreedomOfRandomDesigns(t *testing.T) {
	free := 0
	for seed := range uint64(300) {
		w := newTruth(seed)
		for v := range w.Vars {
			if w.Vars[v].Whole {
				w.Eq(relation.V(relation.VarID(v)), relation.C(w.value[v]))
			}
		}
		for rank, missing := w.rank(), 1+w.rng.IntN(4); rank < len(w.Vars)-missing; rank = w.rank() {
			w.Eq(w.random())
		}
		sol := w.Solve()
		if len(sol.Clashes)+len(sol.Tangles)+len(sol.Counts) > 0 {
			t.Errorf("design %d: %s", seed, solvetest.Wrongs(w.Shop, sol))
			continue
		}
		null := w.nullSpace()
		group := make([]int, len(w.Vars))
		for i := range group {
			group[i] = -1
		}
		for g, f := range sol.Free {
			for _, v := range f.Vars {
				group[v] = g
				free++
			}
			if !slices.Contains(f.Vars, f.Settle) {
				t.Errorf("design %d: group %d would be settled from outside", seed, g)
			}
			if f.Low > w.value[f.Settle]+1e-6 || f.High < w.value[f.Settle]-1e-6 {
				t.Errorf("design %d: %s = %g is outside %g to %g", seed, w.Vars[f.Settle].Name, w.value[f.Settle], f.Low, f.High)
			}
		}
		for v := range w.Vars {
			moves := 0.0
			for _, z := range null {
				moves = math.Hypot(moves, z[v])
			}
			if (moves > 1e-7) != (group[v] >= 0) {
				t.Errorf("design %d: %s moves by %g but is in group %d", seed, w.Vars[v].Name, moves, group[v])
			}
			if group[v] < 0 {
				foretest.Near(t, fmt.Sprintf("design %d: %s", seed, w.Vars[v].Name), sol.Values[v], w.value[v], 1e-6)
			}
		}
		// Dimensions of two groups move apart: their rows in the projector onto
		// the null space are at right angles.
		for v := range w.Vars {
			for u := range v {
				if group[u] < 0 || group[v] < 0 || group[u] == group[v] {
					continue
				}
				dot := 0.0
				for _, z := range null {
					dot += z[u] * z[v]
				}
				if math.Abs(dot) > 1e-7 {
					t.Errorf("design %d: %s and %s move together but are told apart", seed, w.Vars[u].Name, w.Vars[v].Name)
				}
			}
		}
	}
	if free < 500 {
		t.Errorf("only %d free dimensions in all", free)
	}
}

// nullSpace is an orthonormal basis of the directions in which no equation
// moves.
func (w *truth) nullSpace() [][]float64 {
	n := len(w.Vars)
	a := mat.NewDense(max(len(w.Relations), n), n, nil)
	for i := range w.Relations {
		_, terms := w.Relations[i].Gradient(w.value)
		for _, t := range terms {
			a.Set(i, int(t.Var), t.Coef)
		}
	}
	var svd mat.SVD
	svd.Factorize(a, mat.SVDFull)
	var v mat.Dense
	svd.VTo(&v)
	var out [][]float64
	for k, s := range svd.Values(nil) {
		if s < 1e-9 {
			out = append(out, mat.Col(nil, k, &v))
		}
	}
	return out
}

// A run of holes with one number missing is one group, though the equation of
// count and pitch can't be used before.
func TestFreeRowIsOneGroup(t *testing.T) {
	s := solvetest.NewShop()
	s.Row("wire", "height")
	s.Is("height", 210)
	s.Is("wire.hole.along", 4)
	s.Is("wire.first", 5.25)
	s.Is("wire.last", 5.25)
	sol := s.Solve()
	if len(sol.Free) != 1 || len(sol.Free[0].Vars) != 3 {
		t.Error(solvetest.Wrongs(s, sol))
	}
}

// The dimension to state is the one that settles the most: of five that one
// length moves and one that only a second one does, one of the five.
func TestSettlesMost(t *testing.T) {
	s := solvetest.NewShop()
	s.V("other")
	for i := range 4 {
		s.Eq(s.V(fmt.Sprintf("side%d", i+1)), relation.Add(s.V("side0"), relation.C(float64(i))))
	}
	s.Eq(s.V("sum"), relation.Add(s.V("side3"), s.V("other")))
	sol := s.Solve()
	if len(sol.Free) != 1 || len(sol.Free[0].Vars) != 7 || s.Vars[sol.Free[0].Settle].Name[:4] != "side" {
		t.Error(solvetest.Wrongs(s, sol))
	}
}

// A product of dimensions that nobody needs stays open without a word, and so
// may what hangs on it.
func TestOpenProductNotNeeded(t *testing.T) {
	s := solvetest.NewShop()
	s.Eq(relation.Mul(s.V("a"), s.V("b")), relation.C(600))
	s.Eq(relation.Mul(s.V("c"), s.V("d")), relation.Mul(s.V("a"), s.V("a")))
	for v := range s.Vars {
		s.Vars[v].Needed = s.Vars[v].Name == "d"
	}
	sol := s.Solve()
	if len(sol.Free) != 1 || len(sol.Free[0].Vars) != 1 || sol.Free[0].Settle != s.IDs["d"] {
		t.Error(solvetest.Wrongs(s, sol))
	}
}

// What limits alone settle, once defaults have given way, is held against the lines that
// waited for it: none is broken without a word. Own arithmetic: 4.27 by 117.5 is 501.7.
func TestPinnedIsHeldAgainstProducts(t *testing.T) {
	s := solvetest.NewShop()
	head, tail, spine, over := s.Signed("head"), s.Signed("tail"), s.Signed("spine"), s.Signed("over")
	width := s.V("width")
	s.Own(width, relation.Add(relation.C(112.5), spine, over))
	s.Eq(relation.Mul(tail, head), relation.C(24.75))
	s.Le(relation.Minus(over, tail), relation.C(3.54))
	s.Ge(relation.Mul(over, width), relation.C(824.85))
	s.Ge(width, relation.C(117.5))
	s.Own(s.V("height"), relation.Add(relation.C(151.5), head, tail))
	for _, v := range []relation.Expr{head, tail, spine} {
		s.Standard(v, relation.C(0)).Rank = 4
	}
	s.Standard(over, relation.C(0)).Rank = 5
	for v := range s.Vars {
		s.Vars[v].Needed = true
	}
	sol := s.Solve()
	area := relation.Mul(over, width)
	if got := area.Eval(sol.Values); got < 824.84 && len(sol.Clashes) == 0 {
		t.Errorf("over * width = %g, at least 824.85 asked for, and nothing is told", got)
	}
}
