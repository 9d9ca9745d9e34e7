package level

import (
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/linear"
	"foredge/eval/solve/sparse"
)

// An openWish is a wish about what is not decided.
type openWish struct {
	index  int // into System.Wishes
	form   relation.Form
	affine sparse.Affine // the same in the parameters
}

// wishForm is left - right of a wish. At given values it is the tangent there
// if it isn't linear.
func (d *Design) wishForm(i int, at []float64) (relation.Form, bool) {
	w := &d.Sys.Wishes[i]
	rel := relation.Relation{Left: w.Left, Right: w.Right}
	if d.wishForms == nil {
		d.wishForms = make([]relation.Form, len(d.Sys.Wishes))
	}
	form, ok := d.wishForms[i], true
	if form.Terms == nil {
		if form, ok = rel.Difference(relation.Nothing); ok {
			d.wishForms[i] = form
		} else {
			form, ok = rel.Difference(d.Problem.Lookup)
		}
	}
	if !ok && at != nil {
		form, ok = d.tangent(&rel, at), true
	}
	if !ok || !sparse.Finite(form.Const) || slices.ContainsFunc(form.Terms, func(t relation.Term) bool { return !sparse.Finite(t.Coef) }) {
		return form, false
	}
	return form, true
}

// tangent is left - right of a relation linearised at given values.
func (d *Design) tangent(rel *relation.Relation, at []float64) relation.Form {
	v, terms := rel.Gradient(at)
	f := relation.Form{Const: v, Terms: terms}
	for _, t := range terms {
		f.Const -= t.Coef * at[t.Var]
	}
	return f
}

func (d *Design) openWishes(ids []int, x []float64) *wishParts {
	wishes := make([]openWish, 0, len(ids))
	for _, i := range ids {
		form, ok := d.wishForm(i, x)
		if !ok {
			continue
		}
		if a := d.Problem.Form(form); len(a.Terms) > 0 {
			wishes = append(wishes, openWish{i, form, a})
		}
	}
	n := len(d.Problem.Space.Uses)
	byParam := sparse.NewLister[int](n)
	for i := range wishes {
		for _, t := range wishes[i].affine.Terms {
			byParam.Expect(t.At)
		}
	}
	for i := range wishes {
		for _, t := range wishes[i].affine.Terms {
			byParam.Put(t.At, i)
		}
	}
	return &wishParts{wishes: wishes, byParam: byParam.Done(), done: make([]bool, len(wishes)), in: make([]bool, n)}
}

// wishParts divides wishes into parts that have nothing to do with each other.
type wishParts struct {
	wishes  []openWish
	byParam sparse.Lists[int]
	done    []bool // wishes of the part in hand or one before it
	in      []bool // parameters, likewise
	fresh   []sparse.Term
}

// around is the part of wish i: the wishes, the parameters joined by limits and
// by wishes, and the limits of the space among them.
func (p *wishParts) around(s *linear.Space, i int) (members []int, params, limits []int32) {
	todo := []int{i}
	p.done[i] = true
	for len(todo) > 0 {
		j := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		members = append(members, j)
		p.fresh = slices.DeleteFunc(append(p.fresh[:0], p.wishes[j].affine.Terms...), func(t sparse.Term) bool { return p.in[t.At] })
		if len(p.fresh) == 0 {
			continue
		}
		ps, ls := s.Around(sparse.Affine{Terms: p.fresh})
		for _, x := range ps {
			if p.in[x] {
				continue
			}
			p.in[x] = true
			params = append(params, x)
			for _, k := range p.byParam.Of(x) {
				if !p.done[k] {
					p.done[k] = true
					todo = append(todo, k)
				}
			}
		}
		limits = append(limits, ls...)
	}
	slices.Sort(members)
	slices.Sort(params)
	slices.Sort(limits)
	return members, params, slices.Compact(limits)
}
