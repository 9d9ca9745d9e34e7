package geom

import "math"

// angleTol is the part of an arc's sweep that counts as nothing.
const angleTol = 1e-12

// An Arc is a circular arc in polar form. Angles are in radians from the X axis
// towards the Y axis, so with Y down they grow clockwise as seen.
type Arc struct {
	Center Point
	R      float64 // mm
	Start  float64 // angle of the starting point
	Sweep  float64 // positive clockwise as seen, less than a full turn
}

// Arc is the polar form of an arc piece. The radius is the mean of both ends'.
func (p Piece) Arc() Arc {
	u, v := p.From.Sub(p.Center), p.End.Sub(p.Center)
	sweep := math.Atan2(u.Cross(v), u.Dot(v))
	if p.Clockwise && sweep < 0 {
		sweep += 2 * math.Pi
	} else if !p.Clockwise && sweep > 0 {
		sweep -= 2 * math.Pi
	}
	return Arc{p.Center, p.radius(), math.Atan2(u.Y, u.X), sweep}
}

// At is the point at parameter t from 0 to 1.
func (a Arc) At(t float64) Point {
	sin, cos := math.Sincos(a.Start + t*a.Sweep)
	return Point{a.Center.X + a.R*cos, a.Center.Y + a.R*sin}
}

// parameter is the t at which the arc reaches an angle: in [0, 1] if it does,
// otherwise beyond the nearer end.
func (a Arc) parameter(angle float64) float64 {
	turn := math.Copysign(2*math.Pi, a.Sweep)
	d := math.Mod(angle-a.Start, 2*math.Pi)
	if d*a.Sweep < 0 {
		d += turn
	}
	// d runs from the start in the arc's own sense, up to one turn.
	if math.Abs(d) > math.Abs(a.Sweep) && math.Abs(d)-math.Abs(a.Sweep) > 2*math.Pi-math.Abs(d) {
		d -= turn
	}
	return d / a.Sweep
}

// reaches says whether an arc holds the point of its circle in the direction v
// from the centre, up to slack radians beyond its ends, or short of them if
// slack is negative.
func (p Piece) reaches(v Point, slack float64) bool {
	u, w := p.From.Sub(p.Center), p.End.Sub(p.Center)
	if !p.Clockwise {
		u, w = w, u
	}
	// From u clockwise to w.
	tol := slack * math.Sqrt(u.Dot(u)*v.Dot(v))
	if turn := u.Cross(w); turn < 0 || turn == 0 && u.Dot(w) < 0 {
		// Half a turn or more: all but what lies clockwise from w to u.
		return !(w.Cross(v) > tol && v.Cross(u) > tol)
	}
	return u.Cross(v) >= -tol && v.Cross(w) >= -tol
}

// radius is the mean of both ends' distances from the centre of an arc.
func (p Piece) radius() float64 {
	return (p.From.Distance(p.Center) + p.End.Distance(p.Center)) / 2
}

// quarterVector is the unit vector at a whole number of quarter turns.
func quarterVector(n int) Point {
	return [4]Point{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}[n&3]
}

// Bulge is the bulge of a piece as DXF writes it: the tangent of a quarter of
// the included angle, negative if the arc runs clockwise as seen, 0 for a line
// (DXF reference, VERTEX, group code 42).
func (p Piece) Bulge() float64 {
	if p.Kind != ArcTo {
		return 0
	}
	return -math.Tan(p.Arc().Sweep / 4)
}

// FromBulge is the arc between two points with a given bulge, a line if it is 0.
func FromBulge(from, to Point, bulge float64) Piece {
	if bulge == 0 {
		return Line(from, to)
	}
	// The centre lies on the perpendicular bisector, c(1−b²)/(4b) from the chord.
	chord := to.Sub(from)
	h := (1 - bulge*bulge) / (4 * bulge)
	center := from.Lerp(to, 0.5).Add(Point{chord.Y * h, -chord.X * h})
	return Piece{from, Segment{Kind: ArcTo, End: to, Center: center, Clockwise: bulge < 0}}
}

// SplitArcs cuts every arc into equal arcs of at most maxAngle radians: with
// math.Pi/2 a half circle becomes two quarters, whose drawing no rounding of
// the ends can turn inside out.
func (p Path) SplitArcs(maxAngle float64) Path {
	out := Path{Start: p.Start, Closed: p.Closed}
	for piece := range p.Pieces() {
		n := 1
		if piece.Kind == ArcTo {
			n = max(1, int(math.Ceil(math.Abs(piece.Arc().Sweep)/maxAngle-1e-9)))
		}
		for k := range n {
			s := piece.Segment
			s.End = piece.At(float64(k+1) / float64(n))
			out.Segments = append(out.Segments, s)
		}
	}
	return out
}
