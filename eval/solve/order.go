package solve

import (
	"math"
	"slices"
)

// A shape is the plan for factoring rows with the same places filled: the
// order of the columns and, for each, which places its row of the factor has.
type shape struct {
	n     int
	order []int32 // position to column
	pos   []int32 // column to position
	// filled[k] are the positions of row k of the factor, k first.
	filled [][]int32
	starts lists[int32] // the rows by their first position
	below  [][]int32    // below[k] are the positions whose remainder is handed to k
}

// shapeOf plans for rows given by their columns.
func shapeOf(n int, rows [][]int32) *shape {
	s := &shape{n: n, order: order(n, rows)}
	s.pos = make([]int32, n)
	for p, c := range s.order {
		s.pos[c] = int32(p)
	}
	s.filled = make([][]int32, n)
	s.below = make([][]int32, n)
	starts := newLister[int32](n)
	first := make([]int32, len(rows))
	for i, r := range rows {
		first[i] = int32(n)
		for _, c := range r {
			first[i] = min(first[i], s.pos[c])
		}
		if int(first[i]) < n {
			starts.expect(first[i])
		}
	}
	for i := range rows {
		if int(first[i]) < n {
			starts.put(first[i], int32(i))
		}
	}
	s.starts = starts.done()
	mark := make([]int32, n)
	for i := range mark {
		mark[i] = -1
	}
	var fill []int32
	var kept slab[int32]
	for k := range int32(n) {
		fill = append(fill[:0], k)
		mark[k] = k
		see := func(p int32) {
			if p >= k && mark[p] != k {
				mark[p] = k
				fill = append(fill, p)
			}
		}
		for _, r := range s.starts.of(k) {
			for _, c := range rows[r] {
				see(s.pos[c])
			}
		}
		for _, b := range s.below[k] {
			for _, p := range s.filled[b] {
				see(p)
			}
		}
		slices.Sort(fill)
		s.filled[k] = kept.copy(fill)
		if len(fill) > 1 {
			s.below[fill[1]] = append(s.below[fill[1]], k)
		}
	}
	return s
}

// order is a minimum-degree order of the columns. Those that very many rows
// share come last, and very long rows have no say.
func order(n int, rows [][]int32) []int32 {
	count := make([]int, n)
	for _, r := range rows {
		for _, c := range r {
			count[c]++
		}
	}
	crowd := max(16, int(10*math.Sqrt(float64(n))))
	neighbours := newLister[int32](n)
	pairs := func(do func(c, d int32)) {
		for _, r := range rows {
			if len(r) > crowd {
				continue
			}
			for _, c := range r {
				if count[c] > crowd {
					continue
				}
				for _, d := range r {
					if d != c && count[d] <= crowd {
						do(c, d)
					}
				}
			}
		}
	}
	pairs(func(c, d int32) { neighbours.expect(c) })
	pairs(neighbours.put)
	near := neighbours.done().apart()
	var buckets [][]int32
	push := func(c int32) {
		d := len(near[c])
		for len(buckets) <= d {
			buckets = append(buckets, nil)
		}
		buckets[d] = append(buckets[d], c)
	}
	for c := n - 1; c >= 0; c-- {
		slices.Sort(near[c])
		near[c] = slices.Compact(near[c])
		if count[c] <= crowd {
			push(int32(c))
		}
	}
	out := make([]int32, 0, n)
	done := make([]bool, n)
	var room []int32
	var lists slab[int32]
	for d := 0; d < len(buckets); {
		b := buckets[d]
		if len(b) == 0 {
			d++
			continue
		}
		c := b[len(b)-1]
		buckets[d] = b[:len(b)-1]
		if done[c] || len(near[c]) != d {
			continue
		}
		done[c] = true
		out = append(out, c)
		around := near[c]
		for _, u := range around {
			room = appendMerged(room[:0], near[u], around, u, c)
			if len(room) <= cap(near[u]) {
				near[u] = append(near[u][:0], room...)
			} else {
				near[u] = lists.copy(room)
			}
			push(u)
			d = min(d, len(near[u]))
		}
		near[c] = nil
	}
	for c := range n {
		if !done[c] {
			out = append(out, int32(c))
		}
	}
	return out
}

// appendMerged appends the union of two ordered lists without the two given.
func appendMerged(out, a, b []int32, without, nor int32) []int32 {
	i, j := 0, 0
	for i < len(a) || j < len(b) {
		var v int32
		switch {
		case j >= len(b) || i < len(a) && a[i] < b[j]:
			v = a[i]
			i++
		case i >= len(a) || a[i] > b[j]:
			v = b[j]
			j++
		default:
			v = a[i]
			i++
			j++
		}
		if v != without && v != nor {
			out = append(out, v)
		}
	}
	return out
}
