package lsq

import (
	"slices"

	"foredge/eval/solve/sparse"
)

// A Shape is the plan for factoring rows with the same places filled: the
// order of the columns and, for each, which places its row of the factor has.
type Shape struct {
	n     int
	Order []int32 // position to column
	pos   []int32 // column to position
	// filled[k] are the positions of row k of the factor, k first.
	filled [][]int32
	starts sparse.Lists[int32] // the rows by their first position
	below  [][]int32           // below[k] are the positions whose remainder is handed to k
}

// Steps is about how many multiplications it takes to factor rows of the shape.
func (s *Shape) Steps() int {
	steps := 0
	for _, fill := range s.filled {
		steps += 2 * (1 + len(fill)) * (1 + len(fill))
	}
	return steps
}

// NewShape plans for rows given by their columns.
func NewShape(n int, rows [][]int32) *Shape {
	s := &Shape{n: n, Order: order(n, rows)}
	s.pos = make([]int32, n)
	for p, c := range s.Order {
		s.pos[c] = int32(p)
	}
	s.filled = make([][]int32, n)
	s.below = make([][]int32, n)
	starts := sparse.NewLister[int32](n)
	first := make([]int32, len(rows))
	for i, r := range rows {
		first[i] = int32(n)
		for _, c := range r {
			first[i] = min(first[i], s.pos[c])
		}
		if int(first[i]) < n {
			starts.Expect(first[i])
		}
	}
	for i := range rows {
		if int(first[i]) < n {
			starts.Put(first[i], int32(i))
		}
	}
	s.starts = starts.Done()
	mark := make([]int32, n)
	for i := range mark {
		mark[i] = -1
	}
	var fill []int32
	var kept sparse.Slab[int32]
	for k := range int32(n) {
		fill = append(fill[:0], k)
		mark[k] = k
		see := func(p int32) {
			if p >= k && mark[p] != k {
				mark[p] = k
				fill = append(fill, p)
			}
		}
		for _, r := range s.starts.Of(k) {
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
		s.filled[k] = kept.Copy(fill)
		if len(fill) > 1 {
			s.below[fill[1]] = append(s.below[fill[1]], k)
		}
	}
	return s
}
