package art

import (
	"math"
	"strings"

	"foredge/layout/geom"
)

// An affine maps (x, y) to (ax + cy + e, bx + dy + f), as SVG writes it.
type affine struct{ a, b, c, d, e, f float64 }

func identity() affine                      { return affine{a: 1, d: 1} }
func translate(x, y float64) affine         { return affine{1, 0, 0, 1, x, y} }
func scale(x, y float64) affine             { return affine{x, 0, 0, y, 0, 0} }
func (m affine) at(p geom.Point) geom.Point { return m.vector(p).Add(geom.Pt(m.e, m.f)) }

// vector maps a direction.
func (m affine) vector(p geom.Point) geom.Point {
	return geom.Pt(m.a*p.X+m.c*p.Y, m.b*p.X+m.d*p.Y)
}

// times is m after n: what n maps is mapped by m.
func (m affine) times(n affine) affine {
	return affine{
		m.a*n.a + m.c*n.b, m.b*n.a + m.d*n.b,
		m.a*n.c + m.c*n.d, m.b*n.c + m.d*n.d,
		m.a*n.e + m.c*n.f + m.e, m.b*n.e + m.d*n.f + m.f,
	}
}

func (m affine) det() float64 { return m.a*m.d - m.b*m.c }

// growth is by how much lengths grow, on the whole.
func (m affine) growth() float64 { return math.Sqrt(math.Abs(m.det())) }

// flat says whether nothing with an area is left.
func (m affine) flat() bool { return !(math.Abs(m.det()) > 1e-18) }

func (m affine) finite() bool {
	for _, v := range [6]float64{m.a, m.b, m.c, m.d, m.e, m.f} {
		if math.IsNaN(v) || math.Abs(v) > 1e12 {
			return false
		}
	}
	return true
}

// parseTransform reads a transform attribute (SVG 1.1, 7.6).
func parseTransform(s string) (affine, bool) {
	m := identity()
	for {
		s = strings.TrimLeft(s, " \t\r\n\f,")
		if s == "" {
			return m, m.finite()
		}
		open := strings.IndexByte(s, '(')
		if open < 0 {
			return m, s == "none" && m == identity()
		}
		end := strings.IndexByte(s, ')')
		if end < open {
			return m, false
		}
		n, ok := parseNumbers(s[open+1 : end])
		if !ok {
			return m, false
		}
		next := affine{}
		switch name := strings.TrimSpace(s[:open]); {
		case name == "matrix" && len(n) == 6:
			next = affine{n[0], n[1], n[2], n[3], n[4], n[5]}
		case name == "translate" && len(n) == 1:
			next = translate(n[0], 0)
		case name == "translate" && len(n) == 2:
			next = translate(n[0], n[1])
		case name == "scale" && len(n) == 1:
			next = scale(n[0], n[0])
		case name == "scale" && len(n) == 2:
			next = scale(n[0], n[1])
		case name == "rotate" && len(n) == 1:
			next = rotation(n[0])
		case name == "rotate" && len(n) == 3:
			next = translate(n[1], n[2]).times(rotation(n[0])).times(translate(-n[1], -n[2]))
		case name == "skewX" && len(n) == 1:
			next = skew(n[0], 0)
		case name == "skewY" && len(n) == 1:
			next = skew(0, n[0])
		default:
			return m, false
		}
		m = m.times(next)
		s = s[end+1:]
	}
}

// rotation turns by degrees, whole quarter turns exactly.
func rotation(deg float64) affine {
	sin, cos := math.Sincos(math.Mod(deg, 360) * math.Pi / 180)
	if q := deg / 90; q == math.Round(q) {
		sin, cos = math.Round(sin), math.Round(cos)
	}
	return affine{cos, sin, -sin, cos, 0, 0}
}

// skew moves each place to the right by its y and down by its x, by the tangents of
// angles in degrees.
func skew(x, y float64) affine {
	return affine{1, math.Tan(y * math.Pi / 180), math.Tan(x * math.Pi / 180), 1, 0, 0}
}

// A view is a viewBox with how it is fitted into its viewport.
type view struct {
	x, y, w, h float64
	fit        string // preserveAspectRatio
}

// into maps the box into a viewport of w by h (SVG 1.1, 7.8).
func (v view) into(w, h float64) (affine, bool) {
	words := strings.Fields(v.fit)
	if len(words) > 0 && words[0] == "defer" {
		words = words[1:]
	}
	align, how := "xMidYMid", "meet"
	if len(words) > 0 {
		align = words[0]
	}
	if len(words) > 1 {
		how = words[1]
	}
	if len(words) > 2 || how != "meet" && how != "slice" {
		return identity(), false
	}
	kx, ky := w/v.w, h/v.h
	if align == "none" {
		return scale(kx, ky).times(translate(-v.x, -v.y)), true
	}
	share := map[string]float64{"Min": 0, "Mid": 0.5, "Max": 1}
	if len(align) != 8 || align[0] != 'x' || align[4] != 'Y' {
		return identity(), false
	}
	sx, okX := share[align[1:4]]
	sy, okY := share[align[5:8]]
	if !okX || !okY {
		return identity(), false
	}
	k := min(kx, ky)
	if how == "slice" {
		k = max(kx, ky)
	}
	return affine{k, 0, 0, k, (w-k*v.w)*sx - k*v.x, (h-k*v.h)*sy - k*v.y}, true
}
