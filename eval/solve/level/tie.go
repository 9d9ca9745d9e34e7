package level

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/linear"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

// mostTies is how many ties of a piece are looked into.
const mostTies = 20

// ties are equations that say where kinks lie on two arguments at once, in every outcome
// as good as a find: a wish for less than max(a, 20) leaves a anything up to 20, but where
// a limit keeps it from being less it is 20. They are told only where what was found so
// far leaves them open.
func (p *piece) ties(f *find, lies map[*relation.Expr]side, found []outcome, bent bend) []outcome {
	near := func(k *kink, arg int) bool { return math.Abs(k.args[arg].Value(f.x)-f.x[k.at]) <= plan.Tolerance }
	type tie struct{ kink, on, arg int }
	var all []tie
	for i := range p.kinks {
		k := &p.kinks[i]
		on := lies[k.expr].arg
		for arg := range k.args {
			if k.step == 0 && arg != on && near(k, on) && near(k, arg) && len(all) < mostTies {
				all = append(all, tie{i, on, arg})
			}
		}
	}
	if len(all) == 0 {
		return nil
	}
	d := p.design
	var known []sparse.Affine
	for _, form := range bent.equations {
		known = append(known, d.Problem.Form(form))
	}
	for _, o := range found {
		known = append(known, d.Problem.Form(o.form).Plus(-1, o.target))
	}
	var out []outcome
	until := d.Problem.Left() - searching
	for _, t := range all {
		k := &p.kinks[t.kink]
		form, ok := d.tieForm(k, t.on, t.arg, lies)
		if !ok {
			continue
		}
		a := d.Problem.Form(form)
		if !open(known, a) || !p.always(f, k, t.on, until) || !p.always(f, k, t.arg, until) {
			continue
		}
		known = append(known, a)
		by := p.speaker(f, t.kink)
		by.Vars = varsOf(form)
		out = append(out, outcome{Fixing: by, form: form})
	}
	return out
}

// open reports whether some equations leave a form open.
func open(equations []sparse.Affine, form sparse.Affine) bool {
	rows := locally(append(slices.Clip(equations), form))
	n := 0
	for _, f := range rows {
		for _, t := range f.Terms {
			n = max(n, int(t.At)+1)
		}
	}
	last := len(rows) - 1
	return len(newReducer(linear.Eliminate(rows[:last], n)).reduce(rows[last]).Terms) > 0
}

// tieForm is 0 where two arguments of a kink are as large.
func (d *Design) tieForm(k *kink, on, arg int, lies map[*relation.Expr]side) (relation.Form, bool) {
	if k.expr.Op == relation.Abs {
		zero := relation.C(0)
		return d.flatForm(&k.expr.Args[0], &zero, lies)
	}
	return d.flatForm(&k.expr.Args[on], &k.expr.Args[arg], lies)
}

// speaker is the line in which a kink stands: a wish, or a must that holds wishes back.
func (p *piece) speaker(f *find, kink int) Fixing {
	line := 0
	for p.kinksOf[line+1] <= kink {
		line++
	}
	if line < len(p.bends) {
		return Fixing{Level: Wish, Index: int(p.bends[line]), Limit: true, Met: true}
	}
	i := line - len(p.bends)
	return Fixing{Level: Wish, Index: p.goals[i].index, Met: math.Abs(f.value[i].Const) <= plan.Tolerance}
}

// always reports whether a kink lies on an argument in every outcome as good as a find:
// not even a wish for the two to differ, after all others, can part them.
func (p *piece) always(f *find, k *kink, arg int, until int) bool {
	by := *p
	by.limits, by.kinks, by.rows = slices.Clone(p.limits), slices.Clone(p.kinks), slices.Clone(p.rows)
	for i := range by.kinks {
		by.kinks[i].args = slices.Clone(by.kinks[i].args)
	}
	for i, v := range p.values {
		v.Const -= f.value[i].Const
		by.rows = append(by.rows, v)
	}
	apart := (sparse.Affine{Terms: []sparse.Term{{At: k.at, Coef: 1}}}).Plus(-1, k.args[arg])
	if k.expr.Op == relation.Min {
		apart = apart.Scale(-1)
	}
	apart.Const--
	last := *p.goals[0]
	last.weight = 1
	by.goals, by.values = []*goal{&last}, []sparse.Affine{apart}
	by.reduce()
	s := search{piece: &by, until: until}
	root := s.meet(nil)
	if root == nil {
		return false
	}
	s.dive(root)
	s.branch(root)
	return s.may() && s.best != nil && s.best.value[0].Const+1 <= plan.Tolerance
}
