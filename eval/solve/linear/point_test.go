package linear_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"foredge/eval/solve/linear"
	"foredge/eval/solve/optimize"
	"foredge/eval/solve/sparse"
)

// Where a form can be brought near 0 by sliding it comes exactly as near as the simplex
// method says, and the limits that are named hold it there by themselves. That stays so
// while what was found is fixed.
func TestSlideAsSimplex(t *testing.T) {
	slid, held := 0, 0
	for seed := range uint64(400) {
		rnd := rand.New(rand.NewPCG(seed, 13))
		n := 3 + rnd.IntN(12)
		forms := chained(rnd, n)
		s := linear.NewSpace(n, nil)
		s.TrackAll(forms)
		all := make([]int32, n)
		for i := range all {
			all[i] = int32(i)
		}
		x, ok := optimize.NewQP(all, nil, forms, nil).Project()
		if !ok {
			continue
		}
		s.Stand(all, x)
		for _, p := range rnd.Perm(n) {
			f := sparse.Affine{Terms: []sparse.Term{{At: int32(p), Coef: 2}}, Const: -200 * rnd.Float64()}
			value, first, ok := s.Slide(f, func(form int32) bool { return form%2 == 0 }, func(int) {})
			if !ok {
				continue
			}
			slid++
			low, high := polyhedron(s, s.Floor).Reach(f)
			if want := min(max(0, low), high); math.Abs(value.Const-want) > 1e-6 {
				t.Fatalf("seed %d: came to %g, want %g", seed, value.Const, want)
			}
			if value.Const != 0 {
				held++
				by := s.Row(int32(p), value.Const < 0)
				if i := slices.IndexFunc(by, func(id int32) bool { return id%2 == 0 }); i < 0 && first >= 0 || i >= 0 && by[i] != first {
					t.Fatalf("seed %d: %d is the first stated limit of %v", seed, first, by)
				}
				only := make([]bool, len(s.Forms))
				for _, id := range by {
					only[id] = true
				}
				low, high := polyhedron(s, only).Reach(f)
				if want := min(max(0, low), high); math.Abs(value.Const-want) > 1e-6 {
					t.Fatalf("seed %d: limits %v alone leave %g, want %g", seed, by, want, value.Const)
				}
			}
			f.Const -= value.Const
			s.Fix(f)
		}
	}
	if slid < 1500 || held < 500 {
		t.Errorf("%d forms came to something, %d of them held by limits", slid, held)
	}
}

// chained are limits of n parameters: each at 0 or more, and below 100, and a tree of
// others, some of which have a few terms.
func chained(rnd *rand.Rand, n int) []sparse.Affine {
	var forms []sparse.Affine
	add := func(c float64, terms ...sparse.Term) {
		slices.SortFunc(terms, func(a, b sparse.Term) int { return int(a.At - b.At) })
		forms = append(forms, sparse.Affine{Const: c, Terms: terms})
	}
	for i := range int32(n) {
		add(0, sparse.Term{At: i, Coef: 1})
		add(100, sparse.Term{At: i, Coef: -1})
		if i == 0 {
			continue
		}
		j := rnd.Int32N(i)
		sign := float64(1 - 2*rnd.IntN(2))
		terms := []sparse.Term{{At: i, Coef: 1 + rnd.Float64()}, {At: j, Coef: -1}}
		if k := rnd.Int32N(i); k != j && rnd.IntN(3) == 0 {
			terms = append(terms, sparse.Term{At: k, Coef: 0.5})
		}
		for k := range terms {
			terms[k].Coef *= sign
		}
		add(20*rnd.Float64()-5, terms...)
	}
	return forms
}

// polyhedron is what some forms of a space leave.
func polyhedron(s *linear.Space, limit []bool) *optimize.Polyhedron {
	var params, ids []int32
	var forms []sparse.Affine
	for i := range s.Uses {
		params = append(params, int32(i))
	}
	for id, f := range s.Forms {
		if limit[id] && len(f.Terms) > 0 {
			forms, ids = append(forms, f), append(ids, int32(id))
		}
	}
	return optimize.NewPolyhedron(params, forms, ids)
}
