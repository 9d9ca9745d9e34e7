package lsq

import (
	"math"

	"foredge/eval/solve/sparse"
)

// Factorise reduces rows·x = right. The shape may have been made for further
// rows: their places are then filled too, with 0. A column whose part
// independent of those before it is less than loose of its length counts as
// dependent.
func Factorise(s *Shape, rows [][]sparse.Term, right []float64, loose float64) *Factor {
	n := s.n
	f := &Factor{Shape: s, rows: rows, right: right, scale: columnLengths(n, rows),
		r: make([][]float64, n), rhs: make([]float64, n), slack: make([]bool, n)}
	places := 0
	for _, fill := range s.filled {
		places += len(fill)
	}
	backing := make([]float64, places)
	a := &assembly{Factor: f, place: make([]int32, n), held: make([][]float64, n)}
	for k := range n {
		w := len(s.filled[k]) + 1
		m := a.assemble(k, w)
		f.r[k], backing = backing[:w-1:w-1], backing[w-1:]
		kept := f.reduce(k, a.front, m, w, loose)
		a.handOn(k, a.front[kept*w:m*w], m-kept, w)
	}
	return f
}

// columnLengths is the length of each column, 1 where that is no number to
// divide by.
func columnLengths(n int, rows [][]sparse.Term) []float64 {
	lengths := make([]float64, n)
	for _, r := range rows {
		for _, t := range r {
			lengths[t.At] += t.Coef * t.Coef
		}
	}
	for c, v := range lengths {
		if v = math.Sqrt(v); v == 0 || !sparse.Finite(v) {
			v = 1
		}
		lengths[c] = v
	}
	return lengths
}

// An assembly puts the fronts together, one for each position. The rows of a
// front are those that begin there and those that other positions have handed
// on, over the filled places of the position and the right side.
type assembly struct {
	*Factor
	front []float64
	place []int32     // of the positions in the front, where they stand in it
	held  [][]float64 // what each position hands on
	room  sparse.Slab[float64]
}

// handed is the number of rows that position b hands on.
func (a *assembly) handed(b int32) int { return len(a.held[b]) / len(a.filled[b]) }

// assemble makes the front of position k, w wide, and says how many rows it has.
func (a *assembly) assemble(k, w int) (m int) {
	for i, p := range a.filled[k] {
		a.place[p] = int32(i)
	}
	for _, r := range a.starts.Of(int32(k)) {
		if int(r) < len(a.rows) {
			m++
		}
	}
	for _, b := range a.below[k] {
		m += a.handed(b)
	}
	if cap(a.front) < m*w {
		a.front = make([]float64, 0, 2*m*w)
	}
	front := a.front[:m*w]
	clear(front)
	i := 0
	for _, r := range a.starts.Of(int32(k)) {
		if int(r) >= len(a.rows) {
			continue
		}
		row := front[i*w : (i+1)*w]
		for _, t := range a.rows[r] {
			row[a.place[a.pos[t.At]]] = t.Coef / a.scale[t.At]
		}
		row[w-1] = a.right[r]
		i++
	}
	for _, b := range a.below[k] {
		from := a.filled[b][1:]
		bw := len(from) + 1
		for j := range a.handed(b) {
			part := a.held[b][j*bw : (j+1)*bw]
			row := front[i*w : (i+1)*w]
			for x, p := range from {
				row[a.place[p]] = part[x]
			}
			row[w-1] = part[bw-1]
			i++
		}
		a.held[b] = nil
	}
	a.front = front
	return m
}

// reduce takes column 0 out of the front; it returns how many rows became
// part of R.
func (f *Factor) reduce(k int, front []float64, m, w int, loose float64) int {
	length := 0.0
	for i := range m {
		length += front[i*w] * front[i*w]
	}
	if !(math.Sqrt(length) > loose) {
		f.slack[k] = true
		f.Loose = append(f.Loose, int32(k))
		for i := range m {
			front[i*w] = 0
		}
		return 0
	}
	mirror(front, m, w, 0, 0)
	copy(f.r[k], front[:w-1])
	f.rhs[k] = front[w-1]
	return 1
}

// mirror takes column c of the rows from top on to a multiple of its first
// unit vector by a Householder reflection.
func mirror(a []float64, m, w, top, c int) {
	switch {
	case m-top == 1:
		return
	case m-top > tall:
		mirrorTall(a, m, w, top, c)
		return
	}
	norm := 0.0
	for i := top; i < m; i++ {
		norm += a[i*w+c] * a[i*w+c]
	}
	if norm = math.Sqrt(norm); norm == 0 {
		return
	}
	head := a[top*w+c]
	alpha := -math.Copysign(norm, head)
	v0 := head - alpha
	// With v scaled to v[0] = 1, the reflection is I - beta v v'.
	beta := -v0 / alpha
	for i := top + 1; i < m; i++ {
		a[i*w+c] /= v0
	}
	for j := c + 1; j < w; j++ {
		sum := a[top*w+j]
		for i := top + 1; i < m; i++ {
			sum += a[i*w+c] * a[i*w+j]
		}
		sum *= beta
		a[top*w+j] -= sum
		for i := top + 1; i < m; i++ {
			a[i*w+j] -= sum * a[i*w+c]
		}
	}
	a[top*w+c] = alpha
	for i := top + 1; i < m; i++ {
		a[i*w+c] = 0
	}
}

// tall is from how many rows on a front is mostly zeros below a staircase: what the
// positions before it have handed on is triangular already.
const tall = 32

// mirrorTall is mirror for many rows: it leaves out those that have nothing in the
// column, so that they stay as short as they are.
func mirrorTall(a []float64, m, w, top, c int) {
	rows, norm := make([]int, 0, m-top), 0.0
	for i := top; i < m; i++ {
		if v := a[i*w+c]; v != 0 {
			rows = append(rows, i)
			norm += v * v
		}
	}
	if norm = math.Sqrt(norm); norm == 0 {
		return
	}
	first := a[top*w : (top+1)*w]
	if rows[0] != top {
		other := a[rows[0]*w : (rows[0]+1)*w]
		for j := range first {
			first[j], other[j] = other[j], first[j]
		}
	}
	if rows = rows[1:]; len(rows) == 0 {
		return
	}
	head := first[c]
	alpha := -math.Copysign(norm, head)
	v0 := head - alpha
	beta := -v0 / alpha
	sum := make([]float64, w)
	copy(sum[c+1:], first[c+1:])
	for _, i := range rows {
		row := a[i*w : (i+1)*w]
		row[c] /= v0
		for j, k := c+1, row[c]; j < w; j++ {
			sum[j] += k * row[j]
		}
	}
	for j := c + 1; j < w; j++ {
		sum[j] *= beta
		first[j] -= sum[j]
	}
	for _, i := range rows {
		row := a[i*w : (i+1)*w]
		for j, k := c+1, row[c]; j < w; j++ {
			row[j] -= sum[j] * k
		}
		row[c] = 0
	}
	first[c] = alpha
}

// handOn keeps what is left of the front of position k for the position that
// takes it: m rows, made at most as many as there are columns.
func (a *assembly) handOn(k int, left []float64, m, w int) {
	if m > w-2 {
		for c := 1; c < w-1 && c-1 < m; c++ {
			mirror(left, m, w, c-1, c)
		}
		m = min(m, w-2)
	}
	out := a.room.Take(m * (w - 1))
	for j := range m {
		copy(out[j*(w-1):(j+1)*(w-1)], left[j*w+1:(j+1)*w])
	}
	a.held[k] = out
}
