package lettering

import (
	"slices"

	"foredge/layout/geom"
	"foredge/layout/internal/groups"
)

// A body is an outline all round which the material is connected, and what it
// becomes grown by half a bridge: paths that close round nothing, though those of
// one body may overlap.
type body struct {
	outline geom.Outline
	grown   []geom.Path
}

func (b body) moved(m geom.Similarity) body {
	return body{m.Outline(b.outline), m.Outline(geom.Outline(b.grown))}
}

// join puts bodies together, those of a group or with none all.
func join(all []body, group []int) body {
	var out body
	for i, b := range all {
		if group == nil || slices.Contains(group, i) {
			out.outline = append(out.outline, b.outline...)
			out.grown = append(out.grown, b.grown...)
		}
	}
	return out
}

// hold sees that bodies side by side don't close round material that none of
// them closes round alone; widen is asked for one body in place of a group that
// may. A bridge of such a group may end at a neighbour, so what comes out is
// looked at again, until no two bodies close a ring.
func hold(all []body, widen func(group []int) (body, error)) ([]body, error) {
	of := make([][]int, len(all)) // which of the bodies asked about each stands for
	for i := range of {
		of[i] = []int{i}
	}
	for {
		var bodies []body
		var stand [][]int
		for _, ring := range byRing(all) {
			b, group := all[ring[0]], of[ring[0]]
			if len(ring) > 1 {
				group = nil
				for _, i := range ring {
					group = append(group, of[i]...)
				}
				slices.Sort(group)
				var err error
				if b, err = widen(group); err != nil {
					return nil, err
				}
			}
			bodies, stand = append(bodies, b), append(stand, group)
		}
		if len(bodies) == len(all) {
			return all, nil
		}
		all, of = bodies, stand
	}
}

// byRing puts bodies that may close a ring into one group, the others into groups
// of their own.
//
// Grown paths without holes that meet, each two in one place, leave no hole
// between them if they form no ring: by the sums of Euler's characteristic the
// whole then has as many holes as there are places too many.
func byRing(all []body) [][]int {
	var of []int // which body a grown path is of
	var paths []geom.Path
	var boxes []geom.Box
	for i, b := range all {
		for _, p := range b.grown {
			of, paths, boxes = append(of, i), append(paths, p), append(boxes, p.Bounds())
		}
	}
	ix := geom.NewIndex(boxes)
	meet, ring := groups.New(len(paths)), groups.New(len(all))
	type pair struct{ i, j int }
	var apart, doubtful []pair
	for i := range paths {
		for _, j := range ix.Near(boxes[i], 0) {
			switch {
			case j <= i:
			case of[i] != of[j]:
				apart = append(apart, pair{i, j})
			case !meet.Same(i, j) && contacts(paths[i], paths[j], boxes[i], boxes[j]) > 0:
				meet.Unite(i, j) // within a body, which is known to close round nothing
			}
		}
	}
	for _, p := range apart {
		switch n := contacts(paths[p.i], paths[p.j], boxes[p.i], boxes[p.j]); {
		case n == 0:
		case n != 2 || !meet.Unite(p.i, p.j):
			doubtful = append(doubtful, p)
		}
	}
	for _, d := range doubtful {
		ring.Unite(of[d.i], of[d.j])
		if meet.Unite(d.i, d.j) {
			continue
		}
		// They close a ring: it may run through all that are connected with them.
		for k := range paths {
			if meet.Same(k, d.i) {
				ring.Unite(of[k], of[d.i])
			}
		}
	}
	return ring.Lists()
}

// contacts is in how many places two paths cross or touch.
func contacts(a, b geom.Path, inA, inB geom.Box) int {
	const same = 1e-6 // mm
	common := geom.Box{Min: geom.Pt(max(inA.Min.X, inB.Min.X), max(inA.Min.Y, inB.Min.Y)), Max: geom.Pt(min(inA.Max.X, inB.Max.X), min(inA.Max.Y, inB.Max.Y))}.Grow(same)
	within := func(p geom.Path) (pieces []geom.Piece, boxes []geom.Box) {
		for piece := range p.Pieces() {
			if box := piece.Bounds(); box.Meets(common) {
				pieces, boxes = append(pieces, piece), append(boxes, box)
			}
		}
		return pieces, boxes
	}
	p, pBoxes := within(a)
	q, qBoxes := within(b)
	var places, shared []geom.Point
	for i := range p {
		for j := range q {
			if !pBoxes[i].Meets(qBoxes[j].Grow(same)) {
				continue
			}
			shared = geom.Intersections(shared[:0], p[i], q[j])
			for _, x := range shared {
				if !slices.ContainsFunc(places, func(y geom.Point) bool { return x.Distance(y) < same }) {
					places = append(places, x)
				}
			}
		}
	}
	return len(places)
}
