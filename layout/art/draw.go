package art

import (
	"cmp"
	"math"
	"slices"

	"foredge/layout/geom"
)

// within is the regions of a state and one more.
func (s *state) within(r *region) []*region {
	return append(s.clips[:len(s.clips):len(s.clips)], r)
}

// draw takes in one shape.
func (w *walker) draw(n *node, s state, set map[string]string) *Error {
	traces, err := w.shape(n, &s, set)
	if err != nil {
		return err
	}
	return w.paint(n, &s, set, traces)
}

// A painter paints one element.
type painter struct {
	*walker
	n       *node
	s       *state
	set     map[string]string
	traces  []trace
	element int
}

// paint fills and strokes what an element shows.
func (w *walker) paint(n *node, s *state, set map[string]string, traces []trace) *Error {
	if w.mode == measuring {
		for i := range traces {
			w.box = w.box.Union(traces[i].path(s.m).Bounds())
		}
		return nil
	}
	if s.hidden || s.m.flat() {
		return nil
	}
	*w.drawn++
	p := &painter{w, n, s, set, traces, *w.drawn}
	if err := p.inBounds(); err != nil {
		return err
	}
	if w.mode == clipping {
		if err := p.fill(paint{kind: ink, color: black()}, s.clipEvenOdd, 0); err != nil {
			return err
		}
		if w.spent.work.over() {
			return n.hiding()
		}
		return nil
	}
	fill, stroke, err := p.paints()
	if err != nil {
		return err
	}
	fill, stroke = w.named(fill), w.named(stroke)
	if s.blended != "" && w.mode == drawing && (fill.is(paper) || stroke.is(paper)) {
		return n.fail("apply it in the drawing program, so that plain paths are left", "what is white in it is mixed with what lies below it (%s), which can't be drawn", shorten(s.blended))
	}
	fillOp, strokeOp := w.operation(s, fill), w.operation(s, stroke)
	if fillOp == LeaveOut {
		fill = paint{}
	}
	if strokeOp == LeaveOut {
		stroke = paint{}
	}
	// What has no operation of its own is one with its fill whatever becomes of lines.
	alike := fillOp == strokeOp
	fillOp = cmp.Or(fillOp, w.options.Fill)
	alike = alike || fillOp == cmp.Or(strokeOp, w.options.Line)
	if s.strokeFirst && stroke.is(paper) {
		if err := p.stroke(stroke, fillOp); err != nil {
			return err
		}
		stroke = paint{}
	}
	if !fill.is(nothing) {
		if err := p.fill(fill, s.evenOdd, fillOp); err != nil {
			return err
		}
	}
	switch {
	case stroke.is(nothing):
	case stroke.is(paper), w.mode == shading:
		err = p.stroke(stroke, fillOp)
	default:
		if stroke.is(ink) && fill.is(ink) && alike {
			err = p.outlined(stroke, fillOp)
		}
		if err == nil && len(p.traces) > 0 {
			err = p.lines(stroke, strokeOp)
		}
	}
	if err != nil {
		return err
	}
	if w.spent.work.over() {
		return n.hiding()
	}
	return w.markersOf(n, s, traces, [2]paint{fill, stroke})
}

// inBounds counts what is drawn, and sees that it isn't far off.
func (p *painter) inBounds() *Error {
	for i := range p.traces {
		if p.spent.segments += p.traces[i].lines(); p.spent.segments > MaxSegments {
			return p.n.fail("simplify the drawing", "the drawing has more than %d lines and curves", MaxSegments)
		}
		if len(p.traces[i].steps) == 0 {
			continue
		}
		if b := p.traces[i].path(p.s.m).Bounds(); !(max(-b.Min.X, -b.Min.Y, b.Max.X, b.Max.Y) <= MaxSize) {
			return p.n.fail("check its place and its transform", "it lies more than %d m from the page", MaxSize/1000)
		}
	}
	return nil
}

// paints gives what the element is filled and stroked with, gradients looked up.
func (p *painter) paints() (fill, stroke paint, err *Error) {
	s := p.s
	fill, stroke = s.fill, s.stroke
	if !(s.width > 0) {
		stroke = paint{}
	}
	if p.n.name == "line" {
		fill = paint{}
	}
	if fill, err = p.served(fill); err != nil {
		return
	}
	if stroke, err = p.served(stroke); err != nil {
		return
	}
	return faded(fill, s.faded*s.fillFaded), faded(stroke, s.faded*s.strokeFaded), nil
}

// faded is a paint at a share of its opacity; nothing where it can't be seen.
func faded(p paint, share float64) paint {
	if p.color = p.color.faded(share); p.color.a <= 0 {
		return paint{}
	}
	return p
}

// outlined puts what the pen covers round what is filled on top, and leaves to p what
// has no area to be filled.
func (p *painter) outlined(with paint, op int) *Error {
	all := p.traces
	round := *p
	round.traces, p.traces = nil, nil
	for _, t := range all {
		if len(t.steps) > 0 && !thin(closed(t.path(p.s.m))) {
			round.traces = append(round.traces, t)
		} else {
			p.traces = append(p.traces, t)
		}
	}
	if len(round.traces) == 0 {
		return nil
	}
	return round.stroke(with, op)
}

func (p *painter) fill(with paint, evenOdd bool, op int) *Error {
	var paths []geom.Path
	for i := range p.traces {
		if path := p.traces[i].path(p.s.m); len(path.Segments) > 0 {
			paths = append(paths, closed(path))
		}
	}
	p.add(paths, with, evenOdd, op)
	return nil
}

// add puts an area on top of what there is.
func (p *painter) add(paths []geom.Path, with paint, evenOdd bool, op int) {
	l := layer{paths: paths, evenOdd: evenOdd, paper: with.is(paper), color: with.color, element: p.element, where: p.n.where(), op: op, fades: p.s.fades}
	if !l.paper {
		drawn := slices.DeleteFunc(slices.Clone(paths), func(p geom.Path) bool { return thin(p) })
		p.beyond(p.n, geom.Outline(drawn).Bounds(), p.s.clips)
	}
	if l.clip(p.s.clips, p.spent.work) {
		p.layers = append(p.layers, l)
	}
}

// stroke puts what the pen covers on top.
func (p *painter) stroke(with paint, op int) *Error {
	var paths []geom.Path
	before := len(p.layers)
	for i := range p.traces {
		dashed, width, back, err := p.dashed(&p.traces[i])
		if err != nil {
			return err
		}
		for _, path := range dashed {
			for _, o := range p.s.pen.outlines(path, width) {
				if back != nil {
					t := traced(o)
					o = t.path(*back)
				}
				if p.spent.segments += len(o.Segments); p.spent.segments > 5*MaxSegments {
					return p.n.fail("simplify the drawing", "what its strokes cover has too many lines and curves")
				}
				paths = append(paths, o)
			}
		}
	}
	p.add(paths, with, false, op)
	if with.is(paper) && p.mode == drawing {
		p.white = append(p.white, whiteLine{p.n.where(), before, len(p.layers)})
	}
	return nil
}

// lines puts the middle of the stroke on top. The operation is 0 where it has none of its
// own.
func (p *painter) lines(with paint, op int) *Error {
	width := p.penWidth()
	var lines []Contour
	var dots []geom.Path
	for i := range p.traces {
		t := &p.traces[i]
		paths := []geom.Path{t.path(p.s.m)}
		if len(p.s.dashes) > 0 || len(paths[0].Segments) == 0 {
			dashed, w, back, err := p.dashed(t)
			if err != nil {
				return err
			}
			paths = nil
			for _, d := range dashed {
				if len(d.Segments) == 0 {
					for _, o := range p.s.pen.outlines(d, w) { // a dot has no middle to run along
						dot := traced(o)
						dots = append(dots, backed(dot, back))
					}
					continue
				}
				whole := traced(d)
				paths = append(paths, backed(whole, back))
			}
		}
		for _, path := range paths {
			if len(path.Segments) == 0 {
				continue
			}
			path.Closed = path.Closed && !thin(path) && !retraced(path) // what runs there and back holds nothing
			p.beyond(p.n, path.Bounds(), p.s.clips)
			for _, line := range clipLine(path, p.s.clips, p.spent.work) {
				if p.spent.segments += len(line.Segments); p.spent.segments > 5*MaxSegments {
					return p.n.fail("simplify the drawing", "its strokes come to too many lines and curves")
				}
				lines = append(lines, Contour{Path: line, Where: p.n.where(), Width: width, Op: cmp.Or(op, p.options.Line), fades: p.s.fades})
			}
		}
	}
	if len(dots) > 0 {
		p.add(dots, with, false, cmp.Or(op, p.options.Fill))
	}
	for _, line := range lines { // a shape's line lies on its fill
		line.below = len(p.layers)
		p.walker.lines = append(p.walker.lines, line)
	}
	return nil
}

func backed(t trace, back *affine) geom.Path {
	if back == nil {
		return t.path(identity())
	}
	return t.path(*back)
}

// penWidth is how wide the stroke is in mm, on the whole.
func (p *painter) penWidth() float64 {
	if p.set["vector-effect"] == "non-scaling-stroke" {
		return p.s.width * px
	}
	return p.s.width * p.s.m.growth()
}

// dashed gives the dashes of a trace as lines and arcs, all of it where it has
// none, and how wide the pen is. They are in mm, or, if a transform stretches the
// stroke, in the element's own coordinates, from which back leads to mm.
func (p *painter) dashed(t *trace) (paths []geom.Path, width float64, back *affine, err *Error) {
	m, k := p.s.m, p.s.m.growth()
	width = p.s.width
	switch {
	case p.set["vector-effect"] == "non-scaling-stroke":
		k = px
	case !m.even():
		back, k, m = &p.s.m, 1, identity()
	}
	width *= k
	if w := p.penWidth(); !(w <= MaxSize) {
		return nil, 0, nil, p.n.fail("check its stroke-width and its transform", "its stroke is wider than %d m", MaxSize/1000)
	}
	tol := curveTol
	if back != nil {
		tol /= max(back.growth(), 1e-9)
	}
	path := t.path(m).Arcs(tol)
	if len(path.Segments) == 0 {
		if len(t.steps) == 0 && !t.closed {
			return nil, width, back, nil // it only moves the pen
		}
		return []geom.Path{path}, width, back, nil
	}
	whole := geom.Length(path) / k
	long := 0.0
	if v, ok := parseLength(p.n.attrs["pathLength"]); ok && v.unit == "" {
		long = v.v
		if len(p.traces) > 1 {
			whole = 0 // of all its lines together
			for i := range p.traces {
				whole += geom.Length(p.traces[i].path(m)) / k
			}
		}
	}
	d, err := p.s.dashing(p.n, whole, long)
	if err != nil {
		return nil, 0, nil, err
	}
	if d == nil {
		return []geom.Path{path}, width, back, nil
	}
	d.scale(k)
	paths, ok := d.broken(path, MaxSegments)
	if p.spent.dashes += len(paths); !ok || p.spent.dashes > MaxSegments {
		return nil, 0, nil, p.n.fail("make its dashes longer", "its dashes are too many: a drawing may have %d", MaxSegments)
	}
	return paths, width, back, nil
}

// even says whether a map keeps the form of what it maps: circles stay circles.
func (m affine) even() bool {
	u, v := geom.Pt(m.a, m.b), geom.Pt(m.c, m.d)
	r := u.Norm()
	return math.Abs(u.Dot(v)) <= 1e-9*r*r && math.Abs(v.Norm()-r) <= 1e-9*r
}

// traced is a path as what an element draws.
func traced(p geom.Path) trace {
	t := trace{start: p.Start, closed: p.Closed}
	for x := range p.Pieces() {
		switch x.Kind {
		case geom.LineTo:
			t.line(x.End)
		case geom.CubicTo:
			t.cubic(x.C1, x.C2, x.End)
		case geom.ArcTo:
			a := x.Arc()
			t.steps = append(t.steps, step{kind: arcStep, end: x.End, center: a.Center, u: geom.Pt(a.R, 0), v: geom.Pt(0, a.R), t0: a.Start, sweep: a.Sweep})
		}
	}
	return t
}

// closed is a path closed by a line, as it is filled.
func closed(p geom.Path) geom.Path {
	b := geom.NewPath(p.Start)
	for _, s := range p.Segments {
		b.Add(s)
	}
	return b.Close()
}

// served looks up a gradient: one of plain colours is one ink.
func (p *painter) served(with paint) (paint, *Error) {
	if !with.is(server) {
		return with, nil
	}
	id, local := cutHash(with.ref)
	if !local {
		return paint{}, p.outside(with.ref)
	}
	g := p.doc.ids[id]
	if g == nil {
		if with.or != nil {
			return *with.or, nil
		}
		return paint{}, nil // as if it were none (SVG 2, 13.2)
	}
	if g.name != "linearGradient" && g.name != "radialGradient" {
		return paint{}, p.n.fail("give it a plain colour, or turn the pattern into paths in the drawing program", "it is painted with a pattern, which can't be drawn")
	}
	colors, byBox, err := p.stops(g)
	if err != nil {
		return paint{}, err
	}
	if byBox && p.boxIsFlat() {
		if with.or != nil {
			return *with.or, nil
		}
		return paint{}, nil // a box of no width or height has no gradient (SVG 2, 14.2)
	}
	return p.gradient(colors)
}

// outside refuses a paint that stands in another file.
func (p *painter) outside(ref string) *Error {
	return p.n.fail("give it a plain colour", "it is painted with something from outside the file, which is not read: %q", shorten(ref))
}

// gradient is what a gradient of some colours comes to in one ink.
func (p *painter) gradient(colors []color) (paint, *Error) {
	if len(colors) == 0 {
		return paint{}, nil
	}
	if p.mode == shading {
		for _, c := range colors {
			if c.differs(colors[0]) || c.a != colors[0].a {
				return paint{}, p.n.fail("cut it by a path with a plain edge", "it fades from light to dark in a mask, which can't be drawn")
			}
		}
		return painted(colors[0]), nil
	}
	kinds := map[paintKind]bool{}
	mean := color{}
	solid := true
	for _, c := range colors {
		kinds[painted(c).kind] = true
		solid = solid && !c.differs(colors[0])
		mean.r, mean.g, mean.b, mean.a = mean.r+c.r, mean.g+c.g, mean.b+c.b, mean.a+c.a
	}
	if len(kinds) > 1 {
		return paint{}, p.n.fail("give it a plain colour", "it fades to white or to nothing, which can't be drawn")
	}
	k := 1 / float64(len(colors))
	out := painted(color{mean.r * k, mean.g * k, mean.b * k, mean.a * k})
	if !solid && out.is(ink) {
		p.notes = append(p.notes, Note{Kind: Solid, Where: p.n.where()})
	}
	return out, nil
}

// stops are the colours of a gradient, or of the one that it refers to.
func (p *painter) stops(g *node) (colors []color, byBox bool, err *Error) {
	byBox = true
	units := ""
	for followed := []*node{}; g != nil && !slices.Contains(followed, g); {
		if len(followed) >= MaxDepth {
			return nil, false, p.n.fail("give it a plain colour", "its gradient takes its colours from another one, and so on, more than %d deep", MaxDepth)
		}
		if units == "" {
			units = g.attrs["gradientUnits"]
		}
		for _, c := range g.children {
			if c.name != "stop" {
				continue
			}
			set, _, err := p.doc.cascade(c, p.s.vars)
			if err != nil {
				return nil, false, err
			}
			stop := painted(black())
			if v := set["stop-color"]; v != "" {
				var ok bool
				if stop, ok = parsePaint(v, p.s.color); !ok {
					return nil, false, c.fail("mend or remove it", "its stop-color can't be read: %q", shorten(v))
				}
			}
			o := 1.0
			if v := set["stop-opacity"]; v != "" {
				o, _ = opacity(v)
			}
			colors = append(colors, stop.color.faded(o))
		}
		if len(colors) > 0 {
			break
		}
		id, local := cutHash(g.attrs["href"])
		if id != "" && !local {
			return nil, false, p.outside(id)
		}
		followed, g = append(followed, g), p.doc.ids[id]
	}
	return colors, units != "userSpaceOnUse", nil
}

func (p *painter) boxIsFlat() bool {
	b := geom.EmptyBox()
	for i := range p.traces {
		b = b.Union(p.traces[i].path(identity()).Bounds())
	}
	return !(b.Width() > 0 && b.Height() > 0)
}

// A whiteLine is a line that takes away, with the layers that it is.
type whiteLine struct {
	where      Where
	from, upTo int
}

// vanished are the white lines that lie on no ink and so leave nothing.
func (w *walker) vanished() []Note {
	var out []Note
	boxes := make([]geom.Box, len(w.layers))
	for i, l := range w.layers {
		boxes[i] = geom.Outline(l.paths).Bounds()
	}
	lines := make([]geom.Box, len(w.lines))
	for i, l := range w.lines {
		lines[i] = l.Bounds()
	}
	layers, marks := geom.NewIndex(boxes), geom.NewIndex(lines)
	edges := make([]*edged, len(w.layers))
	edge := func(i int) *edged {
		if edges[i] == nil {
			edges[i] = &edged{layer: w.layers[i], edge: geom.NewBoundary(geom.Outline(w.layers[i].paths))}
		}
		return edges[i]
	}
	work, steps := 0, newEffort()
	for _, l := range w.white {
		if l.from == l.upTo {
			continue // nothing of it is on the page
		}
		box, white := boxes[l.from], edge(l.from)
		meets := slices.ContainsFunc(layers.Near(box, 0), func(i int) bool {
			if i >= l.from || w.layers[i].paper {
				return false
			}
			work += len(white.edge.Pieces)
			return work > maxPairs || white.meets(edge(i), steps)
		}) || slices.ContainsFunc(marks.Near(box, 0), func(i int) bool {
			if w.lines[i].below > l.from {
				return false
			}
			work += len(white.edge.Pieces)
			return work > maxPairs || white.edge.Meets(geom.NewBoundary(w.lines[i].Path)) || white.covers(w.lines[i].Start, steps)
		})
		if !meets {
			out = append(out, Note{Kind: Vanished, Where: l.where})
		}
	}
	return out
}

// meets says whether two layers have a place in common, whatever they are clipped by.
func (l *edged) meets(o *edged, work *effort) bool {
	return l.edge.Meets(o.edge) || slices.ContainsFunc(o.paths, func(p geom.Path) bool { return l.covers(p.Start, work) }) ||
		slices.ContainsFunc(l.paths, func(p geom.Path) bool { return o.covers(p.Start, work) })
}
