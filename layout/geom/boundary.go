package geom

import (
	"math"
	"slices"
)

// CurveTol is how far in mm the chords that stand for a cubic in tests of
// distance and of inside lie from it.
const CurveTol = 1e-4

// A Boundary is a figure's boundary made ready for many questions: lines and
// arcs, cubics as chords within [CurveTol]. It doesn't change once made.
type Boundary struct {
	Pieces []Piece
	Box    Box
	index  *Index
	turns  *turning
	closed bool // has an inside
	curved bool // has chords for cubics
}

// NewBoundary makes the boundary of a figure.
func NewBoundary(f Figure) *Boundary {
	b := &Boundary{Box: EmptyBox()}
	paths, n := Paths(f), 0
	for _, path := range paths {
		n += path.chords()
	}
	b.Pieces = make([]Piece, 0, n)
	first := make([]int, 0, len(paths)+1)
	var chords []Point // of one cubic
	for _, path := range paths {
		first = append(first, len(b.Pieces))
		b.closed = b.closed || path.Closed
		for piece := range path.Pieces() {
			if piece.Kind != CubicTo {
				b.Pieces = append(b.Pieces, piece)
				continue
			}
			b.curved = true
			at := piece.From
			chords = piece.flatten(chords[:0], CurveTol)
			for _, next := range chords {
				b.Pieces = append(b.Pieces, Line(at, next))
				at = next
			}
		}
	}
	boxes := make([]Box, len(b.Pieces))
	for i, p := range b.Pieces {
		boxes[i] = p.Bounds()
		b.Box = b.Box.Union(boxes[i])
	}
	b.index = NewIndex(boxes)
	b.turns = newTurning(b.Pieces, append(first, len(b.Pieces)), boxes)
	return b
}

// chords is of how many pieces the path's part of a [Boundary] is.
func (p Path) chords() int {
	n := len(p.Segments)
	for piece := range p.Pieces() {
		if piece.Kind == CubicTo {
			n += piece.cubic().flattenSteps(CurveTol) - 1
		}
	}
	return n
}

// Open says whether the boundary has no inside.
func (b *Boundary) Open() bool { return !b.closed }

// Distance is the distance of a point from the boundary.
func (b *Boundary) Distance(x Point) float64 {
	d := math.Inf(1)
	at := Box{x, x}
	b.index.Visit(func(c Box) bool { return c.Distance(at) < d }, func(i int) { d = min(d, b.Pieces[i].Distance(x)) })
	return d
}

// Within says whether a point is nearer than d to the boundary.
func (b *Boundary) Within(x Point, d float64) bool {
	found := false
	at := Box{x, x}
	b.index.Visit(func(c Box) bool { return !found && c.Distance(at) < d }, func(i int) { found = found || b.Pieces[i].Distance(x) < d })
	return found
}

// Winding is how often the boundary runs clockwise round a point. On the
// boundary itself it is that of one of its sides.
func (b *Boundary) Winding(x Point) int {
	n, _ := b.turns.at(x)
	return n
}

// Contains says whether a point lies inside by the non-zero rule.
func (b *Boundary) Contains(x Point) bool { return b.Winding(x) != 0 }

// WindingCost is [Boundary.Winding], and how many pieces, or boxes of some, were looked
// at for it.
func (b *Boundary) WindingCost(x Point) (winding, looked int) { return b.turns.at(x) }

// crossings reports where the boundary crosses the ray from x to the right: +1
// where it runs down, which is clockwise about x.
func (b *Boundary) crossings(x Point, report func(at float64, way int)) {
	reach := func(c Box) bool { return c.Min.Y <= x.Y && x.Y <= c.Max.Y && c.Max.X > x.X }
	b.index.Visit(reach, func(i int) { b.Pieces[i].crossings(x, report) })
}

// crossings reports where a line or an arc crosses the ray from x to the right.
// Pieces are cut where they turn up or down and hold their upper end only, so that
// none counts twice.
func (p Piece) crossings(x Point, report func(at float64, way int)) {
	if p.Kind == LineTo {
		if way := crosses(p.From.Y, p.End.Y, x.Y); way != 0 {
			at := p.From.X + (x.Y-p.From.Y)/(p.End.Y-p.From.Y)*(p.End.X-p.From.X)
			if at > x.X {
				report(at, way)
			}
		}
		return
	}
	if side := p.monotone(); side != 0 {
		if way := crosses(p.From.Y, p.End.Y, x.Y); way != 0 {
			r := p.radius()
			if at := p.Center.X + math.Copysign(math.Sqrt(max(0, r*r-(x.Y-p.Center.Y)*(x.Y-p.Center.Y))), side); at > x.X {
				report(at, way)
			}
		}
		return
	}
	a := p.Arc()
	ts := make([]float64, 0, 4)
	for _, angle := range [2]float64{math.Pi / 2, -math.Pi / 2} {
		if t := a.parameter(angle); t > 0 && t < 1 {
			ts = append(ts, t)
		}
	}
	slices.Sort(ts)
	y0, t0 := p.From.Y, 0.0
	for _, t := range append(ts, 1) {
		y1 := p.At(t).Y
		if way := crosses(y0, y1, x.Y); way != 0 {
			half := math.Sqrt(max(0, a.R*a.R-(x.Y-a.Center.Y)*(x.Y-a.Center.Y)))
			at := a.Center.X + math.Copysign(half, math.Cos(a.Start+a.Sweep*(t0+t)/2))
			if at > x.X {
				report(at, way)
			}
		}
		y0, t0 = y1, t
	}
}

// monotone says, of an arc of less than half a turn, that it lies on one side of
// its centre and so runs only up or only down: to the right of it if what comes
// back is above 0, to the left if below, 0 if it isn't so.
func (p Piece) monotone() float64 {
	u, v := p.From.Sub(p.Center), p.End.Sub(p.Center)
	if u.X*v.X <= 0 || u.Cross(v) > 0 != p.Clockwise {
		return 0
	}
	return u.X
}

func crosses(y0, y1, y float64) int {
	switch {
	case y0 <= y && y < y1:
		return 1
	case y1 <= y && y < y0:
		return -1
	}
	return 0
}

// Interior is some point well inside; ok is false for a figure without inside.
func (b *Boundary) Interior() (x Point, ok bool) {
	if !b.closed {
		return Point{}, false
	}
	best := 0.0
	for _, share := range []float64{0.5, 0.381966, 0.236068, 0.763932, 0.0901699} {
		left := Point{b.Box.Min.X - 1, b.Box.Min.Y + share*b.Box.Height()}
		type crossing struct {
			at  float64
			way int
		}
		var row []crossing
		b.crossings(left, func(at float64, way int) { row = append(row, crossing{at, way}) })
		slices.SortFunc(row, func(p, q crossing) int {
			switch {
			case p.at < q.at:
				return -1
			case p.at > q.at:
				return 1
			}
			return p.way - q.way
		})
		n := 0
		for i := 0; i+1 < len(row); i++ {
			n += row[i].way
			if w := row[i+1].at - row[i].at; n != 0 && w > best {
				best, x, ok = w, Point{(row[i].at + row[i+1].at) / 2, left.Y}, true
			}
		}
	}
	return x, ok
}

// distance is the distance between two boundaries, 0 if they meet.
func (b *Boundary) distance(c *Boundary) float64 {
	if len(b.Pieces) > len(c.Pieces) {
		b, c = c, b
	}
	d := math.Inf(1)
	for _, p := range b.Pieces {
		box := p.Bounds()
		c.index.Visit(func(n Box) bool { return n.Distance(box) < d }, func(i int) { d = min(d, pieceDistance(p, c.Pieces[i])) })
	}
	return d
}

// Clearance is the distance in mm between two boundaries, 0 if they meet,
// whichever lies inside the other.
func (b *Boundary) Clearance(c *Boundary) float64 { return b.distance(c) }

// Meets says whether two boundaries share a point.
func (b *Boundary) Meets(c *Boundary) bool {
	return b.Box.Meets(c.Box) && b.distance(c) == 0
}

// Nears says whether two boundaries come within d mm of one another.
func (b *Boundary) Nears(c *Boundary, d float64) bool {
	if len(b.Pieces) > len(c.Pieces) {
		b, c = c, b
	}
	near := false
	for _, p := range b.Pieces {
		box := p.Bounds().Grow(d)
		c.index.Visit(func(n Box) bool { return !near && n.Meets(box) }, func(i int) { near = near || pieceDistance(p, c.Pieces[i]) <= d })
		if near {
			break
		}
	}
	return near
}

// Simple says whether the boundary nowhere crosses or touches itself: pieces
// meet only where one follows the other.
func (b *Boundary) Simple() bool {
	// At a flat corner neighbours run along one another for a little way.
	const little, joined = 1e-5, 2e-7
	simple := true
	var shared []Point
	for i, p := range b.Pieces {
		box := p.Bounds().Grow(touch)
		b.index.Visit(func(c Box) bool { return simple && box.Meets(c) }, func(j int) {
			q := b.Pieces[j]
			if j <= i {
				return
			}
			shared = Intersections(shared[:0], p, q)
			for _, x := range shared {
				joint := p.End.Distance(q.From) <= joined && x.Distance(p.End) <= little ||
					q.End.Distance(p.From) <= joined && x.Distance(q.End) <= little
				simple = simple && joint
			}
		})
		if !simple {
			return false
		}
	}
	return true
}

// probes yields sample points of b's boundary: three on each stretch between
// the places where it meets c. It stops when yield returns false.
func (b *Boundary) probes(c *Boundary, yield func(Point) bool) {
	var cuts []Point
	for _, p := range b.Pieces {
		cuts = cuts[:0]
		box := p.Bounds().Grow(touch)
		c.index.Visit(box.Meets, func(i int) { cuts = Intersections(cuts, p, c.Pieces[i]) })
		ts := make([]float64, 0, len(cuts)+1)
		for _, x := range cuts {
			if t := p.Parameter(x); t > 0 && t < 1 {
				ts = append(ts, t)
			}
		}
		slices.Sort(ts)
		t0 := 0.0
		for _, t := range append(ts, 1) {
			for _, share := range [3]float64{0.5, 0.29, 0.71} {
				if t > t0 && !yield(p.At(t0+share*(t-t0))) {
					return
				}
			}
			t0 = t
		}
	}
}
