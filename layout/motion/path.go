package motion

import (
	"math"

	"foredge/layout/geom"
)

const (
	// curveTol is how far in mm the arcs that stand for a free curve lie from it.
	curveTol = 0.01
	// smooth is the turn in radians up to which two pieces count as going straight on:
	// what curves are joined to.
	smooth = 1e-3
)

// A cornering is how fast corners may be taken.
type cornering struct {
	a         float64
	jump      float64 // of velocity, in mm/s; negative if not stated
	deviation float64 // in mm; negative if not stated
	stops     bool
}

func (m *Machine) cornering(a float64) cornering {
	c := cornering{a: a, jump: -1, deviation: -1}
	if v, ok := notNegative(m.Corner); ok {
		c.jump = v * math.Sqrt2
	}
	if d, ok := notNegative(m.Deviation); ok {
		c.deviation = d
	}
	c.stops = c.jump < 0 && c.deviation < 0
	return c
}

// speed is how fast the head may go from one direction to another, both unit vectors.
//
// By the jump of velocity, |v (w - u)|. By the deviation on the circle that touches both
// lines and passes the corner at that distance d: with s = cos(turn/2) its radius is
// r = d s / (1 - s), and v² = a r.
func (c *cornering) speed(u, w geom.Point) float64 {
	v := math.Inf(1)
	turn := w.Sub(u).Norm() // 2 sin(turn/2)
	if turn <= smooth {
		return v
	}
	if c.stops {
		return 0
	}
	if c.jump >= 0 {
		v = c.jump / turn
	}
	if c.deviation >= 0 {
		s := w.Add(u).Norm() / 2
		v = min(v, math.Sqrt(c.a*c.deviation*s/(1-s)))
	}
	return v
}

// stretches are the lines and arcs of a path as they may be run. An arc may be run as
// fast as the acceleration holds the head on it: v² = a r.
func (c *cornering) stretches(p geom.Path, speed float64) (all []stretch) {
	var before geom.Point
	for piece := range p.Arcs(curveTol).Pieces() {
		length := piece.Length()
		if !(length > 0) {
			continue
		}
		s := stretch{length: length, most: speed}
		if piece.Kind == geom.ArcTo {
			s.most = min(speed, math.Sqrt(c.a*piece.Arc().R))
		}
		if len(all) > 0 {
			s.enter = c.speed(before, piece.Tangent(0))
		}
		all = append(all, s)
		before = piece.Tangent(1)
	}
	return all
}
