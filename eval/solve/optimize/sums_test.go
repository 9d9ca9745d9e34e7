package optimize

import (
	"math"
	"math/rand/v2"
	"testing"

	"foredge/eval/solve/sparse"
)

// The point of a sum of at most so much that is nearest to a given one lies on the
// normal of the sum's plane: x = a - c (c·a - b) / (c·c).
func TestLongSums(t *testing.T) {
	for _, n := range []int{longSum, longSum + 1, 300} {
		r := rand.New(rand.NewPCG(uint64(n), 7))
		params, goals, weights := make([]int32, n), make([]sparse.Affine, n), make([]float64, n)
		whole, half := sparse.Affine{}, sparse.Affine{}
		a, sum, square := make([]float64, n), 0.0, 0.0
		for i := range n {
			at := int32(3 * i)
			c := 0.5 + r.Float64()
			a[i] = 10 * r.Float64()
			sum, square = sum+c*a[i], square+c*c
			params[i], weights[i] = at, 1
			goals[i] = sparse.Affine{Const: -a[i], Terms: []sparse.Term{{At: at, Coef: 1}}}
			whole.Terms = append(whole.Terms, sparse.Term{At: at, Coef: -c})
			if i%2 == 0 {
				half.Terms = append(half.Terms, sparse.Term{At: at, Coef: -2 * c})
			}
		}
		most := sum / 3
		whole.Const, half.Const = most, 2*sum // of which the second holds nothing back
		w := NewQP(params, goals, []sparse.Affine{whole, half}, weights)
		if (w.sums != nil) != (n > longSum) {
			t.Errorf("%d: sums are made: %v", n, w.sums != nil)
		}
		got, ok := w.Solve()
		if !ok || len(got.Acting) != 1 || got.Acting[0] != 0 {
			t.Fatalf("%d: got %v, %v, want the first limit to act", n, got, ok)
		}
		for i := range n {
			c := -whole.Terms[i].Coef
			want := a[i] - c*(sum-most)/square
			if math.Abs(got.X[i]-want) > 1e-8 || math.Abs(got.Value[i].Const-(want-a[i])) > 1e-8 {
				t.Fatalf("%d: parameter %d is %.9f, its goal off by %.9f; want %.9f, off by %.9f", n, i, got.X[i], got.Value[i].Const, want, want-a[i])
			}
		}
		if x, worst, _ := w.Interior(0); math.Abs(x[1]-got.X[1]) > 1e-5 || worst < -1e-6 {
			t.Errorf("%d: from inside %.9f, want %.9f; worst %g", n, x[1], got.X[1], worst)
		}
	}
}

// What a longer sum holds k times is made once.
func TestSumsShare(t *testing.T) {
	long := func(from, to, step int, k float64) (f sparse.Affine) {
		for i := from; i < to; i += step {
			f.Terms = append(f.Terms, sparse.Term{At: int32(i), Coef: k})
		}
		return f
	}
	s, by := sumsOf(200, []sparse.Affine{long(0, 200, 1, -2), long(0, 100, 2, 1), long(0, 200, 1, 3), long(7, 8, 1, 1)})
	if s == nil {
		t.Fatal("no sums were made")
	}
	if len(s.links) != 49+150 {
		t.Errorf("%d sums, want 49 of the shorter and 150 more of the longer", len(s.links))
	}
	y := make([]float64, 200)
	for i := range y {
		y[i] = math.Sin(float64(i))
	}
	x := s.given(y)
	for i, f := range []sparse.Affine{long(0, 200, 1, -2), long(0, 100, 2, 1), long(0, 200, 1, 3), long(7, 8, 1, 1)} {
		if got, want := by[i].Value(y), f.Value(x); math.Abs(got-want) > 1e-9 {
			t.Errorf("form %d is %g, want %g", i, got, want)
		}
	}
}
