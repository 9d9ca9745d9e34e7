package level

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/linear"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

// Result is the value of every dimension, NaN where nothing decides it, and how
// it moves with the benches.
func (d *Design) Result() (values []float64, grad [][]sparse.Term) {
	values, grad = make([]float64, len(d.Sys.Vars)), make([][]sparse.Term, len(d.Sys.Vars))
	for v := range d.Sys.Vars {
		values[v], grad[v] = d.result(relation.VarID(v))
	}
	if d.Problem.Rough {
		d.regrade(values, grad)
	}
	return values, grad
}

// result is the value of one dimension and how it moves with the benches, as far
// as that needn't be worked out at the final values.
func (d *Design) result(v relation.VarID) (value float64, grad []sparse.Term) {
	value = math.NaN()
	switch {
	case d.Sys.Vars[v].Bench != d.bench:
		value, grad = d.Adj.Value[v], d.Adj.Grad[v]
	case d.Problem.Known[v]:
		value, grad = d.Problem.Value[v], d.Problem.Grad[v]
	case d.decided(v):
		f := d.Problem.VarForm(v)
		value, grad = f.Const, f.Grad
		if n := math.Round(value); d.Sys.Vars[v].Whole && math.Abs(value-n) <= plan.Tolerance {
			value, grad = n, nil
		}
	}
	if !sparse.Finite(value) {
		value = math.NaN()
	}
	return value, grad
}

// regrade works out how all dimensions of the design move with the benches,
// from all equations linearised at the final values.
func (d *Design) regrade(values []float64, grad [][]sparse.Term) {
	col := make([]int32, len(d.Sys.Vars))
	var cols []relation.VarID
	var rows []sparse.Affine
	for i := range col {
		col[i] = -1
	}
	add := func(terms []relation.Term, g []sparse.Term) {
		row := sparse.Affine{Grad: g}
		for _, t := range terms {
			switch {
			case !sparse.Finite(t.Coef) || !sparse.Finite(values[t.Var]):
				return
			case d.Adj.Known[t.Var]:
				row.Grad = sparse.Combine(row.Grad, t.Coef, d.Adj.Grad[t.Var], 0)
				continue
			case d.Sys.Vars[t.Var].Whole:
				continue
			}
			if col[t.Var] < 0 {
				col[t.Var] = int32(len(cols))
				cols = append(cols, t.Var)
			}
			row.Terms = append(row.Terms, sparse.Term{At: col[t.Var], Coef: t.Coef})
		}
		slices.SortFunc(row.Terms, func(a, b sparse.Term) int { return int(a.At) - int(b.At) })
		rows = append(rows, row)
	}
	for _, r := range d.scope.Relations {
		if d.Problem.Active[r] && d.Equation[r] {
			_, terms := d.Sys.Relations[r].Gradient(values)
			add(terms, nil)
		}
	}
	for _, x := range d.Problem.Extra {
		add(x.Form.Terms, x.Grad)
	}
	e := linear.Eliminate(rows, len(cols))
	for c, v := range cols {
		if len(e.Forms[c].Terms) == 0 {
			grad[v] = e.Forms[c].Grad
		}
	}
}
