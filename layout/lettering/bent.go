package lettering

import (
	"math"

	"foredge/layout/geom"
)

// A bend maps the plane of a straight baseline onto that of one that runs round
// a circle about the origin: letters that are connected are bent themselves, so
// that their joints stay joined. What is on the baseline keeps its length.
type bend struct {
	r      float64 // radius of the baseline, mm; 0 where nothing is bent
	inside bool    // at the foot of the circle, heads towards its centre
}

// at is where a point of the straight line, in mm from its middle, comes to lie, and
// how it moves there for a step along the line and for one down from it.
func (b bend) at(p geom.Point) (at, along, down geom.Point) {
	sin, cos := math.Sincos(p.X / b.r)
	if b.inside {
		rho := b.r + p.Y
		return geom.Pt(sin, cos).Mul(rho), geom.Pt(cos, -sin).Mul(rho / b.r), geom.Pt(sin, cos)
	}
	rho := b.r - p.Y
	return geom.Pt(sin, -cos).Mul(rho), geom.Pt(cos, sin).Mul(rho / b.r), geom.Pt(-sin, cos)
}

// outline bends an outline; it comes out in cubics.
func (b bend) outline(o geom.Outline) geom.Outline {
	out := make(geom.Outline, len(o))
	for i, p := range o {
		start, _, _ := b.at(p.Start)
		to := geom.NewPath(start)
		for piece := range p.Pieces() {
			b.follow(to, curveOf(piece), 0, 1, 0)
		}
		if p.Closed {
			out[i] = to.Close()
		} else {
			out[i] = to.Open()
		}
	}
	return out
}

// A curve gives the point at t, from 0 to 1, and the derivative there.
type curve func(t float64) (p, d geom.Point)

func curveOf(piece geom.Piece) curve {
	if piece.Kind == geom.CubicTo {
		return bezier{piece.From, piece.C1, piece.C2, piece.End}.at
	}
	length := piece.Length() // lines and arcs run evenly
	return func(t float64) (p, d geom.Point) { return piece.At(t), piece.Tangent(t).Mul(length) }
}

// follow appends cubics that follow a bent curve from t0 to t1 within curveTol:
// each leaves and arrives as it does.
func (b bend) follow(to *geom.Builder, c curve, t0, t1 float64, depth int) {
	step := func(t float64) (at, toward geom.Point) {
		p, d := c(t)
		at, along, down := b.at(p)
		return at, along.Mul(d.X).Add(down.Mul(d.Y)).Mul((t1 - t0) / 3)
	}
	p0, d0 := step(t0)
	p1, d1 := step(t1)
	bent := bezier{p0, p0.Add(d0), p1.Sub(d1), p1}
	off := 0.0
	for _, t := range [3]float64{0.25, 0.5, 0.75} {
		want, _ := step(t0 + t*(t1-t0))
		got, _ := bent.at(t)
		off = max(off, got.Distance(want))
	}
	if off > curveTol/2 && depth < 16 {
		middle := (t0 + t1) / 2
		b.follow(to, c, t0, middle, depth+1)
		b.follow(to, c, middle, t1, depth+1)
		return
	}
	to.Cubic(bent[1], bent[2], bent[3])
}

// A bezier is a cubic by its four points.
type bezier [4]geom.Point

// at is a point of the curve and its derivative.
func (c bezier) at(t float64) (p, d geom.Point) {
	a, b, e := c[0].Lerp(c[1], t), c[1].Lerp(c[2], t), c[2].Lerp(c[3], t)
	f, g := a.Lerp(b, t), b.Lerp(e, t)
	return f.Lerp(g, t), g.Sub(f).Mul(3)
}
