package optimize

import (
	"math"
	"math/rand/v2"
	"testing"

	"foredge/eval/solve/sparse"

	"gonum.org/v1/gonum/mat"
)

// The method of multipliers against gonum's solution of the optimality conditions of
// the same problem (J. Nocedal, S. J. Wright, Numerical Optimization, 2006, equation
// 16.4), and so how goals move with what lies outside.
func TestMultipliersAsOptimalityConditions(t *testing.T) {
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 61))
		n := 3 + r.IntN(12)
		m := 1 + r.IntN(n-1)
		params := make([]int32, n)
		var goals, limits []sparse.Affine
		var weights []float64
		for i := range params {
			params[i] = int32(i)
			goals = append(goals, sparse.Affine{Const: -100 * r.Float64(), Terms: []sparse.Term{{At: int32(i), Coef: 1}}, Grad: []sparse.Term{{At: 1, Coef: r.NormFloat64()}}})
			weights = append(weights, math.Exp(2*r.NormFloat64()))
		}
		for i := range m {
			f := sparse.Affine{Const: -100 * r.Float64(), Grad: []sparse.Term{{At: 1, Coef: r.NormFloat64()}}}
			for at := range n {
				if at == i || r.IntN(3) == 0 {
					f.Terms = append(f.Terms, sparse.Term{At: int32(at), Coef: 0.1 + r.Float64()})
				}
			}
			limits = append(limits, f)
		}
		w := NewQP(params, goals, limits, weights)
		got := w.bind(w.limits).outcome()
		if got == nil {
			t.Fatalf("seed %d: not found", seed)
		}
		value, moves := conditions(w)
		for i := range goals {
			if math.Abs(got.Value[i].Const-value[i]) > 1e-8 {
				t.Fatalf("seed %d: goal %d comes to %g, want %g", seed, i, got.Value[i].Const, value[i])
			}
			move := 0.0
			for _, t := range got.Value[i].Grad {
				move += t.Coef
			}
			if math.Abs(move-moves[i]) > 1e-8 {
				t.Fatalf("seed %d: goal %d moves by %g, want %g", seed, i, move, moves[i])
			}
		}
	}
}

// conditions solves the optimality conditions with all limits as equations: what the
// goals come to, and how they move with the one thing outside.
func conditions(w *QP) (value, moves []float64) {
	n, m := w.n, len(w.limits)
	kkt, right := mat.NewDense(n+m, n+m, nil), mat.NewDense(n+m, 2, nil)
	sides := func(f sparse.Affine) [2]float64 { return [2]float64{f.Const, f.Grad[0].Coef} }
	for i, f := range w.goals {
		k := w.weight[i] * w.weight[i]
		for _, a := range f.Terms {
			for _, b := range f.Terms {
				kkt.Set(int(a.At), int(b.At), kkt.At(int(a.At), int(b.At))+k*a.Coef*b.Coef)
			}
			for j, c := range sides(f) {
				right.Set(int(a.At), j, right.At(int(a.At), j)-k*a.Coef*c)
			}
		}
	}
	for i, f := range w.limits {
		for _, a := range f.Terms {
			kkt.Set(n+i, int(a.At), a.Coef)
			kkt.Set(int(a.At), n+i, a.Coef)
		}
		for j, c := range sides(f) {
			right.Set(n+i, j, -c)
		}
	}
	var x mat.Dense
	if err := x.Solve(kkt, right); err != nil {
		panic(err)
	}
	at := func(f sparse.Affine, j int) float64 {
		v := sides(f)[j]
		for _, t := range f.Terms {
			v += t.Coef * x.At(int(t.At), j)
		}
		return v
	}
	for _, f := range w.goals {
		value, moves = append(value, at(f, 0)), append(moves, at(f, 1))
	}
	return value, moves
}
