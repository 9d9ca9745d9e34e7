package linear

import (
	"math"

	"foredge/eval/solve/sparse"
)

// ends are how far parameters can go by limits taken one after another: by each as
// far as the others in it can go by others. None can go farther; where limits stand in
// a circle, or others have been fixed since, one may not be able to go that far.
type ends struct {
	of    []end // by sides
	round int   // those of an earlier one are looked for again, but where they are proven
	todo  []side
}

// A side is an end of what a parameter can be, the upper or the lower one.
type side struct {
	param int32
	up    bool
}

// index is the place of a side among all.
func (s side) index() int {
	if s.up {
		return 2*int(s.param) + 1
	}
	return 2 * int(s.param)
}

// An end is where a parameter stops, which has no terms, and the limit that stops it.
type end struct {
	sparse.Affine
	known bool
	by    int32 // -1 for none
	// first is the first of the stated limits that make the end, this and those at the
	// ends of the others in it; -1 for none.
	first int32
	// proven says that the limit stops it there since the others in it are at ends that
	// are proven.
	proven bool
	round  int // in which it was looked for last
}

// endOf is where a parameter stops on a side as far as is known; nowhere, if that
// is not.
func (s *Space) endOf(at side) end {
	if e := s.point.ends.of[at.index()]; e.known {
		return e
	}
	return end{Affine: sparse.Affine{Const: at.sign() * math.Inf(1)}, by: -1, first: -1}
}

func (at side) sign() float64 {
	if at.up {
		return 1
	}
	return -1
}

// find finds an end, infinite where nothing stops the parameter. It goes no deeper
// than pushes.
func (s *Space) find(at side, depth int) {
	e := &s.point.ends.of[at.index()]
	if e.proven || e.known && e.round == s.point.ends.round {
		return
	}
	*e = s.endOf(at)
	e.known, e.round = true, s.point.ends.round // for those that stand in a circle
	if depth > pushes {
		return
	}
	s.narrow(at, func(other side) { s.find(other, depth+1) })
}

// narrow works out an end from those of others, each of which is looked for first.
func (s *Space) narrow(at side, look func(other side)) {
	best := end{Affine: sparse.Affine{Const: at.sign() * math.Inf(1)}, known: true, by: -1, first: -1, round: s.point.ends.round}
	s.point.steps += perUse * len(s.Uses[at.param])
	for _, id := range s.Uses[at.param] {
		g := s.Forms[id]
		k := g.Coef(at.param)
		if !s.Floor[id] || k == 0 || (k < 0) != at.up {
			continue
		}
		for _, t := range g.Terms {
			if t.At != at.param {
				look(side{t.At, t.Coef > 0})
			}
		}
		if stop := s.stop(at.param, id); at.sign()*stop.Const < at.sign()*best.Const {
			stop.known, stop.round = true, best.round
			best = stop
		}
	}
	s.point.ends.of[at.index()] = best
}

// stop is where a limit stops a parameter if the others in it go to their ends.
func (s *Space) stop(param, id int32) end {
	limit := s.Forms[id]
	out := end{Affine: sparse.Affine{Const: limit.Const, Grad: limit.Grad}, by: id, first: -1, proven: true}
	if s.Stated != nil && s.Stated(id) {
		out.first = id
	}
	k := 0.0
	for _, t := range limit.Terms {
		if t.At == param {
			k = t.Coef
			continue
		}
		other := s.endOf(side{t.At, t.Coef > 0})
		out.Const += t.Coef * other.Const
		out.Grad = sparse.Combine(out.Grad, t.Coef, other.Grad, 0)
		out.proven = out.proven && other.proven
		if other.first >= 0 && (out.first < 0 || other.first < out.first) {
			out.first = other.first
		}
	}
	out.Affine = out.Scale(-1 / k)
	return out
}

// doubt takes back what a limit that has changed proved of some parameters, and all
// that rests on that.
func (s *Space) doubt(id int32, params []sparse.Term) {
	if s.point == nil || len(s.point.ends.of) == 0 {
		return
	}
	e := &s.point.ends
	e.todo = e.todo[:0]
	doubt := func(at side, by int32) {
		if i := at.index(); i < len(e.of) && e.of[i].proven && e.of[i].by == by {
			e.of[i].proven = false
			e.todo = append(e.todo, at)
		}
	}
	for _, t := range params {
		doubt(side{t.At, true}, id)
		doubt(side{t.At, false}, id)
	}
	for len(e.todo) > 0 {
		at := e.todo[len(e.todo)-1]
		e.todo = e.todo[:len(e.todo)-1]
		for _, id := range s.Uses[at.param] {
			g := s.Forms[id]
			if k := g.Coef(at.param); !s.Floor[id] || k == 0 || (k > 0) != at.up {
				continue
			}
			for _, t := range g.Terms {
				if t.At != at.param {
					doubt(side{t.At, t.Coef < 0}, id)
				}
			}
		}
	}
}
