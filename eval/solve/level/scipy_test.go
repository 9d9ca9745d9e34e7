package level_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/eval/solve/solvetest"
	"foredge/lang/foretest"
)

// A levels is a linear system as the script takes it.
type levels struct {
	N       int         `json:"n"`
	Eq      [][]float64 `json:"eq"`
	Be      []float64   `json:"be"`
	Ge      [][]float64 `json:"ge"`
	Bg      []float64   `json:"bg"`
	Wish    [][]float64 `json:"wish"`
	Goal    []float64   `json:"goal"`
	Weight  []float64   `json:"weight"`
	Start   []float64   `json:"start"`
	Default [][]float64 `json:"default"`
	Target  []float64   `json:"target"`
	Rank    []int       `json:"rank"` // of each default
	// What the package found.
	Wished []float64 `json:"wished"`
	Kept   []float64 `json:"kept"`
	Found  []float64 `json:"found"`
}

// randomLevels is a system of limits, wishes and defaults around a point. With
// clash it may have no solution.
func randomLevels(seed uint64, clash bool) (*solvetest.Shop, *levels) {
	r := rand.New(rand.NewPCG(seed, 11))
	s := solvetest.NewShop()
	n := 3 + r.IntN(10)
	l := &levels{N: n, Eq: [][]float64{}, Be: []float64{}, Ge: [][]float64{}, Bg: []float64{}, Wish: [][]float64{}, Goal: []float64{}, Weight: []float64{}, Default: [][]float64{}}
	point := make([]float64, n)
	for i := range n {
		s.Id(fmt.Sprintf("x%d", i))
		if r.IntN(4) > 0 {
			point[i] = math.Round(r.Float64()*1000) / 10
		}
	}
	l.Start = point
	row := func(terms int) ([]float64, float64) {
		row, sum := make([]float64, n), 0.0
		for range terms {
			i := r.IntN(n)
			row[i] = []float64{1, -1, 1, -1, 2, 0.5}[r.IntN(6)]
		}
		for i, k := range row {
			sum += k * point[i]
		}
		return row, sum
	}
	expr := func(row []float64) relation.Expr {
		var parts []relation.Expr
		for i, k := range row {
			if k != 0 {
				parts = append(parts, relation.Mul(relation.C(k), relation.V(relation.VarID(i))))
			}
		}
		return relation.Add(parts...)
	}
	for range r.IntN(n - 1) {
		a, b := row(2 + r.IntN(3))
		if clash && r.IntN(6) == 0 {
			b += math.Round(r.Float64()*20 - 10)
		}
		l.Eq, l.Be = append(l.Eq, a), append(l.Be, b)
		s.Eq(expr(a), relation.C(b))
	}
	for range r.IntN(2 * n) {
		a, b := row(1 + r.IntN(3))
		b -= math.Round(max(0, r.Float64()*40-15)) // some of them act at the point
		if clash && r.IntN(6) == 0 {
			b += math.Round(r.Float64() * 60)
		}
		l.Ge, l.Bg = append(l.Ge, a), append(l.Bg, b)
		s.Ge(expr(a), relation.C(b))
	}
	for range r.IntN(6) {
		a, b := row(1 + r.IntN(2))
		b += math.Round(r.Float64()*80 - 40)
		weight := float64(1 + r.IntN(4))
		l.Wish, l.Goal, l.Weight = append(l.Wish, a), append(l.Goal, b), append(l.Weight, weight)
		s.Prefer(expr(a), relation.C(b), weight)
	}
	for _, i := range r.Perm(n) {
		a := make([]float64, n)
		a[i] = 1
		b := point[i] + math.Round(r.Float64()*60-30)
		l.Default, l.Target = append(l.Default, a), append(l.Target, b)
		rank := 0 // now and then a new one
		if k := len(l.Rank); k > 0 {
			rank = l.Rank[k-1] + max(0, r.IntN(3)-1)
		}
		l.Rank = append(l.Rank, rank)
		s.Standard(relation.V(relation.VarID(i)), relation.C(b)).Rank = rank
	}
	return s, l
}

func dot(row, x []float64) float64 {
	sum := 0.0
	for i, k := range row {
		sum += k * x[i]
	}
	return sum
}

// Random systems of limits, wishes and defaults, level by level against
// SciPy's HiGHS and SLSQP.
func TestLevelsAgainstSciPy(t *testing.T) {
	n := uint64(120)
	if foretest.CI() {
		n = 1000
	}
	var systems []*levels
	var sols []*solve.Solution
	for seed := range n {
		s, l := randomLevels(seed, seed%4 == 0)
		sol := s.Solve()
		sols = append(sols, sol)
		x := sol.Values
		if len(sol.Clashes) == 0 {
			if !sol.OK() {
				t.Fatalf("system %d: %s", seed, solvetest.Wrongs(s, sol))
			}
			for i, a := range l.Eq {
				foretest.Near(t, fmt.Sprintf("system %d: equation %d", seed, i), dot(a, x), l.Be[i], 1e-6)
			}
			for i, a := range l.Ge {
				if dot(a, x) < l.Bg[i]-1e-6 {
					t.Errorf("system %d: limit %d broken by %g", seed, i, l.Bg[i]-dot(a, x))
				}
			}
			for i, v := range x {
				if v < -1e-6 {
					t.Errorf("system %d: x%d = %g", seed, i, v)
				}
			}
		} else {
			x = make([]float64, l.N)
		}
		l.Wished, l.Kept = make([]float64, len(l.Wish)), make([]float64, len(l.Default))
		for i, a := range l.Wish {
			l.Wished[i] = dot(a, x)
		}
		for i, a := range l.Default {
			l.Kept[i] = dot(a, x)
		}
		l.Found = x
		systems = append(systems, l)
	}
	var answers []struct {
		Feasible bool
		Best     *float64
		Default  []*float64
	}
	foretest.AskScript(t, "testdata/levels.py", systems, &answers, "scipy.optimize")
	clashes, compared, ranks, agree := 0, 0, 0, 0
	for i, a := range answers {
		l, sol := systems[i], sols[i]
		if a.Feasible != (len(sol.Clashes) == 0) {
			t.Errorf("system %d: SciPy says feasible %v, we say clashes %v", i, a.Feasible, sol.Clashes)
			continue
		}
		if !a.Feasible {
			clashes++
			continue
		}
		if a.Best != nil {
			ours := 0.0
			for k := range l.Wish {
				ours += l.Weight[k] * (l.Wished[k] - l.Goal[k]) * (l.Wished[k] - l.Goal[k])
			}
			if ours > *a.Best+1e-6*(1+*a.Best) {
				t.Errorf("system %d: wishes come to %.10g, SciPy finds %.10g", i, ours, *a.Best)
			}
			// SLSQP sometimes stops short of the best; ours is allowed, as
			// seen above.
			if ours > *a.Best-1e-6*(1+*a.Best) {
				compared++
			}
		}
		for k, best := range a.Default {
			rank, ours := slices.Compact(slices.Clone(l.Rank))[k], 0.0
			for j, of := range l.Rank {
				if of == rank {
					ours += (l.Kept[j] - l.Target[j]) * (l.Kept[j] - l.Target[j])
				}
			}
			if best == nil {
				continue
			}
			ranks++
			if ours > *best+1e-5*(1+*best) {
				t.Errorf("system %d: the defaults of rank %d come to %.10g, SciPy finds %.10g", i, rank, ours, *best)
			}
			if ours > *best-1e-5*(1+*best) {
				agree++
			}
		}
	}
	if agree < ranks*9/10 || ranks < len(answers) {
		t.Errorf("of %d ranks of defaults only %d agree", ranks, agree)
	}
	if clashes < len(answers)/20 || compared < len(answers)/2 {
		t.Errorf("only %d clashes, and %d outcomes of wishes that agree", clashes, compared)
	}
}
