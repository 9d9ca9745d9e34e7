package level

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/must"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

// meet makes goals equations, as near as they can all come, and so does it with
// the limits that hold wishes back.
func (d *Design) meet(goals []goal) {
	if goals[0].level == Wish {
		d.unmet = nil
	}
	if goals[0].level == Default && len(goals) > 1 && !d.stopped(goals) {
		// Defaults seldom get into each other's way.
		before := d.now()
		if d.inTurn(goals) {
			return
		}
		if d.now().fixed > before.fixed {
			d.back(before)
		}
	}
	if len(goals) == 1 && goals[0].level == Default && !d.curved(goals) {
		d.meetAlone(&goals[0])
		return
	}
	outcomes, _ := d.best(goals)
	d.settle(outcomes)
}

// meetAlone makes a default that isn't met together with others an equation, as near as
// limits let it come.
func (d *Design) meetAlone(g *goal) {
	form, _ := d.goalForm(g, nil)
	a := d.Problem.Form(form)
	if len(a.Terms) == 0 {
		return
	}
	if target, held, ok := d.Problem.Nearest(a); ok {
		if o, ok := d.outcomeOf(openGoal{g, form, a}, target, held); ok && d.fix(form, a, o.target) {
			d.Fixed = append(d.Fixed, o.Fixing)
		}
	}
}

// stopped reports whether one of a few goals can't be met even by itself, so that
// there is no use in meeting them in turn.
func (d *Design) stopped(goals []goal) bool {
	return len(goals) <= fewGoals && slices.ContainsFunc(goals, func(g goal) bool {
		form, ok := d.goalForm(&g, nil)
		if !ok {
			return false
		}
		a := d.Problem.Form(form)
		if len(a.Terms) == 0 {
			return false
		}
		target, _, ok := d.Problem.Nearest(a)
		return ok && !(math.Abs(target.Const) <= plan.Tolerance)
	})
}

// inTurn makes goals equations one after another. It reports whether each could
// be met in full: then all of them at once, or in another order, come to the same.
func (d *Design) inTurn(goals []goal) bool {
	for _, late := range []bool{false, true} {
		for i := range goals {
			if goals[i].late == late && !d.meetFully(&goals[i]) {
				return false
			}
		}
	}
	return true
}

// meetFully makes a goal an equation, if limits and what was met before leave
// room for it.
func (d *Design) meetFully(g *goal) bool {
	form, ok := d.goalForm(g, nil)
	if !ok {
		return false
	}
	a := d.Problem.Form(form)
	if len(a.Terms) == 0 {
		return math.Abs(a.Const) <= plan.Tolerance
	}
	target, _, ok := d.Problem.Nearest(a)
	if !ok || !(math.Abs(target.Const) <= plan.Tolerance) {
		return false
	}
	target.Const = 0
	if !d.fix(form, a, target) {
		return false
	}
	d.Fixed = append(d.Fixed, Fixing{Level: g.level, Index: g.index, Met: true, late: g.late, Vars: d.varsOf(form)})
	return true
}

// varsOf lists the dimensions of a form.
func (d *Design) varsOf(form relation.Form) []relation.VarID {
	vars := d.named.Take(len(form.Terms))
	for i, t := range form.Terms {
		vars[i] = t.Var
	}
	return vars
}

// A state is what later levels have fixed so far.
type state struct {
	extra  []must.ExtraRow
	fixed  int
	pinned int
}

// now is the state of today. Rows are only ever added after those there are, so
// they need not be copied.
func (d *Design) now() state { return state{slices.Clip(d.Problem.Extra), len(d.Fixed), len(d.Pinned)} }

// back undoes what was fixed after a state.
func (d *Design) back(s state) {
	d.Problem.Close()
	d.Problem = d.begin(slices.Clone(s.extra))
	d.Problem.Bound()
	d.Fixed, d.Pinned = d.Fixed[:s.fixed], d.Pinned[:s.pinned]
	d.extraOf, d.filed, d.refused, d.unmet = nil, 0, nil, nil
}

// A bend is what equations and limits that aren't linear come to where goals are met:
// forms that are 0, or at least 0.
type bend struct{ equations, limits []relation.Form }

// best is what goals come to if they are all met as nearly as they can be, and what
// becomes of what isn't linear then.
func (d *Design) best(goals []goal) ([]outcome, bend) {
	if !d.curved(goals) {
		return d.outcomes(goals, nil), bend{}
	}
	part := d.divideBent(goals)
	out := d.outcomes(part.straight, nil)
	var bent bend
	curved := part.curved
	for i, p := range part.pieces {
		more, by, ok := p.outcomes(i+1, len(part.pieces))
		if !ok {
			for _, g := range p.goals {
				curved = append(curved, *g)
			}
			continue
		}
		out = append(out, more...)
		bent.equations, bent.limits = append(bent.equations, by.equations...), append(bent.limits, by.limits...)
	}
	if len(curved) == 0 {
		return out, bent
	}
	more, by := d.tangentOutcomes(curved)
	if more == nil {
		return append(out, d.outcomes(curved, nil)...), bent
	}
	return append(out, more...), bend{append(bent.equations, by.equations...), append(bent.limits, by.limits...)}
}

// settle makes outcomes equations: the acting limits first, then goals that are
// met, as they explain more.
func (d *Design) settle(outcomes []outcome) {
	outcomes = d.settlePieces(outcomes)
	var many [ranks]int
	for i := range outcomes {
		many[outcomes[i].rank()]++
	}
	var like []outcome
	for rank, n := range many {
		switch n {
		case 0:
			continue
		case len(outcomes):
			d.fixAll(outcomes)
			return
		}
		like = slices.Grow(like[:0], n)
		for i := range outcomes {
			if outcomes[i].rank() == rank {
				like = append(like, outcomes[i])
			}
		}
		d.fixAll(like)
	}
}

// fewRows is how many equations of wishes are fixed one after another rather than
// by an elimination of them all. Those of defaults always are, as they hardly hang
// together.
const fewRows = 8

// fixAll makes what goals come to equations, all at once where nothing waits
// for them.
func (d *Design) fixAll(outcomes []outcome) {
	q := d.Problem
	var rows []sparse.Affine
	if len(outcomes) > fewRows && outcomes[0].Level == Wish {
		rows = make([]sparse.Affine, 0, len(outcomes))
		for _, o := range outcomes {
			a := q.Form(o.form).Plus(-1, o.target)
			if q.TouchesPending(a) {
				rows = nil
				break
			}
			rows = append(rows, a)
		}
	}
	if rows == nil {
		for _, o := range outcomes {
			a := d.Problem.Form(o.form)
			switch {
			case len(a.Terms) == 0:
			case d.fix(o.form, a, o.target):
				d.Fixed = append(d.Fixed, o.Fixing)
			case o.Level == Wish && !o.Limit:
				if r, ok := d.waitsFor(a); ok {
					d.unmet = append(d.unmet, Unsettled{o.Index, r})
				}
			}
		}
		return
	}
	q.PartOf = nil
	for i, took := range q.Space.FixAll(rows) {
		if took {
			q.Extra = append(q.Extra, extraOf(outcomes[i].form, outcomes[i].target))
			d.Fixed = append(d.Fixed, outcomes[i].Fixing)
		}
	}
}

// waitsFor is the first equation or limit still waiting that a form has to do
// with.
func (d *Design) waitsFor(a sparse.Affine) (relation int, ok bool) {
	q := d.Problem
	for _, r := range slices.Concat(q.Pending, q.Hard) {
		for _, v := range q.Vars[r] {
			if (q.IsEquation(r) || q.Limit[r]) && !q.Known[v] && slices.ContainsFunc(q.VarForm(v).Terms, func(t sparse.Term) bool { return a.Coef(t.At) != 0 }) {
				return int(r), true
			}
		}
	}
	return 0, false
}

// An outcome is what a goal comes to, or a limit that holds wishes back, as an
// equation form = target.
type outcome struct {
	Fixing
	form   relation.Form
	target sparse.Affine
	piece  int32 // those of one piece hold together; 0 if it is of none
}

// broken is how little limits that leave nothing resist being broken, beside goals.
const broken = 1e-3

// outcomes solves for goals in the space of today, one connected part after
// another. If a point is given, goals that aren't linear are taken by their
// tangents there, and it becomes that of the outcome.
func (d *Design) outcomes(goals []goal, at *point) []outcome {
	q := d.Problem
	p := d.openGoals(goals, at)
	var found []float64 // of the parameters, where the values are asked for
	if at != nil {
		found = d.stay(at)
	}
	out := make([]outcome, 0, len(p.goals))
	for i := range p.goals {
		if p.done[i] {
			continue
		}
		var members []int
		var params, limits []int32
		alone := at == nil && p.goals[i].level == Default // nothing but what limits it counts
		if !alone || len(p.goals) > 1 && !p.alone(q.Space, i) {
			members, params, limits = p.around(q.Space, i)
		}
		if alone && len(members) <= 1 {
			if target, held, ok := q.Nearest(p.goals[i].affine); ok {
				out = d.add(out, p.goals[i], target, held)
			}
			continue
		}
		forms, weights := make([]sparse.Affine, 0, len(members)), make([]float64, 0, len(members))
		for _, j := range members {
			forms = append(forms, p.goals[j].affine)
			weights = append(weights, p.goals[j].weight)
		}
		problem := q.QP(params, forms, limits, weights)
		b, ok := problem.Solve()
		if !ok {
			if at != nil {
				at.stuck = true
				// The search goes on from where the limits are broken little.
				x, _, _ := problem.Interior(broken)
				for k := range x {
					found[params[k]] = x[k]
				}
			}
			continue
		}
		if at != nil {
			for k, p := range params {
				found[p] = b.X[k]
			}
		}
		held := make([]int32, 0, len(b.Acting))
		for _, k := range b.Acting {
			held = append(held, limits[k])
		}
		if p.goals[i].level == Wish {
			out = append(out, d.limitEquations(held)...)
		}
		by := q.LimitsOf(held)
		for k, j := range members {
			out = d.add(out, p.goals[j], b.Value[k], by)
		}
	}
	if at != nil {
		for v, f := range q.FormOf {
			if f >= 0 && !q.Known[v] {
				at.values[v] = q.Space.Forms[f].Value(found)
			}
		}
	}
	return out
}

// stay is where the parameters are that dimensions are by themselves: what no goal has to
// do with stays there.
func (d *Design) stay(at *point) []float64 {
	q := d.Problem
	found := make([]float64, len(q.Space.Uses))
	for v, f := range q.FormOf {
		if f < 0 || q.Known[v] {
			continue
		}
		if a := &q.Space.Forms[f]; len(a.Terms) == 1 && a.Terms[0].Coef == 1 && a.Const == 0 {
			found[a.Terms[0].At] = at.values[v]
		}
	}
	return found
}

// outcomeOf is what a goal comes to, held by some limits; ok is false where a default
// would give its frame a size.
func (d *Design) outcomeOf(g openGoal, target sparse.Affine, held []int32) (o outcome, ok bool) {
	o = outcome{Fixing: Fixing{Level: g.level, Index: g.index, Met: math.Abs(target.Const) <= plan.Tolerance, late: g.late}, form: g.form, target: target}
	switch {
	case o.Met:
		o.target.Const = 0
	case g.level == Default:
		if d.openFrame(g.index) {
			return outcome{}, false
		}
		o.Held = held
	}
	o.Vars = d.varsOf(g.form)
	return o, true
}

// add adds what a goal comes to.
func (d *Design) add(out []outcome, g openGoal, target sparse.Affine, held []int32) []outcome {
	if o, ok := d.outcomeOf(g, target, held); ok {
		out = append(out, o)
	}
	return out
}

// curved reports whether a goal, or an equation that is still waiting and
// shares a parameter with a goal, isn't linear.
func (d *Design) curved(goals []goal) bool {
	q := d.Problem
	waiting := len(q.Pending)+len(q.Hard) > 0
	for i := range goals {
		form, ok := d.goalForm(&goals[i], nil)
		if !ok || waiting && q.TouchesPending(q.Form(form)) {
			return true
		}
	}
	return false
}

// limitEquations are limits of the space that hold the wishes back, as
// equations.
func (d *Design) limitEquations(ids []int32) []outcome {
	var out []outcome
	for _, id := range ids {
		l, ok := d.Problem.LimitOf(id)
		if !ok {
			continue
		}
		e := outcome{Fixing: Fixing{Level: Wish, Index: int(l.Relation), Limit: true, Met: true},
			form: relation.Form{Terms: []relation.Term{{Var: l.Sign, Coef: 1}}}}
		if l.Relation >= 0 {
			forms, ok := d.Problem.LimitForms(l.Relation)
			if !ok || l.Piece >= len(forms) {
				continue
			}
			e.form = forms[l.Piece]
		}
		e.Vars = d.varsOf(e.form)
		out = append(out, e)
	}
	return out
}
