package must

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

// Waiting is what hangs together with some dimensions through others that are open, and
// what the values of those that aren't lean on. It reports whether an equation or a limit
// among that waits for more, as it isn't linear yet.
func (q *Problem) Waiting(todo []relation.VarID, open func(relation.VarID) bool) (c Conflict, waits bool) {
	lines := q.Connected(todo, open, nil).Relations
	waits = slices.ContainsFunc(lines, func(r int32) bool {
		switch {
		case q.Limit[r]:
			_, ok := q.LimitForms(r)
			return !ok
		case q.IsEquation(r):
			_, ok := q.difference(r, nil)
			return !ok
		}
		return false
	})
	if !waits {
		return Conflict{}, false
	}
	return q.conflict(lines, nil), true
}

// Apart reports whether an equation or a limit that still waits can't hold wherever within
// their reach its dimensions are: the sides of `run = (count - 1) * pitch` are apart where
// the run is at most 50, the count at least 10 and the pitch at least 9.
func (q *Problem) Apart() bool {
	return slices.ContainsFunc(slices.Concat(q.Pending, q.Hard), q.ApartIn)
}

// ApartIn reports that of one equation or limit.
func (q *Problem) ApartIn(r int32) bool {
	rel := &q.Sys.Relations[r]
	if q.Equation[r] && !q.IsEquation(r) {
		return false
	}
	left, right := q.RangeOf(&rel.Left), q.RangeOf(&rel.Right)
	return rel.Sign != relation.GE && above(left, right) || rel.Sign != relation.LE && above(right, left)
}

// above reports whether one range is above another, by more than rounding.
func above(a, b relation.Range) bool {
	return a.Low-b.High > plan.Tolerance*max(1, math.Abs(a.Low))
}

// RangeOf is a range that an expression can't leave within what the limits leave its parts.
func (q *Problem) RangeOf(e *relation.Expr) relation.Range { return e.Range(q.rangeOf) }

// rangeOf is the range of an expression that is linear.
func (q *Problem) rangeOf(e *relation.Expr) (relation.Range, bool) {
	form, ok := e.Linear(q.Lookup)
	if !ok || !sparse.Finite(form.Const) {
		return relation.Range{}, false
	}
	low, high := q.Reach(q.Form(form))
	return relation.Range{Low: low, High: high}, true
}

// Narrowed is the range that is left of one of a dimension by the equations and limits that
// still wait and speak of it.
func (q *Problem) Narrowed(v relation.VarID, to relation.Range) relation.Range {
	for _, r := range slices.Concat(q.Pending, q.Hard) {
		rel := &q.Sys.Relations[r]
		if q.Equation[r] && !q.IsEquation(r) {
			continue
		}
		left, right := q.RangeOf(&rel.Right), q.RangeOf(&rel.Left)
		switch rel.Sign {
		case relation.LE:
			left.Low, right.High = math.Inf(-1), math.Inf(1)
		case relation.GE:
			left.High, right.Low = math.Inf(1), math.Inf(-1)
		}
		to = rel.Left.Narrow(v, to, left, q.rangeOf)
		to = rel.Right.Narrow(v, to, right, q.rangeOf)
	}
	return to
}
