package driver_test

import (
	"math"

	"foredge/eval/design"
	"foredge/eval/opening"
	"foredge/eval/word"
	"foredge/export/exporttest"
	"foredge/layout/geom"
)

// A mouth is an opening that a neck joins with the edge of its board: u runs
// along the edge from the neck's middle, v inwards. All is as wanted; in the file
// the board's edge lies further out and the opening is smaller, by grow.
type mouth struct {
	middle, along, inward geom.Point
	near                  float64 // from the edge to the opening
	long, deep, radius    float64 // of the opening
	hex                   bool
	wide                  float64 // of the neck
}

// at is a place of the mouth.
func (m mouth) at(u, v float64) geom.Point { return m.middle.Add(m.along.Mul(u)).Add(m.inward.Mul(v)) }

// of gives a mouth the form of its opening, once it has its sizes.
func (m mouth) of(o opening.Opening) mouth {
	m.radius, m.hex = cornerRadius(o, m.long, m.deep), o.Form == opening.Hex
	return m
}

// half is the right half of the opening's edge in the file, from the middle of
// its near side round to that of its far side. Its arcs are lines short enough to
// be taken for them.
func (m mouth) half(grow float64) [][2]float64 {
	middle := m.near + m.deep/2
	if m.hex {
		shape := wanted{w: m.long, h: m.deep, grow: -grow, hex: true}
		u, v := shape.w/2+shape.grown().X, shape.h/2+shape.grown().Y
		if m.long > m.deep {
			return [][2]float64{{0, middle - v}, {u / 2, middle - v}, {u, middle}, {u / 2, middle + v}, {0, middle + v}}
		}
		return [][2]float64{{0, middle - v}, {u, middle - v/2}, {u, middle + v/2}, {0, middle + v}}
	}
	half, r, near, far := m.long/2-grow, max(0, m.radius-grow), m.near+grow, m.near+m.deep-grow
	points := [][2]float64{{0, near}}
	arc := func(cu, cv, from float64) {
		const steps = 200
		for i := 0; i <= steps; i++ {
			a := from + math.Pi/2*float64(i)/steps
			points = append(points, [2]float64{cu + r*math.Cos(a), cv + r*math.Sin(a)})
		}
	}
	arc(half-r, near+r, -math.Pi/2)
	arc(half-r, far-r, 0)
	return append(points, [2]float64{0, far})
}

// edges are the neck's two sides and the opening's edge, but for what the neck
// opens.
func (m mouth) edges(grow float64) []exporttest.Segment {
	q, middle := m.wide/2-grow, m.near+m.deep/2
	points := m.half(grow)
	// Of the side that the neck opens only what lies beyond the neck is left.
	for points[1][0] <= q && points[1][1] <= middle+1e-9 {
		points = points[1:]
	}
	if a, b := points[0], points[1]; a[0] < q {
		points[0] = [2]float64{q, a[1] + (q-a[0])/(b[0]-a[0])*(b[1]-a[1])}
	}
	var list []exporttest.Segment
	for _, side := range []float64{1, -1} {
		line := func(u0, v0, u1, v1 float64) {
			if u0 != u1 || v0 != v1 {
				list = append(list, exporttest.Segment{From: m.at(side*u0, v0), End: m.at(side*u1, v1)})
			}
		}
		line(q, -grow, q, points[0][1])
		for i := 1; i < len(points); i++ {
			line(points[i-1][0], points[i-1][1], points[i][0], points[i][1])
		}
	}
	return list
}

// opened is a board's edge with its mouths, which are placed from its left upper
// corner.
func opened(list []exporttest.Segment, mouths []mouth, corner geom.Point, grow float64) []exporttest.Segment {
	for _, m := range mouths {
		m.middle = m.middle.Add(corner)
		var out []exporttest.Segment
		for _, s := range list {
			q := m.wide/2 - grow
			u := func(p geom.Point) float64 { return p.Sub(m.middle).Dot(m.along) }
			v := func(p geom.Point) float64 { return p.Sub(m.middle).Dot(m.inward) }
			from, end := u(s.From), u(s.End)
			if s.Kind == geom.ArcTo || math.Abs(v(s.From)+grow) > 1e-9 || math.Abs(v(s.End)+grow) > 1e-9 || min(from, end) > -q || max(from, end) < q {
				out = append(out, s)
				continue
			}
			way := math.Copysign(q, end-from)
			out = append(out, exporttest.Segment{From: s.From, End: m.at(-way, -grow)}, exporttest.Segment{From: m.at(way, -grow), End: s.End})
		}
		list = append(out, m.edges(grow)...)
	}
	return list
}

// mouth is the neck of an opening of a panel of w by h, without the opening. run
// is how far the middle of the opening lies from the start of the edge.
func (b *wanter) mouth(n *design.Neck, run, near, w, h float64, at func(spine, head float64) geom.Point, corner geom.Point) mouth {
	m := mouth{near: near, wide: n.Wide}
	var in geom.Point
	switch n.Edge {
	case word.Spine:
		m.middle, in = at(0, run), at(1, run)
	case word.Foredge:
		m.middle, in = at(w, run), at(w-1, run)
	case word.Head:
		m.middle, in = at(run, 0), at(run, 1)
	case word.Tail:
		m.middle, in = at(run, h), at(run, h-1)
	}
	m.inward = in.Sub(m.middle)
	m.along = geom.Pt(-m.inward.Y, m.inward.X)
	m.middle = m.middle.Sub(corner)
	return m
}
