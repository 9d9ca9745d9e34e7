package tour

import (
	"math"

	"foredge/eval/maybe"
	"foredge/layout/geom"
)

// Bridges are necks left uncut in what frees a small piece, so that it neither falls
// nor tips. The outlines of pieces get them, not the openings in them.
type Bridges struct {
	Width float64       // of each neck along the line, in mm; the kerf comes off it
	Below float64       // mm: only pieces whose larger side is shorter get them
	Count maybe.Of[int] // how many each gets, at most 64; 2 if not stated
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
		box := l.boundary.Box
		if max(box.Width(), box.Height()) < b.Below {
			l.leaveNecks(b)
		}
	}
}

// leaveNecks spaces necks evenly, where they lie farthest from the outline's corners. An
// outline that is too short gets fewer, or none.
func (l *leaf) leaveNecks(b Bridges) {
	// A neck takes at most a quarter of what is cut for it.
	count := int(min(float64(min(b.Count.Or(2), mostNecks)), l.length/(4*b.Width)))
	if count < 1 {
		return
	}
	var corners []float64
	along := 0.0
	for k, p := range l.pieces {
		if l.corner[k] {
			corners = append(corners, along)
		}
		along += p.Length()
	}
	pitch := l.length / float64(count)
	best, offset := -1.0, 0.0
	for k := range tries {
		o := pitch * (float64(k) + 0.5) / tries
		d := math.Inf(1)
		for _, c := range corners {
			off := math.Mod(c-o+l.length, pitch)
			d = min(d, off, pitch-off)
		}
		if d > best+1e-6 {
			best, offset = d, o
		}
	}
	for k := range count {
		middle := offset + pitch*float64(k)
		l.necks = append(l.necks, neck{middle - b.Width/2, middle + b.Width/2})
	}
	l.choice = nil
	for k, n := range l.necks {
		e := entry{in: spotOf(l.along(n.to)), out: spotOf(l.along(n.from)), neck: k}
		l.choice = append(l.choice, e, e.turned())
	}
	l.at = l.choice[0]
	l.free = false
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
