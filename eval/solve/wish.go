package solve

import (
	"math"
	"slices"

	"foredge/eval/relation"
)

// wishes fixes the second level: the squared deviations of all wishes, each
// times its weight, add up to the least that the musts allow. What each wish
// then comes to is an equation for the next level, and so is each limit that
// holds the wishes back.
func (d *design) wishes() {
	var ids []int
	for i := range d.sys.Wishes {
		w := &d.sys.Wishes[i]
		if w.Weight > 0 && finite(w.Weight) && d.sane(w.Left, w.Right) {
			ids = append(ids, i)
		}
	}
	if len(ids) == 0 {
		return
	}
	outcomes := d.outcomes(ids, nil)
	if d.curved(ids) {
		if curved := d.tangentOutcomes(ids); curved != nil {
			outcomes = curved
		}
	}
	// The acting limits first, then wishes that are met: they explain more.
	slices.SortStableFunc(outcomes, func(a, b outcome) int { return a.rank() - b.rank() })
	for len(outcomes) > 0 {
		n := 1
		for n < len(outcomes) && outcomes[n].rank() == outcomes[0].rank() {
			n++
		}
		d.fixAll(outcomes[:n])
		outcomes = outcomes[n:]
	}
	d.mark(wishLevel)
}

// fixAll makes what wishes come to equations, all at once where nothing waits
// for them.
func (d *design) fixAll(outcomes []outcome) {
	q := d.q
	rows := make([]affine, 0, len(outcomes))
	for _, o := range outcomes {
		a := q.form(o.form).plus(-1, o.target)
		if q.touchesPending(a) {
			rows = nil
			break
		}
		rows = append(rows, a)
	}
	if rows == nil {
		for _, o := range outcomes {
			if a := d.q.form(o.form); len(a.terms) > 0 && d.fix(o.form, o.target) {
				d.fixed = append(d.fixed, o.fixing)
			}
		}
		return
	}
	q.partOf = nil
	for i, took := range q.space.fixAll(rows) {
		if took {
			q.extra = append(q.extra, extraOf(outcomes[i].form, outcomes[i].target))
			d.fixed = append(d.fixed, outcomes[i].fixing)
		}
	}
}

// An outcome is what a wish comes to, or a limit that holds the wishes back, as
// an equation form = target.
type outcome struct {
	fixing
	form   relation.Form
	target affine
}

// wishForm is left - right of a wish. At given values it is the tangent there
// if it isn't linear.
func (d *design) wishForm(i int, at []float64) (relation.Form, bool) {
	w := &d.sys.Wishes[i]
	rel := relation.Relation{Left: w.Left, Right: w.Right}
	if d.wishForms == nil {
		d.wishForms = make([]relation.Form, len(d.sys.Wishes))
	}
	form, ok := d.wishForms[i], true
	if form.Terms == nil {
		if form, ok = rel.Difference(relation.Nothing); ok {
			d.wishForms[i] = form
		} else {
			form, ok = rel.Difference(d.q.lookup)
		}
	}
	if !ok && at != nil {
		form, ok = d.tangent(&rel, at), true
	}
	if !ok || !finite(form.Const) || slices.ContainsFunc(form.Terms, func(t relation.Term) bool { return !finite(t.Coef) }) {
		return form, false
	}
	return form, true
}

// tangent is left - right of a relation linearised at given values.
func (d *design) tangent(rel *relation.Relation, at []float64) relation.Form {
	v, terms := rel.Gradient(at)
	f := relation.Form{Const: v, Terms: terms}
	for _, t := range terms {
		f.Const -= t.Coef * at[t.Var]
	}
	return f
}

// outcomes solves for the wishes in the space of today, one connected part
// after another. If x is not nil, wishes that aren't linear are taken by their
// tangents at x, and x becomes the values of the outcome.
func (d *design) outcomes(ids []int, x []float64) []outcome {
	type item struct {
		index int
		form  relation.Form
		a     affine
	}
	items := make([]item, 0, len(ids))
	for _, i := range ids {
		form, ok := d.wishForm(i, x)
		if !ok {
			continue
		}
		if a := d.q.form(form); len(a.terms) > 0 {
			items = append(items, item{i, form, a})
		}
	}
	q := d.q
	ofParam := newLister[int](len(q.space.uses))
	for i := range items {
		for _, t := range items[i].a.terms {
			ofParam.expect(t.at)
		}
	}
	for i := range items {
		for _, t := range items[i].a.terms {
			ofParam.put(t.at, i)
		}
	}
	byParam := ofParam.done()
	at := make([]float64, len(q.space.uses))
	in := make([]bool, len(q.space.uses)) // of the part in hand or one before it
	out := make([]outcome, 0, len(items))
	done := make([]bool, len(items))
	var fresh []term
	var vars slab[relation.VarID]
	for i := range items {
		if done[i] {
			continue
		}
		// The part: parameters joined by limits and by wishes.
		var members []int
		todo := []int{i}
		done[i] = true
		var params, limits []int32
		for len(todo) > 0 {
			j := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			members = append(members, j)
			fresh = slices.DeleteFunc(append(fresh[:0], items[j].a.terms...), func(t term) bool { return in[t.at] })
			if len(fresh) == 0 {
				continue
			}
			ps, ls := q.space.around(affine{terms: fresh})
			for _, p := range ps {
				if in[p] {
					continue
				}
				in[p] = true
				params = append(params, p)
				for _, k := range byParam.of(p) {
					if !done[k] {
						done[k] = true
						todo = append(todo, k)
					}
				}
			}
			limits = append(limits, ls...)
		}
		slices.Sort(members)
		slices.Sort(params)
		slices.Sort(limits)
		limits = slices.Compact(limits)
		forms, weights := make([]affine, 0, len(members)), make([]float64, 0, len(members))
		for _, j := range members {
			forms = append(forms, items[j].a)
			weights = append(weights, d.sys.Wishes[items[j].index].Weight)
		}
		b, ok := newWishing(params, forms, q.formsOf(limits), weights).solve()
		if !ok {
			continue
		}
		for k, p := range params {
			at[p] = b.x[k]
		}
		held := make([]int32, 0, len(b.acting))
		for _, k := range b.acting {
			held = append(held, limits[k])
		}
		out = append(out, d.limitEquations(held)...)
		for k, j := range members {
			it := items[j]
			o := outcome{fixing{level: wishLevel, index: it.index, met: math.Abs(b.value[k].c) <= tolerance}, it.form, b.value[k]}
			o.vars = vars.take(len(it.form.Terms))
			for i, t := range it.form.Terms {
				o.vars[i] = t.Var
			}
			if o.met {
				o.target.c = 0
			}
			out = append(out, o)
		}
	}
	if x != nil {
		for v, f := range q.formOf {
			if f >= 0 && !q.known[v] {
				x[v] = valueAt(q.space.forms[f], at)
			}
		}
	}
	return out
}

// curved reports whether a wish, or an equation that is still waiting and
// shares a parameter with a wish, isn't linear.
func (d *design) curved(ids []int) bool {
	for _, i := range ids {
		form, ok := d.wishForm(i, nil)
		if !ok || d.q.touchesPending(d.q.form(form)) {
			return true
		}
	}
	return false
}

// tangentOutcomes solves for the wishes where equations that aren't linear
// wait for them: again and again with those replaced by their tangents at the
// point found last. It is nil if that leads nowhere.
func (d *design) tangentOutcomes(ids []int) []outcome {
	q := d.q
	base := q.space
	defer func() { q.space, q.partOf = base, nil }()
	x := slices.Clone(q.value)
	for v := range x {
		if !q.known[v] {
			q.varForm(relation.VarID(v))
			x[v] = 1
		}
	}
	d.outcomes(ids, x)
	for v := range x {
		if !q.known[v] && math.Abs(x[v]) < 1e-6 {
			x[v] = 1 // off the place where a product has no slope
		}
	}
	for range 100 {
		q.space, q.partOf = base.clone(), nil
		for _, r := range q.pending {
			if q.isEquation(r) {
				if a := q.form(d.tangent(&q.sys.Relations[r], x)); finite(a.c) && finite(size(a.terms)) {
					q.space.fix(a)
				}
			}
		}
		before := slices.Clone(x)
		out := d.outcomes(ids, x)
		moved := 0.0
		for v := range x {
			if !q.known[v] {
				moved = max(moved, math.Abs(x[v]-before[v])/max(1, math.Abs(x[v])))
			}
		}
		if !finite(moved) {
			return nil
		}
		if moved < 1e-11 {
			return out
		}
	}
	return nil
}

// rank orders fixings by how well they explain: limits that act, wishes met,
// wishes not met, defaults.
func (f *fixing) rank() int {
	switch {
	case f.limit:
		return 0
	case f.level == wishLevel && f.met:
		return 1
	case f.level == wishLevel:
		return 2
	}
	return 3
}

// limitEquations are limits of the space that hold the wishes back, as
// equations.
func (d *design) limitEquations(ids []int32) []outcome {
	var out []outcome
	for _, id := range ids {
		l, ok := d.q.limitOf(id)
		if !ok {
			continue
		}
		e := outcome{fixing{level: wishLevel, index: int(l.relation), limit: true, met: true},
			relation.Form{Terms: []relation.Term{{Var: l.sign, Coef: 1}}}, affine{}}
		if l.relation >= 0 {
			forms, ok := d.q.limitForms(l.relation)
			if !ok || l.piece >= len(forms) {
				continue
			}
			e.form = forms[l.piece]
		}
		for _, t := range e.form.Terms {
			e.vars = append(e.vars, t.Var)
		}
		out = append(out, e)
	}
	return out
}
