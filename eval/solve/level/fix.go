package level

import (
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/must"
	"foredge/eval/solve/sparse"
)

// fix makes form, which is now so much by what is open, come to target from now on. It
// reports whether the musts with it can still hold, which may not be so once non-linear
// ones are drawn in; then nothing is changed.
func (d *Design) fix(form relation.Form, now, target sparse.Affine) bool {
	q := d.Problem
	a := now.Plus(-1, target)
	row := extraOf(form, target)
	if q.TouchesPending(a) {
		return d.fixRows(row)
	}
	q.Fix(a)
	q.Extra = append(q.Extra, row)
	return true
}

// fixRows does the same with rows of which what isn't linear may wait, all of them or
// none.
func (d *Design) fixRows(rows ...must.ExtraRow) bool {
	q := d.Problem
	if len(q.Conflicts) > 0 || len(q.Undecided) > 0 || len(q.Counts) > 0 {
		next := d.begin(slices.Concat(q.Extra, rows))
		next.Bound()
		if len(next.Conflicts) > 0 || next.Refused || len(next.Undecided) > len(q.Undecided) || len(next.Counts) > len(q.Counts) {
			d.refused = append(d.refused, next.Counts...)
			return false
		}
		d.Problem = next
		return true
	}
	part := d.anew(rows...)
	defer part.Close()
	if part.Failed() || part.Refused || len(part.Undecided) > 0 || len(part.Counts) > 0 {
		d.refused = append(d.refused, part.Counts...)
		return false
	}
	q.Adopt(part)
	q.Extra = append(q.Extra, rows...)
	return true
}

// extraOf is form = target.
func extraOf(form relation.Form, target sparse.Affine) must.ExtraRow {
	row := must.ExtraRow{Form: form, Grad: sparse.Scaled(target.Grad, -1)}
	row.Form.Const -= target.Const
	return row
}

// fileExtra files the rows of Problem.Extra by their dimensions.
func (d *Design) fileExtra() {
	if d.extraOf == nil {
		d.extraOf = map[relation.VarID][]int{}
	}
	for ; d.filed < len(d.Problem.Extra); d.filed++ {
		for _, t := range d.Problem.Extra[d.filed].Form.Terms {
			d.extraOf[t.Var] = append(d.extraOf[t.Var], d.filed)
		}
	}
}

// anew solves the musts, with what has been fixed so far and further rows, in
// all that hangs together with those.
func (d *Design) anew(also ...must.ExtraRow) *must.Problem {
	q := d.Problem
	d.fileExtra()
	var todo []relation.VarID
	for _, row := range also {
		for _, t := range row.Form.Terms {
			todo = append(todo, t.Var)
		}
	}
	var rows []int
	var others []relation.VarID // of the dimension last asked about: one list serves all
	part := q.Connected(todo, q.Unknown, func(v relation.VarID) []relation.VarID {
		others = others[:0]
		for _, i := range d.extraOf[v] {
			rows = append(rows, i)
			for _, t := range q.Extra[i].Form.Terms {
				others = append(others, t.Var)
			}
		}
		return others
	})
	slices.Sort(rows)
	t := q.Within(part)
	for _, i := range slices.Compact(rows) {
		t.Extra = append(t.Extra, q.Extra[i])
	}
	t.Extra = append(t.Extra, also...)
	t.Solve()
	t.Bound()
	return t
}
