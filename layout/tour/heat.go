package tour

import (
	"cmp"
	"slices"

	"foredge/layout/geom"
)

// A heat says which leaves lie so near to one another that one heats the other.
type heat struct {
	pairs   [][]int32
	penalty float64 // what it costs to run one right after the other, in nanometres
}

const (
	// mostNeighbours is how many of the neighbours of a leaf are minded, the nearest.
	mostNeighbours = 64
	// dear is how many times the way across the sheet may be gone to keep two neighbours
	// apart.
	dear = 1000
)

// newHeat finds the cuts within a distance in mm of one another.
func newHeat(leaves []leaf, spread float64) *heat {
	h := &heat{pairs: make([][]int32, len(leaves))}
	var boxes []geom.Box
	var which []int32
	all := geom.EmptyBox()
	for i := range leaves {
		if leaves[i].op == Cut {
			boxes = append(boxes, leaves[i].boundary.Box)
			all = all.Union(leaves[i].boundary.Box)
			which = append(which, int32(i))
		}
	}
	h.penalty = dear * nano * (all.Width() + all.Height() + 1)
	if len(boxes) == 0 {
		return h
	}
	ix := geom.NewIndex(boxes)
	for k, i := range which {
		for _, j := range nearBoxes(ix, boxes, k, spread) {
			j := which[j]
			if leaves[i].boundary.Clearance(leaves[j].boundary) <= spread {
				h.pairs[i] = append(h.pairs[i], j)
				h.pairs[j] = append(h.pairs[j], i)
			}
		}
	}
	for i := range h.pairs {
		slices.Sort(h.pairs[i])
		h.pairs[i] = slices.Compact(h.pairs[i])
	}
	return h
}

// nearBoxes lists the boxes nearest to one of them within a distance.
func nearBoxes(ix *geom.Index, boxes []geom.Box, k int, spread float64) []int {
	type near struct {
		i int
		d float64
	}
	var all []near
	reach := spread
	ix.Visit(func(b geom.Box) bool { return b.Distance(boxes[k]) <= reach }, func(i int) {
		if i == k {
			return
		}
		all = append(all, near{i, boxes[i].Distance(boxes[k])})
		if len(all) < 2*mostNeighbours {
			return
		}
		slices.SortFunc(all, func(a, b near) int { return cmp.Or(cmp.Compare(a.d, b.d), cmp.Compare(a.i, b.i)) })
		all = all[:mostNeighbours]
		reach = all[len(all)-1].d
	})
	found := make([]int, len(all))
	for j, n := range all {
		found[j] = n.i
	}
	return found
}

// near says whether one leaf heats another. Leaves below 0 heat none.
func (h *heat) near(a, b int) bool {
	if a < 0 || b < 0 {
		return false
	}
	_, found := slices.BinarySearch(h.pairs[a], int32(b))
	return found
}
