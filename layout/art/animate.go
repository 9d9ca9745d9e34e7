package art

import (
	"slices"
	"strings"
)

// conditions says whether an element is there for a reader who has no extensions
// (SVG 1.1, 5.8). What rests on the reader's language can't be known.
func (n *node) conditions() (bool, *Error) {
	if v, ok := n.attrs["requiredExtensions"]; ok && (strings.TrimSpace(v) != "" || n.parent != nil && n.parent.name == "switch") {
		return false, nil
	}
	if v := n.attrs["requiredFeatures"]; strings.Contains(v, "#Extensibility") || strings.Contains(v, "#Script") || strings.Contains(v, "Animation") {
		return false, nil
	}
	v, ok := n.attrs["systemLanguage"]
	switch {
	case !ok:
		return true, nil
	case strings.TrimSpace(v) == "":
		return false, nil
	case n.name == "foreignObject" || skipped(n.name) || n.blank() && n.name == "text":
		return true, nil
	}
	return false, n.fail("keep the one that you want and remove the others", "it is drawn for readers of %q only, so it isn't clear whether it should be", shorten(v))
}

// choice draws the first of some elements whose conditions hold.
func (w *walker) choice(n *node, s state) *Error {
	for _, c := range n.children {
		if skipped(c.name) {
			continue
		}
		holds, err := c.conditions()
		if err != nil {
			return err
		}
		if holds {
			return w.element(c, s)
		}
	}
	return nil
}

// isAnimation says whether an element moves another.
func isAnimation(name string) bool {
	switch name {
	case "animate", "animateTransform", "animateMotion", "animateColor", "set":
		return true
	}
	return false
}

// findMoves notes which elements are animated from elsewhere in the file.
func (d *document) findMoves(n *node) {
	if isAnimation(n.name) {
		to := n.parent
		if id, local := cutHash(n.attrs["href"]); local {
			to = d.ids[id]
		}
		if to != nil {
			d.moves[to] = append(d.moves[to], n)
		}
	}
	for _, c := range n.children {
		d.findMoves(c)
	}
}

// animated sees that the animations of an element begin with what the drawing
// shows without them.
func (d *document) animated(n *node, set map[string]string) *Error {
	for _, a := range d.moves[n] {
		if a.beginsAtOnce() && !n.startsAs(a, set) {
			return a.fail("remove it and save what it should show", "this animation shows something else than the drawing from the start on")
		}
	}
	return nil
}

// beginsAtOnce says whether an animation begins when the drawing is opened.
func (n *node) beginsAtOnce() bool {
	begin := strings.TrimSpace(n.attrs["begin"])
	if begin == "" {
		return true
	}
	for one := range strings.SplitSeq(begin, ";") {
		one = strings.TrimSpace(one)
		size := numberLen(one)
		if size == 0 {
			continue // at an event
		}
		if strings.Trim(one[:size], "0.+") == "" && !strings.Contains(one[size:], ":") || one[0] == '-' {
			return true
		}
	}
	return false
}

// startsAs says whether what an animation begins with is what an element has.
func (n *node) startsAs(a *node, set map[string]string) bool {
	first, ok := a.attrs["to"], a.name == "set"
	if a.name != "set" {
		first, ok = a.attrs["from"]
		if list := a.attrs["values"]; list != "" {
			first, _, _ = strings.Cut(list, ";")
			ok = true
		}
	}
	first = strings.TrimSpace(first)
	name := a.attrs["attributeName"]
	switch a.name {
	case "animateMotion":
		path := strings.TrimSpace(a.attrs["path"])
		if traces, at := parseData(path); path != "" && at == 0 && len(traces) > 0 {
			return traces[0].start.Norm() == 0
		}
		v, good := parseNumbers(first)
		return ok && good && len(v) == 2 && v[0] == 0 && v[1] == 0 || !ok && path == "" && len(a.children) == 0
	case "animateTransform":
		kind := a.attrs["type"]
		if kind == "" {
			kind = "translate"
		}
		if !ok {
			return true // it begins where the element is
		}
		begins, good := parseTransform(kind + "(" + first + ")")
		base := identity()
		if a.attrs["additive"] != "sum" {
			base, _ = parseTransform(n.attrs["transform"])
		}
		return good && begins == base
	}
	if !ok {
		return true
	}
	drawn := slices.Contains(properties(), name) || sizes(name) ||
		slices.Contains([]string{"points", "x1", "y1", "x2", "y2", "viewBox", "href", "xlink:href", "class", "style"}, name)
	if !drawn {
		return true
	}
	base, stated := set[name]
	if !stated {
		base, stated = n.attrs[name]
	}
	if !stated {
		base = map[string]string{"opacity": "1", "fill-opacity": "1", "stroke-opacity": "1", "visibility": "visible", "display": "inline",
			"stroke-dashoffset": "0", "x": "0", "y": "0", "cx": "0", "cy": "0", "stroke-width": "1", "fill": "black", "stroke": "none"}[name]
	}
	p, okP := parseNumbers(first)
	q, okQ := parseNumbers(base)
	return strings.TrimSpace(base) == first || okP && okQ && slices.Equal(p, q) ||
		!changes(map[string]string{name: base}, []declaration{{name: name, value: first}})
}
