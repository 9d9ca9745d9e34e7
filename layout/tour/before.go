package tour

import (
	"cmp"
	"iter"
	"slices"
	"sort"

	"foredge/layout/geom"
)

// mostCrossed is how many cuts that a cut crosses, but that don't hold it, are put after
// it, the smallest.
const mostCrossed = 64

// bind finds what must come before what: of two cuts that share more than their edges
// the smaller before the larger, and an open cut before the closed one into which it
// runs. after lists for each leaf what comes after it, without what follows from the
// rest; depth is how many closed cuts hold it.
func bind(leaves []leaf) (after [][]int32, depth []int) {
	after, depth = make([][]int32, len(leaves)), make([]int, len(leaves))
	var cuts []int // by size, so that nothing runs in a circle
	for i := range leaves {
		if leaves[i].op == Cut {
			cuts = append(cuts, i)
		}
	}
	slices.SortStableFunc(cuts, func(i, j int) int { return cmp.Compare(leaves[i].area, leaves[j].area) })
	var closed sized
	for _, i := range cuts {
		if leaves[i].area > 0 {
			closed.leaves = append(closed.leaves, i)
		}
	}
	closed.build(leaves)
	for k := len(cuts) - 1; k >= 0; k-- { // what holds others first, for their depth
		i := cuts[k]
		l := &leaves[i]
		crossed := 0
		for c := range closed.around(l) {
			j := closed.leaves[c]
			outer := leaves[j].boundary
			holds := outer.Box.Grow(geom.CurveTol).Holds(l.boundary.Box)
			if crossed == mostCrossed && !holds || !outer.Overlaps(l.boundary) {
				continue
			}
			holds = holds && outer.Holds(l.boundary)
			if holds || crossed < mostCrossed {
				after[i] = append(after[i], int32(j))
			}
			if holds {
				depth[i] = depth[j] + 1
				break // what shares something with this one comes after it
			}
			crossed++
		}
	}
	part(leaves, after)
	return after, depth
}

// part puts open cuts that part what a closed one holds after all else that it holds, as
// what they free could move; but not after what has to come after themselves.
func part(leaves []leaf, after [][]int32) {
	within := map[int32][]int32{} // by the closed cut
	some := false
	for i := range leaves {
		if some = some || leaves[i].parting; leaves[i].op != Cut || leaves[i].parting {
			continue
		}
		for _, j := range after[i] {
			within[j] = append(within[j], int32(i))
		}
	}
	for i := range leaves {
		if !some || !leaves[i].parting {
			continue
		}
		later := reached(after, int32(i))
		for _, j := range slices.Clone(after[i]) {
			for _, k := range within[j] {
				if !later[k] {
					after[k] = append(after[k], int32(i))
				}
			}
		}
	}
}

// reached is all that comes after a leaf.
func reached(after [][]int32, from int32) map[int32]bool {
	all, todo := map[int32]bool{}, []int32{from}
	for len(todo) > 0 {
		i := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, j := range after[i] {
			if !all[j] {
				all[j] = true
				todo = append(todo, j)
			}
		}
	}
	return all
}

// A sized is closed leaves by their size. It finds those about a leaf that are larger,
// the smallest of them first.
type sized struct {
	leaves []int
	area   []float64
	boxes  [][]geom.Box // boxes[k][i] holds boxes[k-1][i*fan:...]; boxes[0] the leaves'
	index  *geom.Index
}

const (
	fan = 8
	// crowd is how many leaves about one are sorted by size; if there are more, such as
	// many rings in one another, they are looked for by size from the first.
	crowd = 128
)

func (z *sized) build(leaves []leaf) {
	level := make([]geom.Box, len(z.leaves))
	for c, i := range z.leaves {
		level[c] = leaves[i].boundary.Box
		z.area = append(z.area, leaves[i].area)
	}
	z.index = geom.NewIndex(level)
	for z.boxes = append(z.boxes, level); len(level) > 1; z.boxes = append(z.boxes, level) {
		var up []geom.Box
		for some := range slices.Chunk(level, fan) {
			b := geom.EmptyBox()
			for _, c := range some {
				b = b.Union(c)
			}
			up = append(up, b)
		}
		level = up
	}
}

// around yields the leaves larger than one whose boxes meet its own, by their size.
func (z *sized) around(l *leaf) iter.Seq[int] {
	larger := sort.Search(len(z.area), func(c int) bool { return z.area[c] > l.area })
	box := l.boundary.Box
	return func(yield func(int) bool) {
		var near []int
		z.index.Visit(func(b geom.Box) bool { return len(near) <= crowd && b.Meets(box) }, func(c int) {
			if c >= larger {
				near = append(near, c)
			}
		})
		if len(near) <= crowd {
			slices.Sort(near)
			for _, c := range near {
				if !yield(c) {
					return
				}
			}
			return
		}
		for c := z.next(larger, box); c >= 0 && yield(c); c = z.next(c+1, box) {
		}
	}
}

// next is the first leaf from one on whose box meets a box, -1 if there is none.
func (z *sized) next(from int, box geom.Box) int {
	var find func(level, i, width int) int
	find = func(level, i, width int) int {
		if (i+1)*width <= from || !z.boxes[level][i].Meets(box) {
			return -1
		}
		if level == 0 {
			return i
		}
		for c := i * fan; c < min((i+1)*fan, len(z.boxes[level-1])); c++ {
			if found := find(level-1, c, width/fan); found >= 0 {
				return found
			}
		}
		return -1
	}
	top, width := len(z.boxes)-1, 1
	for range top {
		width *= fan
	}
	return find(top, 0, width)
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
