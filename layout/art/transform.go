package art

import (
	"strings"

	"foredge/layout/geom"
)

// transform takes the transforms of an element into its state: those of its
// styles, or else its attribute (SVG 2, 8.5). A span within a text has none: it
// is laid out in its line (CSS Transforms 1, 3, transformable element).
func (w *walker) transform(n *node, s *state, set map[string]string) *Error {
	if n.name == "tspan" {
		return nil
	}
	m, err := w.ownTransform(n, s, set)
	if err != nil {
		return err
	}
	if s.m = s.m.times(m); !s.m.finite() {
		return n.badTransform(n.attrs["transform"])
	}
	return nil
}

func (w *walker) ownTransform(n *node, s *state, set map[string]string) (affine, *Error) {
	m := identity()
	moved := false
	refer := func() (geom.Box, *Error) { return w.reference(n, s, set) }
	for _, name := range []string{"translate", "rotate", "scale"} {
		v := strings.TrimSpace(set[name])
		if v == "" || v == "none" {
			continue
		}
		one, ok := s.styled(name+"("+strings.Join(strings.Fields(v), ",")+")", refer)
		if !ok {
			return m, n.badTransform(v)
		}
		m, moved = m.times(one), true
	}
	name := "transform"
	if n.name == "linearGradient" || n.name == "radialGradient" {
		name = "gradientTransform"
	}
	if v, ok := set["transform"]; ok && v != "initial" && v != "unset" {
		one, ok := s.styled(v, refer)
		if !ok {
			return m, n.badTransform(v)
		}
		m, moved = m.times(one), moved || v != "none"
	} else if text, ok := n.attrs[name]; ok {
		one, err := n.turn.get(func() (affine, *Error) {
			one, ok := parseTransform(text)
			if !ok {
				return one, n.badTransform(text)
			}
			return one, nil
		})
		if err != nil {
			return m, err
		}
		m, moved = m.times(one), true
	}
	if v := set["transform-origin"]; moved && v != "" {
		at, err := w.origin(n, s, v, refer)
		if err != nil {
			return m, err
		}
		m = translate(at.X, at.Y).times(m).times(translate(-at.X, -at.Y))
	}
	return m, nil
}

func (n *node) badTransform(text string) *Error {
	return n.fail("write it as in rotate(30) translate(5 2)", "its transform can't be read: %q", shorten(text))
}

// reference is the box of which transforms take shares: what the element shows,
// or the viewport (CSS Transforms 1, 10).
func (w *walker) reference(n *node, s *state, set map[string]string) (geom.Box, *Error) {
	switch set["transform-box"] {
	case "fill-box", "content-box", "stroke-box", "border-box":
		return w.measured(n, s)
	}
	return geom.Box{Max: s.view}, nil
}

// origin reads a transform-origin.
func (w *walker) origin(n *node, s *state, v string, refer func() (geom.Box, *Error)) (geom.Point, *Error) {
	words := strings.Fields(v)
	if len(words) == 1 {
		words = append(words, "center")
	}
	if words[0] == "top" || words[0] == "bottom" || words[1] == "left" || words[1] == "right" {
		words[0], words[1] = words[1], words[0]
	}
	box, err := refer()
	if err != nil {
		return geom.Point{}, err
	}
	var at [2]float64
	low := [2]float64{box.Min.X, box.Min.Y}
	size := [2]float64{box.Width(), box.Height()}
	if box.Empty() {
		low, size = [2]float64{}, [2]float64{}
	}
	for i := range at {
		if k, ok := map[string]float64{"left": 0, "top": 0, "center": 0.5, "right": 1, "bottom": 1}[words[i]]; ok {
			at[i] = low[i] + k*size[i]
			continue
		}
		x, ok := s.lengthOf(words[i], size[i])
		if !ok || len(words) > 3 {
			return geom.Point{}, n.fail("write it as in transform-origin=\"10 20\"", "its transform-origin can't be read: %q", shorten(v))
		}
		at[i] = low[i] + x
	}
	return geom.Pt(at[0], at[1]), nil
}

// lengthOf is a length in user units, a percentage being that of a size.
func (s *state) lengthOf(text string, of float64) (float64, bool) {
	l, ok := parseLength(text)
	if !ok {
		return 0, false
	}
	if l.unit == "%" {
		return l.v / 100 * of, true
	}
	k, ok := s.unit(l.unit)
	return l.v * k, ok
}

// styled reads transforms as styles write them (CSS Transforms 1, 12; 2, 13).
func (s *state) styled(text string, refer func() (geom.Box, *Error)) (affine, bool) {
	m := identity()
	text = strings.ToLower(strings.TrimSpace(text))
	if text == "none" {
		return m, true
	}
	for text != "" {
		name, rest, ok := strings.Cut(text, "(")
		inner, after, closed := strings.Cut(rest, ")")
		if !ok || !closed {
			return m, false
		}
		args := strings.FieldsFunc(inner, func(c rune) bool { return c == ',' || c == ' ' || c == '\t' || c == '\n' })
		one, ok := s.styledOne(strings.TrimSpace(name), args, refer)
		if !ok {
			return m, false
		}
		m = m.times(one)
		text = strings.TrimSpace(after)
	}
	return m, m.finite()
}

func (s *state) styledOne(name string, args []string, refer func() (geom.Box, *Error)) (affine, bool) {
	good := len(args) > 0
	number := func(i int, instead float64) float64 {
		if i >= len(args) {
			return instead
		}
		v, ok := opacity(args[i])
		good = good && ok
		return v
	}
	degrees := func(i int) float64 {
		if i >= len(args) {
			return 0
		}
		v, ok := angle(args[i])
		good = good && ok
		return v
	}
	shift := func(i int, vertical bool) float64 {
		if i >= len(args) {
			return 0
		}
		of := 0.0
		if strings.HasSuffix(args[i], "%") {
			box, err := refer()
			good = good && err == nil
			if of = box.Width(); vertical {
				of = box.Height()
			}
		}
		v, ok := s.lengthOf(args[i], of)
		good = good && ok
		return v
	}
	most := 2
	var m affine
	switch name {
	case "matrix":
		most = 6
		good = len(args) == 6
		m = affine{number(0, 0), number(1, 0), number(2, 0), number(3, 0), shift(4, false), shift(5, true)}
	case "translate":
		m = translate(shift(0, false), shift(1, true))
	case "translatex":
		most, m = 1, translate(shift(0, false), 0)
	case "translatey":
		most, m = 1, translate(0, shift(0, true))
	case "translate3d":
		most, m = 3, translate(shift(0, false), shift(1, true))
	case "scale":
		x := number(0, 1)
		m = scale(x, number(1, x))
	case "scalex":
		most, m = 1, scale(number(0, 1), 1)
	case "scaley":
		most, m = 1, scale(1, number(0, 1))
	case "rotate", "rotatez":
		most, m = 1, rotation(degrees(0))
		if len(args) == 3 { // as the attribute has it
			most, m = 3, translate(shift(1, false), shift(2, true)).times(rotation(degrees(0))).times(translate(-shift(1, false), -shift(2, true)))
		}
	case "skew":
		m = skew(degrees(0), degrees(1))
	case "skewx":
		most, m = 1, skew(degrees(0), 0)
	case "skewy":
		most, m = 1, skew(0, degrees(0))
	default:
		return m, false
	}
	return m, good && len(args) <= most
}
