package linear

import (
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
// can come. It gives the value and the first of the stated limits that stopped it, -1 if
// there is none. Spend is called with the steps that were taken.
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
