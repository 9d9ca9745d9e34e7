package linear

import (
	"slices"

	"foredge/eval/solve/sparse"
)

// An Elimination is a sparse system of equations row = 0 brought to triangular
// form: each pivot row gives its pivot column by columns that became pivots
// later and by columns that never did, the parameters.
//
// Pivots are chosen to keep the rows short (Markowitz, Management Science 3
// (1957) 255) among those large enough within their row to be safe.
type Elimination struct {
	Rows []sparse.Affine
	// What was subtracted from a row is chained, from the last on.
	subtractions []subtraction
	lastFrom     []int32 // of each row, its last subtraction, -1 if there is none
	// The pivots in the order in which they were taken.
	pivotRow, pivotCol []int32
	RowOf              []int32 // column to its pivot row, -1 for a parameter
	// Spare are rows that came to nothing, with what is left in Rows[i].Const.
	Spare []int32
	// Forms give every column by the parameters; a parameter is itself.
	Forms  []sparse.Affine
	listed []int32 // of each row, the round in which it was listed last
}

// A subtraction took a multiple of a pivot row from another row.
type subtraction struct {
	pivot  int32
	before int32 // the one before it from the same row, -1 if there is none
}

// substitute works back from the last pivot to give every column by the
// parameters.
func (e *Elimination) substitute(n int) {
	e.Forms = make([]sparse.Affine, n)
	params := make([]sparse.Term, n-len(e.pivotCol))
	for c := range e.Forms {
		if e.RowOf[c] < 0 {
			params[0] = sparse.Term{At: int32(c), Coef: 1}
			e.Forms[c].Terms, params = params[:1:1], params[1:]
		}
	}
	sum, grad := sparse.NewGatherer(n), sparse.NewGatherer(0)
	for i := len(e.pivotRow) - 1; i >= 0; i-- {
		row, col := e.Rows[e.pivotRow[i]], e.pivotCol[i]
		a := row.Coef(col)
		f := sparse.Affine{Const: -row.Const / a}
		grad.Add(-1/a, row.Grad)
		for _, t := range row.Terms {
			if t.At == col {
				continue
			}
			k := -t.Coef / a
			sub := &e.Forms[t.At]
			f.Const += k * sub.Const
			sum.Add(k, sub.Terms)
			grad.Add(k, sub.Grad)
		}
		f.Terms = sum.Take(sparse.Vanish)
		f.Grad = grad.Take(0)
		e.Forms[col] = f
	}
}

// MadeFrom lists the rows from which a row was made, itself among them. The round
// is one in which nothing has been listed yet, not 0.
func (e *Elimination) MadeFrom(row, round int32) []int32 {
	return e.closure(row, false, round)
}

// Giving lists the rows that together give a column, but those that have been listed
// in the round.
func (e *Elimination) Giving(col, round int32) []int32 {
	row := e.RowOf[col]
	if row < 0 || e.listed != nil && e.listed[row] == round {
		return nil
	}
	return e.closure(row, true, round)
}

func (e *Elimination) closure(row int32, back bool, round int32) []int32 {
	if e.listed == nil {
		e.listed = make([]int32, len(e.Rows))
	}
	out := []int32{row}
	e.listed[row] = round
	see := func(r int32) {
		if e.listed[r] != round {
			e.listed[r] = round
			out = append(out, r)
		}
	}
	for i := 0; i < len(out); i++ {
		r := out[i]
		for s := e.lastFrom[r]; s >= 0; s = e.subtractions[s].before {
			see(e.subtractions[s].pivot)
		}
		if !back {
			continue
		}
		for _, t := range e.Rows[r].Terms {
			if q := e.RowOf[t.At]; q >= 0 {
				see(q)
			}
		}
	}
	slices.Sort(out)
	return out
}
