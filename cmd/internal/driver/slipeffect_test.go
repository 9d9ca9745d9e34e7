package driver_test

import (
	"math"

	"foredge/layout"
	"foredge/layout/geom"
)

// Cuts are the holes and outlines that a design is cut to, each by its part and
// its name, as wanted, from the part's left upper corner.
type cuts map[string][]geom.Path

func cutsOf(d *layout.Drawing) cuts {
	all := cuts{}
	for _, p := range d.Parts {
		for _, s := range p.Shapes {
			if s.Op == layout.Cut {
				all[p.Name+" "+s.ID] = geom.Paths(s.Figure.Move(geom.Pt(-p.Bounds.Min.X, -p.Bounds.Min.Y)))
			}
		}
	}
	return all
}

// moved is how far a hole or outline of one design is from that of another at the
// most, in mm: the greatest distance of a corner of one from the other's edge.
// It is infinite where one has a hole or a part that the other lacks.
func moved(a, b cuts) float64 {
	far := 0.0
	for name, paths := range a {
		other, ok := b[name]
		if !ok || len(other) != len(paths) {
			return math.Inf(1)
		}
		for i := range paths {
			p, q := paths[i].Flatten(0.02), other[i].Flatten(0.02)
			far = max(far, apart(p, q), apart(q, p))
		}
	}
	if len(a) != len(b) {
		return math.Inf(1)
	}
	return far
}

// apart is how far the points of p are from the line through those of q at the
// most.
func apart(p, q []geom.Point) float64 {
	far := 0.0
	for _, a := range p {
		near := math.Inf(1)
		for i := range q {
			from, to := q[max(0, i-1)], q[i]
			near = min(near, toSegment(a, from, to))
		}
		far = max(far, near)
	}
	return far
}

func toSegment(p, a, b geom.Point) float64 {
	along := geom.Pt(b.X-a.X, b.Y-a.Y)
	t := 0.0
	if length := along.X*along.X + along.Y*along.Y; length > 0 {
		t = min(1, max(0, ((p.X-a.X)*along.X+(p.Y-a.Y)*along.Y)/length))
	}
	return math.Hypot(p.X-a.X-t*along.X, p.Y-a.Y-t*along.Y)
}
