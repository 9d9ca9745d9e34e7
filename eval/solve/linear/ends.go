package linear

import (
	"math"
	"slices"

	"foredge/eval/solve/sparse"
)

// ends are how far parameters can go by limits taken one after another: by each as
// far as the others in it can go by others. None can go farther; where limits stand in
// a circle one may not be able to go that far.
type ends struct {
	*Space
	of map[side]end
}

// A side is an end of what a parameter can be, the upper or the lower one.
type side struct {
	param int32
	up    bool
}

// An end is where a parameter stops, and the limit that stops it, which has no terms.
type end struct {
	sparse.Affine
	by int32
}

// find finds an end, infinite where nothing stops the parameter. It goes no deeper
// than pushes.
func (e *ends) find(at side, depth int) end {
	if found, ok := e.of[at]; ok {
		return found
	}
	sign := 1.0
	if !at.up {
		sign = -1
	}
	best := end{sparse.Affine{Const: sign * math.Inf(1)}, -1}
	e.of[at] = best // for those that stand in a circle
	if depth > pushes {
		return best
	}
	e.point.steps += perUse * len(e.Uses[at.param])
	for _, id := range e.Uses[at.param] {
		g := e.Forms[id]
		k := g.Coef(at.param)
		if !e.Floor[id] || k == 0 || (k < 0) != at.up {
			continue
		}
		stop := sparse.Affine{Const: g.Const, Grad: g.Grad}
		for _, t := range g.Terms {
			if t.At != at.param {
				other := e.find(side{t.At, t.Coef > 0}, depth+1)
				stop.Const += t.Coef * other.Const
				stop.Grad = sparse.Combine(stop.Grad, t.Coef, other.Grad, 0)
			}
		}
		if stop = stop.Scale(-1 / k); sign*stop.Const < sign*best.Const {
			best = end{stop, id}
		}
	}
	e.of[at] = best
	return best
}

// to lists the limits that make an end, in order.
func (e *ends) to(at side) []int32 {
	var held []int32
	seen := map[side]bool{at: true}
	for todo := []side{at}; len(todo) > 0; {
		at, todo = todo[len(todo)-1], todo[:len(todo)-1]
		id := e.of[at].by
		held = append(held, id)
		for _, t := range e.Forms[id].Terms {
			if next := (side{t.At, t.Coef > 0}); t.At != at.param && !seen[next] {
				seen[next] = true
				todo = append(todo, next)
			}
		}
	}
	slices.Sort(held)
	return slices.Compact(held)
}
