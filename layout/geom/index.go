package geom

import (
	"cmp"
	"slices"
)

// fan is the number of boxes under one node of an [Index].
const fan = 8

// An Index finds, among many boxes, those near a place, in about the logarithm
// of their number. It doesn't change once made.
type Index struct {
	boxes []Box
	order []int   // boxes along a space-filling curve, so that neighbours share nodes
	nodes [][]Box // nodes[k][i] holds nodes[k-1][i*fan:…]; nodes[0] the boxes in order
}

// NewIndex makes an index of boxes.
func NewIndex(boxes []Box) *Index {
	ix := &Index{boxes: boxes, order: make([]int, len(boxes))}
	for i := range boxes {
		ix.order[i] = i
	}
	key := along(boxes)
	slices.SortFunc(ix.order, func(i, j int) int {
		return cmp.Or(cmp.Compare(key[i], key[j]), cmp.Compare(i, j))
	})
	level := make([]Box, len(boxes))
	for k, i := range ix.order {
		level[k] = boxes[i]
	}
	ix.nodes = levels(level)
	return ix
}

// levels are boxes, and those that hold each fan of them, and so on up to one of all.
func levels(level []Box) [][]Box {
	count, height := 0, 1
	for n := len(level); n > 1; height++ {
		n = (n + fan - 1) / fan
		count += n
	}
	room := make([]Box, 0, count) // of all levels above
	all := append(make([][]Box, 0, height), level)
	for len(level) > 1 {
		up := room[len(room):]
		for group := range slices.Chunk(level, fan) {
			b := EmptyBox()
			for _, c := range group {
				b = b.Union(c)
			}
			up = append(up, b)
		}
		room = room[:len(room)+len(up)]
		level = up
		all = append(all, level)
	}
	return all
}

// along is where the middle of each box lies on a space-filling curve.
func along(boxes []Box) []uint64 {
	all := EmptyBox()
	for _, b := range boxes {
		all = all.Union(b)
	}
	key := make([]uint64, len(boxes))
	for i, b := range boxes {
		key[i] = interleave(share(b.Center().X, all.Min.X, all.Max.X), share(b.Center().Y, all.Min.Y, all.Max.Y))
	}
	return key
}

// share is where x lies between lo and hi, as 32 bits.
func share(x, lo, hi float64) uint32 {
	if !(hi > lo) {
		return 0
	}
	return uint32((x - lo) / (hi - lo) * (1<<32 - 1))
}

// interleave mixes the bits of x and y: Morton's order.
func interleave(x, y uint32) uint64 {
	spread := func(v uint32) uint64 {
		w := uint64(v)
		w = (w | w<<16) & 0x0000ffff0000ffff
		w = (w | w<<8) & 0x00ff00ff00ff00ff
		w = (w | w<<4) & 0x0f0f0f0f0f0f0f0f
		w = (w | w<<2) & 0x3333333333333333
		return (w | w<<1) & 0x5555555555555555
	}
	return spread(x) | spread(y)<<1
}

// Visit calls item for every box that reach allows, skipping whole nodes that
// it doesn't. reach may grow stricter on the way.
func (ix *Index) Visit(reach func(Box) bool, item func(i int)) {
	if len(ix.boxes) > 0 {
		ix.descend(len(ix.nodes)-1, 0, reach, item)
	}
}

func (ix *Index) descend(level, k int, reach func(Box) bool, item func(i int)) {
	if !reach(ix.nodes[level][k]) {
		return
	}
	if level == 0 {
		item(ix.order[k])
		return
	}
	for c := k * fan; c < min((k+1)*fan, len(ix.nodes[level-1])); c++ {
		ix.descend(level-1, c, reach, item)
	}
}

// Near lists the boxes at most d from b, in rising order.
func (ix *Index) Near(b Box, d float64) []int {
	var found []int
	ix.Visit(func(c Box) bool { return c.Distance(b) <= d }, func(i int) { found = append(found, i) })
	slices.Sort(found)
	return found
}

// A Pair is two figures of a list and the gap between them in mm; I < J.
type Pair struct {
	I, J int
	Gap  float64
}

// NearPairs lists all pairs of figures whose [Gap] is at most d, in rising
// order, in about n log n time for n figures that each have few neighbours.
func NearPairs(figures []Figure, d float64) []Pair {
	boxes := make([]Box, len(figures))
	for i, f := range figures {
		boxes[i] = f.Bounds()
	}
	ix := NewIndex(boxes)
	var pairs []Pair
	for i, f := range figures {
		for _, j := range ix.Near(boxes[i], d) {
			if j <= i {
				continue
			}
			if gap := Gap(f, figures[j]); gap <= d {
				pairs = append(pairs, Pair{i, j, gap})
			}
		}
	}
	return pairs
}

// Connected lists groups of boxes that hang together, each at most d from another one of
// its group, in rising order and ordered by the first of each. However many lie on one
// another, each is taken once.
func Connected(boxes []Box, d float64) [][]int {
	t := taking{index: NewIndex(boxes), d: d}
	for _, nodes := range t.index.nodes {
		t.gone = append(t.gone, make([]bool, len(nodes)))
	}
	place := make([]int, len(boxes)) // of each box in its index
	for k, i := range t.index.order {
		place[i] = k
	}
	var groups [][]int
	for i := range boxes {
		if t.gone[0][place[i]] {
			continue
		}
		t.gone[0][place[i]], t.taken = true, []int{i}
		for next := 0; next < len(t.taken); next++ {
			t.take(len(t.index.nodes)-1, 0, boxes[t.taken[next]])
		}
		slices.Sort(t.taken)
		groups = append(groups, t.taken)
	}
	return groups
}

// A taking takes boxes out of an index.
type taking struct {
	index *Index
	d     float64
	gone  [][]bool // the nodes of which all is taken
	taken []int
}

// take takes those near b of a node.
func (t *taking) take(level, k int, b Box) {
	if t.gone[level][k] || t.index.nodes[level][k].Distance(b) > t.d {
		return
	}
	if level == 0 {
		t.gone[0][k] = true
		t.taken = append(t.taken, t.index.order[k])
		return
	}
	below := t.gone[level-1][k*fan : min((k+1)*fan, len(t.gone[level-1]))]
	for c := range below {
		t.take(level-1, k*fan+c, b)
	}
	t.gone[level][k] = !slices.Contains(below, false)
}
