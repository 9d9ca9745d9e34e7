package layout

import (
	"fmt"
	"math"
	"slices"

	"foredge/eval/design"
	"foredge/layout/advise"
	"foredge/layout/art"
	"foredge/layout/geom"
	"foredge/layout/internal/groups"
)

const (
	// endsMeet is how far apart in mm the ends of two lines of artwork may lie that
	// are one line: a tenth of what a laser cuts away, and far more than drawing
	// programs round off.
	endsMeet = 0.01
	// samePlace is how far apart two places lie in mm that are one.
	samePlace = 1e-3
)

// slits looks at open lines of artwork that are cut: none may meet a closed one,
// and what they enclose is told. It reports whether they can be cut.
func (dr *draft) slits(p *design.Panel, m *design.Artwork, f Frame, slits, rings []art.Contour) bool {
	if len(slits) == 0 {
		return true
	}
	edges, boxes := boundaries(slits)
	index := geom.NewIndex(boxes)
	for _, ring := range rings {
		edge := geom.NewBoundary(ring.Path)
		for _, i := range index.Near(edge.Box, 0) {
			if edges[i].Meets(edge) {
				dr.crosses(m, slits[i].Where, ring.Where)
				return false
			}
		}
	}
	dr.notes.Warn(p.Quiet, "art-open", m.At, "%s, %s: this line is open, so it is cut as a slit%s", m.File, slits[0].Where, others(len(slits))).
		WithHelp("close it in the drawing program if something should be cut out%s", advise.Silence("art-open", "panel"))
	dr.closeSlits(p, m, f, slits, rings, index, edges)
	if i := enclosing(edges); i >= 0 {
		dr.notes.Warn(p.Quiet, "art-falls-out", m.At, "%s, %s: open lines that cross or touch enclose something here, which falls out of %s, %s", m.File, slits[i].Where, p.Name,
			dr.at(f, boxes[i])).
			WithHelp("draw it as a closed line if it should be cut out, or leave bridges%s", advise.Silence("art-falls-out", "panel"))
	}
	return true
}

// closeSlits warns of the first slit that leaves too little of the board between itself and another, or
// a closed line. The laser takes half of its cut from that along each slit, and none along a closed line,
// for which it is allowed; slits that meet are one.
func (dr *draft) closeSlits(p *design.Panel, m *design.Artwork, f Frame, slits, rings []art.Contour, index *geom.Index, edges []*geom.Boundary) {
	least, cut := leastDetail(p), dr.kerfOf(p).Or(0)
	near := func(i int, e *geom.Boundary, where art.Where, taken float64) bool {
		left := edges[i].Clearance(e) - taken
		if left >= least-geom.Tol {
			return false
		}
		dr.artFine(p, m, fmt.Sprintf(", %s: only %s is left between it and %s", slits[i].Where, dr.length(math.Round(max(left, 0)*1000)/1000), where),
			dr.at(f, edges[i].Box), least)
		return true
	}
	for i, e := range edges {
		for _, j := range index.Near(e.Box, least+cut) {
			if j > i && !e.Meets(edges[j]) && near(i, edges[j], slits[j].Where, cut) {
				return
			}
		}
	}
	for _, ring := range rings {
		edge := geom.NewBoundary(ring.Path)
		for _, i := range index.Near(edge.Box, least+cut/2) {
			if !edge.Contains(slits[i].Path.Start) && near(i, edge, ring.Where, cut/2) { // else it lies in what is cut out
				return
			}
		}
	}
}

func boundaries(lines []art.Contour) ([]*geom.Boundary, []geom.Box) {
	edges, boxes := make([]*geom.Boundary, len(lines)), make([]geom.Box, len(lines))
	for i, l := range lines {
		edges[i] = geom.NewBoundary(l.Path)
		boxes[i] = edges[i].Box
	}
	return edges, boxes
}

// enclosing is the first of some open lines that closes a loop, by itself or with
// those before it; -1 if none does. Once cut apart wherever they meet, lines that
// enclose nothing form trees.
func enclosing(lines []*geom.Boundary) int {
	var pieces []geom.Piece
	var of []int // the line
	var boxes []geom.Box
	for i, l := range lines {
		for _, p := range l.Pieces {
			pieces, of, boxes = append(pieces, p), append(of, i), append(boxes, p.Bounds())
		}
	}
	index := geom.NewIndex(boxes)
	joints, middles := newPlaces(), newPlaces()
	trees := groups.New(0) // of joints
	joint := func(x geom.Point) int {
		known := len(joints.at)
		k := joints.of(x)
		if k == known {
			trees.Add()
		}
		return k
	}
	known := map[[3]int]bool{} // stretches, by their joints and middle: lines may share one
	var points []geom.Point
	var cuts []float64
	for i, p := range pieces {
		points, cuts = points[:0], append(cuts[:0], 0, 1)
		for _, j := range index.Near(boxes[i], samePlace) {
			if j != i {
				points = geom.Intersections(points, p, pieces[j])
			}
		}
		for _, x := range points {
			cuts = append(cuts, min(max(p.Parameter(x), 0), 1))
		}
		slices.Sort(cuts)
		from, a := 0.0, joint(p.From)
		for _, t := range cuts {
			b := joint(p.At(t))
			if a == b {
				continue
			}
			stretch := [3]int{min(a, b), max(a, b), middles.of(p.At((from + t) / 2))}
			if !known[stretch] {
				known[stretch] = true
				if !trees.Unite(a, b) {
					return of[i]
				}
			}
			from, a = t, b
		}
	}
	return -1
}

// places numbers places; those within samePlace of one another are one.
type places struct {
	at []geom.Point
	in map[[2]int][]int // by the square in which they lie
}

func newPlaces() *places { return &places{in: map[[2]int][]int{}} }

// of is the number of a place, counted from 0 in the order in which they come.
func (p *places) of(x geom.Point) int {
	cx, cy := int(math.Floor(x.X/samePlace)), int(math.Floor(x.Y/samePlace))
	for dx := -1; dx <= 1; dx++ {
		for dy := -1; dy <= 1; dy++ {
			for _, k := range p.in[[2]int{cx + dx, cy + dy}] {
				if p.at[k].Distance(x) <= samePlace {
					return k
				}
			}
		}
	}
	k := len(p.at)
	p.at = append(p.at, x)
	p.in[[2]int{cx, cy}] = append(p.in[[2]int{cx, cy}], k)
	return k
}
