package art

import (
	"math"
	"strings"

	"foredge/layout/geom"
)

// A state is what an element hands down to those in it.
type state struct {
	m     affine     // from its own coordinates to mm
	view  geom.Point // size of the viewport in its own coordinates; 0 if not stated
	clips []geom.Path
	depth int

	fill, stroke, color paint
	evenOdd             bool
	width               float64 // of strokes
	hidden              bool
	dashed              bool
	markers             [3]bool
	// fillGone and strokeGone say that nothing is seen of them.
	fillGone, strokeGone bool
}

// A walker draws a document.
type walker struct {
	doc      *document
	page     geom.Point
	layers   []layer
	lines    []Contour
	count    int // elements drawn
	segments int
	using    []*node // the uses that are followed
}

func (w *walker) root() *Error {
	if err := w.doc.readStyles(w.doc.root); err != nil {
		return err
	}
	n := w.doc.root
	s := state{m: scale(px, px), fill: ink, color: ink, width: 1}
	box, err := viewBox(n)
	if err != nil {
		return err
	}
	width, err := pageSize(n, "width")
	if err != nil {
		return err
	}
	height, err := pageSize(n, "height")
	if err != nil {
		return err
	}
	if width == 0 || height == 0 {
		return nil // such a page shows nothing
	}
	if box != nil {
		switch { // what isn't stated follows the box
		case math.IsNaN(width) && math.IsNaN(height):
			width, height = box.w, box.h
		case math.IsNaN(width):
			width = height * box.w / box.h
		case math.IsNaN(height):
			height = width * box.h / box.w
		}
	}
	if !math.IsNaN(width) && !math.IsNaN(height) {
		w.page = geom.Pt(width*px, height*px)
		if max(w.page.X, w.page.Y) > MaxSize {
			return n.fail("check its width and height", "the page is larger than %d m", MaxSize/1000)
		}
		s.view = geom.Pt(width, height)
		s.clips = []geom.Path{geom.Paths(geom.Rect{W: w.page.X, H: w.page.Y})[0]}
	}
	if s, err = w.inBox(n, s, box); err != nil {
		return err
	}
	return w.element(n, s)
}

// pageSize is a size of the page in pixels, NaN where it isn't stated.
func pageSize(n *node, name string) (float64, *Error) {
	text, ok := n.attrs[name]
	if !ok || text == "auto" {
		return math.NaN(), nil
	}
	if x, ok := parseLength(text); ok && x.unit == "%" {
		return math.NaN(), nil
	}
	v, err := (&state{}).length(n, name, text, across)
	if err == nil && v < 0 {
		err = n.fail("give it a size above 0", "its %s is below 0: %q", name, shorten(text))
	}
	return v, err
}

func viewBox(n *node) (*view, *Error) {
	return n.box.get(func() (*view, *Error) { return readViewBox(n) })
}

func readViewBox(n *node) (*view, *Error) {
	text, ok := n.attrs["viewBox"]
	if !ok {
		return nil, nil
	}
	v, ok := parseNumbers(text)
	if !ok || len(v) != 4 || v[2] < 0 || v[3] < 0 {
		return nil, n.fail("write it as viewBox=\"0 0 80 60\"", "its viewBox can't be read: %q", shorten(text))
	}
	if v[2] == 0 || v[3] == 0 {
		return nil, n.fail("give it a width and a height", "its viewBox shows nothing: %q", shorten(text))
	}
	fit := n.attrs["preserveAspectRatio"]
	if len(fit) > maxValue {
		return nil, n.fail("write it as in preserveAspectRatio=\"xMidYMid meet\"", "its preserveAspectRatio can't be read: %q", shorten(fit))
	}
	return &view{v[0], v[1], v[2], v[3], fit}, nil
}

// inBox puts a state into the view box of an element that has one.
func (w *walker) inBox(n *node, s state, box *view) (state, *Error) {
	if box == nil {
		return s, nil
	}
	if s.view == (geom.Point{}) {
		s.view = geom.Pt(box.w, box.h)
	}
	m, ok := box.into(s.view.X, s.view.Y)
	if !ok {
		return s, n.fail("write it as in preserveAspectRatio=\"xMidYMid meet\"", "its preserveAspectRatio can't be read: %q", shorten(box.fit))
	}
	s.m, s.view = s.m.times(m), geom.Pt(box.w, box.h)
	return s, nil
}

// element draws an element and what is in it.
func (w *walker) element(n *node, s state) *Error {
	if skipped(n.name) {
		return nil
	}
	if w.count++; w.count > MaxElements {
		return n.fail("simplify the drawing, or use fewer copies", "the drawing comes to more than %d elements", MaxElements)
	}
	if s.depth++; s.depth > MaxDepth {
		return n.fail("ungroup some of it", "elements are nested more than %d deep", MaxDepth)
	}
	set, err := w.doc.cascade(n)
	if err != nil {
		return err
	}
	if set["display"] == "none" {
		return nil
	}
	if o, ok := opacity(set["opacity"]); ok && o <= 0 {
		return nil
	}
	if err := w.style(n, &s, set); err != nil {
		return err
	}
	if n != w.doc.root {
		if err := transform(n, &s, set); err != nil {
			return err
		}
	}
	switch n.name {
	case "g", "a":
		return w.children(n, s)
	case "svg":
		if n == w.doc.root {
			return w.children(n, s)
		}
		return w.viewport(n, s, set, n)
	case "use":
		return w.use(n, s)
	case "path", "rect", "circle", "ellipse", "line", "polyline", "polygon":
		return w.draw(n, s, set)
	case "text":
		return n.fail("turn it into paths in the drawing program, or letter it in the design", "text can't be drawn from artwork")
	case "image":
		return n.fail("engrave the picture's own PNG or JPEG file, or trace it into paths", "pictures embedded in drawings can't be drawn")
	case "script":
		return n.fail("remove it and save what it draws", "scripts are not run")
	case "animate", "animateTransform", "animateMotion", "animateColor", "set":
		return n.fail("remove it and save what it should show", "animations can't be drawn")
	case "switch":
		return n.fail("keep the one that you want and remove the others", "a choice among several drawings can't be drawn")
	}
	return n.fail("turn it into paths in the drawing program", "this can't be drawn")
}

// skipped are elements that draw nothing by themselves.
func skipped(name string) bool {
	switch name {
	case "defs", "symbol", "title", "desc", "metadata", "style", "clipPath", "mask", "filter", "marker", "pattern",
		"linearGradient", "radialGradient", "solidColor", "view", "cursor", "font", "font-face", "color-profile":
		return true
	}
	return false
}

func (w *walker) children(n *node, s state) *Error {
	for _, c := range n.children {
		if err := w.element(c, s); err != nil {
			return err
		}
	}
	return nil
}

func transform(n *node, s *state, set map[string]string) *Error {
	m, err := n.turn.get(func() (affine, *Error) { return readTransform(n, set) })
	if err != nil {
		return err
	}
	if s.m = s.m.times(m); !s.m.finite() {
		return n.badTransform()
	}
	return nil
}

func readTransform(n *node, set map[string]string) (affine, *Error) {
	for _, name := range []string{"transform", "transform-origin", "translate", "rotate", "scale"} {
		if _, ok := set[name]; ok {
			return affine{}, n.fail("write it as the attribute transform", "a %s in a style is not read", name)
		}
	}
	if _, ok := n.attrs["transform-origin"]; ok {
		return affine{}, n.fail("write the place into its transform", "a transform-origin is not read")
	}
	text, ok := n.attrs["transform"]
	if !ok {
		return identity(), nil
	}
	m, ok := parseTransform(text)
	if !ok {
		return affine{}, n.badTransform()
	}
	return m, nil
}

func (n *node) badTransform() *Error {
	return n.fail("write it as in rotate(30) translate(5 2)", "its transform can't be read: %q", shorten(n.attrs["transform"]))
}

// use draws a copy of another element of the file.
func (w *walker) use(n *node, s state) *Error {
	href := n.attrs["href"]
	if len(href) > maxValue {
		return n.fail("check its name", "it uses %q, and nothing in the drawing has that name", shorten(href))
	}
	if href = strings.TrimSpace(href); href == "" {
		return nil
	}
	id, local := strings.CutPrefix(href, "#")
	if !local {
		return n.fail("copy it into the drawing", "it uses something from outside the file, which is not read: %q", shorten(href))
	}
	target := w.doc.ids[id]
	if target == nil {
		return n.fail("check its name", "it uses %q, and nothing in the drawing has that name", shorten(id))
	}
	for _, u := range w.using {
		if u == n {
			return n.fail("take out one of the uses", "it uses %q, which uses it in turn", shorten(id))
		}
	}
	w.using = append(w.using, n)
	defer func() { w.using = w.using[:len(w.using)-1] }()
	l := lengths{w: w, n: n, s: &s}
	s.m = s.m.times(translate(l.get("x", across), l.get("y", down)))
	if l.err != nil {
		return l.err
	}
	if target.name != "symbol" && target.name != "svg" {
		return w.element(target, s)
	}
	if w.count++; w.count > MaxElements {
		return n.fail("simplify the drawing, or use fewer copies", "the drawing comes to more than %d elements", MaxElements)
	}
	if s.depth++; s.depth > MaxDepth {
		return n.fail("ungroup some of it", "elements are nested more than %d deep", MaxDepth)
	}
	set, err := w.doc.cascade(target)
	if err != nil {
		return err
	}
	if o, ok := opacity(set["opacity"]); set["display"] == "none" || ok && o <= 0 {
		return nil
	}
	if err := w.style(target, &s, set); err != nil {
		return err
	}
	if err := transform(target, &s, set); err != nil {
		return err
	}
	return w.viewport(target, s, set, n)
}

// viewport draws what is in a nested svg or a symbol. The size is that of the
// use, where that has one.
func (w *walker) viewport(n *node, s state, set map[string]string, sized *node) *Error {
	size := func(name string, of way) (float64, *Error) {
		l := lengths{w: w, n: sized, s: &s}
		if t := sized.attrs[name]; t == "" || t == "auto" {
			l.n = n
		}
		if t := l.n.attrs[name]; t == "" || t == "auto" {
			if s.view.X <= 0 {
				return 0, n.fail("give it a width and a height", "its %s is not stated", name)
			}
			return map[way]float64{across: s.view.X, down: s.view.Y}[of], nil
		}
		v := l.size(name, of)
		return v, l.err
	}
	width, err := size("width", across)
	if err != nil {
		return err
	}
	height, err := size("height", down)
	if err != nil {
		return err
	}
	if n.name == "svg" {
		l := lengths{w: w, n: n, s: &s}
		s.m = s.m.times(translate(l.get("x", across), l.get("y", down)))
		if l.err != nil {
			return l.err
		}
	}
	if width == 0 || height == 0 {
		return nil
	}
	if o := set["overflow"]; o != "visible" && o != "auto" {
		t := rect(0, 0, width, height, 0, 0)[0]
		s.clips = append(s.clips[:len(s.clips):len(s.clips)], t.path(s.m))
	}
	s.view = geom.Pt(width, height)
	box, err := viewBox(n)
	if err != nil {
		return err
	}
	if s, err = w.inBox(n, s, box); err != nil {
		return err
	}
	return w.children(n, s)
}

// draw takes in one shape.
func (w *walker) draw(n *node, s state, set map[string]string) *Error {
	traces, err := w.shape(n, &s, set)
	if err != nil || s.hidden || s.m.flat() {
		return err
	}
	fill, stroke := s.fill, s.stroke
	if s.fillGone {
		fill = nothing
	}
	if s.strokeGone || s.width == 0 {
		stroke = nothing
	}
	if fill == server || stroke == server {
		return n.fail("give it a plain colour", "it is painted with a gradient or a pattern, which can't be drawn")
	}
	if stroke == ink && s.dashed {
		return n.fail("draw the dashes as lines of their own", "dashed lines can't be drawn")
	}
	if n.name == "path" || n.name == "line" || n.name == "polyline" || n.name == "polygon" {
		for i, name := range []string{"marker-start", "marker-mid", "marker-end"} {
			if s.markers[i] {
				return n.fail("turn the markers into paths in the drawing program", "its %s can't be drawn", name)
			}
		}
	}
	area := layer{where: n.where(), evenOdd: s.evenOdd, paper: fill == paper}
	width := s.width * s.m.growth()
	if set["vector-effect"] == "non-scaling-stroke" {
		width = s.width * px
	}
	var lines []Contour
	for i := range traces {
		p := traces[i].path(s.m)
		if w.segments += len(p.Segments); w.segments > MaxSegments {
			return n.fail("simplify the drawing", "the drawing has more than %d lines and curves", MaxSegments)
		}
		if len(p.Segments) == 0 {
			continue
		}
		if b := p.Bounds(); !(max(-b.Min.X, -b.Min.Y, b.Max.X, b.Max.Y) <= MaxSize) {
			return n.fail("check its place and its transform", "it lies more than %d m from the page", MaxSize/1000)
		}
		if stroke == ink {
			for _, line := range clipLine(p, s.clips) {
				lines = append(lines, Contour{Path: line, Where: n.where(), Width: width})
			}
		}
		if fill != nothing && n.name != "line" {
			area.paths = append(area.paths, closed(p))
		}
	}
	if area.clip(s.clips) {
		w.layers = append(w.layers, area)
	}
	for _, line := range lines { // a shape's line lies on its fill
		line.below = len(w.layers)
		w.lines = append(w.lines, line)
	}
	return nil
}

// closed is a path closed by a line, as it is filled.
func closed(p geom.Path) geom.Path {
	b := geom.NewPath(p.Start)
	for _, s := range p.Segments {
		b.Add(s)
	}
	return b.Close()
}
