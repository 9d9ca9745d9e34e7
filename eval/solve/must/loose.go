package must

import (
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/root"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

const (
	// besides is how far beside a solution it is looked at what the equations say there, in mm.
	besides = 1e-4
	// stretch is how far a block has to hold for it to hold on a whole stretch, in mm.
	stretch = 1e-2
	// mostAlong is along how many of the parameters, to both sides, that is looked at.
	mostAlong = 20
)

// loose reports whether a solution of a block lies on a whole stretch of them: then one of
// the equations says nothing there that the others don't, and they decide nothing. Two that
// say the same do so everywhere; a min or max says nothing on the side of the solution where
// what it is of isn't the least or the most. A stretch that only leads to where a limit or a sign
// rule is broken doesn't count, unless one is broken by the solution too.
func (q *Problem) loose(b *block, put func([]float64), z []float64) bool {
	derivatives := q.linearisedAt(b, put, 0)
	here, _ := derivatives(z)
	about, _ := q.linearisedAt(b, put, besides)(z)
	if len(root.Unsaid(here)) == 0 && mat.EqualApprox(here, about, 1e-6) {
		return false
	}
	allowed := q.allows(b, z)
	norm, bothWays := q.norm(b, put), q.linearisedAt(b, put, bothSides)
	along := 2 * min(len(z), mostAlong)
	for side := range along + 4 {
		beside := slices.Clone(z)
		for i := range beside {
			switch {
			case side >= along: // aslant
				beside[i] += besides * (2*root.Start(side, i, 0, 1) - 1)
			case side/2 == i:
				beside[i] += besides * float64(1-side%2*2)
			}
		}
		there, _ := derivatives(beside)
		for _, direction := range root.Unsaid(there) {
			for _, way := range [...]float64{stretch, -stretch} {
				on := slices.Clone(z)
				for i := range on {
					on[i] += way * direction[i]
				}
				if root.NewtonShortest(on, norm, bothWays) && floats.Distance(on, z, 2) > stretch/2 &&
					q.signsHold(b, put, on) && (!allowed || q.allows(b, on)) {
					return true
				}
			}
		}
	}
	return false
}

// signsHold reports whether no sign rule of a block's dimensions is broken at given parameters.
func (q *Problem) signsHold(b *block, put func([]float64), z []float64) bool {
	put(z)
	return !q.signs || !slices.ContainsFunc(b.vars, func(v relation.VarID) bool {
		return !q.Sys.Vars[v].Signed && q.Value[v] < -plan.Tolerance
	})
}
