package art

import (
	"math"
	"slices"

	"foredge/layout/geom"
)

// A capForm is how a line ends, a joinForm how it turns a corner (SVG 2, 13.5).
type (
	capForm  uint8
	joinForm uint8
)

const (
	butt capForm = iota
	roundCap
	squareCap
)

const (
	miterJoin joinForm = iota
	roundJoin
	bevelJoin
)

// A pen is how lines are stroked.
type pen struct {
	cap   capForm
	join  joinForm
	miter float64 // the limit of a corner's length to the line's width
}

func (p *pen) setCap(v string) bool {
	form, ok := map[string]capForm{"butt": butt, "round": roundCap, "square": squareCap, "initial": butt}[v]
	p.cap = form
	return ok
}

func (p *pen) setJoin(v string) bool {
	form, ok := map[string]joinForm{"miter": miterJoin, "miter-clip": miterJoin, "arcs": miterJoin, "round": roundJoin, "bevel": bevelJoin, "initial": miterJoin}[v]
	p.join = form
	return ok
}

// smooth is the sine of the turn below which two pieces of a line count as one
// that goes on.
const smooth = 1e-3

// outlines are closed paths, clockwise, that by the non-zero rule fill what a pen
// of a width covers along a path of lines and arcs.
func (p pen) outlines(path geom.Path, width float64) []geom.Path {
	s := stroker{pen: p, half: width / 2}
	all := slices.Collect(path.Pieces())
	all = slices.DeleteFunc(all, func(x geom.Piece) bool { return x.Length() < 1e-9 })
	if len(all) == 0 {
		return s.dot(path.Start)
	}
	for i, x := range all {
		last := i == len(all)-1
		if last && !path.Closed {
			break
		}
		s.corner(x, all[(i+1)%len(all)])
	}
	if !path.Closed {
		s.end(all[0].From, all[0].Tangent(0).Mul(-1))
		s.end(all[len(all)-1].End, all[len(all)-1].Tangent(1))
	}
	s.ribbons(all, path.Closed)
	return s.out
}

type stroker struct {
	pen
	half float64
	out  []geom.Path
}

// add keeps a closed path, turned so that it runs clockwise.
func (s *stroker) add(p geom.Path) {
	if len(p.Segments) > 1 && !thin(p) {
		s.out = append(s.out, p.Oriented(true))
	}
}

// dot is what a pen leaves that doesn't move.
func (s *stroker) dot(at geom.Point) []geom.Path {
	switch s.cap {
	case roundCap:
		return []geom.Path{disc(at, s.half)}
	case squareCap:
		return geom.Paths(geom.CenterRect(at, 2*s.half, 2*s.half))
	}
	return nil
}

func disc(at geom.Point, r float64) geom.Path {
	right, left := at.Add(geom.Pt(r, 0)), at.Sub(geom.Pt(r, 0))
	return geom.NewPath(right).Arc(left, at, true).Arc(right, at, true).Close()
}

// beside is to the left of a way, as seen on the drawing, half the width off.
func (s *stroker) beside(way geom.Point) geom.Point { return geom.Pt(way.Y, -way.X).Mul(s.half) }

// turns says whether a line turns a corner from one piece to the next.
func turns(a, b geom.Piece) bool {
	u, v := a.Tangent(1), b.Tangent(0)
	return u.Dot(v) < 0 || math.Abs(u.Cross(v)) > smooth
}

// corner fills what lies outside of a corner.
func (s *stroker) corner(a, b geom.Piece) {
	if !turns(a, b) {
		return
	}
	at, u, v := a.End, a.Tangent(1), b.Tangent(0)
	from, to := s.beside(u), s.beside(v)
	clockwise := u.Cross(v) > 0
	if !clockwise { // it turns to the left: the outside is to the right
		from, to = from.Mul(-1), to.Mul(-1)
	}
	c := geom.NewPath(at).Line(at.Add(from))
	switch s.join {
	case roundJoin:
		if u.Dot(v) < -1+1e-12 {
			s.out = append(s.out, disc(at, s.half))
			return
		}
		c.Arc(at.Add(to), at, clockwise)
	case miterJoin:
		// The tip lies on the bisector, as far off as the half width over the cosine
		// of half the turn.
		if mid := from.Add(to); mid.Norm() > 0 {
			cos := mid.Norm() / (2 * s.half)
			if cos > 1e-6 && 1/cos <= s.miter {
				c.Line(at.Add(mid.Mul(1 / (2 * cos * cos))))
			}
		}
	}
	s.add(c.Line(at.Add(to)).Close())
}

// end puts a cap on an end that is reached along a way.
func (s *stroker) end(at, way geom.Point) {
	side, ahead := s.beside(way), way.Mul(s.half)
	switch s.cap {
	case roundCap:
		s.add(geom.NewPath(at.Add(side)).Arc(at.Sub(side), at, true).Close())
	case squareCap:
		s.add(geom.Polygon(at.Add(side), at.Add(side).Add(ahead), at.Sub(side).Add(ahead), at.Sub(side)))
	}
}

// ribbons fills both sides of the pieces: those that go over smoothly into one
// another as one, arcs tighter than the pen by themselves.
func (s *stroker) ribbons(all []geom.Piece, closed bool) {
	tight := func(x geom.Piece) bool { return x.Kind == geom.ArcTo && x.Arc().R <= s.half*(1+1e-9) }
	parts := func(a, b geom.Piece) bool { return tight(a) || tight(b) || turns(a, b) }
	// A closed line is begun where it is parted, if it is anywhere.
	start := 0
	ring := closed
	if closed {
		for i := range all {
			if parts(all[(i+len(all)-1)%len(all)], all[i]) {
				start, ring = i, false
				break
			}
		}
	}
	all = append(slices.Clone(all[start:]), all[:start]...)
	for len(all) > 0 {
		n := 1
		for n < len(all) && !parts(all[n-1], all[n]) {
			n++
		}
		switch {
		case tight(all[0]):
			s.tight(all[0])
		default:
			s.ribbon(all[:n], ring)
		}
		all = all[n:]
	}
}

// ribbon fills both sides of pieces that go over smoothly into one another.
func (s *stroker) ribbon(all []geom.Piece, ring bool) {
	n := len(all)
	// Where two pieces meet both take the same place beside them.
	sides := make([]geom.Point, n+1)
	for i := range sides {
		var way geom.Point
		switch {
		case i == 0 && ring, i == n && ring:
			way = all[n-1].Tangent(1).Add(all[0].Tangent(0))
		case i == 0:
			way = all[0].Tangent(0)
		case i == n:
			way = all[n-1].Tangent(1)
		default:
			way = all[i-1].Tangent(1).Add(all[i].Tangent(0))
		}
		sides[i] = s.beside(way.Mul(1 / way.Norm()))
	}
	left := geom.NewPath(all[0].From.Add(sides[0]))
	for i, x := range all {
		along(left, x, x.End.Add(sides[i+1]), false)
	}
	last := all[n-1].End.Sub(sides[n])
	right := left
	if ring {
		right = geom.NewPath(last)
	} else {
		left.Line(last)
	}
	for i := n - 1; i >= 0; i-- {
		along(right, all[i], all[i].From.Sub(sides[i]), true)
	}
	// Forward on the left and back on the right runs clockwise round what lies
	// between, of a ring on each side by itself.
	s.out = append(s.out, left.Close())
	if ring {
		s.out = append(s.out, right.Close())
	}
}

// along goes on beside a piece, back along it or not.
func along(b *geom.Builder, x geom.Piece, to geom.Point, back bool) {
	if x.Kind == geom.ArcTo {
		b.Arc(to, x.Center, x.Clockwise != back)
		return
	}
	b.Line(to)
}

// tight fills what a pen covers along an arc whose centre it covers too: the
// sector up to the arc's outer side, and the one that lies opposite.
func (s *stroker) tight(x geom.Piece) {
	a := x.Arc()
	sector := func(r, from float64) {
		if r <= 1e-9 {
			return
		}
		at := func(angle float64) geom.Point {
			sin, cos := math.Sincos(angle)
			return a.Center.Add(geom.Pt(cos, sin).Mul(r))
		}
		b := geom.NewPath(a.Center).Line(at(from))
		for k := 1.0; k <= 4; k++ {
			b.Arc(at(from+a.Sweep*k/4), a.Center, a.Sweep > 0)
		}
		s.add(b.Close())
	}
	sector(a.R+s.half, a.Start)
	sector(s.half-a.R, a.Start+math.Pi)
}
