package optimize

import (
	"math"
	"slices"

	"foredge/eval/solve/sparse"
)

// A Polyhedron is the set of parameters that some limits leave, each limit a
// form that must be at least 0. It is kept as a dictionary (Chvátal, Linear
// Programming, 1983, chapter 2): the basic quantities by the others, where the
// quantities are the parameters, free in sign, and the slacks of the limits.
// It is for the small parts into which a design falls: the work of a step is
// the number of limits times that of parameters.
type Polyhedron struct {
	params []int32
	ids    []int32         // what the caller calls each limit
	grads  [][]sparse.Term // of each limit, scaled so that its largest coefficient is 1
	// Quantity q is parameter q for q < len(params), else the slack of limit
	// q - len(params).
	basic, others []int
	table         [][]float64 // basic rows: constant, then one for each of others
	where         []int       // quantity to its row if basic, else -1 - column
	Empty         bool
	Certificate   []int32 // limits that can't all hold, if empty
	points        [][]float64
	mixed         []int // columns in which the row of a pivot isn't 0
}

const (
	pivotLeast = 1e-9
	// feasible is how far a scaled limit may be missed, in mm; well below the
	// tolerance of a design, well above rounding.
	Feasible = 1e-8
	// many limits are more than a maker writes about what hangs together.
	many = 100
)

// NewPolyhedron takes limits over the given parameters, which are in order.
func NewPolyhedron(params []int32, limits []sparse.Affine, ids []int32) *Polyhedron {
	n, most := len(params), len(limits)
	quantities := make([]int, 2*(n+most))
	p := &Polyhedron{
		params: params, ids: make([]int32, 0, most), grads: make([][]sparse.Term, 0, most),
		basic: quantities[:0:most], others: quantities[most : most+n],
		table: make([][]float64, 0, most),
	}
	rows := make([]float64, most*(n+1))
	local := func(at int32) int {
		i, _ := slices.BinarySearch(params, at)
		return i
	}
	for i, f := range limits {
		m := sparse.Largest(f.Terms)
		if m == 0 || !sparse.Finite(m) || !sparse.Finite(f.Const) {
			continue
		}
		row, k := rows[:n+1:n+1], 1/m
		rows = rows[n+1:]
		row[0] = k * f.Const
		for _, t := range f.Terms {
			row[1+local(t.At)] = k * t.Coef
		}
		p.basic = append(p.basic, n+len(p.ids))
		p.ids = append(p.ids, ids[i])
		if k != 1 {
			f.Grad = sparse.Scaled(f.Grad, k)
		}
		p.grads = append(p.grads, f.Grad)
		p.table = append(p.table, row)
	}
	p.where = quantities[most+n:][:n+len(p.ids)]
	for j := range n {
		p.others[j] = j
		p.where[j] = -1 - j
	}
	for i, q := range p.basic {
		p.where[q] = i
	}
	p.free()
	p.enter()
	return p
}

// free brings every parameter that some limit mentions into the basis, so that
// only slacks are left outside.
func (p *Polyhedron) free() {
	n := len(p.params)
	for j := range n {
		if p.where[j] >= 0 {
			continue
		}
		col := -1 - p.where[j]
		best, size := -1, pivotLeast
		for i, q := range p.basic {
			if q >= n && math.Abs(p.table[i][1+col]) > size*1.5 {
				best, size = i, math.Abs(p.table[i][1+col])
			}
		}
		if best >= 0 {
			p.pivot(best, col, nil)
		}
	}
}

// pivot swaps the basic quantity of a row with that of a column.
func (p *Polyhedron) pivot(row, col int, objective []float64) {
	r := p.table[row]
	a := r[1+col]
	inv := 1 / a
	for j := range r {
		r[j] *= -inv
	}
	r[1+col] = inv
	p.mixed = p.mixed[:0] // most of a row is 0
	for j, v := range r {
		if v != 0 {
			p.mixed = append(p.mixed, j)
		}
	}
	swap := func(t []float64) {
		k := t[1+col]
		if k == 0 {
			return
		}
		t[1+col] = 0
		for _, j := range p.mixed {
			part := k * r[j]
			sum := t[j] + part
			if j > 0 && math.Abs(sum) <= sparse.Vanish*math.Abs(part) {
				sum = 0
			}
			t[j] = sum
		}
	}
	for i, t := range p.table {
		if i != row {
			swap(t)
		}
	}
	if objective != nil {
		swap(objective)
	}
	p.basic[row], p.others[col] = p.others[col], p.basic[row]
	p.where[p.basic[row]] = row
	p.where[p.others[col]] = -1 - col
}

// enter looks for a point of the set. With no objective, the rule of the least
// index (Bland) can't go round in circles; where there is much to choose from the limit
// that is broken most is met first, for a while, as that leaves few others to be met.
func (p *Polyhedron) enter() {
	n := len(p.params)
	for step := range 50 * (len(p.basic) + n + 10) {
		row, slack := -1, 0
		most := len(p.basic) > many && step < 4*n+10
		for i, q := range p.basic {
			if q < n || p.table[i][0] >= -Feasible {
				continue
			}
			if row < 0 || most && p.table[i][0] < p.table[row][0] || !most && q < slack {
				row, slack = i, q
			}
		}
		if row < 0 {
			return
		}
		col := -1
		for j, q := range p.others {
			if q >= n && p.table[row][1+j] > pivotLeast && (col < 0 || q < p.others[col]) {
				col = j
			}
		}
		if col < 0 {
			p.Empty = true
			p.Certificate = []int32{p.ids[slack-n]}
			for j, q := range p.others {
				if q >= n && p.table[row][1+j] < -pivotLeast {
					p.Certificate = append(p.Certificate, p.ids[q-n])
				}
			}
			slices.Sort(p.Certificate)
			p.Certificate = slices.Compact(p.Certificate)
			return
		}
		p.pivot(row, col, nil)
	}
}

// Least gives the least value of f over the set, with the way it moves with
// the benches, and the limits that hold it there; ok is false if it has none.
func (p *Polyhedron) Least(f sparse.Affine) (low sparse.Affine, held []int32, ok bool) {
	n := len(p.params)
	objective := make([]float64, 1+len(p.others))
	objective[0] = f.Const
	for _, t := range f.Terms {
		j, found := slices.BinarySearch(p.params, t.At)
		if !found {
			return sparse.Affine{}, nil, false
		}
		if w := p.where[j]; w >= 0 {
			for k, v := range p.table[w] {
				objective[k] += t.Coef * v
			}
		} else {
			objective[1+(-1-w)] += t.Coef
		}
	}
	scale := sparse.Largest(f.Terms)
	rounds := 50 * (len(p.basic) + n + 10)
	for step := range rounds {
		col := -1
		for j, q := range p.others {
			c := objective[1+j]
			if q < n {
				if math.Abs(c) > pivotLeast*scale {
					return sparse.Affine{}, nil, false
				}
				continue
			}
			if c >= -pivotLeast*scale {
				continue
			}
			// Steepest first; the least index once that has taken long.
			if col < 0 || step < rounds/4 && c < objective[1+col] || step >= rounds/4 && q < p.others[col] {
				col = j
			}
		}
		if col < 0 {
			low = sparse.Affine{Const: objective[0], Grad: f.Grad}
			for j, q := range p.others {
				if c := objective[1+j]; q >= n && c > pivotLeast*scale {
					low.Grad = sparse.Combine(low.Grad, -c, p.grads[q-n], 0)
					held = append(held, p.ids[q-n])
				}
			}
			slices.Sort(held)
			p.visit(-1)
			return low, held, true
		}
		row, ratio := -1, math.Inf(1)
		for i, q := range p.basic {
			a := p.table[i][1+col]
			if q < n || a >= -pivotLeast {
				continue
			}
			r := max(0, p.table[i][0]) / -a
			if row < 0 || r < ratio-1e-12*max(1, ratio) || r <= ratio+1e-12*max(1, ratio) && q < p.basic[row] {
				row, ratio = i, min(r, ratio)
			}
		}
		if row < 0 {
			p.visit(col)
			return sparse.Affine{}, nil, false
		}
		p.pivot(row, col, objective)
	}
	return sparse.Affine{}, nil, false
}

// Reach gives the range of f over the set; infinite where nothing bounds it.
func (p *Polyhedron) Reach(f sparse.Affine) (low, high float64) {
	low, high = math.Inf(-1), math.Inf(1)
	if l, _, ok := p.Least(f); ok {
		low = l.Const
	}
	if h, _, ok := p.Least(f.Scale(-1)); ok {
		high = -h.Const
	}
	return low, high
}
