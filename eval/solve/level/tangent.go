package level

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/linear"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

// A point is where what isn't linear is taken by its tangents, with its kinks
// rounded off.
type point struct {
	values   []float64
	rounding float64 // in mm
	stuck    bool    // near it some limits leave nothing
}

// tangent is left - right of a relation linearised at a point.
func (d *Design) tangent(rel *relation.Relation, at *point) relation.Form {
	v, terms := rel.RoundedGradient(at.values, at.rounding)
	f := relation.Form{Const: v, Terms: terms}
	for _, t := range terms {
		f.Const -= t.Coef * at.values[t.Var]
	}
	return f
}

// tangentOutcomes solves for goals where equations and limits that aren't linear
// wait for them: again and again with those replaced by their tangents at the
// point found last. Kinks are rounded off at first, so that no side of one is
// taken only because the search began there. It is nil if that leads nowhere; else
// it comes with those tangents.
func (d *Design) tangentOutcomes(goals []goal) ([]outcome, bend) {
	for _, s := range []stride{{1, 150}, {0.5, 150}, {0.25, 300}, {0.1, 600}} {
		if out, bent := d.tangentSearch(goals, s); out != nil {
			return out, bent
		}
	}
	return nil, bend{}
}

// A stride is which share of the way to what the tangents tell a search goes at a time, and how
// often at the most. Whole ways overshoot where goals that are curved are far from being met.
type stride struct {
	share float64
	times int
}

// tangentSearch is one search of [Design.tangentOutcomes].
func (d *Design) tangentSearch(goals []goal, by stride) ([]outcome, bend) {
	q := d.Problem
	base := q.Space
	defer func() { q.Space, q.PartOf = base, nil }()
	x := slices.Clone(q.Value)
	for _, v := range d.scope.Vars {
		if !q.Known[v] {
			q.VarForm(v)
			x[v] = 1
		}
	}
	at := &point{values: x}
	if d.kinked(goals) {
		at.rounding = roundest
	}
	d.outcomes(goals, at)
	d.start(at)
	for range by.times {
		q.PartOf = nil
		q.Space = base.Clone()
		d.bendTo(d.tangents(at))
		at.stuck = false
		before := slices.Clone(x)
		out := d.outcomes(goals, at)
		moved := 0.0
		for _, v := range d.scope.Vars {
			if !q.Known[v] {
				moved = max(moved, math.Abs(x[v]-before[v])/max(1, math.Abs(x[v])))
				if by.share < 1 {
					x[v] = before[v] + by.share*(x[v]-before[v])
				}
			}
		}
		if !sparse.Finite(moved) {
			return nil, bend{}
		}
		switch {
		case moved >= 1e-11 || at.rounding > 0:
		case at.stuck:
			return nil, bend{}
		default:
			return append(out, d.settled(goals, at, base)...), d.tangents(at)
		}
		if at.rounding /= 2; at.rounding < 1e-7 {
			at.rounding = 0
		}
	}
	return nil, bend{}
}

// start takes a point to where a search can begin: what the goals have left where
// it was becomes as good as 1 within its limits.
func (d *Design) start(at *point) {
	q := d.Problem
	waiting := make([]bool, len(at.values))
	for _, r := range slices.Concat(q.Pending, q.Hard) {
		for _, v := range q.Vars[r] {
			waiting[v] = true
		}
	}
	for _, v := range d.scope.Vars {
		if q.Known[v] || math.Abs(at.values[v]) >= 1e-6 {
			continue
		}
		at.values[v] = 1 // off the place where a product has no slope
		if waiting[v] {
			low, high := q.Reach(q.VarForm(v))
			at.values[v] = max(min(1, high), low)
		}
	}
}

// settled are the outcomes of wishes about what is open in a space and decided
// once it is bent.
func (d *Design) settled(goals []goal, at *point, base *linear.Space) []outcome {
	q, bent := d.Problem, d.Problem.Space
	defer func() { q.Space = bent }()
	var out []outcome
	for i := range goals {
		g := &goals[i]
		form, ok := d.goalForm(g, at)
		if !ok || g.level != Wish {
			continue
		}
		q.Space = bent
		target := q.Form(form)
		if q.Space = base; len(target.Terms) > 0 || len(q.Form(form).Terms) == 0 {
			continue
		}
		o := outcome{Fixing: Fixing{Level: Wish, Index: g.index, Met: math.Abs(target.Const) <= plan.Tolerance}, form: form, target: target}
		for _, t := range form.Terms {
			o.Vars = append(o.Vars, t.Var)
		}
		out = append(out, o)
	}
	return out
}

// roundest is how far kinks are rounded off at first, in mm: about as far as a
// board reaches.
const roundest = 128

// kinked reports whether what isn't linear has kinks.
func (d *Design) kinked(goals []goal) bool {
	has := func(r int32) bool { return d.Sys.Relations[r].HasKinks() }
	return slices.ContainsFunc(d.Problem.Pending, has) || slices.ContainsFunc(d.Problem.Hard, has) ||
		slices.ContainsFunc(goals, func(g goal) bool {
			r := g.sides()
			return r.HasKinks()
		})
}

// tangents are what becomes of the equations and limits that aren't linear at a
// point.
func (d *Design) tangents(at *point) (bent bend) {
	q := d.Problem
	for _, r := range q.Pending {
		if q.IsEquation(r) {
			bent.equations = append(bent.equations, d.tangent(&q.Sys.Relations[r], at))
		}
	}
	for _, r := range q.Hard {
		f := d.tangent(&q.Sys.Relations[r], at)
		if q.Sys.Relations[r].Sign == relation.LE {
			f = f.Scale(-1)
		}
		bent.limits = append(bent.limits, f)
	}
	return bent
}

// bendTo makes what equations and limits that aren't linear come to part of the space.
func (d *Design) bendTo(bent bend) {
	q := d.Problem
	sound := func(a sparse.Affine) bool { return sparse.Finite(a.Const) && sparse.Finite(sparse.Largest(a.Terms)) }
	for _, f := range bent.equations {
		if a := q.Form(f); sound(a) {
			q.Space.Fix(a)
		}
	}
	for _, f := range bent.limits {
		if a := q.Form(f); sound(a) && len(a.Terms) > 0 {
			q.Space.Track(a, true)
		}
	}
}
