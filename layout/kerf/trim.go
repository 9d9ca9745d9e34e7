package kerf

import (
	"math"
	"slices"

	"foredge/layout/geom"
	"foredge/layout/internal/strand"
)

// trimRings offsets where sides are used up or collide. All moved sides and
// corners are cut where they meet; what is nearer to the wanted edge than d, on
// its wrong side, or under the point of another corner is left away; the rest
// joins up to the new rings. Where two stretches coincide, one is left if they
// run the same way, none if they run against one another.
func trimRings(rings []ring, d float64, edge *geom.Boundary) (geom.Outline, error) {
	all, caps := strands(rings, d)
	loops, ok := strand.Loops(strand.Distinct(keep(strand.Cut(all), caps, d, edge)))
	if !ok {
		return nil, ErrTangled
	}
	survives := make([]bool, len(rings))
	var out geom.Outline
	for _, loop := range loops {
		if p := strand.Path(loop); !thin(p) {
			for _, s := range loop {
				survives[s.Ring] = true
			}
			out = append(out, p)
		}
	}
	for i, r := range rings {
		if !survives[i] {
			return nil, vanish(path(r).Bounds(), d)
		}
	}
	return out, nil
}

// strands are the moved sides and corners of the rings, uncut, and the caps of
// the corners that open: what a sharp point adds to a round one.
func strands(rings []ring, d float64) (all []strand.Strand, caps []*geom.Boundary) {
	n := 0
	for _, r := range rings {
		n += len(r)
	}
	all = make([]strand.Strand, 0, n+n/4)
	add := func(i int, p geom.Piece) {
		if p.From.Distance(p.End) > snap {
			all = append(all, strand.New(p, i, len(all)))
		}
	}
	for i, r := range rings {
		moved := make([]geom.Piece, len(r)) // with the corners' ends
		gone := make([]bool, len(r))
		for k, p := range r {
			now, _, ok := shift(p, d)
			moved[k], gone[k] = now, !ok
		}
		ends := slices.Clone(moved)
		for k, p := range r {
			next := (k + 1) % len(r)
			u, w := p.Tangent(1), r[next].Tangent(0)
			from, to := p.End.Add(normal(u).Mul(d)), p.End.Add(normal(w).Mul(d))
			if from.Distance(to) <= snap || u.Cross(w)*d < 0 {
				continue
			}
			// In place of a side that is used up, its tangent.
			a, b := moved[k], moved[next]
			if gone[k] {
				a = geom.Line(from.Sub(u), from)
			}
			if gone[next] {
				b = geom.Line(to, to.Add(w))
			}
			m, how := point(a, b, p.End, u, w, d)
			if how == rounded {
				add(i, round(p.End, from, to, d > 0))
				continue
			}
			before, after := geom.Line(from, m), geom.Line(m, to)
			if how == extended {
				before.Segment, after.Segment = a.Segment, b.Segment
				before.End, after.End = m, to
			}
			caps = append(caps, geom.NewBoundary(geom.NewPath(p.End).Line(from).Add(before.Segment).Add(after.Segment).Close()))
			if how == extended && !gone[k] && !gone[next] {
				ends[k].End, ends[next].From = m, m
				continue
			}
			add(i, before)
			add(i, after)
		}
		for k := range r {
			if !gone[k] {
				add(i, ends[k])
			}
		}
	}
	return all, caps
}

// keep leaves the strands that bound the offset.
func keep(parts []strand.Strand, caps []*geom.Boundary, d float64, edge *geom.Boundary) []strand.Strand {
	const exact = 1e-9
	boxes := make([]geom.Box, len(caps))
	for i, c := range caps {
		boxes[i] = c.Box
	}
	ix := geom.NewIndex(boxes)
	capped := func(x geom.Point) bool {
		for _, i := range ix.Near(geom.Box{Min: x, Max: x}, 0) {
			if caps[i].Contains(x) && !caps[i].Within(x, exact) {
				return true
			}
		}
		return false
	}
	var kept []strand.Strand
	for _, s := range parts {
		mid := s.At(0.5)
		if !edge.Within(mid, math.Abs(d)-exact) && edge.Contains(mid) == (d < 0) && !capped(mid) {
			kept = append(kept, s)
		}
	}
	return kept
}

// thin says whether nothing is left between the sides of a path.
func thin(p geom.Path) bool { return math.Abs(p.Area()) <= snap*geom.Length(p) }
