package tour

import (
	"math"
	"sort"

	"foredge/eval/maybe"
	"foredge/layout/geom"
)

// Bridges are necks left uncut in what frees a small piece, so that it neither falls
// nor tips. The outlines of pieces get them, not the openings in them.
type Bridges struct {
	Width float64       // of each neck along the line, in mm; the kerf comes off it
	Below float64       // mm: only pieces whose larger side is shorter get them
	Count maybe.Of[int] // how many each gets, at most 64; 2 if not stated
	// Scale is how far the machine moves along each axis for 1 mm of what is ordered, as for
	// a machine that is out: what is stated is what it cuts. 1 if not stated.
	Scale maybe.Of[geom.Point]
}

// drawn is how broad necks are in what is ordered at the most, in mm.
func (b Bridges) drawn() float64 {
	scale := b.Scale.Or(geom.Pt(1, 1))
	return b.Width / min(scale.X, scale.Y)
}

// along is how broad a neck is in what is ordered where the line runs in a direction, a unit vector.
func (b Bridges) along(direction geom.Point) float64 {
	scale, stated := b.Scale.Get()
	if !stated {
		return b.Width
	}
	return b.Width / math.Hypot(direction.X*scale.X, direction.Y*scale.Y)
}

// small reports whether a piece of such a box gets bridges.
func (b Bridges) small(box geom.Box) bool {
	scale := b.Scale.Or(geom.Pt(1, 1))
	return max(box.Width()*scale.X, box.Height()*scale.Y) < b.Below
}

// A neck is left uncut from one length along an outline to another.
type neck struct{ from, to float64 }

// mostNecks is how many necks an outline gets at most.
const mostNecks = 64

// tries is how many places are tried for the necks of one outline.
const tries = 48

// bridge leaves necks in the leaves that free small pieces.
func (t *tour) bridge(depth []int, b Bridges) {
	if b.Width == 0 {
		return
	}
	for i := range t.leaves {
		l := &t.leaves[i]
		if l.op != Cut || l.area <= 0 || depth[i]%2 != 0 {
			continue
		}
		if b.small(l.boundary.Box) {
			l.leaveNecks(b)
		}
	}
}

// leaveNecks spaces necks evenly, so that the piece lies between them, on straight stretches of the outline where that
// can be, else where they lie farthest from its corners. An outline that is too short gets fewer, or none.
func (l *leaf) leaveNecks(b Bridges) {
	// A neck takes at most a quarter of what is cut for it.
	width := b.drawn()
	count := int(min(float64(min(b.Count.Or(2), mostNecks)), l.length/(4*width)))
	if count < 1 {
		return
	}
	site := l.site(width)
	pitch := l.length / float64(count)
	var middles []float64
	best := hold{straight: -1}
	for _, apart := range []float64{0, pitch / 4} {
		for k := range tries {
			o := pitch * (float64(k) + 0.5) / tries
			at := site.around(o, pitch, count, apart)
			if h := site.hold(at); h.better(best) {
				best, middles = h, at
			}
		}
		if best.steady && best.straight == count || len(site.straight) == 0 {
			break
		}
	}
	for _, middle := range middles {
		k, t := l.place(middle)
		half := b.along(l.pieces[k].Tangent(t)) / 2
		l.necks = append(l.necks, neck{middle - half, middle + half})
	}
	l.choice = nil
	for k, n := range l.necks {
		e := entry{in: spotOf(l.along(n.to)), out: spotOf(l.along(n.from)), neck: k}
		l.choice = append(l.choice, e, e.turned())
	}
	l.at = l.choice[0]
	l.free = false
}

// A site is an outline on which necks of a width are to be left: its stretches that are straight and as long, and its
// corners, by their lengths along it. A stretch over its start begins below 0. What hangs on the necks balances about its
// middle, and is steady if that lies no farther than slack from the line between two.
type site struct {
	pieces        []geom.Piece
	ends          []float64 // of each piece
	length, width float64
	straight      []neck
	corners       []float64
	middle        geom.Point
	slack         float64
}

// mostSlack is how far the middle of a piece may lie from between its necks, as a share of its shorter side (common
// practice, no source).
const mostSlack = 0.25

// site is the outline of a leaf.
func (l *leaf) site(width float64) site {
	box := l.boundary.Box
	s := site{pieces: l.pieces, length: l.length, width: width, middle: l.middle(), slack: mostSlack * min(box.Width(), box.Height())}
	var all []neck
	along := 0.0
	for k, p := range l.pieces {
		end := along + p.Length()
		if l.corner[k] {
			s.corners = append(s.corners, along)
		}
		if p.Kind == geom.LineTo {
			if k > 0 && l.goesOn(k) {
				all[len(all)-1].to = end
			} else {
				all = append(all, neck{along, end})
			}
		}
		along = end
		s.ends = append(s.ends, end)
	}
	if n := len(all); n > 1 && l.goesOn(0) {
		all[0].from = all[n-1].from - l.length
		all = all[:n-1]
	}
	for _, n := range all {
		if n.to-n.from >= width {
			s.straight = append(s.straight, n)
		}
	}
	return s
}

// middle is the centroid of what a closed leaf goes round, its curves taken by their chords.
func (l *leaf) middle() geom.Point {
	const chords = 16 // of each curve
	var sum geom.Point
	twice, o := 0.0, l.path.Start
	for _, p := range l.pieces {
		n := chords
		if p.Kind == geom.LineTo {
			n = 1
		}
		from := p.From
		for k := range n {
			to := p.At(float64(k+1) / float64(n))
			a, b := from.Sub(o), to.Sub(o)
			sum, twice, from = sum.Add(a.Add(b).Mul(a.Cross(b))), twice+a.Cross(b), to
		}
	}
	if twice == 0 {
		return l.boundary.Box.Center()
	}
	return o.Add(sum.Mul(1 / (3 * twice)))
}

// goesOn reports whether a piece goes straight on where the one before it ends.
func (l *leaf) goesOn(k int) bool {
	prev, p := l.pieces[(k+len(l.pieces)-1)%len(l.pieces)], l.pieces[k]
	return prev.Kind == geom.LineTo && p.Kind == geom.LineTo && prev.Tangent(1).Dot(p.Tangent(0)) > 1-1e-9
}

// onStraight is how far a neck at a place lies within a straight stretch; below 0 where it doesn't. The stretches
// lie in order, apart from one another, so one of the two next to the place is the nearest.
func (s *site) onStraight(at float64) float64 {
	best := -1.0
	for _, m := range [3]float64{at - s.length, at, at + s.length} {
		next := sort.Search(len(s.straight), func(k int) bool { return s.straight[k].from > m })
		for _, n := range s.straight[max(next-1, 0):min(next+1, len(s.straight))] {
			best = max(best, min(m-n.from, n.to-m)-s.width/2)
		}
	}
	return best
}

// around are places for so many necks, spaced evenly from the first on; each goes at most so far from there, to
// both sides, to where it lies farthest within a straight stretch to which no other went: two on one would let a piece tip.
func (s *site) around(first, pitch float64, count int, apart float64) []float64 {
	middles, used := make([]float64, count), make([]bool, len(s.straight))
	for i := range middles {
		at := first + pitch*float64(i)
		best, most, on := at, s.onStraight(at), -1
		for k, n := range s.straight {
			middle := (n.from + n.to) / 2
			for _, m := range [3]float64{middle - s.length, middle, middle + s.length} {
				m = max(at-apart, min(at+apart, m))
				if d := s.onStraight(m); apart > 0 && d > most && !used[k] {
					best, most, on = m, d, k
				}
			}
		}
		if middles[i] = best; on >= 0 {
			used[on] = true
		}
	}
	return middles
}

// A hold says how well necks lie: whether they keep the piece from tipping, how many lie on straight stretches, how
// far all of them are from the ends of these or from corners, and how far its middle is from between them.
type hold struct {
	steady     bool
	straight   int
	clear, off float64
}

func (h hold) better(than hold) bool {
	switch {
	case h.steady != than.steady:
		return h.steady
	case h.straight != than.straight:
		return h.straight > than.straight
	case h.clear > than.clear+1e-6 || h.clear < than.clear-1e-6:
		return h.clear > than.clear
	}
	return h.off < than.off-1e-6
}

func (s *site) hold(middles []float64) hold {
	off := s.off(middles)
	h := hold{off <= s.slack, 0, math.Inf(1), off}
	for _, m := range middles {
		if d := s.onStraight(m); d >= 0 {
			h.straight++
			h.clear = min(h.clear, d)
			continue
		}
		for _, c := range s.corners {
			off := math.Mod(c-m+2*s.length, s.length)
			h.clear = min(h.clear, min(off, s.length-off)-s.width/2)
		}
	}
	return h
}

// off is how far the middle of the piece lies from the nearest line between two necks.
func (s *site) off(middles []float64) float64 {
	off := math.Inf(1)
	for i, m := range middles {
		for _, n := range middles[:i] {
			between := geom.Piece{From: s.about(n), Segment: geom.Segment{Kind: geom.LineTo, End: s.about(m)}}
			off = min(off, between.Distance(s.middle))
		}
	}
	return off
}

// about is where a length along the outline ends, or nearly so: on a curve as if that were run evenly.
func (s *site) about(at float64) geom.Point {
	at = math.Mod(at+s.length, s.length)
	k := min(sort.SearchFloat64s(s.ends, at), len(s.ends)-1)
	from := 0.0
	if k > 0 {
		from = s.ends[k-1]
	}
	return s.pieces[k].At(min((at-from)/max(s.ends[k]-from, 1e-12), 1))
}

// place is on which piece a length along a closed leaf lies, and where on it.
func (l *leaf) place(s float64) (piece int, t float64) {
	s = math.Mod(s+l.length, l.length)
	for k, p := range l.pieces {
		n := p.Length()
		if s <= n || k == len(l.pieces)-1 {
			return k, min(parameter(p, s, n), 1)
		}
		s -= n
	}
	return 0, 0
}

// parameter is where on a piece of a length the first s millimetres end.
func parameter(p geom.Piece, s, length float64) float64 {
	if length <= 0 || p.Kind != geom.CubicTo {
		return s / max(length, 1e-12)
	}
	lo, hi := 0.0, 1.0
	for range 40 {
		t := (lo + hi) / 2
		if p.Part(0, t).Length() < s {
			lo = t
		} else {
			hi = t
		}
	}
	return (lo + hi) / 2
}

func (l *leaf) along(s float64) geom.Point {
	k, t := l.place(s)
	return l.pieces[k].At(t)
}

// stretch is the part of a closed leaf between two lengths along it, from < to.
func (l *leaf) stretch(from, to float64) geom.Path {
	piece, t := l.place(from)
	last, u := l.place(to)
	n := len(l.pieces)
	p := geom.Path{Start: l.pieces[piece].At(t)}
	add := func(k int, t0, t1 float64) {
		if t1 > t0 {
			part := l.pieces[k]
			if t0 > 0 || t1 < 1 {
				part = part.Part(t0, t1)
			}
			p.Segments = append(p.Segments, part.Segment)
		}
	}
	if piece == last && t < u {
		add(piece, t, u)
		return p
	}
	add(piece, t, 1)
	for k := (piece + 1) % n; k != last; k = (k + 1) % n {
		add(k, 0, 1)
	}
	add(last, 0, u)
	return p
}

// bridged are the pieces of a leaf between its necks, from where it is entered on.
func (l *leaf) bridged() []geom.Path {
	n := len(l.necks)
	paths := make([]geom.Path, n)
	for k := range paths {
		i := (l.at.neck + k) % n
		from, to := l.necks[i].to, l.necks[(i+1)%n].from
		if to < from {
			to += l.length
		}
		if l.at.back {
			paths[n-1-k] = l.stretch(from, to).Reverse()
		} else {
			paths[k] = l.stretch(from, to)
		}
	}
	return paths
}

// hops is how far the head moves over the necks of a leaf, in nanometres.
func (l *leaf) hops() float64 {
	var sum float64
	paths := l.paths()
	for k := 1; k < len(paths); k++ {
		sum += away(spotOf(paths[k-1].End()), spotOf(paths[k].Start))
	}
	return sum
}
