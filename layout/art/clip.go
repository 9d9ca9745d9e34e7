package art

import (
	"maps"
	"slices"
	"strings"

	"foredge/layout/geom"
)

// cutHash is the name that a reference within the file means.
func cutHash(ref string) (id string, local bool) {
	return strings.CutPrefix(strings.TrimSpace(ref), "#")
}

// restrict takes the clip-path and the mask of an element into its state.
func (w *walker) restrict(n *node, s *state, set map[string]string) *Error {
	if w.mode == measuring {
		return nil
	}
	if v := strings.TrimSpace(set["clip"]); strings.HasPrefix(v, "rect") && (n.name == "svg" || n.name == "symbol") {
		return n.fail("apply it in the drawing program, so that plain paths are left", "its clip can't be drawn: %q", shorten(v))
	}
	for _, name := range []string{"clip-path", "mask"} {
		v := strings.TrimSpace(set[name])
		if v == "" || v == "none" || v == "initial" || v == "unset" {
			continue
		}
		ref, rest, ok := reference(v)
		if !ok || rest != "" {
			return n.fail("apply it in the drawing program, so that plain paths are left", "its %s can't be drawn: %q", name, shorten(v))
		}
		id, local := cutHash(ref)
		if !local {
			return n.fail("copy it into the drawing", "its %s is outside the file, which is not read: %q", name, shorten(ref))
		}
		by := w.doc.ids[id]
		kind := map[string]string{"clip-path": "clipPath", "mask": "mask"}[name]
		if by == nil || by.name != kind {
			continue // as if there were none (CSS Masking 1, 5 and 6)
		}
		if slices.Contains(w.using, by) {
			return n.fail("take one of them out", "its %s uses itself", name)
		}
		key := regionKey{by, s.m}
		r, known := w.spent.regions[key]
		if !known {
			var err *Error
			if r, err = w.region(n, by, s); err != nil {
				return err
			}
			if by.attrs["clipPathUnits"] != "objectBoundingBox" && by.name == "clipPath" {
				w.spent.regions[key] = r
			}
		}
		s.clips = s.within(r)
	}
	return nil
}

// A regionKey is a clip-path in its place.
type regionKey struct {
	by *node
	m  affine
}

// region is what a clip-path or a mask lets be seen of an element. Of those that
// rest on nothing of the element it is made once for all that have one place.
func (w *walker) region(n, by *node, s *state) (*region, *Error) {
	sub := w.sub(clipping)
	sub.using = append(sub.using, by)
	inner, err := sub.inherited(by, s)
	if err != nil {
		return nil, err
	}
	inner.m, inner.view, inner.page, inner.depth, inner.clips = s.m, s.view, s.page, s.depth, nil
	set, vars, err := w.doc.cascade(by, inner.vars)
	if err != nil {
		return nil, err
	}
	inner.vars = vars
	if by.name == "mask" {
		return sub.masked(n, by, s, inner, set)
	}
	if err := sub.transform(by, &inner, set); err != nil {
		return nil, err
	}
	if by.attrs["clipPathUnits"] == "objectBoundingBox" {
		box, err := w.shown(n, by, s)
		if err != nil {
			return nil, err
		}
		inner.m = inner.m.times(ofBox(box))
	}
	if err := sub.restrict(by, &inner, set); err != nil {
		return nil, err
	}
	for _, c := range by.children {
		switch c.name {
		case "path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "text", "use":
			if err := sub.element(c, inner); err != nil {
				return nil, err
			}
		}
	}
	return sub.seenThrough(clipped), nil
}

// seenThrough is the region of what a walker has drawn.
func (w *walker) seenThrough(kind maskKind) *region {
	r := &region{shapes: w.layers, mask: kind}
	if kind == clipped && len(r.shapes) == 1 && len(r.shapes[0].paths) == 1 && len(r.shapes[0].clips) == 0 && !r.shapes[0].evenOdd {
		r.plain = &r.shapes[0].paths[0]
	}
	return r
}

// ofBox maps a square of 1 by 1 into a box.
func ofBox(b geom.Box) affine {
	return translate(b.Min.X, b.Min.Y).times(scale(b.Width(), b.Height()))
}

// masked is where a mask lets something be seen.
func (w *walker) masked(n, by *node, s *state, inner state, set map[string]string) (*region, *Error) {
	w.mode = shading
	box := geom.EmptyBox()
	byBox := by.attrs["maskUnits"] != "userSpaceOnUse"
	if byBox || by.attrs["maskContentUnits"] == "objectBoundingBox" {
		var err *Error
		if box, err = w.shown(n, by, s); err != nil {
			return nil, err
		}
		if box.Empty() {
			return &region{}, nil
		}
	}
	frame, err := w.maskFrame(by, &inner, byBox, box)
	if err != nil {
		return nil, err
	}
	if by.attrs["maskContentUnits"] == "objectBoundingBox" {
		inner.m = inner.m.times(ofBox(box))
	}
	if err := w.restrict(by, &inner, set); err != nil {
		return nil, err
	}
	inner.clips = inner.within(frame)
	kind := lightMasked
	if v := set["mask-type"]; v == "alpha" {
		kind = alphaMasked
	}
	if err := w.children(by, inner); err != nil {
		return nil, err
	}
	return w.seenThrough(kind), nil
}

// maskFrame is the rectangle outside of which a mask shows nothing.
func (w *walker) maskFrame(by *node, s *state, byBox bool, box geom.Box) (*region, *Error) {
	var v [4]float64
	for i, name := range []string{"x", "y", "width", "height"} {
		text, ok := by.attrs[name]
		if !ok {
			text = []string{"-10%", "-10%", "120%", "120%"}[i]
		}
		if byBox {
			f, ok := opacity(text) // a number or a share of the box
			if !ok {
				return nil, by.fail("write a number, as in 0.5", "its %s can't be read: %q", name, shorten(text))
			}
			v[i] = f
			continue
		}
		if !ok && !(s.view.X > 0) {
			v[i] = []float64{-1e6, -1e6, 2e6, 2e6}[i] // of a page of no size all of it
			continue
		}
		f, err := s.length(by, name, text, []way{across, down}[i%2])
		if err != nil {
			return nil, err
		}
		v[i] = f
	}
	m := s.m
	if byBox {
		m = m.times(ofBox(box))
	}
	if !(v[2] > 0 && v[3] > 0) {
		return &region{}, nil
	}
	t := rect(v[0], v[1], v[2], v[3], 0, 0)[0]
	return plainRegion(t.path(m)), nil
}

// shown is the box of what an element shows of which its clip-path or mask, by, takes
// shares, where the element's state is.
func (w *walker) shown(n, by *node, s *state) (geom.Box, *Error) {
	if n.name == "mask" || n.name == "clipPath" {
		return geom.Box{}, by.fail("give it sizes of its own, by maskUnits=\"userSpaceOnUse\" or clipPathUnits=\"userSpaceOnUse\", or apply it in the drawing program",
			"it cuts off part of another mask or clip in shares of that one's size, which it doesn't have")
	}
	box, err := w.measured(n, s)
	if err != nil || n.name != "use" || box.Empty() {
		return box, err
	}
	set, _, err := w.doc.cascade(n, s.vars)
	if err != nil {
		return box, err
	}
	at, err := shift(n, s, set)
	return geom.Box{Min: box.Min.Sub(at), Max: box.Max.Sub(at)}, err
}

// measured is the box of what an element shows, without its strokes, in the
// element's own coordinates.
func (w *walker) measured(n *node, s *state) (geom.Box, *Error) {
	sub := w.sub(measuring)
	inner := *s
	inner.m, inner.clips = identity(), nil
	set, _, err := w.doc.cascade(n, s.vars)
	if err != nil {
		return sub.box, err
	}
	switch n.name {
	case "g", "a", "switch":
		err = sub.children(n, inner)
	case "svg":
		if n == w.doc.root {
			err = sub.children(n, inner)
		} else {
			err = sub.viewport(n, inner, set, n)
		}
	case "use":
		var at geom.Point
		if at, err = shift(n, s, set); err == nil {
			inner.m = translate(at.X, at.Y)
			err = sub.use(n, inner)
		}
	case "text":
		err = sub.text(n, inner, set)
	default:
		err = sub.draw(n, inner, set)
	}
	return sub.box, err
}

// inherited is the state that an element has from those in which it stands, of
// what is passed on: what it is painted with and how it is stroked.
func (w *walker) inherited(n *node, from *state) (state, *Error) {
	var line []*node
	for up := n; up != nil; up = up.parent {
		line = append(line, up)
	}
	s := initial(identity())
	s.page = from.page
	for i := len(line) - 1; i >= 0; i-- {
		set, vars, err := w.doc.cascade(line[i], s.vars)
		if err != nil {
			return s, err
		}
		s.vars = vars
		if i == 0 {
			break
		}
		if err := w.style(line[i], &s, set); err != nil {
			return s, err
		}
		s.faded, s.fades, s.blended = 1, nil, ""
	}
	set, _, err := w.doc.cascade(n, s.vars)
	if err != nil {
		return s, err
	}
	set = maps.Clone(set)
	delete(set, "filter") // it doesn't count in what is referred to
	err = w.style(n, &s, set)
	s.faded, s.fades = 1, nil
	return s, err
}
