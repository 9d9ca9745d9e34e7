package must

import (
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

// raise notes the dimensions that a limit alone keeps at 0 or more.
func (q *Problem) raise() {
	for _, v := range q.scope.Vars {
		q.raised[v] = false
	}
	for _, r := range q.scope.Relations {
		if !q.Limit[r] || !q.Active[r] || !q.Linear[r] || len(q.Forms[r].Terms) != 1 {
			continue
		}
		f := q.Forms[r] // of one dimension: left - right
		t := f.Terms[0]
		up := q.Sys.Relations[r].Sign == relation.GE
		if up == (t.Coef > 0) && -f.Const/t.Coef >= 0 {
			q.raised[t.Var] = true
		}
	}
}

// Bound puts every limit in play into the space, checks those that are
// decided, and finds the parts where the limits leave nothing.
func (q *Problem) Bound() {
	q.limit, q.ofForm, q.Hard, q.PartOf, q.waits = nil, nil, nil, nil, nil
	q.raise()
	for _, v := range q.scope.Vars {
		q.sign(v)
	}
	var forms []sparse.Affine
	var from []LimitForm
	for _, r := range q.scope.Relations {
		if !q.Limit[r] || !q.Active[r] {
			continue
		}
		pieces, ok := q.LimitForms(r)
		if !ok {
			q.Hard = append(q.Hard, r)
			continue
		}
		for i, f := range pieces {
			a := q.Form(f)
			if len(a.Terms) > 0 {
				forms, from = append(forms, a), append(from, LimitForm{Relation: r, Piece: i})
				continue
			}
			if a.Const < -plan.Tolerance {
				q.note([]int32{r}, nil)
				break
			}
		}
	}
	if len(forms) > 0 {
		first := q.Space.TrackAll(forms)
		for i, l := range from {
			l.form = first + int32(i)
			q.tie(l)
		}
	}
	q.parts()
}

// parts checks each connected part of the limits.
func (q *Problem) parts() {
	for at := range q.Space.Uses {
		if q.partAt(int32(at)) != nil {
			continue
		}
		p := q.Part(sparse.Affine{Terms: []sparse.Term{{At: int32(at), Coef: 1}}})
		for _, l := range p.limits {
			if f := q.Space.Forms[l]; len(f.Terms) == 0 && f.Const < -plan.Tolerance {
				q.noteForms([]int32{l})
			}
		}
		if len(p.limits) < 2 {
			continue
		}
		if certificate, empty := q.nothingLeft(p); empty {
			q.noteForms(certificate)
		}
	}
}

// nothingLeft reports whether limits leave nothing, and some that show it.
func (q *Problem) nothingLeft(p *Part) (certificate []int32, empty bool) {
	if len(p.params) > few && q.rests(p) {
		return nil, false // a point is proof enough
	}
	if !p.Large {
		poly := q.polyhedronOf(p)
		return poly.Certificate, poly.Empty
	}
	params, limits := p.params, p.limits
	// So is the one nearest to a fair guess.
	w := q.QP(params, nil, limits, nil)
	if x, ok := w.Project(); ok {
		q.Space.Stand(params, x)
		return nil, false
	}
	// Let every limit give way, each at the price of its square: those that
	// must are a proof in themselves (Farkas), and few.
	x, worst, pull := w.Interior(1)
	if x != nil && worst >= -plan.Tolerance/2 {
		return nil, false
	}
	if x != nil {
		strongest := slices.Max(pull)
		var few []int32
		for i, l := range limits {
			if pull[i] > 1e-4*strongest {
				few = append(few, l)
			}
		}
		var inFew []int32
		for _, f := range q.FormsOf(few) {
			for _, t := range f.Terms {
				inFew = append(inFew, t.At)
			}
		}
		slices.Sort(inFew)
		if poly := q.polyhedron(slices.Compact(inFew), few); poly.Empty {
			return poly.Certificate, true
		}
	}
	poly := q.polyhedron(params, limits)
	return poly.Certificate, poly.Empty
}

// noteForms notes the conflict of limits given by their forms.
func (q *Problem) noteForms(forms []int32) {
	var relations []int32
	var vars []relation.VarID
	for _, f := range forms {
		l, ok := q.LimitOf(f)
		if !ok {
			continue
		}
		if l.Relation >= 0 {
			relations = append(relations, l.Relation)
		} else {
			vars = append(vars, l.Sign)
		}
	}
	slices.Sort(relations)
	q.note(slices.Compact(relations), vars)
}
