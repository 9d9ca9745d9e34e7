package linear

import (
	"math"
	"slices"

	"foredge/eval/solve/sparse"
)

// ends are how far parameters can go by limits taken one after another: by each as
// far as the others in it can go by others. None can go farther; where limits stand in
// a circle, or some were fixed since, one may not be able to go that far.
type ends struct {
	of    []end // by sides
	age   int   // those of another one are no longer known
	seen  []int // sides, by the round that saw them
	round int
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
	by  int32
	age int
}

// find finds an end, infinite where nothing stops the parameter. It goes no deeper
// than pushes.
func (s *Space) find(at side, depth int) end {
	if len(s.point.ends.of) != 2*len(s.Uses) {
		s.point.ends = ends{of: make([]end, 2*len(s.Uses)), seen: make([]int, 2*len(s.Uses)), age: 1}
	}
	if known := s.point.ends.of[at.index()]; known.age == s.point.ends.age {
		return known
	}
	sign := 1.0
	if !at.up {
		sign = -1
	}
	best := end{sparse.Affine{Const: sign * math.Inf(1)}, -1, s.point.ends.age}
	s.point.ends.of[at.index()] = best // for those that stand in a circle
	if depth > pushes {
		return best
	}
	s.point.steps += perUse * len(s.Uses[at.param])
	for _, id := range s.Uses[at.param] {
		g := s.Forms[id]
		k := g.Coef(at.param)
		if !s.Floor[id] || k == 0 || (k < 0) != at.up {
			continue
		}
		for _, t := range g.Terms {
			if t.At != at.param {
				s.find(side{t.At, t.Coef > 0}, depth+1)
			}
		}
		if stop := s.stop(at.param, g); sign*stop.Const < sign*best.Const {
			best = end{stop, id, s.point.ends.age}
		}
	}
	s.point.ends.of[at.index()] = best
	return best
}

// stop is where a limit stops a parameter if the others in it go to their ends.
func (s *Space) stop(param int32, limit sparse.Affine) sparse.Affine {
	out := sparse.Affine{Const: limit.Const, Grad: limit.Grad}
	k := 0.0
	for _, t := range limit.Terms {
		if t.At == param {
			k = t.Coef
			continue
		}
		other := s.point.ends.of[side{t.At, t.Coef > 0}.index()]
		out.Const += t.Coef * other.Const
		out.Grad = sparse.Combine(out.Grad, t.Coef, other.Grad, 0)
	}
	return out.Scale(-1 / k)
}

// to lists the limits that make an end, in order, if they still do.
func (s *Space) to(at side) (held []int32, ok bool) {
	ends := &s.point.ends
	ends.round++
	ends.seen[at.index()] = ends.round
	for todo := []side{at}; len(todo) > 0; {
		at, todo = todo[len(todo)-1], todo[:len(todo)-1]
		end := ends.of[at.index()]
		if end.age != ends.age || end.by < 0 || !(math.Abs(s.stop(at.param, s.Forms[end.by]).Const-end.Const) <= slip) {
			return nil, false
		}
		held = append(held, end.by)
		for _, t := range s.Forms[end.by].Terms {
			if next := (side{t.At, t.Coef > 0}); t.At != at.param && ends.seen[next.index()] != ends.round {
				ends.seen[next.index()] = ends.round
				todo = append(todo, next)
			}
		}
	}
	s.point.steps += perUse * len(held)
	slices.Sort(held)
	return slices.Compact(held), true
}
