package linear

import (
	"cmp"
	"math"
	"slices"

	"foredge/eval/solve/sparse"
)

// restRounds is how often each limit is looked at on the way to a point at rest.
const restRounds = 8

// Rest looks for a point that all limits allow of some parameters that hang together,
// by letting each fall as far as it can: from where nothing can be lower they are
// raised until no limit is broken. Where limits only say by how much one parameter is
// above another, as of boxes in a row, that is the lowest point there is. It reports
// whether it came to one, and takes it. Spend is called with the steps that were taken.
func (s *Space) Rest(params []int32, spend func(steps int)) bool {
	s.reach(len(s.Uses))
	s.widen()
	defer func() { s.pay(spend) }()
	if s.settle(s.point.at, params, false, nil, 0) {
		return true
	}
	for _, p := range params {
		s.point.at[p] = math.NaN()
	}
	return false
}

// settle gives parameters values as low, or as high, as limits allow. Those that none
// stops begin so far from where they are at a point that is allowed, all as far, or
// near 0 if there is none. It reports whether no limit is broken then.
func (s *Space) settle(x []float64, params []int32, up bool, from []float64, far float64) bool {
	s.point.ends.round++
	uses := 0
	for _, p := range params {
		at, other := side{p, up}, side{p, !up}
		s.find(at, 0)
		switch x[p] = s.endOf(at).Const; {
		case sparse.Finite(x[p]):
		case from != nil:
			x[p] = from[p] + far*at.sign()
		default:
			x[p] = at.sign() * max(0, at.sign()*s.endOf(other).Const)
		}
		uses += len(s.Uses[p])
	}
	return s.mend(x, params, up, restRounds*uses)
}

// mend raises, or lowers, parameters until no limit is broken, in so many looks at
// limits.
func (s *Space) mend(x []float64, params []int32, lower bool, looks int) bool {
	todo, waits := slices.Clone(params), make(map[int32]bool, len(params))
	by := func(a, b sparse.Term) int {
		if lower {
			a, b = b, a
		}
		return cmp.Compare(a.Coef, b.Coef)
	}
	for i := 0; i < len(todo); i++ {
		p := todo[i]
		waits[p] = false
		looks -= len(s.Uses[p])
		s.point.steps += perUse * len(s.Uses[p])
		if looks < 0 {
			return false
		}
		for _, id := range s.Uses[p] {
			g := s.Forms[id]
			if !s.Floor[id] || len(g.Terms) == 0 || g.Value(x) >= -slip {
				continue
			}
			t := slices.MaxFunc(g.Terms, by)
			if (t.Coef > 0) == lower {
				return false
			}
			x[t.At] -= g.Value(x) / t.Coef
			if !waits[t.At] {
				waits[t.At] = true
				todo = append(todo, t.At)
			}
		}
	}
	return true
}

// Least is the least value that limits leave a form of one of some parameters that hang
// together, with the first of the stated limits that hold it there, -1 if there is
// none, if limits in a row say so, seen from the point; ok is false if they don't. What can fall by far is
// taken to have none, and is then not bounded. Spend is called with the steps that were
// taken.
func (s *Space) Least(f sparse.Affine, params []int32, far float64, spend func(steps int)) (low sparse.Affine, first int32, bounded, ok bool) {
	if len(f.Terms) != 1 || !s.Stands(f.Terms[0].At) {
		return low, -1, false, false
	}
	s.reach(len(s.Uses))
	s.widen()
	defer func() { s.pay(spend) }()
	t := f.Terms[0]
	at := side{t.At, t.Coef < 0}
	x := s.utmostOf(at, params, far)
	if at.sign()*x > far/2 {
		return low, -1, false, true
	}
	stop := s.endOf(at)
	if !stop.proven || !sparse.Finite(stop.Const) || !(math.Abs(stop.Const-x) <= slip) && !s.comesTo(t.At, stop.Const) {
		return low, -1, false, false
	}
	return sparse.Affine{Const: f.Const + t.Coef*stop.Const, Grad: sparse.Combine(f.Grad, t.Coef, stop.Grad, 0)}, stop.first, true, true
}

// comesTo reports whether a parameter could be moved to a place.
func (s *Space) comesTo(param int32, to float64) bool {
	if !s.move(param, to) {
		return false
	}
	s.undo()
	return true
}

// utmostOf is where a parameter is with all of those with which it hangs together as low,
// or as high, as they can be; NaN if they can't all be.
func (s *Space) utmostOf(at side, params []int32, far float64) float64 {
	x := &s.point.utmost[at.index()%2]
	for len(*x) < len(s.Uses) {
		*x = append(*x, math.Inf(1)) // not known
	}
	if math.IsInf((*x)[at.param], 1) && !s.settle(*x, params, at.up, s.point.at, far) {
		for _, p := range params {
			(*x)[p] = math.NaN()
		}
	}
	return (*x)[at.param]
}
