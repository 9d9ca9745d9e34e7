package art

import (
	"math"
	"strings"

	"foredge/layout/geom"
)

// shape gives the subpaths of a basic shape or a path (SVG 1.1, 8 and 9). One
// that draws nothing, as a circle of radius 0, has none.
func (w *walker) shape(n *node, s *state, set map[string]string) ([]trace, *Error) {
	l := lengths{n: n, s: s, set: set}
	switch n.name {
	case "path":
		return n.lines.get(func() ([]trace, *Error) { return pathData(n, set) })
	case "rect":
		x, y := l.get("x", across), l.get("y", down)
		width, height := l.size("width", across), l.size("height", down)
		rx, okX := l.auto("rx", across)
		ry, okY := l.auto("ry", down)
		if !okX {
			rx = ry
		}
		if !okY {
			ry = rx
		}
		return rect(x, y, width, height, min(rx, width/2), min(ry, height/2)), l.err
	case "circle":
		r := l.size("r", diagonal)
		return ellipse(geom.Pt(l.get("cx", across), l.get("cy", down)), r, r), l.err
	case "ellipse":
		rx, okX := l.auto("rx", across)
		ry, okY := l.auto("ry", down)
		if !okX {
			rx = ry
		}
		if !okY {
			ry = rx
		}
		return ellipse(geom.Pt(l.get("cx", across), l.get("cy", down)), rx, ry), l.err
	case "line":
		t := trace{start: geom.Pt(l.get("x1", across), l.get("y1", down))}
		t.line(geom.Pt(l.get("x2", across), l.get("y2", down)))
		return []trace{t}, l.err
	}
	return n.lines.get(func() ([]trace, *Error) { return polyline(n) })
}

// pathData reads the path of an element, which may stand in its style, as in
// d: path("M0 0H9") (SVG 2, 9.3).
func pathData(n *node, set map[string]string) ([]trace, *Error) {
	d, ok := n.attrs["d"]
	if v, styled := set["d"]; styled {
		inner, isPath := strings.CutPrefix(v, "path(")
		inner, closed := strings.CutSuffix(inner, ")")
		if v != "none" && !(isPath && closed) {
			return nil, n.fail("write it as the attribute d", "the d in its style can't be read: %q", shorten(v))
		}
		d, ok = strings.Trim(strings.TrimSpace(inner), "\"'"), isPath
	}
	if !ok || d == "none" {
		return nil, nil
	}
	traces, at := parseData(d)
	if at > 0 && strings.TrimSpace(d[min(len(d), at-1):]) == "" {
		return nil, n.fail("draw it again, or open the drawing and save it again", "its path data breaks off after %q", tail(d))
	}
	if at > 0 {
		return nil, n.fail("draw it again, or open the drawing and save it again",
			"its path data can't be read from character %d on: %q", at, shorten(d[min(len(d), at-1):]))
	}
	return traces, nil
}

func rect(x, y, w, h, rx, ry float64) []trace {
	if w == 0 || h == 0 {
		return nil
	}
	t := trace{start: geom.Pt(x+rx, y), closed: true}
	corner := func(cx, cy, t0 float64) {
		if rx > 0 && ry > 0 {
			t.quarter(geom.Pt(cx, cy), rx, ry, t0)
		}
	}
	if !(rx > 0 && ry > 0) {
		rx, ry = 0, 0
		t.start = geom.Pt(x, y)
	}
	t.line(geom.Pt(x+w-rx, y))
	corner(x+w-rx, y+ry, -math.Pi/2)
	t.line(geom.Pt(x+w, y+h-ry))
	corner(x+w-rx, y+h-ry, 0)
	t.line(geom.Pt(x+rx, y+h))
	corner(x+rx, y+h-ry, math.Pi/2)
	t.line(geom.Pt(x, y+ry))
	corner(x+rx, y+ry, math.Pi)
	return []trace{t}
}

func ellipse(c geom.Point, rx, ry float64) []trace {
	if rx == 0 || ry == 0 {
		return nil
	}
	right, left := c.Add(geom.Pt(rx, 0)), c.Sub(geom.Pt(rx, 0))
	t := trace{start: right, closed: true}
	t.arc(rx, ry, 0, false, true, left)
	t.arc(rx, ry, 0, false, true, right)
	// Ends of a half ellipse leave the centre to rounding; here it is known.
	for i := range t.steps {
		s := &t.steps[i]
		s.center, s.t0, s.sweep = c, float64(i)*math.Pi, math.Pi
		s.u, s.v = geom.Pt(rx, 0), geom.Pt(0, ry)
	}
	return []trace{t}
}

func polyline(n *node) ([]trace, *Error) {
	list, ok := parseNumbers(n.attrs["points"])
	if !ok || len(list)%2 != 0 {
		return nil, n.fail("write its points as x,y x,y", "its points can't be read: %q", shorten(n.attrs["points"]))
	}
	if len(list) < 4 {
		return nil, nil
	}
	t := trace{start: geom.Pt(list[0], list[1]), closed: n.name == "polygon"}
	for i := 2; i < len(list); i += 2 {
		t.line(geom.Pt(list[i], list[i+1]))
	}
	return []trace{t}, nil
}

// A way is what a share of the viewport is taken of.
type way uint8

const (
	across way = iota
	down
	diagonal
)

// lengths reads the lengths of an element in user units. The first error stays.
type lengths struct {
	n   *node
	s   *state
	set map[string]string // its styles, which win over its attributes
	err *Error
}

// get is a length, 0 where it is not stated.
func (l *lengths) get(name string, of way) float64 {
	v, _ := l.value(name, of)
	return v
}

// stated is a size as it is written: of a style, or else of an attribute.
func (l *lengths) stated(name string) (string, bool) {
	// The ends of lines and the points of a polygon have no styles (SVG 2, 8).
	if v, ok := l.set[name]; ok && sizes(name) && v != "initial" && v != "unset" {
		return v, true
	}
	v, ok := l.n.attrs[name]
	return v, ok
}

// size is a length that may not be below 0.
func (l *lengths) size(name string, of way) float64 {
	v, _ := l.value(name, of)
	if v < 0 && l.err == nil {
		text, _ := l.stated(name)
		l.err = l.n.fail("give it a size above 0", "its %s is below 0: %q", name, shorten(text))
	}
	return v
}

// auto is a length that may be left to another.
func (l *lengths) auto(name string, of way) (float64, bool) {
	v, ok := l.stated(name)
	if v == "auto" {
		return 0, false
	}
	return l.size(name, of), ok
}

func (l *lengths) value(name string, of way) (float64, bool) {
	text, ok := l.stated(name)
	if !ok {
		return 0, false
	}
	v, err := l.s.length(l.n, name, text, of)
	if err != nil && l.err == nil {
		l.err = err
	}
	return v, true
}

// length is a length in user units.
func (s *state) length(n *node, name, text string, of way) (float64, *Error) {
	x, ok := parseLength(text)
	if !ok {
		return 0, n.fail("write a number with or without a unit, as in 12 or 12mm", "its %s can't be read: %q", name, shorten(text))
	}
	if x.unit == "%" {
		v := s.view
		if v.X <= 0 || v.Y <= 0 {
			return 0, n.fail("give the drawing a width and a height in mm", "its %s is a percentage of a page whose size is not stated", name)
		}
		share := map[way]float64{across: v.X, down: v.Y, diagonal: math.Sqrt((v.X*v.X + v.Y*v.Y) / 2)}
		return x.v / 100 * share[of], nil
	}
	k, ok := s.unit(x.unit)
	if !ok {
		return 0, n.fail("use mm, cm, in, pt, pc or px", "its %s is in %q, a unit that can't be read", name, shorten(x.unit))
	}
	return x.v * k, nil
}

// unit is a unit in user units: an absolute one, or one of the font or the page
// (CSS Values and Units 4, 6). An ex is taken for half an em, as it is there
// where the font doesn't say.
func (s *state) unit(name string) (float64, bool) {
	switch name {
	case "em":
		return s.letter.size, s.letter.size > 0
	case "ex", "ch":
		return s.letter.size / 2, s.letter.size > 0
	case "rem":
		return s.letter.root, s.letter.root > 0
	case "vw":
		return s.page.X / 100, s.page.X > 0
	case "vh":
		return s.page.Y / 100, s.page.Y > 0
	}
	return pixels(name)
}
