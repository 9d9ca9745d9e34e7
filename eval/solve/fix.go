package solve

import (
	"maps"
	"slices"

	"foredge/eval/relation"
)

// fix makes form = target hold from now on. It reports whether the musts with
// it can still hold, which may not be so once non-linear ones are drawn in;
// then nothing is changed.
func (d *design) fix(form relation.Form, target affine) bool {
	q := d.q
	a := q.form(form).plus(-1, target)
	row := extraOf(form, target)
	switch {
	case !q.touchesPending(a):
		q.fix(a)
	case len(q.wrong) > 0 || len(q.tangles) > 0 || len(q.counts) > 0:
		next := d.begin(append(slices.Clone(q.extra), row))
		next.bound()
		if len(next.wrong) > 0 || next.refused || len(next.tangles) > len(q.tangles) || len(next.counts) > len(q.counts) {
			return false
		}
		d.q = next
		return true
	default:
		part := d.anew(row)
		defer part.leave()
		if part.failed() || part.refused || len(part.tangles) > 0 || len(part.counts) > 0 {
			return false
		}
		q.adopt(part)
	}
	q.extra = append(q.extra, row)
	return true
}

// extraOf is form = target.
func extraOf(form relation.Form, target affine) extraRow {
	row := extraRow{form: form, g: scaled(target.g, -1)}
	row.form.Const -= target.c
	return row
}

// fileExtra files the rows of q.extra by their dimensions.
func (d *design) fileExtra() {
	if d.extraOf == nil {
		d.extraOf = map[relation.VarID][]int{}
	}
	for ; d.filed < len(d.q.extra); d.filed++ {
		for _, t := range d.q.extra[d.filed].form.Terms {
			d.extraOf[t.Var] = append(d.extraOf[t.Var], d.filed)
		}
	}
}

// anew solves the musts, with what has been fixed so far and a further row, in
// all that hangs together with the row.
func (d *design) anew(row extraRow) *problem {
	q := d.q
	d.fileExtra()
	todo := make([]relation.VarID, 0, len(row.form.Terms))
	for _, t := range row.form.Terms {
		todo = append(todo, t.Var)
	}
	var rows []int
	part := q.connected(todo, func(v relation.VarID) []relation.VarID {
		var others []relation.VarID
		for _, i := range d.extraOf[v] {
			rows = append(rows, i)
			for _, t := range q.extra[i].form.Terms {
				others = append(others, t.Var)
			}
		}
		return others
	})
	slices.Sort(rows)
	t := newProblem(d.plan, part, nil, true)
	t.give(q.value, q.known, q.grad)
	t.leeway = maps.Clone(q.leeway)
	t.uncertainty = d.adj.uncertainty
	for _, i := range slices.Compact(rows) {
		t.extra = append(t.extra, q.extra[i])
	}
	t.extra = append(t.extra, row)
	t.musts()
	t.bound()
	return t
}

// adopt takes over what a problem of a part has found. What the part has left
// open gets parameters and forms of its own; those it had before are no longer
// asked for.
func (q *problem) adopt(part *problem) {
	open := part.waitingFor() // before its forms are counted
	forms, params := int32(len(q.space.forms)), int32(len(q.space.uses))
	for i, f := range part.space.forms {
		f.terms = slices.Clone(f.terms)
		for j := range f.terms {
			f.terms[j].at += params
		}
		q.space.forms = append(q.space.forms, f)
		q.space.floor = append(q.space.floor, part.space.floor[i])
	}
	for _, uses := range part.space.uses {
		moved := make([]int32, len(uses))
		for i, id := range uses {
			moved[i] = id + forms
		}
		q.space.uses = append(q.space.uses, moved)
	}
	steps, solved := int32(len(q.steps)), int32(len(q.solved))
	q.steps, q.solved = append(q.steps, part.steps...), append(q.solved, part.solved...)
	for _, v := range part.scope.vars {
		if q.known[v] {
			continue
		}
		switch by := &part.giver[v]; by.kind {
		case byMany:
			by.at += steps
		case byBlock:
			by.at += solved
		}
		q.value[v], q.known[v], q.grad[v], q.giver[v], q.formOf[v] = part.value[v], part.known[v], part.grad[v], part.giver[v], -1
		if f := part.formOf[v]; f >= 0 && !part.known[v] {
			q.formOf[v] = f + forms
		}
	}
	for _, r := range part.scope.relations {
		q.dead[r] = q.dead[r] || part.dead[r]
	}
	for _, l := range part.limit {
		l.form += forms
		q.tie(l)
	}
	for p := range open {
		q.waits[p+params] = true
	}
	q.owner = nil
	q.leeway = part.leeway
	q.rough = q.rough || part.rough
}

// waitingFor is the parameters on which equations and limits that aren't
// linear yet still wait.
func (q *problem) waitingFor() map[int32]bool {
	out := map[int32]bool{}
	add := func(r int32) {
		for _, v := range q.vars[r] {
			if q.known[v] {
				continue
			}
			for _, t := range q.varForm(v).terms {
				out[t.at] = true
			}
		}
	}
	for _, r := range q.pending {
		if q.isEquation(r) {
			add(r)
		}
	}
	for _, r := range q.hard {
		add(r)
	}
	return out
}

// touchesPending reports whether fixing a form may set free an equation or a
// limit that is still waiting. Fixing one that doesn't leaves all it waits for
// as it is.
func (q *problem) touchesPending(a affine) bool {
	if q.waits == nil {
		q.waits = q.waitingFor()
	}
	return slices.ContainsFunc(a.terms, func(t term) bool { return q.waits[t.at] })
}
