package optimize

import (
	"math"
	"slices"

	"foredge/eval/solve/sparse"
)

const (
	// mostVisited points are enough to show of most forms that they have room.
	mostVisited = 16
	// apart is how far points lie apart, in mm, to be of use.
	apart = 0.1
)

// visit remembers the corner that the polyhedron is at or, if a column is given along
// which it goes on without end, a point on that way.
func (p *Polyhedron) visit(col int) {
	if len(p.points) == mostVisited {
		return
	}
	x := make([]float64, len(p.params))
	for j := range x {
		switch w := p.where[j]; {
		case w >= 0 && col >= 0:
			x[j] = p.table[w][0] + p.table[w][1+col]
		case w >= 0:
			x[j] = p.table[w][0]
		case -1-w == col:
			x[j] = 1
		}
	}
	same := func(y []float64) bool {
		return slices.EqualFunc(x, y, func(a, b float64) bool { return math.Abs(a-b) < apart })
	}
	if !slices.ContainsFunc(p.points, same) {
		p.points = append(p.points, x)
	}
}

// Seen is the range of a form over the points at which the least values of forms were
// found; a low above the high if there is none. As the set is convex the form can take
// all values between.
func (p *Polyhedron) Seen(f sparse.Affine) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, x := range p.points {
		v := f.Const
		for _, t := range f.Terms {
			j, found := slices.BinarySearch(p.params, t.At)
			if !found {
				return math.Inf(1), math.Inf(-1)
			}
			v += t.Coef * x[j]
		}
		low, high = min(low, v), max(high, v)
	}
	return low, high
}
