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
	d.wishStraight(ids)
	d.mark(wishLevel)
}

// wishForm is left - right of a wish, in dimensions and in parameters.
func (d *design) wishForm(i int) (relation.Form, affine, bool) {
	w := &d.sys.Wishes[i]
	rel := relation.Relation{Left: w.Left, Right: w.Right}
	form, ok := rel.Difference(d.q.lookup)
	if !ok || !finite(form.Const) || slices.ContainsFunc(form.Terms, func(t relation.Term) bool { return !finite(t.Coef) }) {
		return form, affine{}, false
	}
	return form, d.q.form(form), true
}

// wishStraight solves for the wishes that are linear in what is left, one
// connected part after another.
func (d *design) wishStraight(ids []int) {
	type item struct {
		index int
		form  relation.Form
		a     affine
	}
	var items []item
	byParam := map[int32][]int{}
	for _, i := range ids {
		form, a, ok := d.wishForm(i)
		if !ok || len(a.terms) == 0 {
			continue
		}
		for _, t := range a.terms {
			byParam[t.at] = append(byParam[t.at], len(items))
		}
		items = append(items, item{i, form, a})
	}
	q := d.q
	done := make([]bool, len(items))
	for i := range items {
		if done[i] {
			continue
		}
		// The part: parameters joined by limits and by wishes.
		var part []int
		todo := []int{i}
		done[i] = true
		var params, limits []int32
		in := map[int32]bool{}
		for len(todo) > 0 {
			j := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			part = append(part, j)
			fresh := affine{}
			for _, t := range items[j].a.terms {
				if !in[t.at] {
					fresh.terms = append(fresh.terms, t)
				}
			}
			if len(fresh.terms) == 0 {
				continue
			}
			ps, ls := q.space.around(fresh)
			for _, p := range ps {
				if in[p] {
					continue
				}
				in[p] = true
				params = append(params, p)
				for _, k := range byParam[p] {
					if !done[k] {
						done[k] = true
						todo = append(todo, k)
					}
				}
			}
			limits = append(limits, ls...)
		}
		slices.Sort(part)
		slices.Sort(params)
		slices.Sort(limits)
		limits = slices.Compact(limits)
		var forms, bounds []affine
		var weights []float64
		for _, j := range part {
			forms = append(forms, items[j].a)
			weights = append(weights, d.sys.Wishes[items[j].index].Weight)
		}
		for _, l := range limits {
			bounds = append(bounds, q.space.forms[l])
		}
		b, ok := newWishing(params, forms, bounds, weights).solve()
		if !ok {
			continue
		}
		held := make([]int32, 0, len(b.acting))
		for _, k := range b.acting {
			held = append(held, limits[k])
		}
		// The acting limits first: they explain more than a wish not met.
		for _, a := range d.limitEquations(held) {
			if d.fix(a.form, affine{}) {
				d.fixed = append(d.fixed, a.fixing)
			}
		}
		for k, j := range part {
			it := items[j]
			f := fixing{level: wishLevel, index: it.index, met: math.Abs(b.value[k].c) <= tolerance}
			for _, t := range it.form.Terms {
				f.vars = append(f.vars, t.Var)
			}
			target := b.value[k]
			if f.met {
				target.c = 0
			}
			if d.fix(it.form, target) {
				d.fixed = append(d.fixed, f)
			}
		}
	}
	slices.SortStableFunc(d.fixed, func(a, b fixing) int { return a.rank() - b.rank() })
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

// A limitEquation is a limit that holds the wishes back, as an equation.
type limitEquation struct {
	fixing
	form relation.Form
}

func (d *design) limitEquations(ids []int32) []limitEquation {
	var out []limitEquation
	for _, id := range ids {
		i, ok := d.q.ofForm[id]
		if !ok {
			continue
		}
		l := d.q.limit[i]
		e := limitEquation{fixing{level: wishLevel, index: int(l.relation), limit: true, met: true},
			relation.Form{Terms: []relation.Term{{Var: l.sign, Coef: 1}}}}
		if l.relation >= 0 {
			forms, ok := d.sys.Relations[l.relation].Limits(d.q.lookup)
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
