package art

import (
	"slices"

	"foredge/layout/geom"
)

// A layer is the filled area of one element, above those before it.
type layer struct {
	paths   []geom.Path // closed
	evenOdd bool
	paper   bool // it takes away
	color   color
	element int // which of the drawn elements it is of
	where   Where
	op      int       // the operation of its own, 0 for none
	clips   []*region // it is seen within all of these
	fades   []fade    // what is not wholly opaque that it stands in
}

// letsThrough is how much of what lies below it a layer lets be seen: of what stands in
// the same faded element, as much as it does in that.
func (l *layer) letsThrough(below []fade) float64 {
	opaque := l.color.a
	for i, f := range l.fades {
		if i >= len(below) || below[i].number != f.number {
			break
		}
		opaque /= max(f.share, 1e-9)
	}
	return max(0, 1-opaque)
}

// clip keeps of the regions those that the layer's paths run out of. It says
// whether anything is left to see.
func (l *layer) clip(clips []*region) bool {
	l.paths = slices.DeleteFunc(l.paths, func(p geom.Path) bool { return thin(p) })
	for _, c := range clips {
		inside := true
		for _, p := range l.paths {
			inside = inside && c.holds(p)
		}
		if inside {
			continue
		}
		if c.plain != nil && thin(*c.plain) || !c.bounds().Meets(geom.Outline(l.paths).Bounds()) {
			return false
		}
		if c.plain == nil && len(l.paths) > 0 && !c.crosses(geom.Outline(l.paths).Bounds()) {
			if !c.asked().contains(l.paths[0].Start) {
				return false
			}
			continue
		}
		l.clips = append(l.clips, c)
	}
	return len(l.paths) > 0
}

// thin says whether a path has no area that could be seen.
func thin(p geom.Path) bool {
	b := p.Bounds()
	return len(p.Segments) == 0 || !(min(b.Width(), b.Height()) > 1e-6)
}

// slack is how far in mm something may run over the edge of its page, as
// rounding has it, and not be cut off there.
const slack = 1e-5

// holds says whether a path lies in a clip, the plain case first.
func holds(edge *geom.Boundary, c, p geom.Path) bool {
	b := p.Bounds()
	if !edge.Box.Grow(slack).Holds(b) {
		return false
	}
	if upright(c) {
		return true
	}
	return edge.Holds(geom.NewBoundary(p))
}

// upright says whether a clip is its own box.
func upright(c geom.Path) bool {
	b := c.Bounds()
	for _, s := range c.Segments {
		if s.Kind != geom.LineTo || s.End.X > b.Min.X+1e-9 && s.End.X < b.Max.X-1e-9 || s.End.Y > b.Min.Y+1e-9 && s.End.Y < b.Max.Y-1e-9 {
			return false
		}
	}
	return len(c.Segments) == 4
}

// clipLine gives what is seen of a line within all regions, curves as arcs where
// it is cut.
func clipLine(p geom.Path, clips []*region) []geom.Path {
	seen := []geom.Path{p}
	for _, c := range clips {
		var next []geom.Path
		for _, q := range seen {
			switch {
			case c.holds(q):
				next = append(next, q)
			case c.plain != nil:
				edge := c.boundary()
				if edge.Box.Meets(q.Bounds()) {
					next = append(next, cutLine(q.Arcs(curveTol), edge.Pieces, func(x geom.Point) bool {
						return edge.Contains(x) || edge.Within(x, slack)
					})...)
				}
			case c.bounds().Meets(q.Bounds()):
				in := c.asked()
				next = append(next, cutLine(q.Arcs(curveTol), in.pieces, in.contains)...)
			}
		}
		seen = next
	}
	return seen
}

// cutLine cuts a line of arcs at an edge and gives the parts of it whose middle
// is seen.
func cutLine(p geom.Path, edge []geom.Piece, seen func(geom.Point) bool) []geom.Path {
	var out []geom.Path
	var b *geom.Builder
	end := func() {
		if b != nil {
			if q := b.Open(); len(q.Segments) > 0 {
				out = append(out, q)
			}
		}
		b = nil
	}
	whole := true // not cut anywhere so far
	startsInside := false
	first := true
	for piece := range p.Pieces() {
		ts := []float64{}
		for _, side := range edge {
			for _, x := range geom.Intersections(nil, piece, side) {
				if t := piece.Parameter(x); t > 1e-9 && t < 1-1e-9 {
					ts = append(ts, t)
				}
			}
		}
		slices.Sort(ts)
		t0 := 0.0
		for _, t := range append(ts, 1) {
			if t <= t0 {
				continue
			}
			part := piece.Part(t0, t)
			inside := seen(part.At(0.5))
			if first {
				startsInside, first = inside, false
			}
			if inside {
				if b == nil {
					b = geom.NewPath(part.From)
				}
				b.Add(part.Segment)
			} else {
				whole = false
				end()
			}
			t0 = t
		}
	}
	if whole && p.Closed && b != nil {
		return []geom.Path{b.Close()}
	}
	closing := b != nil && p.Closed && startsInside
	end()
	if n := len(out); closing && n > 1 && out[n-1].End().Distance(out[0].Start) < slack {
		// The path's start lies in the middle of a stretch.
		last := out[n-1]
		last.Segments = append(slices.Clone(last.Segments), out[0].Segments...)
		out = append([]geom.Path{last}, out[1:n-1]...)
	}
	return out
}
