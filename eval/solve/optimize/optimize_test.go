package optimize

import (
	"math"
	"math/rand/v2"
	"testing"

	"foredge/eval/solve/sparse"

	"gonum.org/v1/gonum/mat"
)

// randomLimits makes limits over two parameters in a box from -100 to 100.
func randomLimits(r *rand.Rand) (limits []sparse.Affine, ids []int32) {
	add := func(a, b, c float64) {
		f := sparse.Affine{Const: c}
		for at, k := range []float64{a, b} {
			if k != 0 {
				f.Terms = append(f.Terms, sparse.Term{At: int32(at), Coef: k})
			}
		}
		if len(f.Terms) > 0 {
			ids = append(ids, int32(len(limits)))
			limits = append(limits, f)
		}
	}
	add(1, 0, 100)
	add(-1, 0, 100)
	add(0, 1, 100)
	add(0, -1, 100)
	for range r.IntN(6) {
		add(float64(r.IntN(7)-3), float64(r.IntN(7)-3), float64(r.IntN(120)-40))
	}
	return limits, ids
}

// corners are the points where two limits meet and all others hold.
func corners(limits []sparse.Affine) [][]float64 {
	var out [][]float64
	for i := range limits {
		for j := range i {
			a, b := limits[i], limits[j]
			det := a.Coef(0)*b.Coef(1) - a.Coef(1)*b.Coef(0)
			if math.Abs(det) < 1e-9 {
				continue
			}
			x := []float64{(-a.Const*b.Coef(1) + b.Const*a.Coef(1)) / det, (-a.Coef(0)*b.Const + b.Coef(0)*a.Const) / det}
			if holdAt(limits, x, 1e-9) {
				out = append(out, x)
			}
		}
	}
	return out
}

func holdAt(limits []sparse.Affine, x []float64, within float64) bool {
	for _, f := range limits {
		if f.Value(x) < -within {
			return false
		}
	}
	return true
}

// In the plane all can be tried: a form is least at a corner, and where no
// corner is left nothing is.
func TestPolyhedronByCorners(t *testing.T) {
	empty := 0
	for seed := range uint64(1000) {
		r := rand.New(rand.NewPCG(seed, 47))
		limits, ids := randomLimits(r)
		p := NewPolyhedron([]int32{0, 1}, limits, ids)
		points := corners(limits)
		if p.Empty != (len(points) == 0) {
			t.Errorf("limits %d: empty %t, but %d corners", seed, p.Empty, len(points))
			continue
		}
		if p.Empty {
			empty++
			var named []sparse.Affine
			for _, id := range p.Certificate {
				named = append(named, limits[id])
			}
			for _, box := range limits[:4] { // so that there are corners if anything is left
				box.Const = 1e6
				named = append(named, box)
			}
			if len(corners(named)) > 0 {
				t.Errorf("limits %d: those named leave something", seed)
			}
			continue
		}
		goal := sparse.Affine{Const: 1, Terms: []sparse.Term{{At: 0, Coef: r.NormFloat64()}, {At: 1, Coef: r.NormFloat64()}}}
		want, greatest := math.Inf(1), math.Inf(-1)
		for _, x := range points {
			want, greatest = min(want, goal.Value(x)), max(greatest, goal.Value(x))
		}
		if a, b := p.Reach(goal); math.Abs(a-want) > 1e-6 || math.Abs(b-greatest) > 1e-6 {
			t.Errorf("limits %d: from %g to %g, want from %g to %g", seed, a, b, want, greatest)
		}
		low, _, ok := p.Least(goal)
		if !ok || math.Abs(low.Const-want) > 1e-6 {
			t.Errorf("limits %d: least %g, want %g", seed, low.Const, want)
		}
	}
	if empty < 50 {
		t.Errorf("only %d sets of limits leave nothing", empty)
	}
}

// The best outcome against all sets of limits that may act: of the least squares
// solutions with one of them as equations, those that are allowed, the best.
func TestQPByTryingAllSets(t *testing.T) {
	held := 0
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 53))
		limits, _ := randomLimits(r)
		if len(corners(limits)) == 0 {
			continue
		}
		var goals []sparse.Affine
		var weights []float64
		for range 2 + r.IntN(3) {
			goals = append(goals, sparse.Affine{Const: 60 * r.NormFloat64(), Terms: []sparse.Term{{At: 0, Coef: r.NormFloat64()}, {At: 1, Coef: r.NormFloat64()}}})
			weights = append(weights, float64(1+r.IntN(4)))
		}
		cost := func(x []float64) float64 {
			sum := 0.0
			for i, f := range goals {
				sum += weights[i] * f.Value(x) * f.Value(x)
			}
			return sum
		}
		best := math.Inf(1)
		for _, x := range corners(limits) {
			best = min(best, cost(x))
		}
		for i := -1; i < len(limits); i++ { // none acts, or one
			m := len(goals)
			a, b := mat.NewDense(m+1, 2, nil), mat.NewVecDense(m+1, nil)
			for k, f := range goals {
				w := math.Sqrt(weights[k])
				a.SetRow(k, []float64{w * f.Coef(0), w * f.Coef(1)})
				b.SetVec(k, -w*f.Const)
			}
			if i >= 0 {
				a.SetRow(m, []float64{1e5 * limits[i].Coef(0), 1e5 * limits[i].Coef(1)})
				b.SetVec(m, -1e5*limits[i].Const)
			}
			var x mat.VecDense
			if err := x.SolveVec(a, b); err == nil && holdAt(limits, x.RawVector().Data, 1e-6) {
				best = min(best, cost(x.RawVector().Data))
			}
		}
		got, ok := NewQP([]int32{0, 1}, goals, limits, weights).Solve()
		if !ok || !holdAt(limits, got.X, 1e-8) {
			t.Errorf("problem %d: no allowed outcome", seed)
			continue
		}
		if c := cost(got.X); math.Abs(c-best) > 1e-5*(1+best) {
			t.Errorf("problem %d: costs %g, want %g", seed, c, best)
		}
		if len(got.Acting) > 0 {
			held++
		}
	}
	if held < 50 {
		t.Errorf("limits hold only %d outcomes back", held)
	}
}

// How far a form reaches is from the least to the greatest of the corners; where
// nothing bounds it, without end.
func TestReach(t *testing.T) {
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 53))
		limits, ids := randomLimits(r)
		all := corners(limits)
		f := sparse.Affine{Terms: []sparse.Term{{At: 0, Coef: 2}, {At: 1, Coef: -0.5}}, Const: 3}
		if len(all) == 0 {
			continue
		}
		least, most := math.Inf(1), math.Inf(-1)
		for _, x := range all {
			least, most = min(least, f.Value(x)), max(most, f.Value(x))
		}
		low, high := NewPolyhedron([]int32{0, 1}, limits, ids).Reach(f)
		if math.Abs(low-least) > 1e-7 || math.Abs(high-most) > 1e-7 {
			t.Fatalf("case %d: from %v to %v, want %v to %v", seed, low, high, least, most)
		}
	}
	up := []sparse.Affine{{Terms: []sparse.Term{{At: 0, Coef: 1}}, Const: -4}}
	if low, high := NewPolyhedron([]int32{0}, up, []int32{0}).Reach(sparse.Affine{Terms: []sparse.Term{{At: 0, Coef: 1}}}); math.Abs(low-4) > 1e-9 || !math.IsInf(high, 1) {
		t.Errorf("from %v to %v", low, high)
	}
}

// A coefficient too small to be written, beside the largest of its limit, is none.
func TestLimitsHoldNoZeros(t *testing.T) {
	limit := sparse.Affine{Const: 1, Terms: []sparse.Term{{At: 0, Coef: 1e10}, {At: 1, Coef: 1e-315}}}
	goal := sparse.Affine{Const: -1, Terms: []sparse.Term{{At: 0, Coef: 1}, {At: 1, Coef: 1}}}
	w := NewQP([]int32{0, 1}, []sparse.Affine{goal}, []sparse.Affine{limit}, []float64{1})
	if got := w.limits[0].Terms; len(got) != 1 || got[0].At != 0 {
		t.Errorf("the limit's terms are %v", got)
	}
}
