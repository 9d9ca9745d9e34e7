package art

import (
	"slices"

	"foredge/layout/geom"
)

// A region is where something is seen: the page, a viewport, what a clip-path
// holds or where a mask is light. It doesn't change once made.
type region struct {
	shapes []layer // each with regions of its own
	mask   maskKind
	// plain is the only path of a region of one, as pages and viewports are.
	plain *geom.Path
	// made ready when first asked
	ready [smoothings]*edgedRegion
	edge  *geom.Boundary // of the plain path
	box   *geom.Box
}

// A maskKind is how a region says where something is seen.
type maskKind uint8

const (
	clipped     maskKind = iota // wherever one of its shapes is
	lightMasked                 // where it is light
	alphaMasked                 // where it isn't clear
)

// seenFrom is how much light a mask lets through where something counts as seen:
// any opacity above 0 does, but for what rounding leaves.
const seenFrom = 1.0 / 256

func plainRegion(p geom.Path) *region {
	r := &region{shapes: []layer{{paths: []geom.Path{p}}}}
	r.plain = &r.shapes[0].paths[0]
	return r
}

// bounds is a box outside of which nothing is seen.
func (r *region) bounds() geom.Box {
	if r.box == nil {
		b := geom.EmptyBox()
		for _, l := range r.shapes {
			b = b.Union(geom.Outline(l.paths).Bounds())
		}
		r.box = &b
	}
	return *r.box
}

// boundary is the edge of the only path of a plain region.
func (r *region) boundary() *geom.Boundary {
	if r.edge == nil {
		r.edge = geom.NewBoundary(*r.plain)
	}
	return r.edge
}

// asked is the region ready to be asked, its outlines made lines and arcs.
func (r *region) asked(how smoothing) *edgedRegion {
	if r.ready[how] == nil {
		r.ready[how] = newEdgedRegion(r, how.path, func(c *region) *edgedRegion { return c.asked(how) })
	}
	return r.ready[how]
}

// near is the region in a box: of its own paths those that come near it.
func (r *region) near(b geom.Box) *region {
	out := &region{mask: r.mask}
	for _, l := range r.shapes {
		l.paths = slices.DeleteFunc(slices.Clone(l.paths), func(p geom.Path) bool { return !p.Bounds().Grow(slack).Meets(b) })
		if len(l.paths) > 0 {
			out.shapes = append(out.shapes, l)
		}
	}
	return out
}

// An edgedRegion is ready to be asked what is seen in it. Regions that others
// share are made ready once.
type edgedRegion struct {
	mask   maskKind
	shapes []edged
	places *geom.Index // of the shapes
	own    *edges      // of the shapes, without those of what they are clipped by
	// What was asked last: a region within another is asked again and again.
	asked bool
	at    geom.Point
	was   bool
}

// newEdgedRegion makes a region ready; inner gives those that its shapes are
// clipped by.
func newEdgedRegion(r *region, smooth func(geom.Path) geom.Path, inner func(*region) *edgedRegion) *edgedRegion {
	e := &edgedRegion{mask: r.mask}
	var pieces []geom.Piece
	boxes := make([]geom.Box, len(r.shapes))
	for i, l := range r.shapes {
		s := edged{layer: l}
		var arcs geom.Outline
		for _, p := range l.paths {
			q := smooth(p)
			arcs = append(arcs, q)
			pieces = slices.AppendSeq(pieces, q.Pieces())
		}
		s.edge = geom.NewBoundary(arcs)
		boxes[i] = s.edge.Box
		for _, c := range l.clips {
			s.clips = append(s.clips, inner(c))
		}
		e.shapes = append(e.shapes, s)
	}
	e.places, e.own = geom.NewIndex(boxes), newEdges(pieces)
	return e
}

// edgesNear gives the edges in a box at which what is seen may end, those of the
// regions within among them, each region's once; gone through are those that have
// been. It stops when yield returns false.
func (e *edgedRegion) edgesNear(b geom.Box, gone map[*edgedRegion]bool, work *effort, yield func(geom.Piece) bool) bool {
	if gone[e] {
		return true
	}
	gone[e] = true
	near := e.own.near(b)
	work.spend(1 + len(near))
	for _, i := range near {
		if !yield(e.own.pieces[i]) {
			return false
		}
	}
	for _, i := range e.places.Near(b, slack) {
		work.spend(1 + len(e.shapes[i].clips))
		for _, c := range e.shapes[i].clips {
			if !c.edgesNear(b, gone, work, yield) {
				return false
			}
		}
	}
	return true
}

// edgesOf lists the edges in a box at which what is seen through regions may end: of
// those that are the same, as of a clip that holds another one, one.
func edgesOf(regions []*edgedRegion, b geom.Box, work *effort) []geom.Piece {
	var out []geom.Piece
	gone := map[*edgedRegion]bool{} // they may share some
	for _, r := range regions {
		r.edgesNear(b, gone, work, func(p geom.Piece) bool { out = append(out, p); return !work.over() })
	}
	if len(gone) < 2 {
		return out
	}
	known := make(map[geom.Piece]bool, len(out))
	return slices.DeleteFunc(out, func(p geom.Piece) bool {
		if known[p] || known[p.Reverse()] {
			return true
		}
		known[p] = true
		return false
	})
}

// crosses says whether an edge of the region comes near a box.
func (r *region) crosses(b geom.Box, work *effort) bool {
	return !r.asked(asArcs).edgesNear(b, map[*edgedRegion]bool{}, work, func(geom.Piece) bool { return false })
}

// contains says whether something is seen at a place.
func (e *edgedRegion) contains(x geom.Point, work *effort) bool {
	if e.asked && e.at == x {
		work.spend(1)
		return e.was
	}
	e.asked, e.at, e.was = true, x, e.find(x, work)
	return e.was
}

func (e *edgedRegion) find(x geom.Point, work *effort) bool {
	seen := color{}
	near := e.places.Near(geom.Box{Min: x, Max: x}, 0)
	work.spend(1 + len(near))
	for _, i := range near {
		s := &e.shapes[i]
		if work.over() {
			return false
		}
		if !s.covers(x, work) {
			continue
		}
		if e.mask == clipped {
			return true
		}
		seen = s.color.over(seen)
	}
	switch e.mask {
	case lightMasked:
		return seen.luminance() >= seenFrom
	case alphaMasked:
		return seen.a >= seenFrom
	}
	return false
}
