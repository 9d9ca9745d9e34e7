package level

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/optimize"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

// meet makes goals equations, as near as they can all come, and so does it with
// the limits that hold wishes back.
func (d *Design) meet(goals []goal) {
	if len(goals) > 0 && goals[0].level == Wish {
		d.GivenUp = nil
	}
	outcomes := d.best(goals)
	// The acting limits first, then goals that are met: they explain more.
	slices.SortStableFunc(outcomes, func(a, b outcome) int { return a.rank() - b.rank() })
	for len(outcomes) > 0 {
		n := 1
		for n < len(outcomes) && outcomes[n].rank() == outcomes[0].rank() {
			n++
		}
		d.fixAll(outcomes[:n])
		outcomes = outcomes[n:]
	}
}

// best is what goals come to if they are all met as nearly as they can be.
func (d *Design) best(goals []goal) []outcome {
	if d.curved(goals) {
		if curved := d.tangentOutcomes(goals); curved != nil {
			return curved
		}
	}
	return d.outcomes(goals, nil)
}

// fixAll makes what goals come to equations, all at once where nothing waits
// for them.
func (d *Design) fixAll(outcomes []outcome) {
	q := d.Problem
	rows := make([]sparse.Affine, 0, len(outcomes))
	for _, o := range outcomes {
		a := q.Form(o.form).Plus(-1, o.target)
		if q.TouchesPending(a) {
			rows = nil
			break
		}
		rows = append(rows, a)
	}
	if rows == nil {
		for _, o := range outcomes {
			a := d.Problem.Form(o.form)
			switch {
			case len(a.Terms) == 0:
			case d.fix(o.form, o.target):
				d.Fixed = append(d.Fixed, o.Fixing)
			case o.Level == Wish && !o.Limit:
				if r, ok := d.waitsFor(a); ok {
					d.GivenUp = append(d.GivenUp, Unsettled{o.Index, r})
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
}

// outcomes solves for goals in the space of today, one connected part after
// another. If a point is given, goals that aren't linear are taken by their
// tangents there, and it becomes that of the outcome.
func (d *Design) outcomes(goals []goal, at *point) []outcome {
	q := d.Problem
	p := d.openGoals(goals, at)
	found := make([]float64, len(q.Space.Uses))
	out := make([]outcome, 0, len(p.goals))
	var vars sparse.Slab[relation.VarID]
	for i := range p.goals {
		if p.done[i] {
			continue
		}
		members, params, limits := p.around(q.Space, i)
		forms, weights := make([]sparse.Affine, 0, len(members)), make([]float64, 0, len(members))
		for _, j := range members {
			forms = append(forms, p.goals[j].affine)
			weights = append(weights, p.goals[j].weight)
		}
		b, ok := optimize.NewQP(params, forms, q.FormsOf(limits), weights).Solve()
		if !ok {
			if at != nil {
				at.stuck = true
			}
			continue
		}
		for k, p := range params {
			found[p] = b.X[k]
		}
		held := make([]int32, 0, len(b.Acting))
		for _, k := range b.Acting {
			held = append(held, limits[k])
		}
		if p.goals[i].level == Wish {
			out = append(out, d.limitEquations(held)...)
		}
		for k, j := range members {
			g := p.goals[j]
			o := outcome{Fixing{Level: g.level, Index: g.index, Met: math.Abs(b.Value[k].Const) <= plan.Tolerance, late: g.late}, g.form, b.Value[k]}
			o.Vars = vars.Take(len(g.form.Terms))
			for i, t := range g.form.Terms {
				o.Vars[i] = t.Var
			}
			switch {
			case o.Met:
				o.target.Const = 0
			case g.level == Default:
				if d.openFrame(g.index) {
					continue // it would give its frame a size
				}
				o.Held = q.LimitsOf(held)
			}
			out = append(out, o)
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

// curved reports whether a goal, or an equation that is still waiting and
// shares a parameter with a goal, isn't linear.
func (d *Design) curved(goals []goal) bool {
	for i := range goals {
		form, ok := d.goalForm(&goals[i], nil)
		if !ok || d.Problem.TouchesPending(d.Problem.Form(form)) {
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
		e := outcome{Fixing{Level: Wish, Index: int(l.Relation), Limit: true, Met: true},
			relation.Form{Terms: []relation.Term{{Var: l.Sign, Coef: 1}}}, sparse.Affine{}}
		if l.Relation >= 0 {
			forms, ok := d.Problem.LimitForms(l.Relation)
			if !ok || l.Piece >= len(forms) {
				continue
			}
			e.form = forms[l.Piece]
		}
		for _, t := range e.form.Terms {
			e.Vars = append(e.Vars, t.Var)
		}
		out = append(out, e)
	}
	return out
}
