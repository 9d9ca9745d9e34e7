package geom

import "math"

// Crossings appends the points in which the whole lines or circles cross or
// touch on which two pieces, lines or arcs, lie.
func Crossings(points []Point, p, q Piece) []Point {
	switch {
	case p.Kind == LineTo && q.Kind == LineTo:
		return lineLine(points, p, q)
	case p.Kind == LineTo:
		return lineCircle(points, p, q)
	case q.Kind == LineTo:
		return lineCircle(points, q, p)
	}
	return circleCircle(points, p, q)
}

// Intersections appends the points that two pieces, lines or arcs, share: where
// they cross or touch, and where one ends on the other. Of a stretch that they
// share it gives the ends.
func Intersections(points []Point, p, q Piece) []Point {
	const off = 1e-5 // as far as an arc's ends may lie off its circle
	if Apart(p, q, off) {
		return points
	}
	n := len(points)
	points = Crossings(points, p, q)
	kept := points[:n]
	for _, x := range points[n:] {
		if p.near(x) && q.near(x) {
			kept = append(kept, x)
		}
	}
	for _, x := range [2]Point{q.From, q.End} {
		if p.near(x) {
			kept = append(kept, x)
		}
	}
	for _, x := range [2]Point{p.From, p.End} {
		if q.near(x) {
			kept = append(kept, x)
		}
	}
	return kept
}

// Apart says that two pieces, lines or arcs, come nowhere within d mm of one another, as
// their circles or lines don't; where it can't be told so quickly it is false.
func Apart(p, q Piece, d float64) bool {
	switch {
	case p.Kind == ArcTo && q.Kind == ArcTo:
		r, s, off := p.radius(), q.radius(), p.Center.Distance(q.Center)
		return off > r+s+d || off < math.Abs(r-s)-d
	case p.Kind == ArcTo:
		p, q = q, p
	case q.Kind == LineTo:
		u := p.End.Sub(p.From)
		a, b := u.Cross(q.From.Sub(p.From)), u.Cross(q.End.Sub(p.From))
		far := d * u.Norm()
		return min(a, b) > far || max(a, b) < -far
	}
	u := p.End.Sub(p.From)
	return math.Abs(u.Cross(q.Center.Sub(p.From))) > (q.radius()+d)*u.Norm()
}

// near says whether a point lies on the piece, give or take rounding.
func (p Piece) near(x Point) bool { return p.Distance(x) <= touch }

func lineLine(points []Point, p, q Piece) []Point {
	u, v := p.End.Sub(p.From), q.End.Sub(q.From)
	if det := u.Cross(v); det != 0 {
		points = append(points, p.From.Add(u.Mul(q.From.Sub(p.From).Cross(v)/det)))
	}
	return points
}

func lineCircle(points []Point, p, a Piece) []Point {
	r := a.radius()
	u := p.Tangent(0)
	foot := p.From.Add(u.Mul(a.Center.Sub(p.From).Dot(u)))
	h := foot.Distance(a.Center)
	if h > r+touch {
		return points
	}
	half := math.Sqrt(max(0, (r-h)*(r+h)))
	for _, way := range [2]float64{-half, half} {
		x := foot.Add(u.Mul(way))
		// With a large radius the root has lost digits: a Newton step along the line.
		v := x.Sub(a.Center)
		if slope := unit(v).Dot(u); math.Abs(slope) > 1e-6 {
			x = x.Sub(u.Mul((v.Norm() - r) / slope))
		}
		points = append(points, x)
	}
	return points
}

func circleCircle(points []Point, a, b Piece) []Point {
	r, s := a.radius(), b.radius()
	if r > s {
		a, b, r, s = b, a, s, r // fewer digits are lost from the smaller circle
	}
	c := b.Center.Sub(a.Center)
	d := c.Norm()
	if d <= touch || d > r+s+touch || d < s-r-touch {
		return points
	}
	x := (d-s)*((d+s)/d)/2 + r*r/(2*d)
	y := math.Sqrt(max(0, (r-x)*(r+x)))
	u := c.Mul(1 / d)
	m, n := a.Center.Add(u.Mul(x)), Point{-u.Y, u.X}.Mul(y)
	return append(points, m.Sub(n), m.Add(n))
}

// Parameter is the t at which a line or arc passes nearest to x on its line or
// circle: below 0 or above 1 beyond its ends.
func (p Piece) Parameter(x Point) float64 {
	if p.Kind == ArcTo {
		v := x.Sub(p.Center)
		return p.Arc().parameter(math.Atan2(v.Y, v.X))
	}
	u := p.End.Sub(p.From)
	if n := u.Dot(u); n > 0 {
		return x.Sub(p.From).Dot(u) / n
	}
	return 0
}

// Distance is the distance of a point from the piece; a cubic is flattened
// within [CurveTol].
func (p Piece) Distance(x Point) float64 {
	switch p.Kind {
	case ArcTo:
		if v := x.Sub(p.Center); p.reaches(v, angleTol) {
			return math.Abs(v.Norm() - p.radius())
		}
		return min(x.Distance(p.From), x.Distance(p.End))
	case CubicTo:
		d := math.Inf(1)
		at := p.From
		for _, next := range p.flatten(nil, CurveTol) {
			d = min(d, Line(at, next).Distance(x))
			at = next
		}
		return d
	}
	u := p.End.Sub(p.From)
	n := u.Dot(u)
	if n == 0 {
		return x.Distance(p.From)
	}
	t := min(1, max(0, x.Sub(p.From).Dot(u)/n))
	return x.Distance(p.From.Add(u.Mul(t)))
}

// pieceDistance is the distance between two pieces, lines or arcs. The least
// distance is at an intersection, at an end of one, or along a common normal.
func pieceDistance(p, q Piece) float64 {
	if p.Bounds().Meets(q.Bounds()) && len(Intersections(nil, p, q)) > 0 {
		return 0
	}
	d := min(p.Distance(q.From), p.Distance(q.End), q.Distance(p.From), q.Distance(p.End))
	if p.Kind == LineTo {
		p, q = q, p
	}
	if p.Kind == LineTo {
		return d
	}
	a := p.Arc()
	if q.Kind == LineTo {
		// The normal of the line through the centre.
		if t := q.Parameter(a.Center); t >= 0 && t <= 1 {
			foot := q.At(t)
			for _, v := range [2]Point{foot.Sub(a.Center), a.Center.Sub(foot)} {
				// From the centre itself the whole arc is as far, and the line's ends
				// are nearer.
				if v.Norm() > touch && p.reaches(v, angleTol) {
					d = min(d, foot.Distance(a.Center.Add(unit(v).Mul(a.R))))
				}
			}
		}
		return d
	}
	b := q.Arc()
	u := unit(b.Center.Sub(a.Center))
	for _, v := range [2]Point{u, u.Mul(-1)} {
		if u == (Point{}) || !p.reaches(v, angleTol) {
			continue
		}
		for _, w := range [2]Point{u, u.Mul(-1)} {
			if q.reaches(w, angleTol) {
				d = min(d, a.Center.Add(v.Mul(a.R)).Distance(b.Center.Add(w.Mul(b.R))))
			}
		}
	}
	return d
}
