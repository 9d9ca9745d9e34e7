package must

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/optimize"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

// large is the size, limits times parameters, from which a part is too large
// for a dictionary and is left to the interior-point method.
const large = 40000

// FormsOf are the forms of the space with the given numbers.
func (q *Problem) FormsOf(ids []int32) []sparse.Affine {
	forms := make([]sparse.Affine, len(ids))
	for i, id := range ids {
		forms[i] = q.Space.Forms[id]
	}
	return forms
}

func (q *Problem) polyhedron(params, limits []int32) *optimize.Polyhedron {
	// Each limit may take a pivot of them all.
	q.Spend(min(len(limits), len(params))*len(limits)*(1+len(params))/4, q.about(limits))
	return optimize.NewPolyhedron(params, q.FormsOf(limits), limits)
}

// QP is a least squares problem with some of the limits of the space.
func (q *Problem) QP(params []int32, goals []sparse.Affine, limits []int32, weights []float64) *optimize.QP {
	return q.QPOf(params, goals, q.FormsOf(limits), weights, q.about(limits))
}

// QPOf is one with some further limits, about a dimension, -1 for none.
func (q *Problem) QPOf(params []int32, goals, limits []sparse.Affine, weights []float64, at relation.VarID) *optimize.QP {
	w := optimize.NewQP(params, goals, limits, weights)
	w.Spend = func(steps int) { q.Spend(steps, at) }
	return w
}

// Reach gives the range of a form over what the limits leave; infinite where
// nothing bounds it.
func (q *Problem) Reach(a sparse.Affine) (low, high float64) {
	low, high = math.Inf(-1), math.Inf(1)
	if l, _, is := q.Least(a); is == Bounded {
		low = l.Const
	}
	if h, _, is := q.Least(a.Scale(-1)); is == Bounded {
		high = -h.Const
	}
	return low, high
}

// A Boundedness says whether a form has a least value.
type Boundedness uint8

const (
	Bounded   Boundedness = iota // it has one
	Unbounded                    // nothing bounds it
	Unsettled                    // it could not be worked out
)

// Least gives the least value of a form over what the limits leave, with limits that
// hold it there, the first stated one among them.
func (q *Problem) Least(a sparse.Affine) (low sparse.Affine, held []int32, is Boundedness) {
	if len(a.Terms) == 0 {
		return a, nil, Bounded
	}
	p := q.Part(a)
	if len(p.limits) == 0 {
		return sparse.Affine{}, nil, Unbounded
	}
	if q.stands(p) {
		if low, by, bounded, ok := q.Space.Least(a, p.params, outOfReach, q.spendHere); ok && bounded {
			return low, stated(by), Bounded
		} else if ok {
			return sparse.Affine{}, nil, Unbounded
		}
	}
	switch {
	case !p.Large:
		poly := q.polyhedronOf(p)
		if poly.Empty {
			return sparse.Affine{}, nil, Unsettled
		}
		if low, held, ok := poly.Least(a); ok {
			return low, held, Bounded
		}
		return sparse.Affine{}, nil, Unbounded
	}
	if p.nowhere {
		return sparse.Affine{}, nil, Unsettled
	}
	// As near as it can come to a value that is out of reach.
	goal := a
	goal.Const += outOfReach
	b, found := q.QP(p.params, []sparse.Affine{goal}, p.limits, []float64{1}).Solve()
	switch {
	case !found:
		p.nowhere = !q.stands(p)
		return sparse.Affine{}, nil, Unsettled
	case b.Value[0].Const < 1:
		return sparse.Affine{}, nil, Unbounded
	}
	for _, i := range b.Acting {
		held = append(held, p.limits[i])
	}
	low = b.Value[0]
	low.Const -= outOfReach
	return low, held, Bounded
}

// outOfReach is farther than any dimension of a design, in mm.
const outOfReach = 1e6

// Pinned is the value of a form to which limits leave no more than some room, as it moves
// with the benches, and a limit (a relation) that holds it there, -1 if none is stated. In
// a part too large for that it isn't looked for.
func (q *Problem) Pinned(a sparse.Affine, room float64) (at sparse.Affine, limit int32, ok bool) {
	if q.unstopped(a) || q.Part(a).Large {
		return at, -1, false
	}
	if low, high := q.Seen(a); high-low > 2*room {
		return at, -1, false
	}
	low, by, is := q.Least(a)
	if is != Bounded {
		return at, -1, false
	}
	high, from, is := q.Least(a.Scale(-1))
	if is != Bounded || -high.Const-low.Const > room {
		return at, -1, false
	}
	at, limit = sparse.Affine{Const: (low.Const - high.Const) / 2, Grad: low.Grad}, -1
	for _, l := range q.LimitsOf(append(by, from...)) {
		if limit < 0 {
			limit = l
		}
	}
	return at, limit, true
}

// fewUses is how many forms may speak of a parameter for these to be looked through each time
// that it is asked for.
const fewUses = 16

// unstopped reports whether a form can be moved as far as one likes by a parameter alone. Many
// forms may share one of which many speak, so such a one is looked at once.
func (q *Problem) unstopped(a sparse.Affine) bool {
	return slices.ContainsFunc(a.Terms, func(t sparse.Term) bool {
		if len(q.Space.Uses[t.At]) <= fewUses {
			return q.Space.Unstopped(t.At)
		}
		p := q.Part(a)
		if p.stops == nil {
			p.stops = make([]stops, len(p.params))
		}
		i, _ := slices.BinarySearch(p.params, t.At)
		if p.stops[i] == unasked {
			if p.stops[i] = stopped; q.Space.Unstopped(t.At) {
				p.stops[i] = unstopped
			}
		}
		return p.stops[i] == unstopped
	})
}

// Part is the part of a form, remembered until something in it is fixed.
func (q *Problem) Part(a sparse.Affine) *Part {
	p := q.partAt(a.Terms[0].At)
	if p != nil && !slices.ContainsFunc(a.Terms, func(t sparse.Term) bool { return q.partAt(t.At) != p }) {
		return p
	}
	p = &Part{}
	p.params, p.limits = q.Space.Around(a)
	p.Large = len(p.params)*len(p.limits) > large
	if n := len(q.Space.Uses) - len(q.PartOf); n > 0 {
		q.PartOf = append(q.PartOf, make([]*Part, n)...)
	}
	for _, x := range p.params {
		q.PartOf[x] = p
	}
	return p
}

// partAt is the part of a parameter, nil if it isn't worked out.
func (q *Problem) partAt(param int32) *Part {
	if int(param) >= len(q.PartOf) {
		return nil
	}
	return q.PartOf[param]
}

// Seen is a range within which limits let a form take all values, by points that were
// come by; a low above the high if there is none. It is known for less than its reach.
func (q *Problem) Seen(a sparse.Affine) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	if len(a.Terms) == 0 {
		return low, high
	}
	p := q.Part(a)
	if p.poly != nil {
		low, high = p.poly.Seen(a)
	}
	if q.stands(p) {
		if v := q.Space.Standing(a); sparse.Finite(v) {
			low, high = min(low, v), max(high, v)
		}
	}
	return low, high
}

// polyhedronOf is what the limits of a part leave.
func (q *Problem) polyhedronOf(p *Part) *optimize.Polyhedron {
	if p.poly == nil {
		p.poly = q.polyhedron(p.params, p.limits)
	}
	return p.poly
}

// few is how many parameters are so few that nothing is gained by a point in what
// their limits leave.
const few = 8

// slide is Nearest where a point of the space shows it, with no more than the first of
// the stated limits; see [linear.Space.Slide].
func (q *Problem) slide(a sparse.Affine) (target sparse.Affine, held []int32, ok bool) {
	target, by, ok := q.Space.Slide(a, q.spendHere)
	if !ok || math.Abs(target.Const) <= optimize.Feasible {
		return sparse.Affine{}, nil, ok
	}
	return target, q.LimitsOf(stated(by)), true
}

// stated is a list of a limit; of none for -1.
func stated(form int32) []int32 {
	if form < 0 {
		return nil
	}
	return []int32{form}
}

// stand finds a point that the limits of a part leave: the lowest, or else the one
// nearest to a fair guess.
func (q *Problem) stand(p *Part) bool {
	if q.rests(p) {
		return true
	}
	x, ok := q.QP(p.params, nil, p.limits, nil).Project()
	if ok {
		q.Space.Stand(p.params, x)
	}
	return ok
}

// rests looks for the lowest point that the limits of a part leave, once.
func (q *Problem) rests(p *Part) bool {
	if p.restless {
		return false
	}
	p.restless = !q.Space.Rest(p.params, q.spendHere)
	return !p.restless
}

// stands reports whether there is a point for a part of more than a few parameters. It
// is looked for once.
func (q *Problem) stands(p *Part) bool {
	if len(p.params) <= few {
		return false
	}
	at := p.params[0]
	if !q.Space.Stands(at) && !p.sought {
		p.sought = true
		q.stand(p)
	}
	return q.Space.Stands(at)
}

// spendHere counts steps of work on what is in hand.
func (q *Problem) spendHere(steps int) { q.Spend(steps, -1) }

// Nearest is the value nearest to 0 that a form can take, with limits that keep it
// from 0, the first stated one among them. There may be as many as there are limits:
// to list them all of each of many forms would take longer than to find them.
func (q *Problem) Nearest(a sparse.Affine) (target sparse.Affine, held []int32, ok bool) {
	if target, held, ok = q.slide(a); ok {
		return target, held, true
	}
	p := q.Part(a)
	if q.stands(p) {
		if target, held, ok = q.slide(a); ok {
			return target, held, true
		}
	}
	if p.Large {
		w := q.QP(p.params, []sparse.Affine{a}, p.limits, []float64{1})
		b, ok := w.Solve()
		if ok && b.Worst >= -optimize.Feasible/10 {
			q.Space.Stand(p.params, b.X)
		}
		if !ok || math.Abs(b.Value[0].Const) <= plan.Tolerance {
			return sparse.Affine{}, nil, ok
		}
		for _, i := range b.Acting {
			held = append(held, p.limits[i])
		}
		return b.Value[0], q.LimitsOf(held), true
	}
	low, by, is := q.Least(a)
	switch {
	case is == Unsettled:
		return sparse.Affine{}, nil, false
	case is == Bounded && low.Const > optimize.Feasible:
		return low, q.LimitsOf(by), true
	}
	high, by, is := q.Least(a.Scale(-1))
	switch {
	case is == Unsettled:
		return sparse.Affine{}, nil, false
	case is == Bounded && -high.Const < -optimize.Feasible:
		return high.Scale(-1), q.LimitsOf(by), true
	}
	return sparse.Affine{}, nil, true
}

// LimitsOf gives the relations of limits of the space; -1 for sign rules.
func (q *Problem) LimitsOf(forms []int32) []int32 {
	out := []int32{}
	for _, f := range forms {
		if l, ok := q.LimitOf(f); ok {
			out = append(out, l.Relation)
		}
	}
	return out
}

// StatedReach is the range of a form by the stated limits alone.
func (q *Problem) StatedReach(a sparse.Affine) (low, high float64) {
	if len(a.Terms) == 0 {
		return a.Const, a.Const
	}
	params, limits := q.Space.Around(a)
	kept := limits[:0]
	for _, l := range limits {
		if by, ok := q.LimitOf(l); ok && by.Relation >= 0 {
			kept = append(kept, l)
		}
	}
	return q.polyhedron(params, kept).Reach(a)
}
