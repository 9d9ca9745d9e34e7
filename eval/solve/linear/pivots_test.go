package linear

import (
	"slices"
	"testing"

	"foredge/eval/solve/sparse"
)

// Columns in fewer rows come first, of those in as many the one that came first.
func TestWorklist(t *testing.T) {
	w := &worklist{e: &Elimination{RowOf: []int32{-1, -1, -1, -1}}, colCount: []int32{2, 2, 1, 2}}
	for col := range int32(4) {
		w.push(col)
	}
	var got []int32
	for col, ok := w.pop(); ok; col, ok = w.pop() {
		got = append(got, col)
	}
	if !slices.Equal(got, []int32{2, 0, 1, 3}) {
		t.Errorf("%v", got)
	}
}

// What gives a column names each row once, also the one that it is taken from.
func TestGiving(t *testing.T) {
	row := func(value float64, cols ...int32) sparse.Affine {
		a := sparse.Affine{Const: -value}
		for _, c := range cols {
			a.Terms = append(a.Terms, sparse.Term{At: c, Coef: 1})
		}
		return a
	}
	e := Eliminate([]sparse.Affine{row(3, 0, 1), row(1, 1), row(7, 2)}, 3)
	for col, want := range [][]int32{{0, 1}, {1}, {2}} {
		if got := e.Giving(int32(col), 1+int32(col)); !slices.Equal(got, want) {
			t.Errorf("column %d hangs on the rows %v, want %v", col, got, want)
		}
	}
}

// A coefficient too small to be written, beside another or as a multiple, is no
// pivot: each column is given once.
func TestEliminateUnderflow(t *testing.T) {
	row := func(value float64, coefs ...float64) sparse.Affine {
		a := sparse.Affine{Const: -value}
		for c, k := range coefs {
			if k != 0 {
				a.Terms = append(a.Terms, sparse.Term{At: int32(c), Coef: k})
			}
		}
		return a
	}
	for _, rows := range [][]sparse.Affine{
		{row(1, 1e200, 1e-200), row(2, 3), row(4, 5, 1e-160), row(1, 1e160, 1e-163)},
		{row(1, 1), row(1, 1, 1e-300), row(3, 1e-20), row(1, 1e-20, 1e-320), row(4, 0, 1)},
		{row(1, 1e-170, 1e170), row(1, 1e170, 1), row(2, 1e170), row(2, 1e-170, 1e-170)},
	} {
		e := Eliminate(rows, 2)
		for i, r := range e.Rows {
			for _, term := range r.Terms {
				if term.Coef == 0 {
					t.Errorf("row %d of %v keeps the column %d times 0", i, rows, term.At)
				}
			}
		}
		if len(e.Forms) != 2 {
			t.Errorf("%d columns of 2 in %v", len(e.Forms), rows)
		}
	}
}
