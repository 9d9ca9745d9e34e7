package solve

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Forms fixed all at once leave the same as those fixed one by one: the same
// number of parameters, the same values of all that is tracked, moving with the
// benches in the same way. Some of the forms follow from the others.
func TestFixedAtOnceAsOneByOne(t *testing.T) {
	const benches = 3
	follow := 0
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 17))
		n := 2 + r.IntN(12)
		random := func() affine {
			f := affine{c: math.Round(r.Float64()*200 - 100)}
			for at := range int32(n) {
				if r.IntN(n) < 3 {
					f.terms = append(f.terms, term{at, []float64{1, -1, 1, -1, 2, 0.5, 25.4}[r.IntN(7)]})
				}
			}
			for at := range int32(benches) {
				if r.IntN(4) == 0 {
					f.g = append(f.g, term{at, r.Float64() - 0.5})
				}
			}
			return f
		}
		// All that is fixed holds at one point, wherever the benches are.
		hidden := make([]affine, n)
		for p := range hidden {
			hidden[p] = affine{c: math.Round(r.Float64() * 100), g: random().g}
		}
		holding := func(f affine) affine {
			f.c, f.g = 0, nil
			for _, t := range f.terms {
				f.c -= t.c * hidden[t.at].c
				f.g = combine(f.g, -t.c, hidden[t.at].g, 0)
			}
			return f
		}
		// The first n forms are the parameters themselves, the last are fixed.
		var forms []affine
		for at := range int32(n) {
			forms = append(forms, affine{terms: []term{{at, 1}}})
		}
		for range r.IntN(2 * n) {
			forms = append(forms, random())
		}
		first := len(forms)
		for range 1 + r.IntN(n) {
			f := holding(random())
			if k := len(forms) - first; k > 1 && r.IntN(4) == 0 {
				f = forms[first+r.IntN(k)].plus(2, forms[first+r.IntN(k)])
			}
			forms = append(forms, f)
		}
		spare := func() *space { return spaceOf(n, append([]affine(nil), forms...)) }
		all, each := spare(), spare()
		took := 0
		for _, ok := range all.fixAll(forms[first:]) {
			if ok {
				took++
			}
		}
		one := 0
		for id := first; id < len(forms); id++ {
			if f := each.forms[id]; len(f.terms) > 0 {
				each.fix(f)
				one++
			}
		}
		if took != one {
			t.Fatalf("space %d: %d forms took a parameter away at once, %d one by one", seed, took, one)
		}
		follow += len(forms) - first - took
		for id := first; id < len(forms); id++ {
			if a, b := all.forms[id], each.forms[id]; len(a.terms) > 0 || len(b.terms) > 0 {
				t.Fatalf("space %d: fixed form %d still moves with %v and %v", seed, id, a.terms, b.terms)
			}
		}
		// A point that one of them allows, with the benches anywhere, is one that
		// the other allows, and all forms have the same values there.
		at, moved := make([]float64, n), make([]float64, benches)
		for p := range at {
			at[p] = 100 * r.Float64()
		}
		for p := range moved {
			moved[p] = r.Float64()
		}
		value := func(s *space, id int, at []float64) float64 {
			v := valueAt(s.forms[id], at)
			for _, g := range s.forms[id].g {
				v += g.c * moved[g.at]
			}
			return v
		}
		point := make([]float64, n)
		for p := range point {
			point[p] = value(all, p, at)
		}
		for id := range forms {
			a, b := value(all, id, at), value(each, id, point)
			if math.Abs(a-b) > 1e-7*max(1, math.Abs(a)) {
				t.Errorf("space %d: form %d is %.12g fixed at once and %.12g one by one", seed, id, a, b)
			}
		}
		// What lists the forms of a parameter lists all of them.
		for p, ids := range all.uses {
			listed := map[int32]bool{}
			for _, id := range ids {
				listed[id] = true
			}
			for id := range all.forms {
				if all.forms[id].coef(int32(p)) != 0 && !listed[int32(id)] {
					t.Fatalf("space %d: form %d is not listed for its parameter %d", seed, id, p)
				}
			}
		}
	}
	if follow < 100 {
		t.Errorf("only %d forms followed from others", follow)
	}
}
