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
	if len(q.Pending)+len(q.Hard) == 0 {
		return Conflict{}, false
	}
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

// Apart reports whether the equations and limits in play can't all hold wherever within
// their reach their dimensions are, as some of them still wait: the sides of
// `run = (count - 1) * pitch` are apart where the run is at most 50, the count at least 10
// and the pitch at least 9.
func (q *Problem) Apart() bool {
	return q.newBox().narrow()
}

// Waits reports whether equations and limits in play still wait: [Problem.Apart] may tell of
// these.
func (q *Problem) Waits() bool { return len(q.stillWaiting()) > 0 }

// A box is where dimensions are left by what they are tied to, each by itself.
type box struct {
	q  *Problem
	at map[relation.VarID]relation.Range
}

func (q *Problem) newBox() *box { return &box{q: q, at: map[relation.VarID]relation.Range{}} }

// rounds is how often lines narrow what they speak of in turn: a few times round a chain
// of rows and boards, and an end for what would come nearer to a value for ever.
const rounds = 6

// narrow narrows dimensions by each equation and limit in turn, and reports whether that
// leaves nothing: that they can't all hold. Those that don't wait any more tell nothing
// new until another has narrowed what they speak of.
func (b *box) narrow() (nothing bool) {
	lines := b.q.stillWaiting()
	if len(lines) == 0 {
		return false
	}
	for _, r := range b.q.scope.Relations {
		if b.q.Active[r] && !b.q.dead[r] && !slices.Contains(lines, r) {
			lines = append(lines, r)
		}
	}
	for range rounds {
		moved := false
		for _, r := range lines {
			rel := &b.q.Sys.Relations[r]
			if apart(rel, b.rangeOf) {
				return true
			}
			for _, v := range b.q.Vars[r] {
				if b.q.Known[v] {
					continue
				}
				was := b.of(v)
				now := rel.Narrow(v, was, b.rangeOf)
				if above(relation.Range{Low: now.Low}, relation.Range{High: now.High}) {
					return true
				}
				if now.Low-was.Low > rounding(now.Low) || was.High-now.High > rounding(now.High) {
					b.at[v], moved = now, true
				}
			}
		}
		if !moved {
			break
		}
	}
	return false
}

// of is where a dimension is left.
func (b *box) of(v relation.VarID) relation.Range {
	at, ok := b.at[v]
	if !ok {
		low, high := b.q.Reach(b.q.VarForm(v))
		at = relation.Range{Low: low, High: high}
		b.at[v] = at
	}
	return at
}

// rangeOf is the range of an expression that is linear: what the limits leave it, and no
// more than its terms have.
func (b *box) rangeOf(e *relation.Expr) (relation.Range, bool) {
	if e.Op == relation.Ref {
		if _, known := b.q.Lookup(e.Var); !known {
			return b.of(e.Var), true
		}
	}
	out, ok := b.q.rangeOf(e)
	if !ok {
		return out, false
	}
	form, _ := e.Linear(b.q.Lookup)
	terms := relation.Range{Low: form.Const, High: form.Const}
	for _, t := range form.Terms {
		at := b.of(t.Var)
		if t.Coef < 0 {
			at = relation.Range{Low: at.High, High: at.Low}
		}
		terms.Low += t.Coef * at.Low
		terms.High += t.Coef * at.High
	}
	return out.And(terms), true
}

// ApartIn reports whether one equation or limit can't hold wherever its dimensions are.
func (q *Problem) ApartIn(r int32) bool {
	return (!q.Equation[r] || q.IsEquation(r)) && apart(&q.Sys.Relations[r], q.rangeOf)
}

// apart reports whether the ranges of a relation's sides are.
func apart(rel *relation.Relation, known func(*relation.Expr) (relation.Range, bool)) bool {
	left, right := rel.Left.Range(known), rel.Right.Range(known)
	return rel.Sign != relation.GE && above(left, right) || rel.Sign != relation.LE && above(right, left)
}

// above reports whether one range is above another, by more than rounding.
func above(a, b relation.Range) bool { return a.Low-b.High > rounding(a.Low) }

// rounding is how far values are apart that are told from one another.
func rounding(x float64) float64 { return plan.Tolerance * max(1, math.Abs(x)) }

// rangeOf is the range of an expression that is linear.
func (q *Problem) rangeOf(e *relation.Expr) (relation.Range, bool) {
	form, ok := e.Linear(q.Lookup)
	if !ok || !sparse.Finite(form.Const) {
		return relation.Range{}, false
	}
	low, high := q.Reach(q.Form(form))
	return relation.Range{Low: low, High: high}, true
}

// stillWaiting lists the equations and limits that aren't linear yet.
func (q *Problem) stillWaiting() []int32 {
	return slices.DeleteFunc(slices.Concat(q.Pending, q.Hard), func(r int32) bool { return q.Equation[r] && !q.IsEquation(r) })
}

// Narrowed is a range that an expression can't leave within what equations and limits leave
// its parts.
func (q *Problem) Narrowed(e *relation.Expr) relation.Range {
	b := q.newBox()
	b.narrow()
	return e.Range(b.rangeOf)
}
