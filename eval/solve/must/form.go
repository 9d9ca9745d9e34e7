package must

import (
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/sparse"
)

// Form is an expression in the parameters of the space. A dimension that no
// equation mentions gets a parameter of its own.
func (q *Problem) Form(f relation.Form) sparse.Affine {
	out := sparse.Affine{Const: f.Const}
	sum := &q.sum
	for _, t := range f.Terms {
		if q.Known[t.Var] {
			out.Const += t.Coef * q.Value[t.Var]
			out.Grad = sparse.Combine(out.Grad, t.Coef, q.Grad[t.Var], 0)
			continue
		}
		part := q.VarForm(t.Var)
		out.Const += t.Coef * part.Const
		out.Grad = sparse.Combine(out.Grad, t.Coef, part.Grad, 0)
		sum.Add(t.Coef, part.Terms)
	}
	out.Terms = q.Kept.Copy(sum.Take())
	return out
}

// VarForm is the form of a dimension that isn't known.
func (q *Problem) VarForm(v relation.VarID) sparse.Affine {
	if q.FormOf[v] < 0 {
		p := int32(len(q.Space.Uses))
		q.Space.Uses = append(q.Space.Uses, nil)
		q.FormOf[v] = q.Space.Track(sparse.Affine{Terms: []sparse.Term{{At: p, Coef: 1}}}, false)
		q.formed = append(q.formed, v)
		q.sign(v)
	}
	return q.Space.Forms[q.FormOf[v]]
}

// Straight is left - right of a relation as a linear form: in all dimensions
// where it can be, so that nothing of how it moves with the benches is lost,
// else with what is known put in.
func (q *Problem) Straight(rel *relation.Relation) (relation.Form, bool) {
	if f, ok := rel.Difference(relation.Nothing); ok {
		return f, true
	}
	return rel.Difference(q.Lookup)
}

// LimitForms is the same for an inequality: forms that must each be at least 0,
// good until it is asked again.
func (q *Problem) LimitForms(r int32) ([]relation.Form, bool) {
	rel := &q.Sys.Relations[r]
	if q.Linear[r] {
		f := q.Forms[r]
		if rel.Sign == relation.LE {
			f = f.Scale(-1)
		}
		q.piece[0] = f
		return q.piece[:], true
	}
	if f, ok := rel.Limits(relation.Nothing); ok {
		return f, true
	}
	return rel.Limits(q.Lookup)
}

// difference is left - right of relation r with what is known put in; its
// terms may be put into room.
func (q *Problem) difference(r int32, room []relation.Term) (relation.Form, bool) {
	if !q.Linear[r] {
		return q.Sys.Relations[r].DifferenceIn(room, q.Lookup)
	}
	f := relation.Form{Const: q.Forms[r].Const, Terms: room}
	for _, t := range q.Forms[r].Terms {
		if q.Known[t.Var] {
			f.Const += t.Coef * q.Value[t.Var]
		} else {
			f.Terms = append(f.Terms, t)
		}
	}
	return f, true
}

// slope is the derivative of left - right of relation r by a dimension.
func (q *Problem) slope(r int32, v relation.VarID) float64 {
	if q.Linear[r] {
		for _, t := range q.Forms[r].Terms {
			if t.Var == v {
				return t.Coef
			}
		}
		return 0
	}
	_, terms := q.Sys.Relations[r].Gradient(q.Value)
	for _, t := range terms {
		if t.Var == v {
			return t.Coef
		}
	}
	return 0
}

// moved is how left - right of relation r moves with the benches through what
// is known, at the values of today. Where a dimension still unknown multiplies
// a known one that can't be told yet, and Rough is set.
func (q *Problem) moved(r int32) []sparse.Term {
	terms := q.Forms[r].Terms
	if !q.Linear[r] {
		any := false
		for _, v := range q.Vars[r] {
			any = any || len(q.Grad[v]) > 0
		}
		if !any {
			return nil
		}
		_, terms = q.Sys.Relations[r].Gradient(q.Value)
	}
	var grad []sparse.Term
	for _, t := range terms {
		if !q.Known[t.Var] || len(q.Grad[t.Var]) == 0 {
			continue
		}
		if !sparse.Finite(t.Coef) {
			q.Rough = true
			continue
		}
		grad = sparse.Combine(grad, t.Coef, q.Grad[t.Var], 0)
	}
	return grad
}

// sign puts the sign rule of an unknown dimension among the limits.
func (q *Problem) sign(v relation.VarID) {
	if !q.signs || q.Sys.Vars[v].Signed || q.FormOf[v] < 0 || q.raised[v] || q.benches && q.Sys.Vars[v].Bench != 0 {
		return
	}
	id := q.FormOf[v]
	if !q.Space.Floor[id] {
		q.Space.Guard(id)
		q.tie(LimitForm{form: id, Relation: -1, Sign: v})
	}
}

func (q *Problem) tie(l LimitForm) {
	for len(q.ofForm) <= int(l.form) {
		q.ofForm = append(q.ofForm, -1)
	}
	q.ofForm[l.form] = int32(len(q.limit))
	q.limit = append(q.limit, l)
}

// LimitOf is the limit that a form of the space came from, if it is one.
func (q *Problem) LimitOf(form int32) (LimitForm, bool) {
	if int(form) >= len(q.ofForm) || q.ofForm[form] < 0 {
		return LimitForm{}, false
	}
	return q.limit[q.ofForm[form]], true
}

// stated reports whether a form of the space came from a stated limit.
func (q *Problem) stated(form int32) bool {
	l, ok := q.LimitOf(form)
	return ok && l.Relation >= 0
}

// waitingFor is the parameters on which equations and limits that aren't
// linear yet still wait.
func (q *Problem) waitingFor() map[int32]bool {
	out := map[int32]bool{}
	add := func(r int32) {
		for _, v := range q.Vars[r] {
			if q.Known[v] {
				continue
			}
			for _, t := range q.VarForm(v).Terms {
				out[t.At] = true
			}
		}
	}
	for _, r := range q.Pending {
		if q.IsEquation(r) {
			add(r)
		}
	}
	for _, r := range q.Hard {
		add(r)
	}
	return out
}

// TouchesPending reports whether fixing a form may set free an equation or a
// limit that is still waiting. Fixing one that doesn't leaves all it waits for
// as it is.
func (q *Problem) TouchesPending(a sparse.Affine) bool {
	if len(q.Pending)+len(q.Hard) == 0 {
		return false
	}
	if q.waits == nil {
		q.waits = q.waitingFor()
	}
	return slices.ContainsFunc(a.Terms, func(t sparse.Term) bool { return q.waits[t.At] })
}

// Fix makes a form of the space 0 from now on.
func (q *Problem) Fix(a sparse.Affine) {
	for _, t := range a.Terms {
		if p := q.partAt(t.At); p != nil {
			for _, x := range p.params {
				q.PartOf[x] = nil
			}
		}
	}
	q.Space.Fix(a)
}
