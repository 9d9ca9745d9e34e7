package art

import (
	"strings"

	"foredge/layout/geom"
)

// A state is what an element hands down to those in it.
type state struct {
	m     affine     // from its own coordinates to mm
	view  geom.Point // size of the viewport in its own coordinates; 0 if not stated
	page  geom.Point // the same of the whole drawing, for vw and vh
	clips []*region
	depth int
	vars  map[string]string // custom properties

	fill, stroke, color  paint
	evenOdd, clipEvenOdd bool
	width                float64 // of strokes
	pen                  pen
	strokeFirst          bool // its fill lies on its stroke
	hidden               bool
	dashes               []string // lengths as they are written
	dashOffset           string
	markers              [3]string
	// faded is how opaque the groups round it are, fillFaded and strokeFaded what
	// it paints.
	faded, fillFaded, strokeFaded float64
	fades                         []fade // the elements that faded is of, from the outside in
	// blended is how a group is mixed with what lies below it, "" for plainly.
	blended string
	// context is what the shape that a marker is on is painted with.
	context [2]paint

	letter letter
	tags   tags
}

// style takes what an element sets into its state.
func (w *walker) style(n *node, s *state, set map[string]string) *Error {
	if v := set["filter"]; v != "" && v != "none" {
		return n.fail("apply it in the drawing program, so that plain paths are left", "its filter can't be drawn")
	}
	var err *Error
	stated := func(name string, take func(v string) bool) {
		v, ok := set[name]
		if err != nil || !ok || v == "inherit" || v == "unset" || v == "revert" {
			return
		}
		if !take(v) {
			err = n.fail("mend or remove it", "its %s can't be read: %q", name, shorten(v))
		}
	}
	stated("font-size", func(v string) bool { return s.letter.resize(v) })
	stated("color", func(v string) bool { return s.setPaint(&s.color, v, black()) })
	stated("fill", func(v string) bool { return s.setPaint(&s.fill, v, black()) })
	stated("stroke", func(v string) bool { return s.setPaint(&s.stroke, v, color{}) })
	for name, to := range map[string]*bool{"fill-rule": &s.evenOdd, "clip-rule": &s.clipEvenOdd} {
		stated(name, func(v string) bool {
			*to = v == "evenodd"
			return v == "evenodd" || v == "nonzero" || v == "initial"
		})
	}
	stated("stroke-width", func(v string) bool {
		if v == "initial" {
			v = "1"
		}
		var bad *Error
		s.width, bad = s.length(n, "stroke-width", v, diagonal)
		return bad == nil && s.width >= 0
	})
	stated("visibility", func(v string) bool {
		s.hidden = v == "hidden" || v == "collapse"
		return s.hidden || v == "visible" || v == "initial"
	})
	stated("stroke-dasharray", func(v string) bool { return s.setDashes(v) })
	stated("stroke-dashoffset", func(v string) bool { s.dashOffset = v; return true })
	stated("stroke-linecap", func(v string) bool { return s.pen.setCap(v) })
	stated("stroke-linejoin", func(v string) bool { return s.pen.setJoin(v) })
	stated("stroke-miterlimit", func(v string) bool {
		x, ok := parseLength(v)
		s.pen.miter = x.v
		return ok && x.unit == "" && x.v >= 1
	})
	stated("paint-order", func(v string) bool {
		s.strokeFirst = strings.HasPrefix(v, "stroke") || strings.HasPrefix(v, "markers stroke")
		return true
	})
	for i, name := range []string{"marker-start", "marker-mid", "marker-end"} {
		stated(name, func(v string) bool {
			s.markers[i] = ""
			if v == "none" || v == "initial" {
				return true
			}
			ref, _, ok := reference(v)
			s.markers[i] = ref
			return ok
		})
	}
	stated("mix-blend-mode", func(v string) bool {
		if v != "normal" && v != "initial" {
			s.blended = v
		}
		return true
	})
	s.opacities(set, stated, &w.spent.fades)
	s.letter.style(set, stated)
	if n == w.doc.root {
		s.letter.root = s.letter.size
	}
	return err
}

// A fade is an element that is as a whole only so opaque.
type fade struct {
	number int // of it among those of the drawing
	share  float64
}

// opacities takes how opaque an element is and what it paints. fades counts those
// that aren't wholly.
func (s *state) opacities(set map[string]string, stated func(name string, take func(v string) bool), fades *int) {
	for name, to := range map[string]*float64{"fill-opacity": &s.fillFaded, "stroke-opacity": &s.strokeFaded} {
		stated(name, func(v string) bool {
			o, ok := opacity(v)
			*to = o
			return ok
		})
	}
	stated("opacity", func(v string) bool {
		o, ok := opacity(v)
		if o = max(0, min(o, 1)); o < 1 {
			*fades++
			s.fades = append(s.fades[:len(s.fades):len(s.fades)], fade{*fades, o})
		}
		s.faded *= o
		return ok
	})
}

// setPaint takes a colour, or what holds where nothing is stated.
func (s *state) setPaint(to *paint, v string, initial color) bool {
	switch v {
	case "initial":
		*to = painted(initial)
		return true
	case "context-fill":
		*to = s.context[0]
		return true
	case "context-stroke":
		*to = s.context[1]
		return true
	}
	p, ok := parsePaint(v, s.color)
	*to = p
	return ok
}

// opacity reads a number or a share from 0 to 1.
func opacity(v string) (float64, bool) {
	if v == "initial" {
		return 1, true
	}
	x, ok := parseLength(v)
	switch {
	case ok && x.unit == "":
		return x.v, true
	case ok && x.unit == "%":
		return x.v / 100, true
	}
	return 0, false
}

// setDashes takes the lengths of dashes and gaps as they are written.
func (s *state) setDashes(v string) bool {
	s.dashes = nil
	if v == "none" || v == "initial" {
		return true
	}
	for _, part := range strings.FieldsFunc(v, func(c rune) bool { return c == ',' || c < 128 && isSpace(byte(c)) }) {
		x, ok := parseLength(part)
		if !ok || x.v < 0 {
			return false
		}
		s.dashes = append(s.dashes, part)
	}
	return true
}
