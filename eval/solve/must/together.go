package must

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/linear"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

// noVar stands for a column that is no dimension but a part of a long sum.
const noVar = relation.VarID(-1)

// longRow is how many terms an equation may have before it is split.
const longRow = 40

// together eliminates all linear equations that still have unknowns.
func (q *Problem) together() (*linear.Elimination, []relation.VarID, []int32) {
	for _, v := range q.scope.Vars {
		q.FormOf[v] = -1
	}
	var cols []relation.VarID
	var rows []sparse.Affine
	var from []int32
	if waiting := q.waiting(); waiting > 0 {
		cols = make([]relation.VarID, 0, 2*waiting)
		rows, from = make([]sparse.Affine, 0, waiting), make([]int32, 0, waiting)
	}
	var terms sparse.Slab[sparse.Term]
	q.Pending = q.Pending[:0]
	q.settled = false
	for _, r := range q.scope.Relations {
		if !q.IsEquation(r) || q.open[r] == 0 {
			continue
		}
		form := q.Forms[r]
		if !q.Linear[r] {
			var ok bool
			if form, ok = q.difference(r, nil); !ok {
				q.Pending = append(q.Pending, r)
				continue
			}
		}
		row := sparse.Affine{Const: form.Const, Grad: q.moved(r), Terms: terms.Take(len(form.Terms))[:0]}
		for _, t := range form.Terms {
			if q.Known[t.Var] {
				row.Const += t.Coef * q.Value[t.Var]
				continue
			}
			if q.FormOf[t.Var] < 0 {
				q.FormOf[t.Var] = int32(len(cols))
				cols = append(cols, t.Var)
			}
			row.Terms = append(row.Terms, sparse.Term{At: q.FormOf[t.Var], Coef: t.Coef})
		}
		slices.SortFunc(row.Terms, func(a, b sparse.Term) int { return int(a.At) - int(b.At) })
		for _, part := range splitRow(&row, &cols) {
			rows = append(rows, part)
			from = append(from, r)
		}
		rows = append(rows, row)
		from = append(from, r)
	}
	for i, x := range q.Extra {
		row := sparse.Affine{Const: x.Form.Const, Grad: x.Grad}
		for _, t := range x.Form.Terms {
			if q.Known[t.Var] {
				row.Const += t.Coef * q.Value[t.Var]
				row.Grad = sparse.Combine(row.Grad, t.Coef, q.Grad[t.Var], 0)
				continue
			}
			if q.FormOf[t.Var] < 0 {
				q.FormOf[t.Var] = int32(len(cols))
				cols = append(cols, t.Var)
			}
			row.Terms = append(row.Terms, sparse.Term{At: q.FormOf[t.Var], Coef: t.Coef})
		}
		if len(row.Terms) == 0 && math.Abs(row.Const) <= plan.Tolerance {
			continue
		}
		slices.SortFunc(row.Terms, func(a, b sparse.Term) int { return int(a.At) - int(b.At) })
		rows = append(rows, row)
		from = append(from, int32(-1-i))
	}
	return linear.Eliminate(rows, len(cols)), cols, from
}

// waiting counts the equations that still have unknowns.
func (q *Problem) waiting() int {
	n := 0
	for _, r := range q.scope.Relations {
		if q.IsEquation(r) && q.open[r] > 0 {
			n++
		}
	}
	return n
}

// splitRow makes a chain of sums of two of a long sum, so that its terms don't
// all come to hang on one another; row becomes the last of the chain.
func splitRow(row *sparse.Affine, cols *[]relation.VarID) []sparse.Affine {
	if len(row.Terms) <= longRow {
		return nil
	}
	ordered := func(terms ...sparse.Term) []sparse.Term {
		slices.SortFunc(terms, func(a, b sparse.Term) int { return int(a.At) - int(b.At) })
		return terms
	}
	var parts []sparse.Affine
	sum, last := row.Terms[0], len(row.Terms)-1
	for _, t := range row.Terms[1:last] {
		next := int32(len(*cols))
		*cols = append(*cols, noVar)
		parts = append(parts, sparse.Affine{Terms: ordered(sum, t, sparse.Term{At: next, Coef: -1})})
		sum = sparse.Term{At: next, Coef: 1}
	}
	row.Terms = ordered(sum, row.Terms[last])
	return parts
}

// take settles what the elimination decides and notes what it finds wrong. It
// reports whether anything came of it.
func (q *Problem) take(e *linear.Elimination, cols []relation.VarID, from []int32) bool {
	progress := false
	for _, row := range e.Spare {
		r := from[row]
		if r < 0 {
			refused := !(math.Abs(e.Rows[row].Const) <= plan.Tolerance)
			if refused && q.benches {
				c := q.conflict(rowsOf(from, e.MadeFrom(row, q.listing().round)), nil)
				q.refusal = &c
			}
			q.Refused = q.Refused || refused
			continue
		}
		if math.Abs(e.Rows[row].Const) <= q.Allowed(r)+1e-13*q.magnitude(r) {
			continue
		}
		q.dead[r] = true
		q.note(rowsOf(from, e.MadeFrom(row, q.listing().round)), nil)
		progress = true
	}
	// A count that is decided may have to be rounded: then all else is worked
	// out again with it.
	noted := false
	for pass := range 2 {
		for c, f := range e.Forms {
			v := cols[c]
			if v == noVar || len(f.Terms) > 0 || !sparse.Finite(f.Const) || q.Known[v] || (pass == 0) != q.Sys.Vars[v].Whole {
				continue
			}
			if !noted {
				q.steps, noted = append(q.steps, step{e, from}), true
			}
			q.settle(v, f.Const, f.Grad, giver{kind: byMany, at: int32(len(q.steps) - 1), col: int32(c)})
			progress = true
		}
		if pass == 0 && progress {
			return true
		}
	}
	return progress
}

// rowsOf are the relations of some rows of an elimination.
func rowsOf(from []int32, rows []int32) []int32 {
	out := make([]int32, len(rows))
	for i, b := range rows {
		out[i] = from[b]
	}
	return out
}

// openSpace makes the space of what the equations leave open: the columns that
// became no pivots are its parameters.
func (q *Problem) openSpace(e *linear.Elimination, cols []relation.VarID, from []int32) {
	q.step, q.stepRows, q.settled = e, from, true
	number := make([]int32, len(cols))
	n := int32(0)
	for c := range cols {
		number[c] = n
		if e.RowOf[c] < 0 {
			n++
		}
	}
	for c, v := range cols {
		for i := range e.Forms[c].Terms {
			e.Forms[c].Terms[i].At = number[e.Forms[c].Terms[i].At]
		}
		if v != noVar {
			q.FormOf[v] = int32(c)
		}
	}
	q.Space = linear.NewSpace(int(n), e.Forms)
	q.Space.Stated = q.stated
}
