package art

import "strings"

// style takes what an element sets into its state.
func (w *walker) style(n *node, s *state, set map[string]string) *Error {
	for _, name := range []string{"clip-path", "mask", "filter"} {
		if v := set[name]; v != "" && v != "none" {
			return n.fail("apply it in the drawing program, so that plain paths are left", "its %s can't be drawn", name)
		}
	}
	var err *Error
	stated := func(name string, take func(v string) bool) {
		v, ok := set[name]
		if err != nil || !ok || v == "inherit" || v == "unset" {
			return
		}
		if !take(v) {
			err = n.fail("mend or remove it", "its %s can't be read: %q", name, shorten(v))
		}
	}
	stated("color", func(v string) bool { return setPaint(&s.color, v, s.color) })
	stated("fill", func(v string) bool { return setPaint(&s.fill, v, s.color) })
	stated("stroke", func(v string) bool { return setPaint(&s.stroke, v, s.color) })
	stated("fill-rule", func(v string) bool {
		s.evenOdd = v == "evenodd"
		return v == "evenodd" || v == "nonzero"
	})
	stated("stroke-width", func(v string) bool {
		var bad *Error
		s.width, bad = s.length(n, "stroke-width", v, diagonal)
		return bad == nil && s.width >= 0
	})
	stated("visibility", func(v string) bool {
		s.hidden = v != "visible"
		return v == "visible" || v == "hidden" || v == "collapse"
	})
	stated("stroke-dasharray", func(v string) bool {
		s.dashed = v != "none" && strings.Trim(v, "0., \t\n") != ""
		return true
	})
	for i, name := range []string{"marker-start", "marker-mid", "marker-end"} {
		stated(name, func(v string) bool {
			s.markers[i] = v != "none"
			return true
		})
	}
	// Opacity is read where it is used; here only whether it can be.
	for _, name := range []string{"opacity", "fill-opacity", "stroke-opacity"} {
		stated(name, func(v string) bool {
			_, ok := opacity(v)
			return ok
		})
	}
	stated("fill-opacity", func(v string) bool {
		o, _ := opacity(v)
		s.fillGone = o <= 0
		return true
	})
	stated("stroke-opacity", func(v string) bool {
		o, _ := opacity(v)
		s.strokeGone = o <= 0
		return true
	})
	return err
}

func setPaint(to *paint, v string, current paint) bool {
	p, ok := parsePaint(v, current)
	*to = p
	return ok
}

// opacity reads a number or a share from 0 to 1.
func opacity(v string) (float64, bool) {
	x, ok := parseLength(v)
	switch {
	case ok && x.unit == "":
		return x.v, true
	case ok && x.unit == "%":
		return x.v / 100, true
	}
	return 0, false
}
