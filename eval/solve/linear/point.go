package linear

import (
	"cmp"
	"math"
	"slices"

	"foredge/eval/solve/sparse"
)

// A point of a space gives some of its parameters values with which no form that has
// a floor is below it. It is kept while forms are fixed that are 0 there, so that
// what can be shown by moving a few parameters need not be worked out with all that
// hang together with them.
type point struct {
	at    []float64 // NaN where a parameter has no value
	moved []move    // on the way, to be undone
	seen  []int     // parameters, by the round that moved them
	round int
	ends  ends // how far parameters can go, once that was asked for
	steps int  // taken since they were asked for
	// utmost are points at which each parameter is as low, or as high, as it can be, if
	// all can be at once; until something is fixed.
	utmost [2][]float64
}

type move struct {
	param int32
	was   float64
}

const (
	// slip is how far below its floor a form may be at a point, in mm.
	slip = 1e-9
	// pushes is how many parameters are moved out of the way of one, and how many
	// stand in a row that stops it.
	pushes = 50_000
	// restRounds is how often each limit is looked at on the way to a point at rest.
	restRounds = 8
	// perUse is how many steps it takes to look at a form of a parameter.
	perUse = 5
)

// Stand takes values of all parameters that hang together through limits, with which
// these hold.
func (s *Space) Stand(params []int32, x []float64) {
	s.reach(len(s.Uses))
	for i, p := range params {
		s.point.at[p] = x[i]
	}
}

// Stands reports whether the point gives a parameter a value.
func (s *Space) Stands(param int32) bool {
	return s.point != nil && int(param) < len(s.point.at) && !math.IsNaN(s.point.at[param])
}

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

// widen makes place for the ends of all parameters.
func (s *Space) widen() {
	ends := &s.point.ends
	ends.of = append(ends.of, make([]end, 2*len(s.Uses)-len(ends.of))...)
}

// pay accounts for the steps taken.
func (s *Space) pay(spend func(steps int)) {
	spend(s.point.steps)
	s.point.steps = 0
}

// Standing is the value of a form at the point; NaN if it has none.
func (s *Space) Standing(f sparse.Affine) float64 {
	s.reach(len(s.Uses))
	return f.Value(s.point.at)
}

// Leave forgets the point.
func (s *Space) Leave() { s.point = nil }

// reach makes place for n parameters.
func (s *Space) reach(n int) {
	if s.point == nil {
		s.point = &point{}
	}
	for len(s.point.at) < n {
		s.point.at = append(s.point.at, math.NaN())
	}
}

// keep forgets the point where a form that is fixed isn't 0 there.
func (s *Space) keep(f sparse.Affine) {
	if s.point == nil {
		return
	}
	s.point.utmost = [2][]float64{}
	s.reach(len(s.Uses))
	known := false
	for _, t := range f.Terms {
		known = known || s.Stands(t.At)
	}
	if known && !(math.Abs(f.Value(s.point.at)) <= slip) {
		s.Leave()
	}
}

// Slide brings a form as near to 0 as limits let it, if that can be seen from the point
// by moving one parameter: what it meets is pushed out of the way, and where that can't
// give way, and the form has no other, the limits in a row up to there say how far it
// can come. It gives the value
// and the first of the stated limits that stopped it, -1 if there is none. Spend is
// called with the steps that were taken.
func (s *Space) Slide(f sparse.Affine, spend func(steps int)) (value sparse.Affine, first int32, ok bool) {
	if slices.ContainsFunc(f.Terms, func(t sparse.Term) bool { return !s.Stands(t.At) }) {
		return value, -1, false
	}
	s.reach(len(s.Uses))
	s.widen()
	defer func() { s.pay(spend) }()
	if len(f.Terms) != 1 {
		return value, -1, s.reaches(f)
	}
	ends := &s.point.ends
	t := f.Terms[0]
	goal := -f.Const / t.Coef
	at := side{t.At, goal > s.point.at[t.At]}
	if at.sign()*(goal-s.endOf(at).Const) <= slip && s.move(t.At, goal) {
		return value, -1, true
	}
	looks := []func(){
		func() { s.find(at, 0) },
		// Ends found before others were fixed may be too far by now: by what has changed
		// beside it, or farther away.
		func() { s.narrow(at, func(side) {}) },
		func() {
			clear(ends.of)
			s.find(at, 0)
		},
	}
	for _, look := range looks {
		ends.round++
		look()
		stop := s.endOf(at)
		if stop.proven && sparse.Finite(stop.Const) && at.up == (goal > stop.Const) && s.move(t.At, stop.Const) {
			return sparse.Affine{Const: f.Const + t.Coef*stop.Const, Grad: sparse.Combine(f.Grad, t.Coef, stop.Grad, 0)}, stop.first, true
		}
	}
	return value, -1, false
}

// reaches reports whether a form comes to 0 by moving one of its parameters, and moves it.
func (s *Space) reaches(f sparse.Affine) bool {
	v := f.Value(s.point.at)
	for _, t := range f.Terms {
		if !s.move(t.At, s.point.at[t.At]-v/t.Coef) {
			continue
		}
		if math.Abs(f.Value(s.point.at)) <= slip {
			return true
		}
		s.undo() // another one was in the way
	}
	return false
}

// undo takes the last move back.
func (s *Space) undo() {
	for _, m := range s.point.moved {
		s.point.at[m.param] = m.was
	}
}

// move moves a parameter, and others out of its way, each once. Where that doesn't do
// nothing is moved.
func (s *Space) move(param int32, to float64) bool {
	at, moved := s.point.at, s.point.moved[:0]
	defer func() { s.point.moved = moved }() // kept for undo
	s.point.round++
	s.point.seen = append(s.point.seen, make([]int, len(at)-len(s.point.seen))...)
	seen, round := s.point.seen, s.point.round
	step := func(p int32, to float64) {
		seen[p] = round
		moved = append(moved, move{p, at[p]})
		at[p] = to
	}
	step(param, to)
	for i := 0; i < len(moved); i++ {
		uses := s.Uses[moved[i].param]
		s.point.steps += perUse * len(uses)
		for _, id := range uses {
			g := s.Forms[id]
			if !s.Floor[id] || len(g.Terms) == 0 {
				continue
			}
			v := g.Value(at)
			if v >= -slip {
				continue
			}
			best := sparse.Term{}
			for _, t := range g.Terms {
				if seen[t.At] != round && math.Abs(t.Coef) > math.Abs(best.Coef) {
					best = t
				}
			}
			if best.Coef == 0 || math.IsNaN(v) || len(moved) >= pushes {
				for _, m := range moved {
					at[m.param] = m.was
				}
				return false
			}
			step(best.At, at[best.At]-v/best.Coef)
		}
	}
	return true
}
