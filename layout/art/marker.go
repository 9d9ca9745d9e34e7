package art

import (
	"math"
	"slices"
	"strings"

	"foredge/layout/geom"
)

// A vertex is where a marker may stand, with the ways in which the path comes to
// it and leaves it.
type vertex struct {
	at      geom.Point
	in, out geom.Point
}

// vertices are those of a path (SVG 2, 13.7).
func vertices(traces []trace) []vertex {
	var out []vertex
	for i := range traces {
		t := &traces[i]
		first := len(out)
		out = append(out, vertex{at: t.start})
		at := t.start
		for _, s := range t.steps {
			b := geom.NewPath(at)
			switch s.kind {
			case lineStep:
				b.Line(s.end)
			case cubicStep:
				b.Cubic(s.c1, s.c2, s.end)
			case arcStep:
				s.arc(b, identity())
			}
			pieces := slices.Collect(b.Open().Pieces())
			v := vertex{at: s.end}
			if n := len(pieces); n > 0 {
				out[len(out)-1].out = pieces[0].Tangent(0)
				v.in = pieces[n-1].Tangent(1)
			}
			out = append(out, v)
			at = s.end
		}
		if t.closed {
			last := len(out) - 1
			if way := t.start.Sub(at); way.Norm() > 0 {
				way = way.Mul(1 / way.Norm())
				out[last].out = way
				out = append(out, vertex{at: t.start, in: way})
				last++
			}
			out[first].in, out[last].out = out[last].in, out[first].out
		}
	}
	return out
}

// angle is the direction of a marker in degrees: half way between both ways.
func (v vertex) angle() float64 {
	way := v.in.Add(v.out)
	if way.Norm() < 1e-9 {
		way = v.in
	}
	return math.Atan2(way.Y, way.X) * 180 / math.Pi
}

// markersOf draws the markers of a shape.
func (w *walker) markersOf(n *node, s *state, traces []trace, painted [2]paint) *Error {
	if s.markers == [3]string{} || n.name != "path" && n.name != "line" && n.name != "polyline" && n.name != "polygon" {
		return nil
	}
	all := vertices(traces)
	for i, v := range all {
		which := 1
		switch i {
		case 0:
			which = 0
		case len(all) - 1:
			which = 2
		}
		if err := w.marker(n, s, s.markers[which], v, which == 0, painted); err != nil {
			return err
		}
		if i == 0 && len(all) == 1 {
			return w.marker(n, s, s.markers[2], v, false, painted)
		}
	}
	return nil
}

// marker draws one marker at a vertex.
func (w *walker) marker(n *node, s *state, ref string, v vertex, first bool, painted [2]paint) *Error {
	if ref == "" {
		return nil
	}
	id, local := cutHash(ref)
	if !local {
		return n.fail("copy it into the drawing", "its marker is outside the file, which is not read: %q", shorten(ref))
	}
	by := w.doc.ids[id]
	if by == nil || by.name != "marker" {
		return nil // as if there were none (SVG 2, 13.7)
	}
	if slices.Contains(w.using, by) {
		return nil // markers of markers aren't drawn
	}
	w.using = append(w.using, by)
	defer func() { w.using = w.using[:len(w.using)-1] }()
	inner, err := w.inherited(by, s)
	if err != nil {
		return err
	}
	set, vars, err := w.doc.cascade(by, inner.vars)
	if err != nil {
		return err
	}
	inner.vars, inner.clips, inner.depth, inner.markers, inner.context = vars, s.clips, s.depth+1, [3]string{}, painted
	inner.faded, inner.fades, inner.tags, inner.view = s.faded, s.fades, s.tags, s.view
	m := s.m.times(translate(v.at.X, v.at.Y))
	switch turn := strings.TrimSpace(by.attrs["orient"]); turn {
	case "auto":
		m = m.times(rotation(v.angle()))
	case "auto-start-reverse":
		a := v.angle()
		if first {
			a += 180
		}
		m = m.times(rotation(a))
	case "":
	default:
		a, ok := angle(turn)
		if !ok {
			return by.fail("write it as orient=\"auto\"", "its orient can't be read: %q", shorten(turn))
		}
		m = m.times(rotation(a))
	}
	if by.attrs["markerUnits"] != "userSpaceOnUse" {
		m = m.times(scale(s.width, s.width))
	}
	return w.markerBody(by, inner, m, set)
}

// markerBody draws what is in a marker whose reference point m maps to its vertex.
func (w *walker) markerBody(by *node, s state, m affine, set map[string]string) *Error {
	l := lengths{n: by, s: &s}
	size := func(name string, of way) float64 {
		if _, ok := by.attrs[name]; !ok {
			return 3
		}
		return l.size(name, of)
	}
	width, height := size("markerWidth", across), size("markerHeight", down)
	if l.err != nil || width == 0 || height == 0 {
		return l.err
	}
	box, err := viewBox(by)
	if err != nil {
		return err
	}
	fit := identity()
	s.view = geom.Pt(width, height)
	area := geom.Box{Max: s.view}
	if box != nil {
		if box.w == 0 || box.h == 0 {
			return nil
		}
		var ok bool
		if fit, ok = box.into(width, height); !ok {
			return by.fail("write it as in preserveAspectRatio=\"xMidYMid meet\"", "its preserveAspectRatio can't be read: %q", shorten(box.fit))
		}
		s.view = geom.Pt(box.w, box.h)
	}
	at := [2]float64{}
	for i, name := range []string{"refX", "refY"} {
		text := by.attrs[name]
		if k, ok := map[string]float64{"left": 0, "top": 0, "center": 0.5, "right": 1, "bottom": 1}[text]; ok && box != nil {
			at[i] = []float64{box.x + k*box.w, box.y + k*box.h}[i]
			continue
		}
		at[i] = l.get(name, []way{across, down}[i])
	}
	if l.err != nil {
		return l.err
	}
	ref := fit.at(geom.Pt(at[0], at[1]))
	m = m.times(translate(-ref.X, -ref.Y))
	if o := set["overflow"]; o != "visible" && o != "auto" {
		t := rect(area.Min.X, area.Min.Y, width, height, 0, 0)[0]
		s.clips = s.within(plainRegion(t.path(m)))
	}
	s.m = m.times(fit)
	return w.children(by, s)
}
