package nest

import (
	"errors"
	"math"
	"slices"

	"foredge/layout/geom"
	"foredge/layout/kerf"
)

// unit is the length in mm of which all coordinates are whole multiples.
const unit = 1e-7

// mostCorners is how many corners an outline keeps; one with more is drawn coarser.
const mostCorners = 400

// units is a length in units, a whole number.
func units(mm float64) float64 { return math.Round(mm / unit) }

// rings is what a figure covers, grown all round, as polygons in units that run
// clockwise as seen: all of the figure lies inside, and no edge lies further than
// tol mm outside of it but at sharp corners. Counters are filled.
func rings(f geom.Figure, grow, tol float64) ([][]geom.Point, error) {
	paths := geom.Paths(f)
	if len(paths) == 0 {
		return nil, errNone
	}
	for _, p := range paths {
		if !p.Closed {
			return nil, kerf.ErrOpen
		}
		if !geom.NewBoundary(p).Simple() {
			return nil, kerf.ErrTangled
		}
		if slices.ContainsFunc(p.Segments, func(s geom.Segment) bool { return s.Kind == geom.CubicTo }) {
			grow = max(grow, grow+2*kerf.CurveTol)
		}
	}
	if grow != 0 {
		grown, err := kerf.Offset(f, grow)
		if err != nil {
			return nil, err
		}
		paths = geom.Paths(grown)
	}
	var out [][]geom.Point
	for _, p := range outermost(paths) {
		ring := corners(p.Oriented(true), tol)
		for coarse := tol; len(ring) > 8; coarse *= 2 {
			if ring = thin(ring, units(coarse)); len(ring) <= mostCorners {
				break
			}
			if coarse > 1000*tol {
				ring = convexHull(ring)
				break
			}
		}
		if len(ring) < 3 || area(ring) <= 0 {
			return nil, errors.New("an outline without inside")
		}
		out = append(out, ring)
	}
	return out, nil
}

// outermost is the paths that lie in no other.
func outermost(paths []geom.Path) []geom.Path {
	if len(paths) == 1 {
		return paths
	}
	boundaries := make([]*geom.Boundary, len(paths))
	for k, p := range paths {
		boundaries[k] = geom.NewBoundary(p)
	}
	var out []geom.Path
	for k, p := range paths {
		held := false
		for j, b := range boundaries {
			held = held || j != k && b.Box.Holds(boundaries[k].Box) && b.Contains(p.Start)
		}
		if !held {
			out = append(out, p)
		}
	}
	return out
}

// corners is the polygon about a closed path of lines and arcs that runs clockwise:
// hollow arcs become chords, the others tangents that meet outside, one of them at each
// quarter of the circle, so that the box stays what it is.
func corners(p geom.Path, tol float64) []geom.Point {
	var ring []geom.Point
	add := func(q geom.Point) {
		q = geom.Point{X: units(q.X), Y: units(q.Y)}
		if n := len(ring); n == 0 || ring[n-1] != q {
			ring = append(ring, q)
		}
	}
	for piece := range p.Arcs(kerf.CurveTol).Pieces() {
		add(piece.From)
		if piece.Kind != geom.ArcTo {
			continue
		}
		a := piece.Arc()
		if !piece.Clockwise {
			half := 2 * math.Asin(min(1, math.Sqrt(tol/(2*a.R))))
			n := max(1, int(math.Ceil(math.Abs(a.Sweep)/(2*min(half, math.Pi/4)))))
			for k := 1; k < n; k++ {
				add(a.At(float64(k) / float64(n)))
			}
			continue
		}
		half := min(math.Acos(a.R/(a.R+tol)), math.Pi/8)
		for _, part := range quarters(a) {
			n := max(1, int(math.Ceil(part.Sweep/(2*half))))
			h := part.Sweep / float64(2*n)
			out := geom.Arc{Center: a.Center, R: a.R / math.Cos(h), Start: part.Start, Sweep: part.Sweep}
			for k := range n {
				add(out.At(float64(2*k+1) / float64(2*n)))
			}
		}
	}
	for len(ring) > 1 && ring[0] == ring[len(ring)-1] {
		ring = ring[:len(ring)-1]
	}
	return dropFlat(ring)
}

// quarters cuts an arc that runs clockwise where it runs level or upright.
func quarters(a geom.Arc) []geom.Arc {
	var out []geom.Arc
	const quarter = math.Pi / 2
	end := a.Start + a.Sweep
	for at := a.Start; at < end-1e-9; {
		next := quarter * (math.Floor(at/quarter+1e-9) + 1)
		next = min(next, end)
		out = append(out, geom.Arc{Center: a.Center, R: a.R, Start: at, Sweep: next - at})
		at = next
	}
	return out
}

// dropFlat takes out corners at which a ring runs straight on or back on itself.
func dropFlat(ring []geom.Point) []geom.Point {
	for k := 0; k < len(ring) && len(ring) > 3; {
		n := len(ring)
		if cross(ring[(k+n-1)%n], ring[k], ring[(k+1)%n]) == 0 {
			ring = slices.Delete(ring, k, k+1)
			k = max(0, k-1)
			continue
		}
		k++
	}
	return ring
}

// thin takes corners out of a ring so that it only grows, nowhere by more than tol
// units: hollow corners are filled, short sides are cut out by longer ones that meet
// beyond them. If the ring then crosses itself, it stays as it was.
func thin(ring []geom.Point, tol float64) []geom.Point {
	out := slices.Clone(ring)
	for k := 0; k < len(out) && len(out) > 4; k++ {
		n := len(out)
		a, b, c, d := out[(k+n-1)%n], out[k], out[(k+1)%n], out[(k+2)%n]
		switch {
		case cross(a, b, c) < 0:
			if -cross(a, b, c) <= tol*length(c.X-a.X, c.Y-a.Y) && between(a, b, c) && holdsNone(out, a, c, b) {
				out = slices.Delete(out, k, k+1)
				k = max(-1, k-3)
			}
		case cross(b, c, d) > 0 && cross(a, b, c) > 0:
			m, ok := meet(a, b, d, c)
			if ok && math.Abs(cross(b, c, m)) <= tol*length(c.X-b.X, c.Y-b.Y) && holdsNone(out, b, m, c) {
				out[k] = m
				out = slices.Delete(out, (k+1)%n, (k+1)%n+1)
				k = max(-1, k-3)
			}
		}
	}
	out = dropFlat(out)
	if len(out) == len(ring) || !geom.NewBoundary(geom.Polygon(out...)).Simple() {
		return ring
	}
	return out
}

// between says whether the foot of b on the line from a to c lies between them.
func between(a, b, c geom.Point) bool {
	x, y := c.X-a.X, c.Y-a.Y
	t := float64((b.X-a.X)*x) + float64((b.Y-a.Y)*y)
	return t >= 0 && t <= float64(x*x)+float64(y*y)
}

// holdsNone says whether no other corner of the ring lies in a triangle.
func holdsNone(ring []geom.Point, a, b, c geom.Point) bool {
	if cross(a, b, c) < 0 {
		b, c = c, b
	}
	for _, p := range ring {
		if p != a && p != b && p != c && cross(a, b, p) >= 0 && cross(b, c, p) >= 0 && cross(c, a, p) >= 0 {
			return false
		}
	}
	return true
}

// meet is where the line from a through b, beyond b, meets that from d through c,
// beyond c, rounded so that both b and c lie within.
func meet(a, b, d, c geom.Point) (geom.Point, bool) {
	ux, uy, vx, vy := b.X-a.X, b.Y-a.Y, c.X-d.X, c.Y-d.Y
	det := float64(ux*vy) - float64(uy*vx)
	if math.Abs(det) < 1e-9*length(ux, uy)*length(vx, vy) {
		return geom.Point{}, false
	}
	s := (float64((c.X-b.X)*vy) - float64((c.Y-b.Y)*vx)) / det
	t := (float64((c.X-b.X)*uy) - float64((c.Y-b.Y)*ux)) / det
	if s < 0 || t < 0 {
		return geom.Point{}, false
	}
	m := geom.Point{X: b.X + float64(s*ux), Y: b.Y + float64(s*uy)}
	// Outwards: away from the middle of the side that goes.
	ox, oy := m.X-(b.X+c.X)/2, m.Y-(b.Y+c.Y)/2
	l := length(ox, oy)
	if l == 0 {
		return geom.Point{}, false
	}
	for out := 1.0; out <= 64; out *= 2 {
		p := geom.Point{X: math.Round(m.X + float64(ox*out)/l), Y: math.Round(m.Y + float64(oy*out)/l)}
		if cross(a, p, b) >= 0 && cross(p, d, c) >= 0 {
			return p, true
		}
	}
	return geom.Point{}, false
}

// convexHull is the least convex polygon about some points, clockwise as seen
// (A. M. Andrew, "Another efficient algorithm for convex hulls in two dimensions", 1979).
func convexHull(points []geom.Point) []geom.Point {
	sorted := slices.Clone(points)
	slices.SortFunc(sorted, func(a, b geom.Point) int {
		if a.X != b.X {
			return sign(a.X - b.X)
		}
		return sign(a.Y - b.Y)
	})
	var hull []geom.Point
	half := func(base int, p geom.Point) {
		for len(hull) >= base+2 && cross(hull[len(hull)-2], hull[len(hull)-1], p) <= 0 {
			hull = hull[:len(hull)-1]
		}
		hull = append(hull, p)
	}
	for _, p := range sorted {
		half(0, p)
	}
	base := len(hull) - 1
	for k := len(sorted) - 2; k >= 0; k-- {
		half(base, sorted[k])
	}
	return hull[:len(hull)-1]
}

func sign(x float64) int {
	switch {
	case x < 0:
		return -1
	case x > 0:
		return 1
	}
	return 0
}
