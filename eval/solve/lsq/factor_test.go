package lsq

import (
	"math"
	"math/rand/v2"
	"testing"

	"foredge/eval/solve/sparse"

	"gonum.org/v1/gonum/mat"
)

// Random sparse rows against a dense factorisation by gonum: the solution, the
// variance of every row both ways, and the covariances of one with all columns.
func TestAgainstDense(t *testing.T) {
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 43))
		n := 1 + r.IntN(12)
		m := n + r.IntN(10)
		rows, right := make([][]sparse.Term, m), make([]float64, m)
		dense := mat.NewDense(m, n, nil)
		for i := range rows {
			for c := range n {
				if c == i || r.IntN(3) == 0 {
					k := math.Round(20*r.NormFloat64()) + 0.5
					rows[i] = append(rows[i], sparse.Term{At: int32(c), Coef: k})
					dense.Set(i, c, k)
				}
			}
			right[i] = 10 * r.NormFloat64()
		}
		f := Factorise(NewShape(n, Columns(rows)), rows, right, 1e-12)
		if len(f.Loose) > 0 {
			t.Fatalf("system %d: %d columns are loose", seed, len(f.Loose))
		}
		var qr mat.QR
		qr.Factorize(dense)
		if qr.Cond() > 1e5 {
			continue
		}
		var want mat.VecDense
		if err := qr.SolveVecTo(&want, false, mat.NewVecDense(m, right)); err != nil {
			t.Fatal(err)
		}
		near := func(what string, got, want float64) {
			if math.Abs(got-want) > 1e-8*max(1, math.Abs(want)) {
				t.Errorf("system %d: %s is %.12g, want %.12g", seed, what, got, want)
			}
		}
		for c, x := range f.Solution() {
			near("solution", x, want.AtVec(c))
		}
		var normal, inverse mat.Dense
		normal.Mul(dense.T(), dense)
		if err := inverse.Inverse(&normal); err != nil {
			t.Fatal(err)
		}
		all := f.Covariance()
		for i, row := range rows {
			var with mat.VecDense
			with.MulVec(&inverse, dense.RowView(i))
			variance := mat.Dot(dense.RowView(i), &with)
			near("variance", f.Variance(row), variance)
			near("variance of all", all.Variance(row), variance)
		}
	}
}

// What a column that depends on others leaves open moves no row.
func TestNulls(t *testing.T) {
	rows := [][]sparse.Term{{{At: 0, Coef: 1}, {At: 1, Coef: 2}}, {{At: 1, Coef: 3}, {At: 2, Coef: -1}}}
	f := Factorise(NewShape(4, Columns(rows)), rows, []float64{1, 2}, 1e-10)
	nulls := f.Nulls()
	if len(nulls) != 2 {
		t.Fatalf("%d directions are open, want 2", len(nulls))
	}
	for _, null := range nulls {
		x := make([]float64, 4)
		for _, t := range null {
			x[t.At] = t.Coef
		}
		for i, v := range Residuals(rows, make([]float64, 2), x) {
			if math.Abs(v) > 1e-12 {
				t.Errorf("row %d moves by %g along %v", i, v, null)
			}
		}
	}
}

// A column that rows make fast is in no direction that is open, however the
// arithmetic rounds: here the first two.
func TestNullsLeaveOutWhatIsFast(t *testing.T) {
	const w = 34.64101615137754
	rows := [][]sparse.Term{
		{{At: 0, Coef: w}},
		{{At: 0, Coef: -w}, {At: 1, Coef: w / 9}},
		{{At: 1, Coef: w}},
		{{At: 0, Coef: w}, {At: 1, Coef: w}, {At: 2, Coef: w}, {At: 3, Coef: w}},
	}
	for _, null := range Factorise(NewShape(4, Columns(rows)), rows, make([]float64, 4), 1e-10).Nulls() {
		for _, term := range null {
			if term.At < 2 {
				t.Errorf("column %d moves along %v", term.At, null)
			}
		}
	}
}

// A tree taken apart from its leaves, and triangles in a chain from either end,
// need no place that isn't in the rows: a minimum-degree order fills none
// (Parter, The use of linear graphs in Gauss elimination, SIAM Review 3 (1961)
// 119).
func TestOrderFillsNothing(t *testing.T) {
	star := make([][]int32, 0, 12)
	for leaf := range int32(12) {
		star = append(star, []int32{0, leaf + 1})
	}
	for _, test := range []struct {
		name   string
		n      int
		rows   [][]int32
		places int // columns, and pairs of columns that share a row
	}{
		{"star", 13, star, 13 + 12},
		{"chain", 6, [][]int32{{0, 1}, {1, 2}, {2, 3}, {3, 4}, {4, 5}}, 6 + 5},
		{"triangles at both ends", 10, [][]int32{{0, 1, 2}, {2, 3}, {3, 4}, {4, 5}, {5, 6}, {6, 7}, {7, 8, 9}}, 10 + 11},
	} {
		places := 0
		for _, fill := range NewShape(test.n, test.rows).filled {
			places += len(fill)
		}
		if places != test.places {
			t.Errorf("%s: %d places are filled, want %d", test.name, places, test.places)
		}
	}
}

// Of so many rows that fronts are tall what is left is normal to every column, as it is of
// a least squares solution and of no other.
func TestTallFronts(t *testing.T) {
	for seed := range uint64(5) {
		r := rand.New(rand.NewPCG(seed, 44))
		const n = 150
		rows, right := make([][]sparse.Term, n+1+r.IntN(20)), make([]float64, n+20)
		for i := range rows {
			for c := range n {
				if c == i || r.IntN(30) == 0 {
					rows[i] = append(rows[i], sparse.Term{At: int32(c), Coef: math.Round(20*r.NormFloat64()) + 0.5})
				}
			}
			right[i] = 10 * r.NormFloat64()
		}
		f := Factorise(NewShape(n, Columns(rows)), rows, right[:len(rows)], 1e-12)
		tallest := 0
		for _, fill := range f.filled {
			tallest = max(tallest, len(fill))
		}
		if tallest <= 2*tall {
			t.Fatalf("system %d: no front is taller than %d", seed, tallest)
		}
		slope := make([]float64, n)
		for i, left := range Residuals(rows, right[:len(rows)], f.Unrefined()) {
			for _, term := range rows[i] {
				slope[term.At] += term.Coef * left
			}
		}
		for c, v := range slope {
			if math.Abs(v) > 1e-8 {
				t.Errorf("system %d: what is left leans on column %d by %g", seed, c, v)
			}
		}
	}
}
