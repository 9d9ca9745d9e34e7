package lsq

import (
	"math"
	"slices"

	"foredge/eval/solve/sparse"
)

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
	near := neighbours(n, rows, func(c int32) bool { return count[c] > crowd }, crowd)
	var buckets [][]int32
	push := func(c int32) {
		d := len(near[c])
		for len(buckets) <= d {
			buckets = append(buckets, nil)
		}
		buckets[d] = append(buckets[d], c)
	}
	for c := n - 1; c >= 0; c-- {
		if count[c] <= crowd {
			push(int32(c))
		}
	}
	out := make([]int32, 0, n)
	done := make([]bool, n)
	var room []int32
	var lists sparse.Slab[int32]
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
				near[u] = lists.Copy(room)
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

// neighbours lists for each column the others that share a row with it, in order,
// without columns in a crowd and rows longer than one.
func neighbours(n int, rows [][]int32, crowded func(c int32) bool, crowd int) [][]int32 {
	all := sparse.NewLister[int32](n)
	pairs := func(do func(c, d int32)) {
		for _, r := range rows {
			if len(r) > crowd {
				continue
			}
			for _, c := range r {
				if crowded(c) {
					continue
				}
				for _, d := range r {
					if d != c && !crowded(d) {
						do(c, d)
					}
				}
			}
		}
	}
	pairs(func(c, d int32) { all.Expect(c) })
	pairs(all.Put)
	near := all.Done().Apart()
	for c := range near {
		slices.Sort(near[c])
		near[c] = slices.Compact(near[c])
	}
	return near
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
