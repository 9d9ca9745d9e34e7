package tour

import (
	"math"
	"slices"
)

// heldKarp is a lower bound on every closed tour through the spots: the best 1-tree
// found by raising the weights of nodes with too few links and lowering those of
// nodes with too many (M. Held, R. M. Karp, "The traveling-salesman problem and
// minimum spanning trees: part II", 1971). It climbs on a graph of near neighbours
// and ends with one tree over all pairs, so that it is a bound whatever the weights.
func heldKarp(spots []spot, upper float64, rounds int) float64 {
	n := len(spots)
	graph := nearGraph(spots, 12)
	pi := make([]float64, n)
	best := append([]float64(nil), pi...)
	high, step := math.Inf(-1), 2.0
	last := make([]int, n)
	for range rounds {
		length, degree := oneTree(spots, pi, graph)
		if length > high {
			high = length
			copy(best, pi)
		} else {
			step *= 0.97
		}
		var norm float64
		for i, d := range degree {
			_ = i
			norm += float64((d - 2) * (d - 2))
		}
		if norm == 0 {
			break
		}
		t := step * (upper - length) / norm
		for i, d := range degree {
			pi[i] += t * (0.7*float64(d-2) + 0.3*float64(last[i]-2))
			last[i] = d
		}
	}
	length, _ := oneTree(spots, best, nil)
	return length
}

func nearGraph(spots []spot, k int) [][]int32 {
	which := make([]int32, len(spots))
	for i := range which {
		which[i] = int32(i)
	}
	g := newGrid(spots, which)
	graph := make([][]int32, len(spots))
	var near []found
	for i := range which {
		near = g.nearest(near, spots[i], k, func(e int32) bool { return e != int32(i) })
		for _, f := range near {
			graph[i] = append(graph[i], f.end)
			graph[f.end] = append(graph[f.end], int32(i))
		}
	}
	return graph
}

// oneTree is the length under weights of the least tree over all spots but the first,
// with the two shortest links to that; less twice the weights. Over a graph if there
// is one and it hangs together, else over all pairs.
func oneTree(spots []spot, pi []float64, graph [][]int32) (float64, []int) {
	n := len(spots)
	degree := make([]int, n)
	key, parent := make([]float64, n), make([]int, n)
	done := make([]bool, n)
	for i := range key {
		key[i] = math.Inf(1)
	}
	var sum float64
	for _, w := range pi {
		sum -= 2 * w
	}
	add := func(i int) {
		sum += key[i]
		degree[i]++
		degree[parent[i]]++
	}
	relax := func(i, j int) {
		if j != 0 && !done[j] {
			if c := away(spots[i], spots[j]) + pi[i] + pi[j]; c < key[j] {
				key[j], parent[j] = c, i
			}
		}
	}
	if graph == nil {
		done[1] = true
		for i, count := 1, 2; count < n; count++ {
			next := -1
			for j := 1; j < n; j++ {
				if !done[j] {
					relax(i, j)
					if next < 0 || key[j] < key[next] {
						next = j
					}
				}
			}
			add(next)
			done[next], i = true, next
		}
	} else {
		h := &heap{key: key}
		key[1] = 0
		parent[1] = -1
		h.push(1)
		for len(h.items) > 0 {
			i := h.pop()
			if done[i] {
				continue
			}
			done[i] = true
			if parent[i] >= 0 {
				add(i)
			}
			for _, j := range graph[i] {
				before := key[j]
				relax(i, int(j))
				if key[j] < before {
					h.push(int(j))
				}
			}
		}
	}
	var first []float64
	var at []int
	for j := 1; j < n; j++ {
		first = append(first, away(spots[0], spots[j])+pi[0]+pi[j])
		at = append(at, j)
	}
	slices.SortFunc(at, func(a, b int) int {
		if first[a-1] < first[b-1] {
			return -1
		}
		return 1
	})
	for _, j := range at[:2] {
		sum += first[j-1]
		degree[0]++
		degree[j]++
	}
	return sum, degree
}

// A heap of nodes with the keys that they had when they were pushed.
type heap struct {
	key   []float64
	items []heapEntry
}

type heapEntry struct {
	key  float64
	node int
}

func (h *heap) push(node int) {
	h.items = append(h.items, heapEntry{h.key[node], node})
	for i := len(h.items) - 1; i > 0 && h.items[i].key < h.items[(i-1)/2].key; i = (i - 1) / 2 {
		h.items[i], h.items[(i-1)/2] = h.items[(i-1)/2], h.items[i]
	}
}

func (h *heap) pop() int {
	top := h.items[0].node
	last := len(h.items) - 1
	h.items[0] = h.items[last]
	h.items = h.items[:last]
	for i := 0; ; {
		c := 2*i + 1
		if c >= last {
			break
		}
		if c+1 < last && h.items[c+1].key < h.items[c].key {
			c++
		}
		if h.items[i].key <= h.items[c].key {
			break
		}
		h.items[i], h.items[c] = h.items[c], h.items[i]
		i = c
	}
	return top
}
