package nest

import (
	"encoding/binary"
	"math"
	"slices"

	"foredge/layout/geom"
)

// A catalogue makes shapes of parts, equal ones once.
type catalogue struct {
	known map[string]*shape
	count int // of shapes at their turns
}

// A shape is what a part covers, at each of the turns that it may have.
type shape struct {
	turned []*turned
	turns  []float64 // degrees
	area   float64   // in square units, of the polygons
}

// of is the shape of some rings at some turns in degrees.
func (c *catalogue) of(rings [][]geom.Point, turns []float64) *shape {
	var key []byte
	for _, r := range rings {
		key = binary.LittleEndian.AppendUint32(key, uint32(len(r)))
		for _, p := range r {
			key = binary.LittleEndian.AppendUint64(key, math.Float64bits(p.X))
			key = binary.LittleEndian.AppendUint64(key, math.Float64bits(p.Y))
		}
	}
	for _, t := range turns {
		key = binary.LittleEndian.AppendUint64(key, math.Float64bits(t))
	}
	if s := c.known[string(key)]; s != nil {
		return s
	}
	s := &shape{turns: turns}
	var pieces []convex
	for _, r := range rings {
		s.area += area(r)
		parts, ok := split(r)
		if !ok || !same(r, parts) {
			parts = []convex{convexHull(r)}
		}
		pieces = append(pieces, parts...)
	}
	for k, turn := range turns {
		t := turnedBy(pieces, turn)
		t.id, t.turn = c.count, k
		c.count++
		s.turned = append(s.turned, t)
	}
	c.known[string(key)] = s
	return s
}

// same says whether pieces cover as much as the ring that they were cut from.
func same(ring []geom.Point, pieces []convex) bool {
	sum := 0.0
	for _, p := range pieces {
		sum += area(p)
	}
	a := area(ring)
	return math.Abs(sum-a) <= 1e-9*a
}

// turnedBy turns convex pieces about the origin. Whole quarters are exact.
func turnedBy(pieces []convex, degrees float64) *turned {
	t := &turned{box: geom.EmptyBox()}
	quarter := degrees / 90
	t.rounded = quarter != math.Trunc(quarter)
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	if !t.rounded {
		exact := [4][2]float64{{0, 1}, {1, 0}, {0, -1}, {-1, 0}}[int(quarter)&3]
		sin, cos = exact[0], exact[1]
	}
	for _, p := range pieces {
		c := slices.Clone(p)
		for k, q := range c {
			c[k] = geom.Point{
				X: math.Round(float64(q.X*cos) - float64(q.Y*sin)),
				Y: math.Round(float64(q.X*sin) + float64(q.Y*cos)),
			}
		}
		t.pieces = append(t.pieces, c)
		t.corners += len(c)
		t.box = t.box.Union(bounds(c))
	}
	return t
}
