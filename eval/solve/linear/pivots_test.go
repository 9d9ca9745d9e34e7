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
