package art

import (
	"slices"
	"strings"
)

// maxMatches is how many times an element may be held against a part of a
// selector, in all: a second of work.
const maxMatches = 20_000_000

// properties are the presentation attributes that mean something here.
func properties() []string {
	return []string{"fill", "stroke", "color", "fill-rule", "clip-rule", "stroke-width", "fill-opacity", "stroke-opacity", "opacity",
		"display", "visibility", "overflow", "vector-effect", "stroke-dasharray", "stroke-dashoffset", "stroke-linecap", "stroke-linejoin",
		"stroke-miterlimit", "paint-order", "clip", "clip-path", "mask", "mask-type", "filter", "marker", "marker-start", "marker-mid", "marker-end",
		"transform-origin", "stop-color", "stop-opacity", "mix-blend-mode",
		"font", "font-family", "font-size", "font-weight", "font-style", "text-anchor", "letter-spacing", "word-spacing", "text-decoration",
		"writing-mode", "baseline-shift", "dominant-baseline", "alignment-baseline", "text-transform", "white-space", "direction", "unicode-bidi",
		"kerning", "glyph-orientation-horizontal", "font-variant", "font-stretch", "font-size-adjust", "inline-size", "shape-inside"}
}

// A cascaded is what an element sets, as it is written.
type cascaded struct {
	set map[string]string
	// vars are its custom properties, and variable says that a value uses some.
	vars     map[string]string
	variable bool
}

// cascade gives the value of each property that an element sets, by the order of
// CSS: attributes, rules by their weight, the style attribute, what is important.
// vars are the custom properties that it inherits; those that hold in it come back.
func (d *document) cascade(n *node, vars map[string]string) (map[string]string, map[string]string, *Error) {
	c, err := n.set.get(func() (cascaded, *Error) { return d.readCascade(n) })
	if err != nil || len(c.vars) == 0 && !c.variable {
		return c.set, vars, err
	}
	if len(c.vars) > 0 {
		all := make(map[string]string, len(vars)+len(c.vars))
		for k, v := range vars {
			all[k] = v
		}
		for k, v := range c.vars {
			all[k] = v
		}
		if len(all) > maxVars {
			return nil, nil, n.fail(plainStyles, "more than %d values have names of their own", maxVars)
		}
		vars = all
	}
	if !c.variable {
		return c.set, vars, nil
	}
	set := make(map[string]string, len(c.set))
	for name, v := range c.set {
		if strings.Contains(v, "var(") {
			steps := maxVars
			resolved, ok := withVars(v, vars, &steps, 0)
			if !ok {
				continue // as if it weren't there (CSS Custom Properties 1, 3.1)
			}
			v = resolved
		}
		set[name] = v
	}
	return set, vars, nil
}

// maxVars is how many custom properties may hold in an element, and how often one
// value may name some.
const maxVars = 1000

// withVars puts the values of custom properties into a value.
func withVars(v string, vars map[string]string, steps *int, depth int) (string, bool) {
	for {
		at := strings.Index(v, "var(")
		if at < 0 {
			return strings.TrimSpace(v), true
		}
		end, open := at+4, 1
		for ; end < len(v) && open > 0; end++ {
			switch v[end] {
			case '(':
				open++
			case ')':
				open--
			}
		}
		if *steps--; *steps < 0 || open > 0 || depth > 20 || len(v) > maxValue {
			return "", false
		}
		name, instead, other := strings.Cut(v[at+4:end-1], ",")
		value, ok := vars[strings.TrimSpace(name)]
		if ok {
			value, ok = withVars(value, vars, steps, depth+1)
		}
		if !ok && other {
			value, ok = withVars(instead, vars, steps, depth+1)
		}
		if !ok {
			return "", false
		}
		v = v[:at] + value + v[end:]
	}
}

func (d *document) readCascade(n *node) (cascaded, *Error) {
	set := map[string]string{}
	for _, name := range properties() {
		// The short forms marker and font are none as an attribute (SVG 2, 6.7).
		if v, ok := n.attrs[name]; ok && name != "marker" && name != "font" {
			set[name] = strings.TrimSpace(v)
		}
	}
	if v, ok := n.attrs["xml:space"]; ok && set["white-space"] == "" {
		set["white-space"] = "normal"
		if v == "preserve" {
			set["white-space"] = v
		}
	}
	var own []declaration
	if s, ok := n.attrs["style"]; ok {
		own = declarations(tokens(s))
	}
	var found []*rule
	for i := range d.rules {
		if d.rules[i].selector.matches(d, n) {
			found = append(found, &d.rules[i])
		}
	}
	if d.matched > maxMatches {
		return cascaded{}, n.fail(plainStyles, "the styles are too many to be held against the drawing's elements")
	}
	slices.SortStableFunc(found, func(a, b *rule) int { return a.selector.weight - b.selector.weight })
	for _, important := range []bool{false, true} {
		for _, r := range found {
			if r.unsure == "" {
				if bad := take(set, r.declarations, important); bad != "" {
					return cascaded{}, n.fail("mend or remove it", "%q in the styles can't be read", shorten(bad))
				}
			}
		}
		if bad := take(set, own, important); bad != "" {
			return cascaded{}, n.fail("mend or remove it", "%q in its style can't be read", shorten(bad))
		}
	}
	for _, r := range found {
		if r.unsure != "" && changes(set, r.declarations) {
			return cascaded{}, n.fail(plainStyles, "what is drawn depends on %s in the styles", shorten(r.unsure))
		}
	}
	if err := d.moving(n, set); err != nil {
		return cascaded{}, err
	}
	c := cascaded{set: set}
	for name, v := range set {
		if strings.HasPrefix(name, "--") {
			if c.vars == nil {
				c.vars = map[string]string{}
			}
			c.vars[name] = v
			delete(set, name)
			continue
		}
		c.variable = c.variable || strings.Contains(v, "var(")
	}
	for _, name := range properties() {
		if len(set[name]) > maxValue {
			return cascaded{}, n.fail("mend or remove it", "its %s can't be read: %q", name, shorten(set[name]))
		}
	}
	return c, nil
}

// take applies declarations that are important or not. bad is one that can't be read.
func take(set map[string]string, list []declaration, important bool) (bad string) {
	for _, x := range list {
		switch {
		case x.bad:
			return x.value
		case x.important != important:
			continue
		}
		set[x.name] = x.value
		switch x.name {
		case "marker":
			set["marker-start"], set["marker-mid"], set["marker-end"] = x.value, x.value, x.value
		case "all":
			for name := range set {
				if name != "all" && !strings.HasPrefix(name, "--") {
					delete(set, name)
				}
			}
		}
	}
	return ""
}

// changes says whether declarations would show another drawing in the one ink
// that there is.
func changes(set map[string]string, list []declaration) bool {
	for _, x := range list {
		if x.bad || strings.HasPrefix(x.name, "--") {
			return true
		}
		if !slices.Contains(properties(), x.name) && !sizes(x.name) || set[x.name] == x.value {
			continue
		}
		switch x.name {
		case "fill", "stroke", "color":
			a, okA := parsePaint(set[x.name], paint{})
			b, okB := parsePaint(x.value, paint{})
			if okA && okB && a.kind == b.kind && a.kind != server {
				continue
			}
		}
		return true
	}
	return false
}

// sizes says whether a property says where or how large something is.
func sizes(name string) bool {
	switch name {
	case "d", "x", "y", "cx", "cy", "r", "rx", "ry", "width", "height", "transform", "translate", "rotate", "scale":
		return true
	}
	return false
}

// moving sees that an animation of the styles begins with what the drawing shows.
func (d *document) moving(n *node, set map[string]string) *Error {
	if len(d.frames) == 0 {
		return nil
	}
	for _, word := range strings.FieldsFunc(set["animation-name"]+" "+set["animation"]+" "+set["-webkit-animation"]+" "+set["-webkit-animation-name"],
		func(c rune) bool { return c == ' ' || c == ',' }) {
		if first, ok := d.frames[word]; ok && changes(set, first) {
			return n.fail("remove it and save what it should show", "an animation, %s, shows something else than the drawing", shorten(word))
		}
	}
	return nil
}
