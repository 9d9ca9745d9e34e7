package solve

import (
	"math"
	"slices"
)

// A factor is the orthogonal factor R of weighted rows, and with it the least
// squares solution of rows·x = right. Its rows are worked out front by front
// (multifrontal QR: each column's rows meet in a small dense block, are reduced
// by Householder reflections, and what is left is handed on), so that chains
// and rows of holes cost time in proportion to their length. Nothing is
// squared: digits are kept as in a dense QR.
type factor struct {
	*shape
	rows  [][]term // by column, as given
	right []float64
	scale []float64   // of each column: what it was divided by
	r     [][]float64 // row k of R over filled[k], in scaled columns
	rhs   []float64
	loose []int32 // positions of columns that depend on those before them
	slack []bool  // the same, by position
	rest  float64 // sum of squares that no x can take away
}

// rowsOf lists the columns of sparse rows, for planning.
func rowsOf(rows [][]term) [][]int32 {
	out := make([][]int32, len(rows))
	n := 0
	for _, r := range rows {
		n += len(r)
	}
	all := make([]int32, n)
	for i, r := range rows {
		out[i], all = all[:len(r):len(r)], all[len(r):]
		for j, t := range r {
			out[i][j] = t.at
		}
	}
	return out
}

// factorOf reduces rows·x = right. The shape may have been made for further
// rows: their places are then filled too, with 0. A column whose part independent of those
// before it is less than loose of its length counts as dependent.
func factorOf(s *shape, rows [][]term, right []float64, loose float64) *factor {
	n := s.n
	f := &factor{shape: s, rows: rows, right: right, scale: make([]float64, n),
		r: make([][]float64, n), rhs: make([]float64, n), slack: make([]bool, n)}
	for _, r := range rows {
		for _, t := range r {
			f.scale[t.at] += t.c * t.c
		}
	}
	for c, v := range f.scale {
		if v = math.Sqrt(v); v == 0 || !finite(v) {
			v = 1
		}
		f.scale[c] = v
	}
	places := 0
	for _, fill := range s.filled {
		places += len(fill)
	}
	backing := make([]float64, places)
	var room slab[float64]
	var front []float64
	place := make([]int32, n)
	held := make([][]float64, n) // what a position hands on
	count := make([]int, n)
	for k := range n {
		fill := s.filled[k]
		w := len(fill) + 1
		for i, p := range fill {
			place[p] = int32(i)
		}
		m := 0
		for _, r := range s.starts.of(int32(k)) {
			if int(r) < len(rows) {
				m++
			}
		}
		for _, b := range s.below[k] {
			m += count[b]
		}
		if front = front[:0]; cap(front) < m*w {
			front = make([]float64, 0, 2*m*w)
		}
		front = front[:m*w]
		clear(front)
		i := 0
		for _, r := range s.starts.of(int32(k)) {
			if int(r) >= len(rows) {
				continue
			}
			row := front[i*w : (i+1)*w]
			for _, t := range rows[r] {
				row[place[s.pos[t.at]]] = t.c / f.scale[t.at]
			}
			row[w-1] = right[r]
			i++
		}
		for _, b := range s.below[k] {
			from := s.filled[b][1:]
			bw := len(from) + 1
			for j := range count[b] {
				part := held[b][j*bw : (j+1)*bw]
				row := front[i*w : (i+1)*w]
				for x, p := range from {
					row[place[p]] = part[x]
				}
				row[w-1] = part[bw-1]
				i++
			}
			held[b] = nil
		}
		f.r[k], backing = backing[:w-1:w-1], backing[w-1:]
		kept := f.reduce(k, front, m, w, loose)
		// Hand on what is left, at most as many rows as columns.
		left := front[kept*w : m*w]
		m -= kept
		if m > w-2 {
			for c := 1; c < w-1 && c-1 < m; c++ {
				mirror(left, m, w, c-1, c)
			}
			for j := w - 2; j < m; j++ {
				f.rest += left[j*w+w-1] * left[j*w+w-1]
			}
			m = min(m, w-2)
		}
		out := room.take(m * (w - 1))
		for j := range m {
			copy(out[j*(w-1):(j+1)*(w-1)], left[j*w+1:(j+1)*w])
		}
		held[k], count[k] = out, m
	}
	return f
}

// reduce takes column 0 out of the front; it returns how many rows became
// part of R.
func (f *factor) reduce(k int, front []float64, m, w int, loose float64) int {
	length := 0.0
	for i := range m {
		length += front[i*w] * front[i*w]
	}
	if !(math.Sqrt(length) > loose) {
		f.slack[k] = true
		f.loose = append(f.loose, int32(k))
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
	if m-top == 1 {
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

// back solves R x = b, by position; loose columns are 0.
func (f *factor) back(b []float64) []float64 {
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
func (f *factor) forth(b []float64) {
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

// solution is the x of least squares, by column, refined once.
func (f *factor) solution() []float64 {
	x := f.byColumn(f.back(f.rhs))
	for range 2 {
		for c, d := range f.correct(residuals(f.rows, f.right, x)) {
			x[c] += d
		}
	}
	return x
}

// correct solves R'R x = rows'·res: the least squares solution for another
// right side, to the accuracy of a first approximation.
func (f *factor) correct(res []float64) []float64 {
	b := make([]float64, f.n)
	for i, r := range f.rows {
		for _, t := range r {
			b[f.pos[t.at]] += t.c / f.scale[t.at] * res[i]
		}
	}
	f.forth(b)
	return f.byColumn(f.back(b))
}

func (f *factor) byColumn(x []float64) []float64 {
	out := make([]float64, f.n)
	for k, v := range x {
		c := f.order[k]
		out[c] = v / f.scale[c]
	}
	return out
}

// spread is the variance of a form of the columns for rows of unit variance:
// the squared length of R'⁻¹ terms.
func (f *factor) spread(terms []term) float64 {
	b := make([]float64, f.n)
	for _, t := range terms {
		b[f.pos[t.at]] += t.c / f.scale[t.at]
	}
	f.forth(b)
	sum := 0.0
	for _, v := range b {
		sum += v * v
	}
	return sum
}

// column is the covariance of every column with a form of the columns.
func (f *factor) column(terms []term) []float64 {
	b := make([]float64, f.n)
	for _, t := range terms {
		b[f.pos[t.at]] += t.c / f.scale[t.at]
	}
	f.forth(b)
	return f.byColumn(f.back(b))
}

// nulls gives, for each loose column, what can be added to x without any row
// noticing, by column.
func (f *factor) nulls() [][]term {
	if len(f.loose) == 0 {
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
	var out [][]term
	for _, l := range f.loose {
		c := f.order[l]
		null := []term{{c, 1 / f.scale[c]}}
		if len(above[l]) > 0 {
			b := make([]float64, f.n)
			for _, k := range above[l] {
				i, _ := slices.BinarySearch(f.filled[k], l)
				b[k] = -f.r[k][i]
			}
			for c, v := range f.byColumn(f.back(b)) {
				if v != 0 {
					null = append(null, term{int32(c), v})
				}
			}
		}
		out = append(out, null)
	}
	return out
}

// A covariance holds the elements of (R'R)⁻¹ at the filled places of R, worked
// out from the last row up (Takahashi, Fagan and Chin 1973): all that the
// variance of a row needs, without the rest.
type covariance struct {
	*factor
	z [][]float64 // row k over filled[k]
}

func (f *factor) covariance() *covariance {
	v := &covariance{factor: f, z: make([][]float64, f.n)}
	var rows slab[float64]
	for k := f.n - 1; k >= 0; k-- {
		fill := f.filled[k]
		row := rows.take(len(fill))
		v.z[k] = row
		if f.slack[k] {
			continue
		}
		d := f.r[k][0]
		for j := 1; j < len(fill); j++ {
			sum := 0.0
			for l := 1; l < len(fill); l++ {
				sum += f.r[k][l] * v.at(fill[l], fill[j])
			}
			row[j] = -sum / d
		}
		sum := 1 / d
		for l := 1; l < len(fill); l++ {
			sum -= f.r[k][l] * row[l]
		}
		row[0] = sum / d
	}
	return v
}

func (v *covariance) at(p, q int32) float64 {
	if p > q {
		p, q = q, p
	}
	i, ok := slices.BinarySearch(v.filled[p], q)
	if !ok {
		return math.NaN()
	}
	return v.z[p][i]
}

// spread is the variance of a form of the columns.
func (v *covariance) spread(terms []term) float64 {
	sum := 0.0
	for i, a := range terms {
		p := v.pos[a.at]
		ka := a.c / v.scale[a.at]
		sum += ka * ka * v.z[p][0]
		for _, b := range terms[:i] {
			sum += 2 * ka * b.c / v.scale[b.at] * v.at(p, v.pos[b.at])
		}
	}
	// A place that is not filled, or digits lost in the sum.
	size := 0.0
	for _, a := range terms {
		k := a.c / v.scale[a.at]
		size += k * k * v.z[v.pos[a.at]][0]
	}
	if math.IsNaN(sum) || sum < 1e-6*size {
		return v.factor.spread(terms)
	}
	return sum
}
