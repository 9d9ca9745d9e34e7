package kerf

import (
	"math"

	"foredge/layout/geom"
)

// shiftRings moves every piece of the rings and joins neighbours at their
// corners. That is the whole answer unless something is used up or collides;
// then ok is false.
func shiftRings(rings []ring, d float64, edge *geom.Boundary) (out geom.Outline, ok bool) {
	for _, r := range rings {
		moved, ok := shiftRing(r, d)
		if !ok {
			return nil, false
		}
		p := path(moved)
		if thin(p) {
			return nil, false
		}
		out = append(out, p)
	}
	moved := geom.NewBoundary(out)
	return out, moved.Simple() && far(moved.Pieces, math.Abs(d), edge)
}

// shiftRing is one ring moved, corner by corner. It gives false for what has to
// be cut from all sides anew.
func shiftRing(r ring, d float64) (ring, bool) {
	type side struct {
		was, now geom.Piece // as wanted, and moved: with its own ends, then with the corners'
		from, to geom.Point
		after    []geom.Piece // what joins it to the next
	}
	sides := make([]side, 0, len(r))
	for _, p := range r {
		now, point, ok := shift(p, d)
		if ok {
			sides = append(sides, side{was: p, now: now, from: now.From, to: now.End})
		} else if !point {
			return nil, false
		}
	}
	if len(sides) == 0 {
		return nil, false
	}
	for i := range sides {
		a, b := &sides[i], &sides[(i+1)%len(sides)]
		u, w := a.was.Tangent(1), b.was.Tangent(0)
		v := a.was.End
		switch {
		case a.now.End.Distance(b.now.From) <= snap:
			m := a.now.End.Lerp(b.now.From, 0.5)
			a.to, b.from = m, m
		case u.Cross(w)*d >= 0:
			m, how := point(a.now, b.now, v, u, w, d)
			switch how {
			case extended:
				a.to, b.from = m, m
			case tangents:
				a.after = []geom.Piece{geom.Line(a.now.End, m), geom.Line(m, b.now.From)}
			case rounded:
				a.after = []geom.Piece{round(v, a.now.End, b.now.From, d > 0)}
			}
		default:
			m, ok := meet(a.now, b.now, v)
			if !ok {
				return nil, false
			}
			a.to, b.from = m, m
		}
	}
	out := make(ring, 0, len(sides)+len(sides)/4)
	for _, s := range sides {
		p := s.now
		p.From, p.End = s.from, s.to
		if p.From.Distance(p.End) <= snap && s.now.Length() < 10*math.Abs(d) {
			out = append(out, s.after...) // just used up: its neighbours meet
			continue
		}
		if p.Kind == geom.LineTo {
			if p.End.Sub(p.From).Dot(s.now.End.Sub(s.now.From)) <= 0 {
				return nil, false
			}
		} else if (s.from != s.now.From || s.to != s.now.End) && s.now.Parameter(s.from) >= s.now.Parameter(s.to) {
			return nil, false
		}
		out = append(append(out, p), s.after...)
	}
	return out, len(out) > 0 // all sides may be used up at once: nothing is left
}

// round is the arc about a corner that opens, from one side to the next:
// clockwise as seen where material grows, the other way where it shrinks.
func round(v, from, to geom.Point, clockwise bool) geom.Piece {
	return geom.Piece{From: from, Segment: geom.Segment{Kind: geom.ArcTo, End: to, Center: v, Clockwise: clockwise}}
}

// meet is where two moved sides of a corner that closes cut one another: of two
// places the one nearer to the corner.
func meet(a, b geom.Piece, v geom.Point) (m geom.Point, ok bool) {
	for _, x := range geom.Crossings(nil, a, b) {
		if a.Distance(x) < snap && b.Distance(x) < snap && (!ok || x.Distance(v) < m.Distance(v)) {
			m, ok = x, true
		}
	}
	return m, ok
}

// far says whether no piece is nearer than d to the wanted edge.
func far(all []geom.Piece, d float64, edge *geom.Boundary) bool {
	for _, p := range all {
		if edge.Within(p.At(0.5), d-snap) {
			return false
		}
	}
	return true
}
