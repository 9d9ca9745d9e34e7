package lsq

import (
	"math"
	"slices"

	"foredge/eval/solve/sparse"
)

// A Factor is the orthogonal factor R of weighted rows, and with it the least
// squares solution of rows·x = right. Its rows are worked out front by front
// (multifrontal QR: each column's rows meet in a small dense block, are reduced
// by Householder reflections, and what is left is handed on), so that chains
// and rows of holes cost time in proportion to their length. Nothing is
// squared: digits are kept as in a dense QR.
type Factor struct {
	*Shape
	rows  [][]sparse.Term // by column, as given
	right []float64
	scale []float64   // of each column: what it was divided by
	r     [][]float64 // row k of R over filled[k], in scaled columns
	rhs   []float64
	Loose []int32 // positions of columns that depend on those before them
	slack []bool  // the same, by position
}

// Columns lists the columns of sparse rows, for planning.
func Columns(rows [][]sparse.Term) [][]int32 {
	out := make([][]int32, len(rows))
	n := 0
	for _, r := range rows {
		n += len(r)
	}
	all := make([]int32, n)
	for i, r := range rows {
		out[i], all = all[:len(r):len(r)], all[len(r):]
		for j, t := range r {
			out[i][j] = t.At
		}
	}
	return out
}

// back solves R x = b, by position; loose columns are 0.
func (f *Factor) back(b []float64) []float64 {
	x := make([]float64, f.n)
	for k := f.n - 1; k >= 0; k-- {
		if f.slack[k] {
			continue
		}
		sum := b[k]
		for i, p := range f.filled[k][1:] {
			sum -= f.r[k][i+1] * x[p]
		}
		x[k] = sum / f.r[k][0]
	}
	return x
}

// forth solves R' y = b, by position, in place.
func (f *Factor) forth(b []float64) {
	for k := range f.n {
		if f.slack[k] {
			b[k] = 0
			continue
		}
		if b[k] == 0 {
			continue
		}
		b[k] /= f.r[k][0]
		for i, p := range f.filled[k][1:] {
			b[p] -= f.r[k][i+1] * b[k]
		}
	}
}

// Unrefined is the x of least squares, by column, as it comes out first.
func (f *Factor) Unrefined() []float64 { return f.byColumn(f.back(f.rhs)) }

// Solution is the x of least squares, by column, refined twice.
func (f *Factor) Solution() []float64 {
	x := f.Unrefined()
	for range 2 {
		for c, d := range f.Correct(Residuals(f.rows, f.right, x)) {
			x[c] += d
		}
	}
	return x
}

// Correct solves R'R x = rows'·res: the least squares solution for another
// right side, to the accuracy of a first approximation.
func (f *Factor) Correct(res []float64) []float64 {
	b := make([]float64, f.n)
	for i, r := range f.rows {
		for _, t := range r {
			b[f.pos[t.At]] += t.Coef / f.scale[t.At] * res[i]
		}
	}
	f.forth(b)
	return f.byColumn(f.back(b))
}

// SolveNormal solves R'R x = b, by column.
func (f *Factor) SolveNormal(b []float64) []float64 {
	y := make([]float64, f.n)
	for c, v := range b {
		y[f.pos[c]] = v / f.scale[c]
	}
	f.forth(y)
	return f.byColumn(f.back(y))
}

func (f *Factor) byColumn(x []float64) []float64 {
	out := make([]float64, f.n)
	for k, v := range x {
		c := f.Order[k]
		out[c] = v / f.scale[c]
	}
	return out
}

// Variance is the variance of a form of the columns for rows of unit variance:
// the squared length of R'⁻¹ terms.
func (f *Factor) Variance(terms []sparse.Term) float64 {
	b := make([]float64, f.n)
	for _, t := range terms {
		b[f.pos[t.At]] += t.Coef / f.scale[t.At]
	}
	f.forth(b)
	sum := 0.0
	for _, v := range b {
		sum += v * v
	}
	return sum
}

// Nulls gives, for each loose column, what can be added to x without any row
// noticing, by column. What rounding leaves in a column that is fast is none of it.
func (f *Factor) Nulls() [][]sparse.Term {
	if len(f.Loose) == 0 {
		return nil
	}
	above := make([][]int32, f.n) // rows of R that reach a loose column
	for k := range f.n {
		if f.slack[k] {
			continue
		}
		for _, p := range f.filled[k][1:] {
			if f.slack[p] {
				above[p] = append(above[p], int32(k))
			}
		}
	}
	var out [][]sparse.Term
	for _, l := range f.Loose {
		c := f.Order[l]
		null := []sparse.Term{{At: c, Coef: 1 / f.scale[c]}}
		if len(above[l]) > 0 {
			b := make([]float64, f.n)
			for _, k := range above[l] {
				i, _ := slices.BinarySearch(f.filled[k], l)
				b[k] = -f.r[k][i]
			}
			x := f.back(b)
			largest := 1.0
			for _, v := range x {
				largest = max(largest, math.Abs(v))
			}
			for k, v := range x {
				if c := f.Order[k]; math.Abs(v) > 1e-12*largest {
					null = append(null, sparse.Term{At: c, Coef: v / f.scale[c]})
				}
			}
		}
		out = append(out, null)
	}
	return out
}

// Residuals is right - rows·x.
func Residuals(rows [][]sparse.Term, right, x []float64) []float64 {
	res := make([]float64, len(rows))
	for i, r := range rows {
		res[i] = right[i]
		for _, t := range r {
			res[i] = math.FMA(-t.Coef, x[t.At], res[i])
		}
	}
	return res
}
