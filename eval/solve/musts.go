package solve

import (
	"math"
	"slices"

	"foredge/eval/relation"
)

func sortedKeys(set map[int32]bool) []int32 {
	out := make([]int32, 0, len(set))
	for k := range set {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// start counts the unknowns of each equation and puts those with one at most
// in line.
func (q *problem) start() {
	for _, r := range q.scope.relations {
		if !q.isEquation(r) {
			continue
		}
		q.open[r] = 0
		for _, v := range q.vars[r] {
			if !q.known[v] {
				q.open[r]++
			}
		}
		if q.open[r] <= 1 {
			q.enqueue(r)
		}
	}
}

func (q *problem) enqueue(r int32) {
	if !q.queued[r] && q.isEquation(r) {
		q.queued[r] = true
		q.queue = append(q.queue, r)
	}
}

// musts works out all that the equations decide. What they leave open stands
// in q.space afterwards, what can't hold in q.wrong.
func (q *problem) musts() {
	q.start()
	for {
		q.propagate()
		step, cols, rows := q.together()
		again := q.take(step, cols, rows)
		if again {
			continue
		}
		q.openSpace(step, cols, rows)
		if q.blocks() {
			continue
		}
		return
	}
}

// propagate takes equations with one unknown, in turn.
func (q *problem) propagate() {
	for len(q.queue) > 0 {
		r := q.queue[0]
		q.queue = q.queue[1:]
		q.queued[r] = false
		if q.isEquation(r) {
			q.one(r)
		}
	}
}

func (q *problem) one(r int32) {
	unknown, count := relation.VarID(-1), 0
	for _, v := range q.vars[r] {
		if !q.known[v] {
			unknown = v
			count++
		}
	}
	if count > 1 {
		return
	}
	form, ok := q.difference(r, q.terms[:0])
	if count == 0 || ok && len(form.Terms) == 0 {
		if ok && !(math.Abs(form.Const) <= q.allowed(r)+1e-13*q.magnitude(r)) {
			q.dead[r] = true
			q.wrong = append(q.wrong, conflict{q.behind([]int32{r}, nil)})
		}
		return
	}
	if ok {
		t := form.Terms[0]
		if x := -form.Const / t.Coef; finite(x) {
			q.giveOne(r, t.Var, x)
			return
		}
		// What it is made of can't be computed: a root of less than 0, a
		// quotient by 0.
		q.dead[r] = true
		q.tangles = append(q.tangles, q.tangle([]relation.VarID{t.Var}, []int32{r}))
		return
	}
	if q.sys.Relations[r].Hides(unknown) {
		return
	}
	roots, any := q.roots(r, unknown)
	if any {
		return
	}
	switch len(roots) {
	case 0:
		q.dead[r] = true
		q.tangles = append(q.tangles, q.tangle([]relation.VarID{unknown}, []int32{r}))
	case 1:
		q.giveOne(r, unknown, roots[0])
	} // of several, limits may leave one: that is for a block to find
}

// giveOne settles the last unknown of equation r.
func (q *problem) giveOne(r int32, v relation.VarID, x float64) {
	var g []term
	old := q.value[v]
	q.value[v] = x
	if moved := q.moved(r); len(moved) > 0 {
		if d := q.slope(r, v); d != 0 && finite(d) {
			g = scaled(moved, -1/d)
		}
	}
	q.value[v] = old
	q.settle(v, x, g, giver{kind: byOne, at: r})
}

// slope is the derivative of left - right of relation r by a dimension.
func (q *problem) slope(r int32, v relation.VarID) float64 {
	if q.linear[r] {
		for _, t := range q.forms[r].Terms {
			if t.Var == v {
				return t.Coef
			}
		}
		return 0
	}
	_, terms := q.sys.Relations[r].Gradient(q.value)
	for _, t := range terms {
		if t.Var == v {
			return t.Coef
		}
	}
	return 0
}

// magnitude is the size of what equation r adds up, to allow for rounding.
func (q *problem) magnitude(r int32) float64 {
	m := 0.0
	for _, t := range q.forms[r].Terms {
		if q.known[t.Var] {
			m += math.Abs(t.Coef * q.value[t.Var])
		}
	}
	return m
}

// noVar stands for a column that is no dimension but a part of a long sum.
const noVar = relation.VarID(-1)

// longRow is how many terms an equation may have before it is split.
const longRow = 40

// together eliminates all linear equations that still have unknowns.
func (q *problem) together() (*elimination, []relation.VarID, []int32) {
	for _, v := range q.scope.vars {
		q.formOf[v] = -1
	}
	var cols []relation.VarID
	var rows []affine
	var from []int32
	if waiting := q.waiting(); waiting > 0 {
		cols = make([]relation.VarID, 0, 2*waiting)
		rows, from = make([]affine, 0, waiting), make([]int32, 0, waiting)
	}
	var terms slab[term]
	q.pending = q.pending[:0]
	q.settled = false
	for _, r := range q.scope.relations {
		if !q.isEquation(r) || q.open[r] == 0 {
			continue
		}
		form := q.forms[r]
		if !q.linear[r] {
			var ok bool
			if form, ok = q.difference(r, nil); !ok {
				q.pending = append(q.pending, r)
				continue
			}
		}
		row := affine{c: form.Const, g: q.moved(r), terms: terms.take(len(form.Terms))[:0]}
		for _, t := range form.Terms {
			if q.known[t.Var] {
				row.c += t.Coef * q.value[t.Var]
				continue
			}
			if q.formOf[t.Var] < 0 {
				q.formOf[t.Var] = int32(len(cols))
				cols = append(cols, t.Var)
			}
			row.terms = append(row.terms, term{q.formOf[t.Var], t.Coef})
		}
		slices.SortFunc(row.terms, func(a, b term) int { return int(a.at) - int(b.at) })
		for _, part := range splitRow(&row, &cols) {
			rows = append(rows, part)
			from = append(from, r)
		}
		rows = append(rows, row)
		from = append(from, r)
	}
	for i, x := range q.extra {
		row := affine{c: x.form.Const, g: x.g}
		for _, t := range x.form.Terms {
			if q.known[t.Var] {
				row.c += t.Coef * q.value[t.Var]
				row.g = combine(row.g, t.Coef, q.grad[t.Var], 0)
				continue
			}
			if q.formOf[t.Var] < 0 {
				q.formOf[t.Var] = int32(len(cols))
				cols = append(cols, t.Var)
			}
			row.terms = append(row.terms, term{q.formOf[t.Var], t.Coef})
		}
		if len(row.terms) == 0 && math.Abs(row.c) <= tolerance {
			continue
		}
		slices.SortFunc(row.terms, func(a, b term) int { return int(a.at) - int(b.at) })
		rows = append(rows, row)
		from = append(from, int32(-1-i))
	}
	return eliminate(rows, len(cols)), cols, from
}

// waiting counts the equations that still have unknowns.
func (q *problem) waiting() int {
	n := 0
	for _, r := range q.scope.relations {
		if q.isEquation(r) && q.open[r] > 0 {
			n++
		}
	}
	return n
}

// splitRow makes a chain of sums of two of a long sum, so that its terms don't
// all come to hang on one another; row becomes the last of the chain.
func splitRow(row *affine, cols *[]relation.VarID) []affine {
	if len(row.terms) <= longRow {
		return nil
	}
	ordered := func(terms ...term) []term {
		slices.SortFunc(terms, func(a, b term) int { return int(a.at) - int(b.at) })
		return terms
	}
	var parts []affine
	sum, last := row.terms[0], len(row.terms)-1
	for _, t := range row.terms[1:last] {
		next := int32(len(*cols))
		*cols = append(*cols, noVar)
		parts = append(parts, affine{terms: ordered(sum, t, term{next, -1})})
		sum = term{next, 1}
	}
	row.terms = ordered(sum, row.terms[last])
	return parts
}

// take settles what the elimination decides and notes what it finds wrong. It
// reports whether anything came of it.
func (q *problem) take(e *elimination, cols []relation.VarID, from []int32) bool {
	progress := false
	for _, row := range e.spare {
		r := from[row]
		if r < 0 {
			q.refused = q.refused || !(math.Abs(e.rows[row].c) <= tolerance)
			continue
		}
		if math.Abs(e.rows[row].c) <= q.allowed(r)+1e-13*q.magnitude(r) {
			continue
		}
		var set []int32
		for _, b := range e.rowsBehind(row) {
			set = append(set, from[b])
		}
		q.dead[r] = true
		q.wrong = append(q.wrong, conflict{q.behind(set, nil)})
		progress = true
	}
	// A count that is decided may have to be rounded: then all else is worked
	// out again with it.
	noted := false
	for pass := range 2 {
		for c, f := range e.forms {
			v := cols[c]
			if v == noVar || len(f.terms) > 0 || !finite(f.c) || q.known[v] || (pass == 0) != q.sys.Vars[v].Whole {
				continue
			}
			if !noted {
				q.steps, noted = append(q.steps, step{e, from}), true
			}
			q.settle(v, f.c, f.g, giver{kind: byMany, at: int32(len(q.steps) - 1), col: int32(c)})
			progress = true
		}
		if pass == 0 && progress {
			return true
		}
	}
	return progress
}

// openSpace makes the space of what the equations leave open: the columns that
// became no pivots are its parameters.
func (q *problem) openSpace(e *elimination, cols []relation.VarID, from []int32) {
	q.step, q.stepRows, q.settled = e, from, true
	number := make([]int32, len(cols))
	n := int32(0)
	for c := range cols {
		number[c] = n
		if e.rowOf[c] < 0 {
			n++
		}
	}
	for c, v := range cols {
		for i := range e.forms[c].terms {
			e.forms[c].terms[i].at = number[e.forms[c].terms[i].at]
		}
		if v != noVar {
			q.formOf[v] = int32(c)
		}
	}
	q.space = spaceOf(int(n), e.forms)
}

// form is an expression in the parameters of the space. A dimension that no
// equation mentions gets a parameter of its own.
func (q *problem) form(f relation.Form) affine {
	out := affine{c: f.Const}
	sum := &q.sum
	for _, t := range f.Terms {
		if q.known[t.Var] {
			out.c += t.Coef * q.value[t.Var]
			out.g = combine(out.g, t.Coef, q.grad[t.Var], 0)
			continue
		}
		part := q.varForm(t.Var)
		out.c += t.Coef * part.c
		out.g = combine(out.g, t.Coef, part.g, 0)
		sum.add(t.Coef, part.terms)
	}
	out.terms = q.kept.copy(sum.take())
	return out
}

// straight is left - right of a relation as a linear form: in all dimensions
// where it can be, so that nothing of how it moves with the benches is lost,
// else with what is known put in.
func (q *problem) straight(rel *relation.Relation) (relation.Form, bool) {
	if f, ok := rel.Difference(relation.Nothing); ok {
		return f, true
	}
	return rel.Difference(q.lookup)
}

// limitForms is the same for an inequality: forms that must each be at least 0,
// good until it is asked again.
func (q *problem) limitForms(r int32) ([]relation.Form, bool) {
	rel := &q.sys.Relations[r]
	if q.linear[r] {
		f := q.forms[r]
		if rel.Sign == relation.LE {
			f = f.Scale(-1)
		}
		q.piece[0] = f
		return q.piece[:], true
	}
	if f, ok := rel.Limits(relation.Nothing); ok {
		return f, true
	}
	return rel.Limits(q.lookup)
}

// varForm is the form of a dimension that isn't known.
func (q *problem) varForm(v relation.VarID) affine {
	if q.formOf[v] < 0 {
		p := int32(len(q.space.uses))
		q.space.uses = append(q.space.uses, nil)
		q.formOf[v] = q.space.track(affine{terms: []term{{p, 1}}}, false)
		q.sign(v)
	}
	return q.space.forms[q.formOf[v]]
}

// A sum adds up the terms of a few forms; what cancels is left out.
type sum struct {
	terms []term
}

func (s *sum) add(k float64, terms []term) {
	for _, t := range terms {
		s.terms = append(s.terms, term{t.at, k * t.c})
	}
}

// take gives the sum, good until the next one is begun.
func (s *sum) take() []term {
	slices.SortStableFunc(s.terms, func(a, b term) int { return int(a.at) - int(b.at) })
	out := s.terms[:0]
	for i := 0; i < len(s.terms); {
		at, v, part := s.terms[i].at, 0.0, 0.0
		for ; i < len(s.terms) && s.terms[i].at == at; i++ {
			v += s.terms[i].c
			part += math.Abs(s.terms[i].c)
		}
		if !(math.Abs(v) <= vanish*part) {
			out = append(out, term{at, v})
		}
	}
	s.terms = s.terms[:0]
	return out
}
