package art

import (
	"math"
	"strings"

	"foredge/layout/geom"
	"foredge/layout/lettering"
)

// A mode is what a walker is after.
type mode uint8

const (
	drawing   mode = iota // areas and lines
	shading               // areas alone, of strokes too: what a mask holds
	clipping              // what a clip-path holds, whatever it is painted with
	measuring             // the box of what is there, without its strokes
)

// A budget is what all that is drawn of a file has come to.
type budget struct {
	count, segments, dashes int
	regions                 map[regionKey]*region
	work                    *effort
	found                   map[string]bool    // names of the options of which the drawing draws something
	fades                   int                // elements that are not wholly opaque
	changes                 []lettering.Change // what isn't lettered in the font that was asked for
}

// A walker draws a document.
type walker struct {
	doc     *document
	mode    mode
	options *Options
	spent   *budget
	page    geom.Point
	layers  []layer
	lines   []Contour
	notes   []Note
	box     geom.Box // of what was measured
	using   []*node  // the uses, clips, masks and markers that are followed
	// drawn counts the shapes drawn.
	drawn *int
	// white are lines that take away, to see whether they do.
	white []whiteLine
	whole *region // the page, nil where its size isn't stated
}

func newWalker(doc *document, o *Options) *walker {
	return &walker{doc: doc, options: o, spent: &budget{regions: map[regionKey]*region{}, work: newEffort(), found: map[string]bool{}}, drawn: new(int), box: geom.EmptyBox()}
}

// sub is a walker for what an element refers to, in the same file.
func (w *walker) sub(m mode) *walker {
	return &walker{doc: w.doc, mode: m, options: w.options, spent: w.spent, using: w.using[:len(w.using):len(w.using)],
		drawn: w.drawn, box: geom.EmptyBox()}
}

// initial is what holds where nothing is stated.
func initial(m affine) state {
	return state{m: m, fill: painted(black()), color: painted(black()), width: 1, faded: 1, fillFaded: 1, strokeFaded: 1,
		pen: pen{miter: 4}, letter: letter{size: 16, root: 16}}
}

func (w *walker) root() *Error {
	if err := w.doc.readStyles(w.doc.root); err != nil {
		return err
	}
	n := w.doc.root
	w.doc.findMoves(n)
	s := initial(scale(px, px))
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
		w.whole = plainRegion(geom.Paths(geom.Rect{W: w.page.X, H: w.page.Y})[0])
		s.clips = []*region{w.whole}
	}
	s.page = s.view
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
	bare := initial(identity())
	v, err := bare.length(n, name, text, across)
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

// enter counts an element and takes what it sets into its state. seen is false
// where nothing of it is.
func (w *walker) enter(n *node, s *state) (set map[string]string, seen bool, err *Error) {
	if w.spent.count++; w.spent.count > MaxElements {
		return nil, false, n.fail("simplify the drawing, or use fewer copies", "the drawing comes to more than %d elements", MaxElements)
	}
	if s.depth++; s.depth > MaxDepth {
		return nil, false, n.fail("ungroup some of it", "elements are nested more than %d deep", MaxDepth)
	}
	if holds, err := n.conditions(); err != nil || !holds {
		return nil, false, err
	}
	set, vars, err := w.doc.cascade(n, s.vars)
	if err != nil {
		return nil, false, err
	}
	s.vars = vars
	if err := w.doc.animated(n, set); err != nil {
		return nil, false, err
	}
	if set["display"] == "none" {
		return nil, false, nil
	}
	if o, ok := opacity(set["opacity"]); ok && o <= 0 {
		return nil, false, nil
	}
	if err := w.style(n, s, set); err != nil {
		return nil, false, err
	}
	if leftOut, err := w.tag(n, s); err != nil || leftOut {
		return nil, false, err
	}
	if n != w.doc.root {
		if err := w.transform(n, s, set); err != nil {
			return nil, false, err
		}
		at, err := shift(n, s, set)
		if err != nil {
			return nil, false, err
		}
		s.m = s.m.times(translate(at.X, at.Y))
	}
	return set, true, w.restrict(n, s, set)
}

// element draws an element and what is in it.
func (w *walker) element(n *node, s state) *Error {
	if skipped(n.name) {
		return nil
	}
	set, seen, err := w.enter(n, &s)
	if err != nil || !seen {
		return err
	}
	switch n.name {
	case "g", "a":
		return w.children(n, s)
	case "svg":
		if n == w.doc.root {
			return w.children(n, s)
		}
		return w.viewport(n, s, set, n)
	case "switch":
		return w.choice(n, s)
	case "use":
		return w.use(n, s)
	case "text":
		return w.text(n, s, set)
	}
	if n.isShape() {
		return w.draw(n, s, set)
	}
	return w.other(n, s)
}

// isShape says whether an element is a path or what stands for one.
func (n *node) isShape() bool {
	switch n.name {
	case "path", "rect", "circle", "ellipse", "line", "polyline", "polygon":
		return true
	}
	return false
}

// draws says whether an element shows something though nothing stands in it.
func (n *node) draws() bool { return n.isShape() || n.name == "use" || n.name == "image" }

// other is for elements that can't be drawn: an error where they would show something.
func (w *walker) other(n *node, s state) *Error {
	if s.hidden {
		return nil
	}
	switch n.name {
	case "image":
		size := func(name string) bool { v, ok := parseLength(n.attrs[name]); return !ok || v.v > 0 }
		if n.attrs["href"] == "" || !size("width") || !size("height") {
			return nil
		}
		return n.fail("engrave the picture's own PNG or JPEG file, or trace it into paths", "pictures embedded in drawings can't be drawn")
	case "script":
		if noCode(n.text) && n.attrs["href"] == "" {
			return nil
		}
		return n.fail("remove it and save what it draws", "scripts are not run")
	case "foreignObject", "flowRoot":
		if n.blank() {
			return nil
		}
	}
	return n.fail("turn it into paths in the drawing program", "this can't be drawn")
}

// noCode says whether a script is empty but for its comments.
func noCode(s string) bool {
	for {
		if s = strings.TrimSpace(s); s == "" {
			return true
		}
		end := strings.Index(s, "*/")
		if !strings.HasPrefix(s, "/*") || end < 0 {
			return false
		}
		s = s[end+2:]
	}
}

// blank says whether nothing stands in an element but blanks: no text and no shape.
func (n *node) blank() bool {
	if n.foreign || strings.TrimSpace(n.text) != "" {
		return false
	}
	for _, c := range n.children {
		if c.name == "flowRegion" || c.name != textName && skipped(c.name) {
			continue
		}
		if c.draws() || !c.blank() {
			return false
		}
	}
	return true
}

// skipped are elements that draw nothing by themselves.
func skipped(name string) bool {
	switch name {
	case textName, "animate", "animateTransform", "animateMotion", "animateColor", "set", "mpath", "discard",
		"defs", "symbol", "title", "desc", "metadata", "style", "clipPath", "mask", "filter", "marker", "pattern",
		"linearGradient", "radialGradient", "meshgradient", "hatch", "solidcolor", "solidColor", "view", "cursor", "font", "font-face", "color-profile":
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

// shift is how far a use moves what it shows, its clip and its mask: as a transform
// behind its own (SVG 1.1, 5.6).
func shift(n *node, s *state, set map[string]string) (geom.Point, *Error) {
	if n.name != "use" {
		return geom.Point{}, nil
	}
	l := lengths{n: n, s: s, set: set}
	return geom.Pt(l.get("x", across), l.get("y", down)), l.err
}

// use draws a copy of another element of the file, in the place where it is moved.
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
	if target.name != "symbol" && target.name != "svg" {
		return w.element(target, s)
	}
	inner, seen, err := w.enter(target, &s)
	if err != nil || !seen {
		return err
	}
	return w.viewport(target, s, inner, n)
}

// viewport draws what is in a nested svg or a symbol. The size is that of the
// use, where that has one.
func (w *walker) viewport(n *node, s state, set map[string]string, sized *node) *Error {
	size := func(name string, of way) (float64, *Error) {
		l := lengths{n: sized, s: &s}
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
		l := lengths{n: n, s: &s, set: set}
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
		s.clips = s.within(plainRegion(t.path(s.m)))
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
