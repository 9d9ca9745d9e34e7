package nest

import (
	"math"

	"foredge/layout/geom"
)

// How far in units an edge of a contact lies outside the true one. A slanted edge:
// far more than rounding in sums can do, far less than a unit; upright and level ones
// lie on whole units, where nothing is rounded. Any edge of a shape whose corners were
// rounded: more than that moved them.
const (
	slack      = 0.02
	turnedBack = 2
)

// A turned is a part's shape at one of its turns, about the part's own origin.
type turned struct {
	id      int // among all of a job
	turn    int // which of the part's turns
	pieces  []convex
	corners int // of all pieces
	box     geom.Box
	// rounded says that the corners were rounded to units after turning.
	rounded bool
}

// An edge is the line n·p = c that bounds a convex polygon, n pointing out.
type edge struct{ nx, ny, c float64 }

// A hull is one convex polygon of a contact: its box and its edges.
type hull struct {
	box    geom.Box
	lo, hi int32   // among the contact's edges
	size   float64 // that of the lesser of the two pieces: the root of its area
}

// A contact tells how two shapes lie to each other: it is the set of all places
// of the one, seen from the other, at which they overlap, as a union of convex
// polygons, one for each pair of their pieces (the no-fit polygon of shapes cut
// into convex pieces: R. C. Art, "An approach to the two dimensional irregular
// cutting stock problem", 1966; J. A. Bennell, J. F. Oliveira, "The geometry of
// nesting problems: a tutorial", 2008).
type contact struct {
	key   uint64
	box   geom.Box
	hulls []hull
	edges []edge
	rim   []geom.Point // where each edge begins
}

func newContact(key uint64, moving, fixed *turned) *contact {
	c := &contact{key: key, box: geom.EmptyBox()}
	c.hulls = make([]hull, 0, len(moving.pieces)*len(fixed.pieces))
	edges := moving.corners*len(fixed.pieces) + fixed.corners*len(moving.pieces)
	c.edges, c.rim = make([]edge, 0, edges), make([]geom.Point, 0, edges)
	var ring convex
	for _, a := range moving.pieces {
		for _, b := range fixed.pieces {
			ring = difference(ring[:0], b, a)
			c.add(ring, math.Sqrt(min(area(a), area(b))), moving.rounded || fixed.rounded)
		}
	}
	return c
}

// add adds a convex polygon of places.
func (c *contact) add(ring convex, size float64, rounded bool) {
	h := hull{box: bounds(ring), lo: int32(len(c.edges)), size: size}
	for k, p := range ring {
		q := ring[(k+1)%len(ring)]
		ex, ey := q.X-p.X, q.Y-p.Y
		l := length(ex, ey)
		if l == 0 {
			continue
		}
		e := edge{nx: ey / l, ny: -ex / l}
		e.c = float64(e.nx*p.X) + float64(e.ny*p.Y)
		switch {
		case rounded:
			e.c += turnedBack
		case ex != 0 && ey != 0:
			e.c += slack
		}
		if n := len(c.edges); n > int(h.lo) && c.edges[n-1].nx == e.nx && c.edges[n-1].ny == e.ny {
			continue
		}
		c.edges = append(c.edges, e)
		c.rim = append(c.rim, p)
	}
	if rounded {
		h.box = h.box.Grow(turnedBack)
	}
	h.hi = int32(len(c.edges))
	c.box = c.box.Union(h.box)
	c.hulls = append(c.hulls, h)
}

// depth is how badly two shapes overlap at a place, in units: the root of the sum, over
// all pairs of convex pieces, of the least way out of each times the size of the lesser
// of both, which is much like the root of the area in which they overlap
// (penetration depth: Y. Umetani and others, "Solving the irregular strip packing problem
// via guided local search for overlap minimization", 2009; its product with a size and
// the root: Gardeyn and others, as named at search). It is 0 outside.
func (c *contact) depth(x, y float64) float64 {
	sum := 0.0
	for k := range c.hulls {
		h := &c.hulls[k]
		if x <= h.box.Min.X || x >= h.box.Max.X || y <= h.box.Min.Y || y >= h.box.Max.Y {
			continue
		}
		least := math.Inf(1)
		for _, e := range c.edges[h.lo:h.hi] {
			d := e.c - float64(e.nx*x) - float64(e.ny*y)
			if d < least {
				if d <= 0 {
					least = 0
					break
				}
				least = d
			}
		}
		sum += float64(least * h.size)
	}
	return math.Sqrt(sum)
}

// wayOut is the deepest of the least ways out of the convex polygons at a place, in
// units, and its direction.
func (c *contact) wayOut(x, y float64) (deepest, nx, ny float64) {
	for k := range c.hulls {
		h := &c.hulls[k]
		if x <= h.box.Min.X || x >= h.box.Max.X || y <= h.box.Min.Y || y >= h.box.Max.Y {
			continue
		}
		least, at := math.Inf(1), h.lo
		for i := h.lo; i < h.hi; i++ {
			e := &c.edges[i]
			d := e.c - float64(e.nx*x) - float64(e.ny*y)
			if d < least {
				least, at = d, i
			}
		}
		if least > deepest {
			deepest, nx, ny = least, c.edges[at].nx, c.edges[at].ny
		}
	}
	return deepest, nx, ny
}

// The size of a contacts, and the most edges that it holds before it is emptied.
const (
	contactSlots = 1 << 17
	contactEdges = 1 << 20
)

// contacts remembers the contacts of a job's shapes, within bounds.
type contacts struct {
	shapes int
	slots  []*contact
	edges  int
}

func newContacts(shapes int) *contacts {
	return &contacts{shapes: shapes, slots: make([]*contact, contactSlots)}
}

// of is the contact of two shapes, the first moving past the second.
func (cs *contacts) of(moving, fixed *turned) *contact {
	key := uint64(moving.id)*uint64(cs.shapes) + uint64(fixed.id)
	slot := &cs.slots[key%contactSlots]
	if c := *slot; c != nil && c.key == key {
		return c
	}
	c := newContact(key, moving, fixed)
	if old := *slot; old != nil {
		cs.edges -= len(old.edges)
	}
	if cs.edges += len(c.edges); cs.edges > contactEdges {
		clear(cs.slots)
		cs.edges = len(c.edges)
	}
	*slot = c
	return c
}
