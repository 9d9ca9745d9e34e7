package kerf

import (
	"cmp"
	"math"
	"slices"

	"foredge/layout/geom"
)

// A strand is a stretch of a moved edge before trimming: of a moved side, run on
// to the points of its corners where they open, or of what closes a corner.
type strand struct {
	geom.Piece
	ring   int
	side   int     // which side it is a stretch of,
	t0, t1 float64 // and from where to where
}

// trimRings offsets where sides are used up or collide. All moved sides and
// corners are cut where they meet; what is nearer to the wanted edge than d, on
// its wrong side, or under the point of another corner is left away; the rest
// joins up to the new rings. Where two stretches coincide, one is left if they
// run the same way, none if they run against one another.
func trimRings(rings []ring, d float64, edge *geom.Boundary) (geom.Outline, error) {
	all, caps := strands(rings, d)
	kept := distinct(keep(cut(all), caps, d, edge))
	loops, ok := stitch(kept)
	if !ok {
		return nil, ErrTangled
	}
	survives := make([]bool, len(rings))
	var out geom.Outline
	for _, loop := range loops {
		if p := join(loop); !thin(p) {
			for _, s := range loop {
				survives[s.ring] = true
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
func strands(rings []ring, d float64) (all []strand, caps []*geom.Boundary) {
	side := 0
	add := func(i int, p geom.Piece) {
		if p.From.Distance(p.End) > snap {
			all = append(all, strand{Piece: p, ring: i, side: side, t1: 1})
			side++
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

// cut cuts strands where they meet.
func cut(all []strand) []strand {
	boxes := make([]geom.Box, len(all))
	for i, s := range all {
		boxes[i] = s.Bounds()
	}
	ix := geom.NewIndex(boxes)
	at := make([][]float64, len(all))
	var shared []geom.Point
	for i, s := range all {
		for _, j := range ix.Near(boxes[i], snap) {
			if j <= i {
				continue
			}
			shared = geom.Intersections(shared[:0], s.Piece, all[j].Piece)
			for _, x := range shared {
				at[i] = append(at[i], s.Parameter(x))
				at[j] = append(at[j], all[j].Parameter(x))
			}
		}
	}
	var out []strand
	for i, s := range all {
		slices.Sort(at[i])
		least := snap / max(snap, s.Length())
		t0 := 0.0
		for _, t := range append(at[i], 1) {
			if t > 1-least {
				t = 1
			}
			if t < least || t-t0 < least {
				continue
			}
			part := s
			part.Piece, part.t0, part.t1 = s.Part(t0, t), t0, t
			out = append(out, part)
			t0 = t
		}
	}
	return out
}

// keep leaves the strands that bound the offset.
func keep(parts []strand, caps []*geom.Boundary, d float64, edge *geom.Boundary) []strand {
	const exact = 1e-9
	boxes := make([]geom.Box, len(caps))
	for i, c := range caps {
		boxes[i] = c.Box
	}
	ix := geom.NewIndex(boxes)
	capped := func(x geom.Point) bool {
		for _, i := range ix.Near(geom.Box{Min: x, Max: x}, 0) {
			if caps[i].Contains(x) && caps[i].Distance(x) > exact {
				return true
			}
		}
		return false
	}
	var kept []strand
	for _, s := range parts {
		mid := s.At(0.5)
		if edge.Distance(mid) >= math.Abs(d)-exact && edge.Contains(mid) == (d < 0) && !capped(mid) {
			kept = append(kept, s)
		}
	}
	return kept
}

// distinct leaves one of strands that run along one another the same way, and
// none of two that run against one another: nothing is left between them.
func distinct(kept []strand) []strand {
	middle := make([]geom.Box, len(kept))
	for i, s := range kept {
		m := s.At(0.5)
		middle[i] = geom.Box{Min: m, Max: m}
	}
	ix := geom.NewIndex(middle)
	drop := make([]bool, len(kept))
	for i, s := range kept {
		for _, j := range ix.Near(middle[i], snap/10) {
			if j <= i || drop[i] || drop[j] {
				continue
			}
			same := s.Tangent(0.5).Dot(kept[j].Tangent(0.5))
			if math.Abs(same) < 0.999 {
				continue
			}
			drop[j] = true
			drop[i] = same < 0
		}
	}
	var out []strand
	for i, s := range kept {
		if !drop[i] {
			out = append(out, s)
		}
	}
	return out
}

// crumb is the length in mm of strands that may be left over: where two sides
// run nearly along one another it can't be told which of them is nearer. It is
// the resolution of the files.
const crumb = 1e-4

// stitch joins strands end to start into closed loops, the longest first.
func stitch(kept []strand) (loops [][]strand, ok bool) {
	starts := make([]geom.Box, len(kept))
	order := make([]int, len(kept))
	for i, s := range kept {
		starts[i] = geom.Box{Min: s.From, Max: s.From}
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(kept[j].Length(), kept[i].Length()) })
	ix := geom.NewIndex(starts)
	used := make([]bool, len(kept))
	for _, i := range order {
		if used[i] || kept[i].Length() < crumb {
			continue
		}
		used[i] = true
		loop := []strand{kept[i]}
		for len(loop) == 1 || loop[len(loop)-1].End.Distance(kept[i].From) > 10*snap {
			last := loop[len(loop)-1]
			best := -1
			for _, j := range ix.Near(geom.Box{Min: last.End, Max: last.End}, 10*snap) {
				if !used[j] && (best < 0 || kept[j].From.Distance(last.End) < kept[best].From.Distance(last.End)) {
					best = j
				}
			}
			if best < 0 {
				// A dead end: step back if it was a crumb that led here.
				if last.Length() >= crumb {
					return nil, false
				}
				loop = loop[:len(loop)-1]
				continue
			}
			used[best] = true
			loop = append(loop, kept[best])
		}
		loops = append(loops, loop)
	}
	return loops, true
}

// join is a loop as a path, stretches of one side or on one line made one again.
func join(loop []strand) geom.Path {
	follows := func(a, b strand) bool {
		if a.Kind == geom.LineTo && b.Kind == geom.LineTo {
			return a.Tangent(0).Distance(b.Tangent(0)) < 1e-9
		}
		return a.side == b.side && a.t1 == b.t0
	}
	// Begin where a side begins.
	for k := range loop {
		if !follows(loop[(k+len(loop)-1)%len(loop)], loop[k]) {
			loop = append(slices.Clone(loop[k:]), loop[:k]...)
			break
		}
	}
	b := geom.NewPath(loop[0].From)
	for k := 0; k < len(loop); k++ {
		s := loop[k]
		for k+1 < len(loop) && follows(loop[k], loop[k+1]) {
			k++
			s.End = loop[k].End
		}
		if k+1 < len(loop) {
			s.End = loop[k+1].From
		}
		b.Add(s.Segment)
	}
	return b.Close()
}

// thin says whether nothing is left between the sides of a path.
func thin(p geom.Path) bool { return math.Abs(p.Area()) <= snap*geom.Length(p) }
