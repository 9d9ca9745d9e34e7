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
	ready *edgedRegion
	edge  *geom.Boundary // of the plain path
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
	b := geom.EmptyBox()
	for _, l := range r.shapes {
		b = b.Union(geom.Outline(l.paths).Bounds())
	}
	return b
}

// boundary is the edge of the only path of a plain region.
func (r *region) boundary() *geom.Boundary {
	if r.edge == nil {
		r.edge = geom.NewBoundary(*r.plain)
	}
	return r.edge
}

// holds says that a path lies in the region wholly; false where that isn't known.
func (r *region) holds(p geom.Path) bool {
	return r.plain != nil && holds(r.boundary(), *r.plain, p)
}

// asked is the region ready to be asked.
func (r *region) asked() *edgedRegion {
	if r.ready == nil {
		r.ready = newEdgedRegion(r, func(p geom.Path) geom.Path { return p.Arcs(curveTol) })
	}
	return r.ready
}

// An edgedRegion is ready to be asked what is seen in it.
type edgedRegion struct {
	mask   maskKind
	shapes []edged
	arcs   []geom.Path // all its paths, as lines and arcs
	pieces []geom.Piece
	index  *geom.Index // of the pieces
}

func newEdgedRegion(r *region, smooth func(geom.Path) geom.Path) *edgedRegion {
	e := &edgedRegion{mask: r.mask}
	for _, l := range r.shapes {
		s := edged{layer: l}
		var arcs geom.Outline
		for _, p := range l.paths {
			arcs = append(arcs, smooth(p))
		}
		s.edge = geom.NewBoundary(arcs)
		e.arcs = append(e.arcs, arcs...)
		for _, c := range l.clips {
			inner := newEdgedRegion(c, smooth)
			s.clips = append(s.clips, inner)
			e.arcs = append(e.arcs, inner.arcs...)
		}
		e.shapes = append(e.shapes, s)
	}
	for _, p := range e.arcs {
		e.pieces = slices.AppendSeq(e.pieces, p.Pieces())
	}
	return e
}

// crosses says whether an edge of the region comes near a box.
func (r *region) crosses(b geom.Box) bool {
	e := r.asked()
	if e.index == nil {
		boxes := make([]geom.Box, len(e.pieces))
		for i, p := range e.pieces {
			boxes[i] = p.Bounds()
		}
		e.index = geom.NewIndex(boxes)
	}
	return len(e.index.Near(b, slack)) > 0
}

// contains says whether something is seen at a place.
func (e *edgedRegion) contains(x geom.Point) bool {
	seen := color{}
	for i := range e.shapes {
		s := &e.shapes[i]
		if !s.covers(x) {
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
