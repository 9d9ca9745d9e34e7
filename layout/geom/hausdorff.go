package geom

import (
	"math"
)

// Hausdorff is how far a point of one figure's boundary is from the other boundary at the
// most, whichever of the two it is on: the Hausdorff distance, in mm, to [HausdorffTol] for
// lines and arcs. Cubics are chords within [CurveTol]. It is infinite where one is empty.
func Hausdorff(f, g Figure) float64 {
	d, _ := HausdorffCost(f, g)
	return d
}

// HausdorffTol is how far in mm [Hausdorff] may be off.
const HausdorffTol = 1e-6

// HausdorffCost is [Hausdorff], and from how many points a distance was measured for it.
func HausdorffCost(f, g Figure) (d float64, looked int) {
	a, b := quartered(f), quartered(g)
	s := strays{to: b}
	s.from(a.Pieces)
	t := strays{to: a, most: s.most}
	t.from(b.Pieces)
	return t.most, s.looked + t.looked
}

// quartered is a figure's boundary of which no arc is longer than a quarter of its circle.
func quartered(f Figure) *Boundary {
	var all Outline
	for _, p := range Paths(f) {
		all = append(all, p.SplitArcs(math.Pi/2))
	}
	return NewBoundary(all)
}

// Strays looks for the point of some pieces that is farthest from a boundary.
type strays struct {
	to     *Boundary
	most   float64 // of the points that were looked at
	looked int
}

// A reach is a point with its distance from the boundary and the piece there that is nearest.
type reach struct {
	at   Point
	far  float64
	near Piece
}

func (s *strays) look(x Point) reach {
	s.looked++
	d, near := math.Inf(1), -1
	at := Box{x, x}
	s.to.index.Visit(func(c Box) bool { return c.Distance(at) < d }, func(i int) {
		if e := s.to.Pieces[i].Distance(x); e < d {
			d, near = e, i
		}
	})
	s.most = max(s.most, d)
	if near < 0 {
		return reach{at: x, far: d}
	}
	return reach{x, d, s.to.Pieces[near]}
}

func (s *strays) from(pieces []Piece) {
	for _, p := range pieces { // first, so that little is left to divide
		s.look(p.From)
		s.look(p.End)
	}
	if math.IsInf(s.most, 1) {
		return
	}
	for _, p := range pieces {
		s.divide(p, s.look(p.From), s.look(p.End))
	}
}

// divide halves a piece until no point of it can be farther than what was found.
func (s *strays) divide(p Piece, a, b reach) {
	long := p.Length()
	enough := func(d float64) bool { return d <= s.most+HausdorffTol }
	// A distance changes no faster than the place.
	if enough((a.far+b.far+long)/2) || long <= HausdorffTol {
		return
	}
	m := s.look(p.At(0.5))
	for _, q := range [3]Piece{m.near, a.near, b.near} {
		if enough(p.within(q)) {
			return
		}
	}
	s.divide(p.Part(0, 0.5), a, m)
	s.divide(p.Part(0.5, 1), m, b)
}

// within is a distance from q than which no point of p is farther: exact for lines, and the
// closer the shorter p is. Neither is longer than a quarter of a circle.
func (p Piece) within(q Piece) float64 {
	corners := p.hull()
	if q.Kind == LineTo { // a convex function has its maximum at a corner
		d := 0.0
		for _, c := range corners {
			d = max(d, q.Distance(c))
		}
		return d
	}
	inside := true // of the sector of q, where the nearest point lies towards its centre or away
	for _, c := range corners {
		inside = inside && q.reaches(c.Sub(q.Center), angleTol)
	}
	if inside {
		r := q.radius()
		return max(p.farthest(q.Center)-r, r-p.Distance(q.Center))
	}
	return min(p.farthest(q.From), p.farthest(q.End))
}

// hull are the corners of a triangle or a line that holds the piece: its ends, and where
// the tangents at them meet.
func (p Piece) hull() []Point {
	if p.Kind == LineTo {
		return []Point{p.From, p.End}
	}
	mid := p.From.Lerp(p.End, 0.5)
	out := mid.Sub(p.Center) // along which the tangents meet, r²/|out| from the centre
	r := p.radius()
	return []Point{p.From, p.Center.Add(out.Mul(r * r / out.Dot(out))), p.End}
}

// farthest is how far a point of the piece is from x at the most.
func (p Piece) farthest(x Point) float64 {
	d := max(x.Distance(p.From), x.Distance(p.End))
	if p.Kind == ArcTo {
		if away := p.Center.Sub(x); away == (Point{}) || p.reaches(away, angleTol) {
			d = max(d, away.Norm()+p.radius())
		}
	}
	return d
}
