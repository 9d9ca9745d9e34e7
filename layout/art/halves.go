package art

import (
	"cmp"
	"slices"

	"foredge/layout/geom"
)

// fewest is of how many layers a group is not united by halves any more.
const fewest = 32

// inHalves gives a group of many layers of one ink that lie on one another as two, the
// outlines of one half of it each, which lie side by side: of n circles through one place
// each two cross, but what any of them bound together has no more than some n arcs. Other
// groups stay as they are, and so do those with a half whose outline can't be found.
func inHalves(group []layer, work *effort) []layer {
	if len(group) < fewest || !oneInk(group) {
		return group
	}
	boxes := make([]geom.Box, len(group))
	middles := geom.EmptyBox()
	order := make([]int, len(group))
	for i, l := range group {
		boxes[i], order[i] = geom.Outline(l.paths).Bounds(), i
		middles = middles.Union(geom.Box{Min: boxes[i].Center(), Max: boxes[i].Center()})
	}
	if !crowds(boxes, work) {
		return group
	}
	slices.SortStableFunc(order, func(i, j int) int {
		if middles.Width() >= middles.Height() {
			return cmp.Compare(boxes[i].Center().X, boxes[j].Center().X)
		}
		return cmp.Compare(boxes[i].Center().Y, boxes[j].Center().Y)
	})
	var out []layer
	for _, half := range [2][]int{order[:len(order)/2], order[len(order)/2:]} {
		slices.Sort(half)
		var part []layer
		for _, i := range half {
			part = append(part, group[i])
		}
		outlines, _, err := resolve(part, work)
		if err != nil {
			return group
		}
		one := layer{color: part[0].color, element: part[0].element, where: part[0].where, op: part[0].op}
		for _, c := range outlines {
			one.paths, one.wheres = append(one.paths, c.Path), append(one.wheres, c.Where)
		}
		out = append(out, one)
	}
	return out
}

// oneInk says that layers are of one colour that hides all below it, and nothing hides
// any of them.
func oneInk(group []layer) bool {
	return !slices.ContainsFunc(group, func(l layer) bool {
		return l.paper || len(l.clips) > 0 || l.color.a < 0.999 || l.color != group[0].color || l.op != group[0].op
	})
}

// crowds says whether there are many boxes near each, on the mean.
func crowds(boxes []geom.Box, work *effort) bool {
	index := geom.NewIndex(boxes)
	near, most := 0, crowded*len(boxes)
	for _, b := range boxes {
		index.Visit(func(c geom.Box) bool { return near <= most && c.Meets(b) }, func(int) { near++ })
	}
	work.spend(near)
	return near > most
}
