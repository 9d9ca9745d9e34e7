package linear

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"foredge/eval/solve/sparse"
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
		random := func() sparse.Affine {
			f := sparse.Affine{Const: math.Round(r.Float64()*200 - 100)}
			for at := range int32(n) {
				if r.IntN(n) < 3 {
					f.Terms = append(f.Terms, sparse.Term{At: at, Coef: []float64{1, -1, 1, -1, 2, 0.5, 25.4}[r.IntN(7)]})
				}
			}
			for at := range int32(benches) {
				if r.IntN(4) == 0 {
					f.Grad = append(f.Grad, sparse.Term{At: at, Coef: r.Float64() - 0.5})
				}
			}
			return f
		}
		// All that is fixed holds at one point, wherever the benches are.
		hidden := make([]sparse.Affine, n)
		for p := range hidden {
			hidden[p] = sparse.Affine{Const: math.Round(r.Float64() * 100), Grad: random().Grad}
		}
		holding := func(f sparse.Affine) sparse.Affine {
			f.Const, f.Grad = 0, nil
			for _, t := range f.Terms {
				f.Const -= t.Coef * hidden[t.At].Const
				f.Grad = sparse.Combine(f.Grad, -t.Coef, hidden[t.At].Grad, 0)
			}
			return f
		}
		// The first n forms are the parameters themselves, the last are fixed.
		var forms []sparse.Affine
		for at := range int32(n) {
			forms = append(forms, sparse.Affine{Terms: []sparse.Term{{At: at, Coef: 1}}})
		}
		for range r.IntN(2 * n) {
			forms = append(forms, random())
		}
		first := len(forms)
		for range 1 + r.IntN(n) {
			f := holding(random())
			if k := len(forms) - first; k > 1 && r.IntN(4) == 0 {
				f = forms[first+r.IntN(k)].Plus(2, forms[first+r.IntN(k)])
			}
			forms = append(forms, f)
		}
		spare := func() *Space { return NewSpace(n, append([]sparse.Affine(nil), forms...)) }
		all, each := spare(), spare()
		took := 0
		for _, ok := range all.FixAll(forms[first:]) {
			if ok {
				took++
			}
		}
		one := 0
		for id := first; id < len(forms); id++ {
			if f := each.Forms[id]; len(f.Terms) > 0 {
				each.Fix(f)
				one++
			}
		}
		if took != one {
			t.Fatalf("space %d: %d forms took a parameter away at once, %d one by one", seed, took, one)
		}
		follow += len(forms) - first - took
		for id := first; id < len(forms); id++ {
			if a, b := all.Forms[id], each.Forms[id]; len(a.Terms) > 0 || len(b.Terms) > 0 {
				t.Fatalf("space %d: fixed form %d still moves with %v and %v", seed, id, a.Terms, b.Terms)
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
		value := func(s *Space, id int, at []float64) float64 {
			v := s.Forms[id].Value(at)
			for _, g := range s.Forms[id].Grad {
				v += g.Coef * moved[g.At]
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
		for p, ids := range all.Uses {
			listed := map[int32]bool{}
			for _, id := range ids {
				listed[id] = true
			}
			for id := range all.Forms {
				if all.Forms[id].Coef(int32(p)) != 0 && !listed[int32(id)] {
					t.Fatalf("space %d: form %d is not listed for its parameter %d", seed, id, p)
				}
			}
		}
	}
	if follow < 100 {
		t.Errorf("only %d forms followed from others", follow)
	}
}

// A form that one parameter alone moves as far as one likes is told from those that limits
// stop on both sides, whether at one value or not.
func TestUnstopped(t *testing.T) {
	form := func(c float64, coefs ...float64) (f sparse.Affine) {
		f.Const = c
		for at, k := range coefs {
			if k != 0 {
				f.Terms = append(f.Terms, sparse.Term{At: int32(at), Coef: k})
			}
		}
		return f
	}
	for _, test := range []struct {
		name   string
		limits []sparse.Affine // at least 0
		form   sparse.Affine
		want   bool
	}{
		{"no limit", nil, form(0, 1), true},
		{"from below", []sparse.Affine{form(-3, 1)}, form(0, 1), true},
		{"from above", []sparse.Affine{form(3, -1)}, form(0, 1), true},
		{"both", []sparse.Affine{form(-3, 1), form(5, -1)}, form(0, 1), false},
		{"at one value", []sparse.Affine{form(-3, 1), form(3, -1)}, form(0, 1), false},
		{"one of two", []sparse.Affine{form(-3, 1), form(3, -1)}, form(0, 1, 1), true},
		{"with another", []sparse.Affine{form(-3, 1), form(3, -1, 1)}, form(0, 1), false}, // both together roam
		{"a number", nil, form(7), false},
	} {
		forms := append([]sparse.Affine{test.form}, test.limits...)
		s := NewSpace(2, forms)
		for i := range test.limits {
			s.Guard(int32(i + 1))
		}
		if got := slices.ContainsFunc(test.form.Terms, func(t sparse.Term) bool { return s.Unstopped(t.At) }); got != test.want {
			t.Errorf("%s: %v", test.name, got)
		}
	}
}
