package solve

import (
	"math"
	"slices"

	"foredge/eval/relation"
)

// sign puts the sign rule of an unknown dimension among the limits.
func (q *problem) sign(v relation.VarID) {
	if !q.signs || q.sys.Vars[v].Signed || q.sys.Vars[v].Bench != 0 || q.formOf[v] < 0 || q.raised[v] {
		return
	}
	id := q.formOf[v]
	if !q.space.floor[id] {
		q.space.floor[id] = true
		q.tie(limitForm{form: id, relation: -1, sign: v})
	}
}

func (q *problem) tie(l limitForm) {
	for len(q.ofForm) <= int(l.form) {
		q.ofForm = append(q.ofForm, -1)
	}
	q.ofForm[l.form] = int32(len(q.limit))
	q.limit = append(q.limit, l)
}

// limitOf is the limit that a form of the space came from, if it is one.
func (q *problem) limitOf(form int32) (limitForm, bool) {
	if int(form) >= len(q.ofForm) || q.ofForm[form] < 0 {
		return limitForm{}, false
	}
	return q.limit[q.ofForm[form]], true
}

// raise notes the dimensions that a limit alone keeps at 0 or more.
func (q *problem) raise() {
	for _, v := range q.scope.vars {
		q.raised[v] = false
	}
	for _, r := range q.scope.relations {
		if !q.active[r] || q.broken[r] || !q.linear[r] || q.sys.Relations[r].Sign == relation.EQ || len(q.forms[r].Terms) != 1 {
			continue
		}
		f := q.forms[r] // of one dimension: left - right
		t := f.Terms[0]
		up := q.sys.Relations[r].Sign == relation.GE
		if up == (t.Coef > 0) && -f.Const/t.Coef >= 0 {
			q.raised[t.Var] = true
		}
	}
}

// bound puts every limit in play into the space, checks those that are
// decided, and finds the parts where the limits leave nothing.
func (q *problem) bound() {
	q.limit, q.ofForm, q.hard, q.partOf, q.waits = nil, nil, nil, nil, nil
	q.raise()
	for _, v := range q.scope.vars {
		q.sign(v)
	}
	var forms []affine
	var from []limitForm
	for _, r := range q.scope.relations {
		if !q.active[r] || q.broken[r] || q.sys.Relations[r].Sign == relation.EQ {
			continue
		}
		pieces, ok := q.limitForms(r)
		if !ok {
			q.hard = append(q.hard, r)
			continue
		}
		for i, f := range pieces {
			a := q.form(f)
			if len(a.terms) > 0 {
				forms, from = append(forms, a), append(from, limitForm{relation: r, piece: i})
				continue
			}
			if a.c < -tolerance {
				q.wrong = append(q.wrong, conflict{q.behind([]int32{r}, nil)})
				break
			}
		}
	}
	if len(forms) > 0 {
		first := q.space.trackAll(forms)
		for i, l := range from {
			l.form = first + int32(i)
			q.tie(l)
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
		if certificate, empty := q.nothingLeft(params, limits); empty {
			q.wrong = append(q.wrong, q.conflictOf(certificate))
		}
	}
}

// large is the size, limits times parameters, from which a part is too large
// for a dictionary and is left to the interior-point method.
const large = 40000

// nothingLeft reports whether limits leave nothing, and some that show it.
func (q *problem) nothingLeft(params, limits []int32) (certificate []int32, empty bool) {
	if len(params)*len(limits) <= large {
		poly := q.polyhedron(params, limits)
		return poly.certificate, poly.empty
	}
	// The point nearest to a fair guess, if that is found, is proof enough.
	w := newWishing(params, nil, q.formsOf(limits), nil)
	if w.project() {
		return nil, false
	}
	// Let every limit give way, each at the price of its square: those that
	// must are a proof in themselves (Farkas), and few.
	x, _, pull := w.interior(1)
	if x != nil && w.worst(x) >= -tolerance/2 {
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
		for _, f := range q.formsOf(few) {
			for _, t := range f.terms {
				inFew = append(inFew, t.at)
			}
		}
		slices.Sort(inFew)
		if poly := q.polyhedron(slices.Compact(inFew), few); poly.empty {
			return poly.certificate, true
		}
	}
	poly := q.polyhedron(params, limits)
	return poly.certificate, poly.empty
}

func (q *problem) formsOf(ids []int32) []affine {
	forms := make([]affine, len(ids))
	for i, id := range ids {
		forms[i] = q.space.forms[id]
	}
	return forms
}

func (q *problem) polyhedron(params, limits []int32) *polyhedron {
	return polyhedronOf(params, q.formsOf(limits), limits)
}

// conflictOf is the conflict of limits given by their forms.
func (q *problem) conflictOf(forms []int32) conflict {
	var relations []int32
	var vars []relation.VarID
	for _, f := range forms {
		l, ok := q.limitOf(f)
		if !ok {
			continue
		}
		if l.relation >= 0 {
			relations = append(relations, l.relation)
		} else {
			vars = append(vars, l.sign)
		}
	}
	slices.Sort(relations)
	return conflict{q.behind(slices.Compact(relations), vars)}
}

// reach gives the range of a form over what the limits leave; infinite where
// nothing bounds it.
func (q *problem) reach(a affine) (low, high float64) {
	low, high = math.Inf(-1), math.Inf(1)
	if l, _, is := q.least(a); is == bounded {
		low = l.c
	}
	if h, _, is := q.least(a.scale(-1)); is == bounded {
		high = -h.c
	}
	return low, high
}

// A boundedness says whether a form has a least value.
type boundedness uint8

const (
	bounded boundedness = iota
	unbounded
	untold // it could not be worked out
)

// least gives the least value of a form over what the limits leave, with the
// limits that hold it there.
func (q *problem) least(a affine) (low affine, held []int32, is boundedness) {
	if len(a.terms) == 0 {
		return a, nil, bounded
	}
	p := q.part(a)
	switch {
	case len(p.limits) == 0:
		return affine{}, nil, unbounded
	case p.poly != nil && p.poly.empty:
		return affine{}, nil, untold
	case p.poly != nil:
		if low, held, ok := p.poly.least(a); ok {
			return low, held, bounded
		}
		return affine{}, nil, unbounded
	}
	// As near as it can come to a value that is out of reach.
	goal := a
	goal.c += outOfReach
	b, found := newWishing(p.params, []affine{goal}, q.formsOf(p.limits), []float64{1}).solve()
	switch {
	case !found:
		return affine{}, nil, untold
	case b.value[0].c < 1:
		return affine{}, nil, unbounded
	}
	for _, i := range b.acting {
		held = append(held, p.limits[i])
	}
	low = b.value[0]
	low.c -= outOfReach
	return low, held, bounded
}

// outOfReach is farther than any dimension of a design, in mm.
const outOfReach = 1e6

// A part is what hangs together through limits.
type part struct {
	params, limits []int32
	poly           *polyhedron // nil if it is too large for one
}

// part is the part of a form, remembered until something in it is fixed.
func (q *problem) part(a affine) *part {
	p, ok := q.partOf[a.terms[0].at]
	for _, t := range a.terms {
		ok = ok && q.partOf[t.at] == p
	}
	if ok {
		return p
	}
	p = &part{}
	p.params, p.limits = q.space.around(a)
	if len(p.params)*len(p.limits) <= large {
		p.poly = q.polyhedron(p.params, p.limits)
	}
	if q.partOf == nil {
		q.partOf = map[int32]*part{}
	}
	for _, x := range p.params {
		q.partOf[x] = p
	}
	return p
}

// fix makes a form of the space 0 from now on.
func (q *problem) fix(a affine) {
	for _, t := range a.terms {
		if p, ok := q.partOf[t.at]; ok {
			for _, x := range p.params {
				delete(q.partOf, x)
			}
		}
	}
	q.space.fix(a)
}
