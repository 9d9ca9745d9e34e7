package tour

import (
	"cmp"
	"slices"

	"foredge/layout/geom"
)

// A heat says which leaves lie so near to one another that one heats the other.
type heat struct {
	pairs   [][]neighbour // of each leaf, by their number
	penalty float64       // what it costs to run one right after the other, in nanometres
}

// A neighbour is a leaf that one heats, and how near it is: 1 where they touch, 0 as far away
// as the heat spreads. It costs up to the penalty to run it next, and far more the nearer it is: several
// that are nearly far enough are better than one close by.
type neighbour struct {
	leaf int32
	near float32
}

const (
	// mostPairs is how many pairs of neighbours are minded in all, and leastNeighbours how
	// many of each leaf at least: the nearest.
	mostPairs       = 1_000_000
	leastNeighbours = 64
	// dear is how many times the way across the sheet may be gone to keep two that touch apart, and
	// leastHeat the share of it for two that are nearly far enough.
	dear      = 10_000
	leastHeat = 0.002
)

// newHeat finds the cuts within a distance in mm of one another.
func newHeat(leaves []leaf, spread float64) *heat {
	h := &heat{pairs: make([][]neighbour, len(leaves))}
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
	if len(boxes) == 0 {
		return h
	}
	h.penalty = dear * nano * (all.Width() + all.Height() + 1)
	most := max(leastNeighbours, mostPairs/len(boxes))
	ix := geom.NewIndex(boxes)
	for k, i := range which {
		for _, m := range nearBoxes(ix, boxes, k, spread, most) {
			j := which[m]
			if d := leaves[i].boundary.Clearance(leaves[j].boundary); d <= spread {
				near := float32(1 - d/spread)
				h.pairs[i] = append(h.pairs[i], neighbour{j, near})
				h.pairs[j] = append(h.pairs[j], neighbour{i, near})
			}
		}
	}
	for i := range h.pairs {
		slices.SortFunc(h.pairs[i], func(a, b neighbour) int { return cmp.Or(cmp.Compare(a.leaf, b.leaf), cmp.Compare(b.near, a.near)) })
		h.pairs[i] = slices.CompactFunc(h.pairs[i], func(a, b neighbour) bool { return a.leaf == b.leaf })
	}
	return h
}

// nearBoxes lists the boxes within a distance of one of them, the nearest if there are
// more than twice as many as asked for.
func nearBoxes(ix *geom.Index, boxes []geom.Box, k int, spread float64, most int) []int {
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
		if len(all) < 2*most {
			return
		}
		slices.SortFunc(all, func(a, b near) int { return cmp.Or(cmp.Compare(a.d, b.d), cmp.Compare(a.i, b.i)) })
		all = all[:most]
		reach = all[len(all)-1].d
	})
	found := make([]int, len(all))
	for j, n := range all {
		found[j] = n.i
	}
	return found
}

// cost is what it takes to run one leaf right after another that it heats, 0 of others.
// Leaves below 0 heat none.
func (h *heat) cost(a, b int) float64 {
	if a < 0 || b < 0 {
		return 0
	}
	k, found := slices.BinarySearchFunc(h.pairs[a], int32(b), func(n neighbour, leaf int32) int { return cmp.Compare(n.leaf, leaf) })
	if !found {
		return 0
	}
	near := float64(h.pairs[a][k].near)
	for range 3 {
		near = float64(near * near) // the eighth power
	}
	return float64(h.penalty * float64(leastHeat+near)) // never fused with a sum
}

// near says whether one leaf heats another.
func (h *heat) near(a, b int) bool { return h.cost(a, b) > 0 }
