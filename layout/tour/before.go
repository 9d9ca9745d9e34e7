package tour

import (
	"cmp"
	"slices"

	"foredge/layout/geom"
)

// bind finds what must come before what: of two cuts that share more than their edges
// the smaller before the larger, and an open cut before the closed one into which it
// runs. after lists for each leaf what comes after it, without what follows from the
// rest; depth is how many closed cuts hold it.
func bind(leaves []leaf) (after [][]int32, depth []int) {
	n := len(leaves)
	after, depth = make([][]int32, n), make([]int, n)
	var cuts []int // by size, so that nothing runs in a circle
	for i := range leaves {
		if leaves[i].op == Cut {
			cuts = append(cuts, i)
		}
	}
	slices.SortStableFunc(cuts, func(i, j int) int { return cmp.Compare(leaves[i].area, leaves[j].area) })
	rank := make([]int, n)
	var boxes []geom.Box
	var closed []int
	for k, i := range cuts {
		rank[i] = k
		if leaves[i].area > 0 {
			closed = append(closed, i)
			boxes = append(boxes, leaves[i].boundary.Box)
		}
	}
	if len(closed) == 0 {
		return after, depth
	}
	ix := geom.NewIndex(boxes)
	var around []int
	for k := len(cuts) - 1; k >= 0; k-- {
		i := cuts[k]
		l := &leaves[i]
		around = around[:0]
		for _, c := range ix.Near(l.boundary.Box, 0) {
			if j := closed[c]; leaves[j].area > l.area {
				around = append(around, j)
			}
		}
		slices.SortFunc(around, func(i, j int) int { return cmp.Compare(rank[i], rank[j]) })
		for _, j := range around {
			outer := leaves[j].boundary
			if !outer.Overlaps(l.boundary) {
				continue
			}
			after[i] = append(after[i], int32(j))
			if outer.Holds(l.boundary) {
				depth[i] = depth[j] + 1
				break // what shares something with this one comes after it
			}
		}
	}
	return after, depth
}

// bound says what of the members of a group comes after what, as the index of another
// member; nil if nothing does.
func bound(n int, pairs [][2]int32) [][]int32 {
	if len(pairs) == 0 {
		return nil
	}
	slices.SortFunc(pairs, func(a, b [2]int32) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	after := make([][]int32, n)
	for _, p := range slices.Compact(pairs) {
		after[p[0]] = append(after[p[0]], p[1])
	}
	return after
}

// knots numbers the nodes of a graph so that those which reach one another have the
// same number (R. Tarjan, "Depth-first search and linear graph algorithms", 1972).
func knots(after [][]int32) []int {
	n := len(after)
	number, low, knot := make([]int, n), make([]int, n), make([]int, n)
	for i := range knot {
		knot[i] = -1
	}
	var stack []int
	count, next := 0, 0
	var visit func(i int)
	visit = func(i int) {
		count++
		number[i], low[i] = count, count
		stack = append(stack, i)
		for _, j := range after[i] {
			if number[j] == 0 {
				visit(int(j))
				low[i] = min(low[i], low[j])
			} else if knot[j] < 0 {
				low[i] = min(low[i], number[j])
			}
		}
		if low[i] < number[i] {
			return
		}
		for {
			j := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			knot[j] = next
			if j == i {
				break
			}
		}
		next++
	}
	for i := range n {
		if number[i] == 0 {
			visit(i)
		}
	}
	return knot
}
