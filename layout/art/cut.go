package art

import (
	"cmp"
	"math"
	"slices"

	"foredge/layout/geom"
	"foredge/layout/internal/strand"
)

// clipLine gives what is seen of a line within all regions, curves as arcs where
// it is cut.
func clipLine(p geom.Path, clips []*region, work *effort) []geom.Path {
	lines := []geom.Path{p}
	for _, c := range clips {
		var next []geom.Path
		for _, q := range lines {
			if work.over() {
				return nil
			}
			next = append(next, c.within(q, work)...)
		}
		lines = next
	}
	return lines
}

// within is what of a line lies in the region.
func (r *region) within(p geom.Path, work *effort) []geom.Path {
	box := p.Bounds()
	switch upright := r.plain != nil && upright(*r.plain); {
	case upright && r.bounds().Grow(slack).Holds(box):
		return []geom.Path{p}
	case !r.bounds().Grow(slack).Meets(box):
		return nil
	case !upright && !r.crosses(box, work):
		if r.asked(asArcs).contains(p.Start, work) {
			return []geom.Path{p}
		}
		return nil
	}
	in := r.asked(asArcs)
	s := &sight{edges: newEdges(edgesOf([]*edgedRegion{in}, box, work)), work: work, seen: func(x geom.Point) bool { return in.contains(x, work) }}
	if r.plain != nil {
		s.plain = r.boundary()
	}
	if parts, cut := s.cutLine(p.Arcs(curveTol)); cut {
		return parts
	}
	return []geom.Path{p}
}

// A sight says what of a line is seen: what it is cut by and what lies between.
type sight struct {
	edges *edges
	seen  func(geom.Point) bool
	// plain is all that the edges are of, if what is seen is what that winds round,
	// and what runs along it.
	plain *geom.Boundary
	work  *effort
}

// cutLine cuts a line of arcs at the edges and gives the parts of it whose middle is
// seen; cut says whether anything of it isn't.
func (s *sight) cutLine(p geom.Path) (out []geom.Path, cut bool) {
	var b *geom.Builder
	end := func() {
		if b != nil {
			if q := b.Open(); len(q.Segments) > 0 {
				out = append(out, q)
			}
		}
		b = nil
	}
	startsInside := false
	first := true
	for piece := range p.Pieces() {
		cuts, grazed := s.cuts(piece)
		seen := s.stretches(piece, cuts, grazed)
		if s.work.over() {
			return nil, true
		}
		t0 := 0.0
		for i, inside := range seen {
			t1 := 1.0
			if i < len(cuts) {
				t1 = cuts[i].t
			}
			part := piece.Part(t0, t1)
			if first {
				startsInside, first = inside, false
			}
			if inside {
				if b == nil {
					b = geom.NewPath(part.From)
				}
				b.Add(part.Segment)
			} else {
				cut = true
				end()
			}
			t0 = t1
		}
	}
	if !cut && p.Closed && b != nil {
		return []geom.Path{b.Close()}, false
	}
	closing := b != nil && p.Closed && startsInside
	end()
	if n := len(out); closing && n > 1 && out[n-1].End().Distance(out[0].Start) < slack {
		// The path's start lies in the middle of a stretch.
		last := out[n-1]
		last.Segments = append(slices.Clone(last.Segments), out[0].Segments...)
		out = append([]geom.Path{last}, out[1:n-1]...)
	}
	return out, cut
}

// A crossing is where an edge meets a piece of a line.
type crossing struct {
	t    float64
	turn int  // by how much what the edge is of winds more behind it
	sure bool // that it is so: they don't merely touch
}

// cuts are where on a piece edges meet it, in rising order, those at one place as
// one; grazed says that an edge runs so near that it may lie on it.
func (s *sight) cuts(piece geom.Piece) (cuts []crossing, grazed bool) {
	var all []crossing
	var met []geom.Point
	near := s.edges.near(piece.Bounds())
	s.work.spend(1 + 8*len(near)) // to look where two meet takes longer
	if s.work.over() {
		return nil, false
	}
	for _, i := range near {
		edge := s.edges.pieces[i]
		met = geom.Intersections(met[:0], piece, edge)
		if len(met) == 0 {
			grazed = grazed || piece.Distance(edge.From) < slack || piece.Distance(edge.End) < slack ||
				edge.Distance(piece.From) < slack || edge.Distance(piece.End) < slack
		}
		for _, x := range met {
			if c := crossingAt(piece, edge, x); c.t > 1e-9 && c.t < 1-1e-9 {
				all = append(all, c)
			} else {
				grazed = true
			}
		}
	}
	slices.SortFunc(all, func(a, b crossing) int { return cmp.Compare(a.t, b.t) })
	for _, c := range all {
		if n := len(cuts); n > 0 && cuts[n-1].t == c.t {
			cuts[n-1].turn += c.turn
			cuts[n-1].sure = cuts[n-1].sure && c.sure
			continue
		}
		cuts = append(cuts, c)
	}
	return cuts, grazed
}

// crossingAt is how an edge crosses a piece at a point.
func crossingAt(piece, edge geom.Piece, x geom.Point) crossing {
	c := crossing{t: piece.Parameter(x)}
	across := piece.Tangent(c.t).Cross(edge.Tangent(edge.Parameter(x)))
	c.turn = 1
	if across > 0 {
		c.turn = -1
	}
	c.sure = math.Abs(across) > 1e-5 && min(x.Distance(edge.From), x.Distance(edge.End)) > strand.Snap
	return c
}

// stretches says what is seen of a piece between its cuts. Of a plain region that is
// asked once, and then follows from what is crossed, but for where they touch or run
// along one another. In the end it is asked again: where that doesn't agree, all is.
func (s *sight) stretches(piece geom.Piece, cuts []crossing, grazed bool) []bool {
	const short = 200 * slack // so near the edges that it may count as on them
	out := make([]bool, 0, len(cuts)+1)
	follow := s.plain != nil && !grazed
	known, wound := false, 0
	for i := 0; i <= len(cuts) && !s.work.over(); i++ {
		t0, t1 := 0.0, 1.0
		if i > 0 {
			t0 = cuts[i-1].t
		}
		if i < len(cuts) {
			t1 = cuts[i].t
		}
		x := piece.Part(t0, t1).At(0.5)
		switch {
		case s.plain == nil:
			out = append(out, s.seen(x))
			continue
		case follow && known && i > 0 && cuts[i-1].sure:
			wound += cuts[i-1].turn
		default:
			wound, known = s.winding(x), true
		}
		inside := wound != 0
		if !inside && (!follow || (t1-t0)*piece.Length() < short) {
			inside = s.along(x)
		}
		out = append(out, inside)
		if i == len(cuts) && follow && wound != s.winding(x) {
			return s.stretches(piece, cuts, true)
		}
	}
	return out
}

func (s *sight) winding(x geom.Point) int {
	wound, looked := s.plain.WindingCost(x)
	s.work.spend(1 + looked)
	return wound
}

// along says whether a point lies on the edge.
func (s *sight) along(x geom.Point) bool {
	s.work.spend(1 + len(s.plain.Pieces)/8)
	return s.plain.Within(x, slack)
}
