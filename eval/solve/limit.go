package solve

import (
	"slices"

	"foredge/eval/relation"
)

// sign puts the sign rule of an unknown dimension among the limits.
func (q *problem) sign(v relation.VarID) {
	if !q.signs || q.sys.Vars[v].Signed || q.sys.Vars[v].Bench != 0 || q.formOf[v] < 0 {
		return
	}
	id := q.formOf[v]
	if !q.space.floor[id] {
		q.space.floor[id] = true
		q.tie(limitForm{form: id, relation: -1, sign: v})
	}
}

func (q *problem) tie(l limitForm) {
	if q.ofForm == nil {
		q.ofForm = map[int32]int{}
	}
	q.ofForm[l.form] = len(q.limit)
	q.limit = append(q.limit, l)
}

// bound puts every limit in play into the space, checks those that are
// decided, and finds the parts where the limits leave nothing.
func (q *problem) bound() {
	q.limit, q.ofForm, q.hard = nil, nil, nil
	for v := range q.sys.Vars {
		if q.only == nil || q.only[v] {
			q.sign(relation.VarID(v))
		}
	}
	for r := range q.sys.Relations {
		rel := &q.sys.Relations[r]
		if !q.active[r] || q.broken[r] || rel.Sign == relation.EQ {
			continue
		}
		forms, ok := rel.Limits(q.lookup)
		if !ok {
			q.hard = append(q.hard, int32(r))
			continue
		}
		for i, f := range forms {
			a := q.form(f)
			if len(a.terms) > 0 {
				q.tie(limitForm{form: q.space.track(a, true), relation: int32(r), piece: i})
				continue
			}
			if a.c < -tolerance {
				q.wrong = append(q.wrong, conflict{q.behind([]int32{int32(r)}, nil)})
				break
			}
		}
	}
	q.parts()
}

// parts checks each connected part of the limits.
func (q *problem) parts() {
	seen := make([]bool, len(q.space.uses))
	for p := range q.space.uses {
		if seen[p] {
			continue
		}
		params, limits := q.space.around(affine{terms: []term{{int32(p), 1}}})
		for _, x := range params {
			seen[x] = true
		}
		for _, l := range limits {
			if f := q.space.forms[l]; len(f.terms) == 0 && f.c < -tolerance {
				q.wrong = append(q.wrong, q.conflictOf([]int32{l}))
			}
		}
		if len(limits) < 2 {
			continue
		}
		if poly := q.polyhedron(params, limits); poly.empty {
			q.wrong = append(q.wrong, q.conflictOf(poly.certificate))
		}
	}
}

func (q *problem) polyhedron(params, limits []int32) *polyhedron {
	forms := make([]affine, len(limits))
	for i, l := range limits {
		forms[i] = q.space.forms[l]
	}
	return polyhedronOf(params, forms, limits)
}

// conflictOf is the conflict of limits given by their forms.
func (q *problem) conflictOf(forms []int32) conflict {
	var relations []int32
	var vars []relation.VarID
	for _, f := range forms {
		i, ok := q.ofForm[f]
		if !ok {
			continue
		}
		if l := q.limit[i]; l.relation >= 0 {
			relations = append(relations, l.relation)
		} else {
			vars = append(vars, l.sign)
		}
	}
	slices.Sort(relations)
	return conflict{q.behind(slices.Compact(relations), vars)}
}

// reach gives the range of a form over what the limits leave.
func (q *problem) reach(a affine) (low, high float64) {
	if len(a.terms) == 0 {
		return a.c, a.c
	}
	params, limits := q.space.around(a)
	return q.polyhedron(params, limits).reach(a)
}
