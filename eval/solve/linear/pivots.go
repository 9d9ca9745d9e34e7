package linear

import (
	"math"
	"slices"

	"foredge/eval/solve/sparse"
)

const (
	safePivot = 0.1  // a pivot's least size beside the largest of its row
	lastPivot = 1e-9 // the least size when nothing better is left
)

// Eliminate works on rows over n columns. It does not change the rows given, and
// may keep their terms.
func Eliminate(rows []sparse.Affine, n int) *Elimination {
	pivots := min(n, len(rows)) // at the most
	numbers := slices.Repeat([]int32{-1}, n+len(rows)+2*pivots)
	e := &Elimination{
		Rows:     make([]sparse.Affine, len(rows)),
		RowOf:    numbers[:n],
		lastFrom: numbers[n:][:len(rows)],
		pivotRow: numbers[n+len(rows):][:0:pivots],
		pivotCol: numbers[n+len(rows)+pivots:][:0],
	}
	colRows := sparse.NewLister[int32](n)
	for _, r := range rows {
		for _, t := range r.Terms {
			colRows.Expect(t.At)
		}
	}
	w := &worklist{e: e, colCount: make([]int32, n), rowDone: make([]bool, len(rows)), waiting: make([]waiting, 0, 3*n)}
	for i, r := range rows {
		if m := sparse.Largest(r.Terms); m > 0 && m != 1 && sparse.Finite(1/m) {
			scaled := w.terms.Take(len(r.Terms))[:0]
			for _, t := range r.Terms {
				scaled = sparse.AppendTerm(scaled, t.At, t.Coef*(1/m))
			}
			r = sparse.Affine{Terms: scaled, Const: r.Const * (1 / m), Grad: sparse.Scaled(r.Grad, 1/m)}
		}
		e.Rows[i] = r
		for _, t := range r.Terms {
			colRows.Put(t.At, int32(i))
			w.colCount[t.At]++
		}
		if len(r.Terms) == 0 {
			w.finish(int32(i))
		}
	}
	w.colRows = colRows.Done().Apart()
	w.run()
	e.substitute(n)
	return e
}

// A worklist is the part of an elimination still to do.
type worklist struct {
	e        *Elimination
	colRows  [][]int32 // rows that hold the column; may list rows that no longer do
	colCount []int32
	rowDone  []bool
	single   []int32 // rows with one term left
	// buckets[n] are columns in n rows, first come first served: columns that
	// stood in one row from the start come before those that came to it when
	// their neighbours went, else a chain would be eaten up from its end and
	// every link come to hang on all that follow.
	buckets  []queue
	waiting  []waiting
	lowest   int
	deferred []int32
	terms    sparse.Slab[sparse.Term] // of the rows that change
	room     []sparse.Term
}

// A queue is the first and the last of a chain of columns, places in waiting.
type queue struct{ first, last int32 }

type waiting struct{ col, next int32 }

func (w *worklist) finish(row int32) {
	if !w.rowDone[row] {
		w.rowDone[row] = true
		w.e.Spare = append(w.e.Spare, row)
	}
}

func (w *worklist) push(col int32) {
	n := int(w.colCount[col])
	if n == 0 || w.e.RowOf[col] >= 0 {
		return
	}
	for len(w.buckets) <= n {
		w.buckets = append(w.buckets, queue{-1, -1})
	}
	at := int32(len(w.waiting))
	w.waiting = append(w.waiting, waiting{col, -1})
	if b := &w.buckets[n]; b.first < 0 {
		b.first, b.last = at, at
	} else {
		w.waiting[b.last].next, b.last = at, at
	}
	w.lowest = min(w.lowest, n)
}

// pop gives the column in the fewest rows.
func (w *worklist) pop() (int32, bool) {
	for w.lowest < len(w.buckets) {
		b := &w.buckets[w.lowest]
		if b.first < 0 {
			w.lowest++
			continue
		}
		col := w.waiting[b.first].col
		b.first = w.waiting[b.first].next
		if w.e.RowOf[col] < 0 && int(w.colCount[col]) == w.lowest {
			return col, true
		}
	}
	return 0, false
}

func (w *worklist) run() {
	for i := len(w.e.Rows) - 1; i >= 0; i-- {
		if len(w.e.Rows[i].Terms) == 1 {
			w.single = append(w.single, int32(i))
		}
	}
	w.lowest = 1
	for c := range w.colCount {
		w.push(int32(c))
	}
	for {
		if n := len(w.single); n > 0 {
			row := w.single[n-1]
			w.single = w.single[:n-1]
			if !w.rowDone[row] && len(w.e.Rows[row].Terms) == 1 {
				w.pivot(row, w.e.Rows[row].Terms[0].At)
			}
			continue
		}
		col, ok := w.pop()
		if !ok {
			if len(w.deferred) == 0 {
				break
			}
			// What is left has no pivot that is large in its row; take the
			// largest of any row that still has terms.
			cols := w.deferred
			w.deferred = nil
			slices.Sort(cols)
			progress := false
			for _, c := range slices.Compact(cols) {
				if w.e.RowOf[c] >= 0 {
					continue
				}
				if row, ok := w.best(c, lastPivot); ok {
					w.pivot(row, c)
					progress = true
				} else {
					w.deferred = append(w.deferred, c)
				}
			}
			if !progress {
				break
			}
			continue
		}
		if row, ok := w.best(col, safePivot); ok {
			w.pivot(row, col)
		} else {
			w.deferred = append(w.deferred, col)
		}
	}
}

// best is the shortest row in which the column is at least ratio of the
// largest coefficient.
func (w *worklist) best(col int32, ratio float64) (int32, bool) {
	rows := w.colRows[col]
	kept := rows[:0]
	best, found := int32(-1), false
	for _, r := range rows {
		if w.rowDone[r] {
			continue
		}
		i, ok := sparse.Find(w.e.Rows[r].Terms, col)
		if !ok {
			continue
		}
		kept = append(kept, r)
		c := math.Abs(w.e.Rows[r].Terms[i].Coef)
		if !(c >= ratio*sparse.Largest(w.e.Rows[r].Terms)) {
			continue
		}
		if !found || len(w.e.Rows[r].Terms) < len(w.e.Rows[best].Terms) ||
			len(w.e.Rows[r].Terms) == len(w.e.Rows[best].Terms) && r < best {
			best, found = r, true
		}
	}
	slices.Sort(kept)
	w.colRows[col] = slices.Compact(kept)
	return best, found
}

// pivot uses the row to take the column out of all other rows.
func (w *worklist) pivot(row, col int32) {
	e := w.e
	e.RowOf[col] = row
	e.pivotRow = append(e.pivotRow, row)
	e.pivotCol = append(e.pivotCol, col)
	w.rowDone[row] = true
	p := e.Rows[row]
	for _, t := range p.Terms {
		w.colCount[t.At]--
		if t.At != col {
			w.push(t.At)
		}
	}
	a := p.Coef(col)
	rows := w.colRows[col]
	slices.Sort(rows)
	for _, r := range slices.Compact(rows) {
		if w.rowDone[r] {
			continue
		}
		c := e.Rows[r].Coef(col)
		if c == 0 {
			continue
		}
		w.subtract(r, row, col, c/a)
	}
	w.colRows[col] = nil
}

func (w *worklist) subtract(r, row, col int32, k float64) {
	e := w.e
	old, p := e.Rows[r], e.Rows[row]
	w.room = sparse.AppendCombined(w.room[:0], old.Terms, -k, p.Terms, sparse.Vanish)
	if i, ok := sparse.Find(w.room, col); ok { // rounding must not keep it
		w.room = slices.Delete(w.room, i, i+1)
	}
	next := sparse.Affine{Terms: w.terms.Copy(w.room), Const: old.Const - k*p.Const, Grad: sparse.Combine(old.Grad, -k, p.Grad, 0)}
	e.subtractions = append(e.subtractions, subtraction{row, e.lastFrom[r]})
	e.lastFrom[r] = int32(len(e.subtractions) - 1)
	// Keep the counts of the columns that came or went.
	i, j := 0, 0
	for i < len(old.Terms) || j < len(next.Terms) {
		switch {
		case j >= len(next.Terms) || i < len(old.Terms) && old.Terms[i].At < next.Terms[j].At:
			w.colCount[old.Terms[i].At]--
			w.push(old.Terms[i].At)
			i++
		case i >= len(old.Terms) || old.Terms[i].At > next.Terms[j].At:
			at := next.Terms[j].At
			w.colCount[at]++
			w.colRows[at] = append(w.colRows[at], r)
			w.push(at)
			j++
		default:
			i++
			j++
		}
	}
	e.Rows[r] = next
	switch len(next.Terms) {
	case 0:
		w.finish(r)
	case 1:
		w.single = append(w.single, r)
	}
}
