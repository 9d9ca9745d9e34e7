package level

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/linear"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

// A tie is what holds in every outcome as good as a find if some forms that are at least
// 0 are 0 in all of those: an equation.
type tie struct {
	apart []sparse.Affine // in the parameters of the piece
	outcome
}

// mostTies is how many ties of a piece are looked into.
const mostTies = 20

// largestTied is the size, limits times parameters, up to which a piece is looked into: in
// a larger one what is tied counts as open.
const largestTied = 1_000_000

// tied are the ties that hold in every outcome as good as a find. A wish for less than
// max(a, 20) leaves a anything up to 20, but where a limit keeps it from being less it is
// 20. They are told only where what was found so far leaves them open; the piece is one of
// so many.
func (p *piece) tied(f *find, lies map[*relation.Expr]side, found []outcome, pieces int) (out []outcome) {
	all := append(p.kinkTies(f, lies), p.limitTies(f, lies)...)
	if len(all) == 0 || p.n*len(p.limits) > largestTied {
		return nil
	}
	d := p.design
	known := p.sided(f, lies)
	for _, o := range found {
		known = append(known, d.Problem.Form(o.form).Plus(-1, o.target))
	}
	rows := slices.Clip(known)
	for _, t := range all {
		rows = append(rows, d.Problem.Form(t.form))
	}
	rows = locally(rows)
	known, rows = slices.Clip(rows[:len(known)]), rows[len(known):]
	reduce := reducerBy(known)
	until, looked := d.Problem.Left()-searching/pieces, 0
	for i, t := range all {
		if len(reduce(rows[i]).Terms) == 0 {
			continue
		}
		if looked++; looked > mostTies || d.Problem.Left() < until {
			break
		}
		if slices.ContainsFunc(t.apart, func(apart sparse.Affine) bool { return !p.never(f, apart, until) }) {
			continue
		}
		known, out = append(known, rows[i]), append(out, t.outcome)
		reduce = reducerBy(known)
	}
	return out
}

// sided are the musts that come to an equation as each of their kinks lies on one argument
// alone.
func (p *piece) sided(f *find, lies map[*relation.Expr]side) (out []sparse.Affine) {
	d := p.design
	for i, r := range p.bends {
		rel := &d.Sys.Relations[r]
		alone := rel.Sign == relation.EQ
		for j := p.kinksOf[i]; j < p.kinksOf[i+1]; j++ {
			alone = alone && p.kinks[j].alone(f.x)
		}
		if form, ok := d.flatForm(&rel.Left, &rel.Right, lies); alone && ok {
			out = append(out, d.Problem.Form(form))
		}
	}
	return out
}

// kinkTies are those of kinks that lie on two arguments at once.
func (p *piece) kinkTies(f *find, lies map[*relation.Expr]side) (out []tie) {
	for i := range p.kinks {
		k := &p.kinks[i]
		apart := k.limits()
		on := lies[k.expr].arg
		for arg := range k.args {
			if k.step > 0 || arg == on || max(apart[on].Value(f.x), apart[arg].Value(f.x)) > plan.Tolerance {
				continue
			}
			if form, ok := p.design.tieForm(k, on, arg, lies); ok {
				by := p.speaker(f, i)
				by.Vars = p.design.varsOf(form)
				out = append(out, tie{[]sparse.Affine{apart[on], apart[arg]}, outcome{Fixing: by, form: form}})
			}
		}
	}
	return out
}

// limitTies are those of limits that are just met.
func (p *piece) limitTies(f *find, lies map[*relation.Expr]side) (out []tie) {
	d := p.design
	for _, l := range p.limits {
		if l.from == ofKink || l.form.Value(f.x) > plan.Tolerance {
			continue
		}
		var by []outcome
		if l.from == ofSpace {
			by = d.limitEquations([]int32{l.at})
		} else {
			rel := &d.Sys.Relations[l.at]
			if form, ok := d.flatForm(&rel.Left, &rel.Right, lies); ok {
				by = []outcome{{Fixing: Fixing{Level: Wish, Index: int(l.at), Limit: true, Met: true, Vars: p.design.varsOf(form)}, form: form}}
			}
		}
		for _, o := range by {
			out = append(out, tie{[]sparse.Affine{l.form}, o})
		}
	}
	return out
}

// reducerBy takes some equations out of forms that may have further parameters.
func reducerBy(equations []sparse.Affine) func(sparse.Affine) sparse.Affine {
	n := 0
	for _, f := range equations {
		for _, t := range f.Terms {
			n = max(n, int(t.At)+1)
		}
	}
	r := newReducer(linear.Eliminate(equations, n))
	return func(f sparse.Affine) sparse.Affine {
		if slices.ContainsFunc(f.Terms, func(t sparse.Term) bool { return int(t.At) >= n }) {
			return f // nothing speaks of that
		}
		return r.reduce(f)
	}
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

// never reports whether a form that is at least 0 is 0 in every outcome as good as a find:
// not even a wish for it to be more, after all others, can raise it.
func (p *piece) never(f *find, form sparse.Affine, until int) bool {
	by := *p
	by.limits, by.kinks, by.rows = slices.Clone(p.limits), slices.Clone(p.kinks), slices.Clone(p.rows)
	for i := range by.kinks {
		by.kinks[i].args = slices.Clone(by.kinks[i].args)
	}
	for i, v := range p.values {
		v.Const -= f.value[i].Const
		by.rows = append(by.rows, v)
	}
	form.Const--
	last := *p.goals[0]
	last.weight = 1
	by.goals, by.values = []*goal{&last}, []sparse.Affine{form}
	by.reduce()
	s := search{piece: &by, until: until}
	root := s.meet(nil)
	if root == nil || p.design.Problem.Left() < until {
		return false
	}
	s.dive(root)
	s.branch(root)
	return s.may() && s.best != nil && s.best.value[0].Const+1 <= plan.Tolerance
}
