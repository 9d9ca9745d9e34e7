package adjust

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/linear"
	"foredge/eval/solve/lsq"
	"foredge/eval/solve/sparse"
)

// fit is Gauss and Newton's method: least squares in what the musts leave
// open, with musts and readings that aren't linear replaced by their tangents
// at the values found last. What isn't linear comes in once what is has been
// solved, and of the musts only those that have no more to decide than is known
// by then: a tangent of one that leaves something open would decide that.
func (b *Bench) fit(vars []relation.VarID) {
	for _, v := range b.within.Vars {
		b.values[v] = b.Value[v]
	}
	b.giveForms(vars)
	outright, curved := b.readingForms()
	base, last := b.Problem.Space, math.Inf(1)
	b.bent, b.unsolved = nil, nil
	b.round(base, outright, vars)
	if curved || len(b.Pending) > 0 {
		b.start(vars)
		if curved = curved || len(b.bent) > 0; !curved {
			b.step(vars) // what was solved stays
		}
	}
	for i := 0; curved && i < 100; i++ {
		moved := b.round(base, outright, vars)
		if moved < 1e-12 || moved < 1e-9 && moved >= last {
			break
		}
		last = moved
	}
	b.cov = b.factor.Covariance()
	b.findNulls()
	for _, v := range vars {
		b.open[v] = !b.Known[v] && b.loose(b.VarForm(v).Terms)
	}
	b.giveUp()
}

// round solves once, with tangents at the values found last, and says by how much a
// dimension has moved, as step does.
func (b *Bench) round(base *linear.Space, outright []*sparse.Affine, vars []relation.VarID) (moved float64) {
	b.bend(base)
	b.weigh(outright)
	b.factor = lsq.Factorise(b.shape(vars), b.rows, b.right, 1e-10)
	b.at = b.factor.Solution()
	if len(b.unsolved) > 0 {
		b.findNulls()
	}
	return b.step(vars)
}

// findNulls finds the directions in which no reading notices a change.
func (b *Bench) findNulls() {
	b.nulls = make([][]sparse.Term, len(b.space.Uses))
	for i, null := range b.factor.Nulls() {
		for _, t := range null {
			b.nulls[t.At] = append(b.nulls[t.At], sparse.Term{At: int32(i), Coef: t.Coef})
		}
	}
}

// giveForms sees to it that every dimension of the bench, of its musts and of
// its readings that is unknown has a form.
func (b *Bench) giveForms(vars []relation.VarID) {
	give := func(vars []relation.VarID) {
		for _, v := range vars {
			if !b.Known[v] {
				b.VarForm(v)
			}
		}
	}
	give(vars)
	for _, r := range b.Pending {
		give(b.Plan.Vars[r])
	}
	for _, r := range b.Readings {
		give(b.Plan.Readings[r].Vars)
	}
}

// readingForms gives the readings that are linear as forms, nil for the others;
// curved says that there are some.
func (b *Bench) readingForms() (forms []*sparse.Affine, curved bool) {
	forms = make([]*sparse.Affine, len(b.Readings))
	linear := make([]sparse.Affine, len(b.Readings))
	for i, r := range b.Readings {
		f, ok := b.Plan.Readings[r].Form, b.Plan.Readings[r].Linear
		if !ok {
			f, ok = b.Sys.Readings[r].Solved().Linear(b.Lookup)
		}
		if !ok {
			curved = true
			continue
		}
		linear[i] = b.Form(f)
		forms[i] = &linear[i]
	}
	return forms, curved
}

// bend makes the space of this round: base with the bent musts as tangents at the
// values found last.
func (b *Bench) bend(base *linear.Space) {
	b.Problem.Space = base
	if len(b.bent) > 0 {
		b.Problem.Space = base.Clone()
		for _, r := range b.bent {
			v, terms := b.Sys.Relations[r].Gradient(b.values)
			f := b.tangent(v, terms)
			if len(f.Terms) > 0 && sparse.Finite(f.Const) {
				b.Problem.Space.Fix(f)
			}
		}
	}
	b.space = b.Problem.Space
}

// weigh makes a row of each reading: in the parameters, divided by its
// uncertainty.
func (b *Bench) weigh(outright []*sparse.Affine) {
	if b.rows == nil {
		b.rows, b.right = make([][]sparse.Term, 0, len(b.Readings)), make([]float64, 0, len(b.Readings))
	}
	b.rows, b.right = b.rows[:0], b.right[:0]
	for i, r := range b.Readings {
		read := &b.Sys.Readings[r]
		var f sparse.Affine
		switch {
		case outright[i] == nil:
			v, terms := read.Solved().Gradient(b.values)
			f = b.tangent(v, terms)
		case len(b.bent) > 0: // its form is another one in the space of this round
			linear, _ := read.Solved().Linear(b.Lookup)
			f = b.Form(linear)
		default:
			f = *outright[i]
		}
		if !sparse.Finite(f.Const) {
			f = sparse.Affine{Const: read.Value}
		}
		row := b.Kept.Copy(f.Terms)
		for j := range row {
			row[j].Coef *= 1 / read.U
		}
		b.rows = append(b.rows, row)
		b.right = append(b.right, (read.Value-f.Const)/read.U)
	}
}

// step takes over the solution and says by how much, of its size, a dimension
// of the bench has moved at most.
func (b *Bench) step(vars []relation.VarID) (moved float64) {
	for _, v := range vars {
		if b.Known[v] {
			continue
		}
		f := b.VarForm(v)
		if len(b.unsolved) > 0 && b.loose(f.Terms) {
			continue // where it is its musts may hold, and elsewhere not
		}
		x := f.Const
		for _, t := range f.Terms {
			x += t.Coef * b.at[t.At]
		}
		if d := math.Abs(x-b.values[v]) / max(1, math.Abs(x)); !(d <= moved) {
			moved = d
		}
		b.values[v] = x
	}
	return moved
}

// shape plans for the readings, and for the variances of all dimensions that
// are given by few parameters.
func (b *Bench) shape(vars []relation.VarID) *lsq.Shape {
	rows := slices.Clone(b.rows)
	for _, v := range vars {
		if b.Known[v] {
			continue
		}
		if terms := b.VarForm(v).Terms; len(terms) > 1 && len(terms) <= 8 {
			rows = append(rows, terms)
		}
	}
	return lsq.NewShape(len(b.space.Uses), lsq.Columns(rows))
}

// tangent is a linearised expression with the value given at today's values,
// in the parameters.
func (b *Bench) tangent(value float64, terms []relation.Term) sparse.Affine {
	f := relation.Form{Const: value}
	for _, t := range terms {
		if !sparse.Finite(t.Coef) {
			return sparse.Affine{Const: math.NaN()}
		}
		f.Const -= t.Coef * b.values[t.Var]
		f.Terms = append(f.Terms, t)
	}
	return b.Form(f)
}

// loose reports whether a form can change without any reading noticing.
func (b *Bench) loose(terms []sparse.Term) bool {
	var sum, part []sparse.Term
	for _, t := range terms {
		n := b.nulls[t.At]
		if len(n) == 0 {
			continue
		}
		sum = sparse.Combine(sum, t.Coef, n, 0)
		for _, x := range n {
			part = sparse.Combine(part, 1, []sparse.Term{{At: x.At, Coef: math.Abs(t.Coef * x.Coef)}}, 0)
		}
	}
	for _, s := range sum {
		i, ok := sparse.Find(part, s.At)
		if ok && math.Abs(s.Coef) > 1e-9*part[i].Coef {
			return true
		}
	}
	return false
}
