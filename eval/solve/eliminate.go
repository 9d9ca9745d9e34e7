package solve

import (
	"math"
	"slices"
)

// An elimination is a sparse system of equations row = 0 brought to triangular
// form: each pivot row gives its pivot column by columns that became pivots
// later and by columns that never did, the parameters.
//
// Pivots are chosen to keep the rows short (Markowitz, Management Science 3
// (1957) 255) among those large enough within their row to be safe.
type elimination struct {
	rows []affine
	// What was subtracted from a row is chained, from the last on.
	subtractions []subtraction
	lastFrom     []int32 // of each row, its last subtraction, -1 if there is none
	// pivots in the order in which they were taken.
	pivotRow, pivotCol []int32
	rowOf              []int32 // column to its pivot row, -1 for a parameter
	// spare are rows that came to nothing, with what is left in rows[i].c.
	spare []int32
	// forms give every column by the parameters; a parameter is itself.
	forms []affine
}

// A subtraction took a multiple of a pivot row from another row.
type subtraction struct {
	pivot  int32
	before int32 // the one before it from the same row, -1 if there is none
}

const (
	safePivot = 0.1  // a pivot's least size beside the largest of its row
	lastPivot = 1e-9 // the least size when nothing better is left
)

// eliminate works on rows over n columns. It does not change the rows given, and
// may keep their terms.
func eliminate(rows []affine, n int) *elimination {
	e := &elimination{
		rows:  make([]affine, len(rows)),
		rowOf: make([]int32, n),

		lastFrom: make([]int32, len(rows)),
	}
	for i := range e.lastFrom {
		e.lastFrom[i] = -1
	}
	for i := range e.rowOf {
		e.rowOf[i] = -1
	}
	colRows := newLister[int32](n)
	for _, r := range rows {
		for _, t := range r.terms {
			colRows.expect(t.at)
		}
	}
	w := &worklist{e: e, colCount: make([]int32, n), rowDone: make([]bool, len(rows)), waiting: make([]waiting, 0, 3*n)}
	for i, r := range rows {
		if m := size(r.terms); m > 0 && m != 1 && finite(1/m) {
			r = affine{w.terms.copy(r.terms), r.c * (1 / m), scaled(r.g, 1/m)}
			for j := range r.terms {
				r.terms[j].c *= 1 / m
			}
		}
		e.rows[i] = r
		for _, t := range r.terms {
			colRows.put(t.at, int32(i))
			w.colCount[t.at]++
		}
		if len(r.terms) == 0 {
			w.finish(int32(i))
		}
	}
	w.colRows = colRows.done().apart()
	w.run()
	e.substitute(n)
	return e
}

// A worklist is the part of an elimination still to do.
type worklist struct {
	e        *elimination
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
	terms    slab[term] // of the rows that change
	room     []term
}

// A queue is the first and the last of a chain of columns, places in waiting.
type queue struct{ first, last int32 }

type waiting struct{ col, next int32 }

func (w *worklist) finish(row int32) {
	if !w.rowDone[row] {
		w.rowDone[row] = true
		w.e.spare = append(w.e.spare, row)
	}
}

func (w *worklist) push(col int32) {
	n := int(w.colCount[col])
	if n == 0 || w.e.rowOf[col] >= 0 {
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
		if w.e.rowOf[col] < 0 && int(w.colCount[col]) == w.lowest {
			return col, true
		}
	}
	return 0, false
}

func (w *worklist) run() {
	for i := len(w.e.rows) - 1; i >= 0; i-- {
		if len(w.e.rows[i].terms) == 1 {
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
			if !w.rowDone[row] && len(w.e.rows[row].terms) == 1 {
				w.pivot(row, w.e.rows[row].terms[0].at)
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
				if w.e.rowOf[c] >= 0 {
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
		i, ok := find(w.e.rows[r].terms, col)
		if !ok {
			continue
		}
		kept = append(kept, r)
		c := math.Abs(w.e.rows[r].terms[i].c)
		if !(c >= ratio*size(w.e.rows[r].terms)) {
			continue
		}
		if !found || len(w.e.rows[r].terms) < len(w.e.rows[best].terms) ||
			len(w.e.rows[r].terms) == len(w.e.rows[best].terms) && r < best {
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
	e.rowOf[col] = row
	e.pivotRow = append(e.pivotRow, row)
	e.pivotCol = append(e.pivotCol, col)
	w.rowDone[row] = true
	p := e.rows[row]
	for _, t := range p.terms {
		w.colCount[t.at]--
		if t.at != col {
			w.push(t.at)
		}
	}
	a := p.coef(col)
	rows := w.colRows[col]
	slices.Sort(rows)
	for _, r := range slices.Compact(rows) {
		if w.rowDone[r] {
			continue
		}
		c := e.rows[r].coef(col)
		if c == 0 {
			continue
		}
		w.subtract(r, row, col, c/a)
	}
	w.colRows[col] = nil
}

func (w *worklist) subtract(r, row, col int32, k float64) {
	e := w.e
	old, p := e.rows[r], e.rows[row]
	w.room = appendCombined(w.room[:0], old.terms, -k, p.terms, vanish)
	if i, ok := find(w.room, col); ok { // rounding must not keep it
		w.room = slices.Delete(w.room, i, i+1)
	}
	next := affine{w.terms.copy(w.room), old.c - k*p.c, combine(old.g, -k, p.g, 0)}
	e.subtractions = append(e.subtractions, subtraction{row, e.lastFrom[r]})
	e.lastFrom[r] = int32(len(e.subtractions) - 1)
	// Keep the counts of the columns that came or went.
	i, j := 0, 0
	for i < len(old.terms) || j < len(next.terms) {
		switch {
		case j >= len(next.terms) || i < len(old.terms) && old.terms[i].at < next.terms[j].at:
			w.colCount[old.terms[i].at]--
			w.push(old.terms[i].at)
			i++
		case i >= len(old.terms) || old.terms[i].at > next.terms[j].at:
			at := next.terms[j].at
			w.colCount[at]++
			w.colRows[at] = append(w.colRows[at], r)
			w.push(at)
			j++
		default:
			i++
			j++
		}
	}
	e.rows[r] = next
	switch len(next.terms) {
	case 0:
		w.finish(r)
	case 1:
		w.single = append(w.single, r)
	}
}

// substitute works back from the last pivot to give every column by the
// parameters.
func (e *elimination) substitute(n int) {
	e.forms = make([]affine, n)
	params := make([]term, n-len(e.pivotCol))
	for c := range e.forms {
		if e.rowOf[c] < 0 {
			params[0] = term{int32(c), 1}
			e.forms[c].terms, params = params[:1:1], params[1:]
		}
	}
	sum, grad := newGatherer(n), newGatherer(0)
	for i := len(e.pivotRow) - 1; i >= 0; i-- {
		row, col := e.rows[e.pivotRow[i]], e.pivotCol[i]
		a := row.coef(col)
		f := affine{c: -row.c / a}
		grad.add(-1/a, row.g)
		for _, t := range row.terms {
			if t.at == col {
				continue
			}
			k := -t.c / a
			sub := e.forms[t.at]
			f.c += k * sub.c
			sum.add(k, sub.terms)
			grad.add(k, sub.g)
		}
		f.terms = sum.take(vanish)
		f.g = grad.take(0)
		e.forms[col] = f
	}
}

// rowsBehind lists the rows from which a row was made, itself among them.
func (e *elimination) rowsBehind(row int32) []int32 {
	return e.closure([]int32{row}, false)
}

// rowsGiving lists the rows that together give a column.
func (e *elimination) rowsGiving(col int32) []int32 {
	if e.rowOf[col] < 0 {
		return nil
	}
	return e.closure([]int32{e.rowOf[col]}, true)
}

func (e *elimination) closure(todo []int32, back bool) []int32 {
	seen := map[int32]bool{}
	var out []int32
	for _, r := range todo {
		seen[r] = true
	}
	for len(todo) > 0 {
		r := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		out = append(out, r)
		var next []int32
		for s := e.lastFrom[r]; s >= 0; s = e.subtractions[s].before {
			next = append(next, e.subtractions[s].pivot)
		}
		if back {
			for _, t := range e.rows[r].terms {
				if q := e.rowOf[t.at]; q >= 0 {
					next = append(next, q)
				}
			}
		}
		for _, q := range next {
			if !seen[q] {
				seen[q] = true
				todo = append(todo, q)
			}
		}
	}
	slices.Sort(out)
	return out
}
