package art

import "foredge/layout/geom"

// An effort is how many steps finding what a drawing shows may still take, each
// about as long as looking at one piece of an outline. What a small file can ask for
// isn't bounded by its size: clips hold clips, and outlines cross one another.
type effort struct{ left int }

// mostEffort is what a drawing may take: some three seconds.
const mostEffort = 150_000_000

func newEffort() *effort { return &effort{mostEffort} }

func (e *effort) spend(steps int) { e.left -= steps }

// over says that the drawing has taken more than it may.
func (e *effort) over() bool { return e.left < 0 }

// hiding is the error of an element whose clips and masks take too much.
func (n *node) hiding() *Error {
	return n.fail("apply its clips and masks in the drawing program, so that plain paths are left",
		"what its clips and masks hide is too tangled for what is left of it to be found")
}

// edges are lines and arcs, found by where they are.
type edges struct {
	pieces []geom.Piece
	index  *geom.Index
}

func newEdges(pieces []geom.Piece) *edges {
	boxes := make([]geom.Box, len(pieces))
	for i, p := range pieces {
		boxes[i] = p.Bounds()
	}
	return &edges{pieces, geom.NewIndex(boxes)}
}

// near lists the edges that a box comes near, by their number.
func (e *edges) near(b geom.Box) []int { return e.index.Near(b, slack) }

// A smoothing is how outlines are made lines and arcs, which are cut and joined.
type smoothing uint8

const (
	asArcs smoothing = iota
	asFinerArcs
	asChords
	onGrid
	smoothings
)

func (s smoothing) path(p geom.Path) geom.Path {
	switch s {
	case asArcs:
		return p.Arcs(curveTol)
	case asFinerArcs:
		return p.Arcs(curveTol / 3)
	case asChords:
		return geom.Polygon(p.Flatten(5 * curveTol)...)
	}
	return geom.Polygon(rounded(p.Flatten(10*curveTol), 1e-3)...)
}
