package tour

import (
	"cmp"
	"math"
	"slices"

	"foredge/layout/geom"
)

// nano is how many nanometres there are in a millimetre.
const nano = 1e6

func spotOf(p geom.Point) spot { return spot{math.Round(p.X * nano), math.Round(p.Y * nano)} }

func (s spot) point() geom.Point { return geom.Pt(s.x/nano, s.y/nano) }

// A leaf is a contour: what is run without a pause.
type leaf struct {
	item, contour int
	part          int
	op            Op
	parting       bool
	path          geom.Path
	length        float64
	boundary      *geom.Boundary // of cuts
	area          float64        // of closed ones, else -1
	// free says that it may be entered at any place of its outline.
	free bool
	// joints says that it may be, but only where two of its pieces meet.
	joints bool
	pieces []geom.Piece
	corner []bool // of each piece, whether it begins at a corner
	necks  []neck // where bridges are left, in the order of the outline
	at     entry  // where it is entered now
	choice []entry
	// What is kept of looking for the best entry: places on curves, and between which
	// spots it was looked for last, with what it came to.
	samples [][]spot
	between [2]spot
	entered entry
}

// An entry is where a leaf is entered and left.
type entry struct {
	in, out spot
	piece   int     // of a free leaf, on which piece
	t       float64 // and where on it
	neck    int     // of a leaf with bridges, after which one
	back    bool    // it is run from its end
}

// turned is the same run the other way; what is left where it is entered stays.
func (e entry) turned() entry {
	if e.in == e.out {
		return e
	}
	e.in, e.out, e.back = e.out, e.in, !e.back
	return e
}

// newLeaves makes the leaves of an item, those of a cut the smallest first, as what
// lies inside is smaller.
func newLeaves(items []Item, i int, o *Options) []leaf {
	it := &items[i]
	if it.Figure == nil {
		return nil
	}
	if it.Op == Engrave {
		if hollow(it.Figure) {
			return nil
		}
		p := spotOf(it.Figure.Bounds().Center())
		return []leaf{{item: i, part: it.Part, op: it.Op, area: -1, at: entry{in: p, out: p}}}
	}
	_, circle := it.Figure.(geom.Circle)
	var all []leaf
	for c, p := range geom.Paths(it.Figure) {
		if len(p.Segments) == 0 {
			continue
		}
		l := leaf{item: i, contour: c, part: it.Part, op: it.Op, parting: it.Parting && !p.Closed, path: p, area: -1, length: geom.Length(p)}
		l.at = entry{in: spotOf(p.Start), out: spotOf(p.End())}
		if p.Closed {
			l.at.out = l.at.in
			l.area = math.Abs(p.Area())
			l.free = !o.Fixed && !(o.Corners && circle)
			l.joints = o.Corners
		}
		l.pieces = make([]geom.Piece, 0, len(p.Segments))
		for piece := range p.Pieces() {
			l.pieces = append(l.pieces, piece)
		}
		if it.Op == Cut {
			l.boundary = geom.NewBoundary(p)
		}
		all = append(all, l)
	}
	if it.Op == Cut {
		slices.SortStableFunc(all, func(a, b leaf) int {
			return cmp.Compare(math.Abs(a.path.Area()), math.Abs(b.path.Area()))
		})
	}
	return all
}

// sharp is the cosine of the least turn that makes a corner: about 6 degrees.
const sharp = 0.995

// findCorners says where the pieces of a closed leaf meet in corners.
func (l *leaf) findCorners() {
	l.corner = make([]bool, len(l.pieces))
	prev := l.pieces[len(l.pieces)-1]
	for k, p := range l.pieces {
		l.corner[k] = prev.Tangent(1).Dot(p.Tangent(0)) < sharp
		prev = p
	}
}

// on is the entry at a place of a closed leaf.
func (l *leaf) on(piece int, t float64) entry {
	t = math.Round(t*1e9) / 1e9
	if t >= 1 {
		piece, t = (piece+1)%len(l.pieces), 0
	}
	p := spotOf(l.pieces[piece].At(t))
	return entry{in: p, out: p, piece: piece, t: t}
}

// paths are the leaf as it is run from its entry.
func (l *leaf) paths() []geom.Path {
	switch {
	case l.op == Engrave:
		return nil
	case len(l.necks) > 0:
		return l.bridged()
	case l.free:
		return []geom.Path{l.from(l.at.piece, l.at.t)}
	case l.at.back:
		return []geom.Path{l.path.Reverse()}
	}
	return []geom.Path{l.path}
}

// from is a closed path from another place of it on.
func (l *leaf) from(piece int, t float64) geom.Path {
	if piece == 0 && t == 0 {
		return l.path
	}
	n := len(l.pieces)
	first := l.pieces[piece]
	p := geom.Path{Start: first.At(t), Closed: true, Segments: make([]geom.Segment, 0, n+1)}
	if t > 0 {
		first = first.Part(t, 1)
		first.From = p.Start
	}
	p.Segments = append(p.Segments, first.Segment)
	for k := 1; k < n; k++ {
		p.Segments = append(p.Segments, l.pieces[(piece+k)%n].Segment)
	}
	if t > 0 {
		last := l.pieces[piece].Part(0, t).Segment
		last.End = p.Start
		p.Segments = append(p.Segments, last)
	}
	return p
}
