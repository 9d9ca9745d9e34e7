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
		s.Stated = func(form int32) bool { return form%2 == 0 }
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
			value, first, ok := s.Slide(f, func(int) {})
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
				if i := slices.IndexFunc(by, s.Stated); i < 0 && first >= 0 || i >= 0 && by[i] != first {
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

// Rest comes to a point that all limits allow, and where they say how much one parameter
// is above another to the lowest one, as the simplex method finds it; where they leave
// nothing it doesn't.
func TestRestIsLowest(t *testing.T) {
	rested, empty := 0, 0
	for seed := range uint64(400) {
		rnd := rand.New(rand.NewPCG(seed, 17))
		n := 2 + rnd.IntN(12)
		s := linear.NewSpace(n, nil)
		s.TrackAll(apart(rnd, n))
		all := make([]int32, n)
		for i := range all {
			all[i] = int32(i)
		}
		p := polyhedron(s, s.Floor)
		ok := s.Rest(all, func(int) {})
		if ok == p.Empty {
			t.Fatalf("seed %d: came to rest %t, but limits that leave nothing are %t", seed, ok, p.Empty)
		}
		if !ok {
			empty++
			continue
		}
		rested++
		for i := range all {
			low, _ := p.Reach(sparse.Affine{Terms: []sparse.Term{{At: int32(i), Coef: 1}}})
			if at := s.At(int32(i)); math.Abs(at-low) > 1e-8 {
				t.Fatalf("seed %d: parameter %d at %g, can be at %g", seed, i, at, low)
			}
		}
	}
	if rested < 100 || empty < 50 {
		t.Errorf("%d came to rest, %d left nothing", rested, empty)
	}
	// Of limits on sums there may be no lowest point, but any will do.
	for seed := range uint64(400) {
		rnd := rand.New(rand.NewPCG(seed, 19))
		n := 3 + rnd.IntN(12)
		forms := chained(rnd, n)
		s := linear.NewSpace(n, nil)
		s.TrackAll(forms)
		all, x := make([]int32, n), make([]float64, n)
		for i := range all {
			all[i] = int32(i)
		}
		if !s.Rest(all, func(int) {}) {
			continue
		}
		for i := range x {
			x[i] = s.At(int32(i))
		}
		for id, f := range forms {
			if f.Value(x) < -1e-9 {
				t.Fatalf("seed %d: limit %d is broken by %g", seed, id, f.Value(x))
			}
		}
	}
}

// apart are limits by which each of n parameters is at least so much above some others,
// at most so much above further ones, and from 0 to 100.
func apart(rnd *rand.Rand, n int) []sparse.Affine {
	var forms []sparse.Affine
	for i := range int32(n) {
		forms = append(forms, sparse.Affine{Terms: []sparse.Term{{At: i, Coef: 1}}},
			sparse.Affine{Const: 100, Terms: []sparse.Term{{At: i, Coef: -1}}})
		for range 1 + rnd.IntN(2) {
			j := rnd.Int32N(int32(n))
			if j == i {
				continue
			}
			terms := []sparse.Term{{At: min(i, j), Coef: 1}, {At: max(i, j), Coef: -1}}
			if rnd.IntN(2) == 0 {
				terms[0].Coef, terms[1].Coef = -1, 1
			}
			forms = append(forms, sparse.Affine{Const: 50*rnd.Float64() - 20, Terms: terms})
		}
	}
	return forms
}

// What limits in a row say of the least value of a form is what the simplex method finds,
// also that it has none; and a form of several parameters that is slid to 0 is 0 at a
// point that all limits allow.
func TestLeastAsSimplex(t *testing.T) {
	found, free, slid := 0, 0, 0
	for seed := range uint64(400) {
		rnd := rand.New(rand.NewPCG(seed, 23))
		n := 3 + rnd.IntN(12)
		forms := apart(rnd, n)
		if seed%2 == 0 {
			forms = chained(rnd, n)
		}
		// Some go on without end.
		forms = slices.DeleteFunc(forms, func(f sparse.Affine) bool { return f.Const == 100 && rnd.IntN(2) == 0 })
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
		p := polyhedron(s, s.Floor)
		for range 6 {
			f := sparse.Affine{Const: 5, Terms: []sparse.Term{{At: rnd.Int32N(int32(n)), Coef: 2 - 4*rnd.Float64()}}}
			low, _, bounded, ok := s.Least(f, all, 1e6, func(int) {})
			want, _, has := p.Least(f)
			switch {
			case !ok:
			case bounded != has || has && math.Abs(low.Const-want.Const) > 1e-6:
				t.Fatalf("seed %d: least %g, bounded %t, want %g, bounded %t", seed, low.Const, bounded, want.Const, has)
			case has:
				found++
			default:
				free++
			}
		}
		a, b := rnd.Int32N(int32(n)), rnd.Int32N(int32(n))
		if a >= b {
			continue
		}
		f := sparse.Affine{Const: -50 * rnd.Float64(), Terms: []sparse.Term{{At: a, Coef: 1}, {At: b, Coef: 1 - 2*float64(rnd.IntN(2))}}}
		if _, _, ok := s.Slide(f, func(int) {}); !ok {
			continue
		}
		slid++
		for i := range x {
			x[i] = s.At(int32(i))
		}
		for id, g := range forms {
			if g.Value(x) < -1e-8 {
				t.Fatalf("seed %d: limit %d is broken by %g", seed, id, g.Value(x))
			}
		}
		if math.Abs(f.Value(x)) > 1e-8 {
			t.Fatalf("seed %d: came to %g, not to 0", seed, f.Value(x))
		}
	}
	if found < 300 || free < 50 || slid < 50 {
		t.Errorf("%d had a least value, %d none, %d came to 0", found, free, slid)
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
