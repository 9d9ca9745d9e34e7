package art

import (
	"strings"
	"unicode"

	"foredge/layout/geom"
)

// A letter is how text is set.
type letter struct {
	size    float64 // of the em, in user units
	face    Face
	anchor  string  // start, middle or end
	spacing float64 // between letters, user units
	words   float64 // added between words
	refused string  // a property that can't be set, with its value
}

// resize takes a font's size.
func (l *letter) resize(v string) bool {
	if k, ok := map[string]float64{"xx-small": 9, "x-small": 10, "small": 13, "medium": 16, "large": 18, "x-large": 24, "xx-large": 32, "initial": 16}[v]; ok {
		l.size = k
		return true
	}
	x, ok := parseLength(v)
	if !ok || x.v < 0 {
		return false
	}
	switch x.unit {
	case "%":
		l.size *= x.v / 100
	case "em":
		l.size *= x.v
	case "ex":
		l.size *= x.v / 2
	case "rem":
		l.size = 16 * x.v
	default:
		k, ok := pixels(x.unit)
		l.size = x.v * k
		return ok
	}
	return true
}

// style takes what styles say of text.
func (l *letter) style(set map[string]string, stated func(name string, take func(v string) bool)) {
	stated("font", func(v string) bool { return l.short(v) })
	stated("font-family", func(v string) bool { l.face.Family = family(v); return true })
	stated("font-weight", func(v string) bool {
		switch v {
		case "bold", "bolder", "600", "700", "800", "900":
			l.face.Bold = true
		case "normal", "lighter", "100", "200", "300", "400", "500", "initial":
			l.face.Bold = false
		default:
			x, ok := parseLength(v)
			l.face.Bold = ok && x.v >= 600
			return ok
		}
		return true
	})
	stated("font-style", func(v string) bool {
		l.face.Italic = v == "italic" || strings.HasPrefix(v, "oblique")
		return true
	})
	stated("text-anchor", func(v string) bool { l.anchor = v; return true })
	stated("letter-spacing", func(v string) bool { return l.space(&l.spacing, v) })
	stated("word-spacing", func(v string) bool { return l.space(&l.words, v) })
	for name, plain := range map[string]string{"text-decoration": "none", "writing-mode": "lr lr-tb horizontal-tb", "baseline-shift": "0 0px 0% baseline",
		"dominant-baseline": "auto alphabetic", "alignment-baseline": "auto alphabetic baseline", "text-transform": "none", "direction": "ltr",
		"unicode-bidi": "normal"} {
		v, ok := set[name]
		if !ok {
			continue
		}
		// Solid lines and colours of what isn't drawn may stand there.
		if first, _, _ := strings.Cut(v, " "); !strings.Contains(" "+plain+" initial inherit unset ", " "+first+" ") {
			l.refused = name + ": " + v
		}
	}
}

func (l *letter) space(to *float64, v string) bool {
	*to = 0
	if v == "normal" || v == "initial" {
		return true
	}
	x, ok := parseLength(v)
	if !ok {
		return false
	}
	switch x.unit {
	case "em":
		*to = x.v * l.size
		return true
	case "%":
		*to = x.v / 100 * l.size
		return true
	}
	k, ok := pixels(x.unit)
	*to = x.v * k
	return ok
}

// family is the first family that a style names.
func family(v string) string {
	first, _, _ := strings.Cut(v, ",")
	return strings.Trim(strings.TrimSpace(first), `"'`)
}

// short reads the short form: italic bold 12px/1.5 Tern, sans-serif.
func (l *letter) short(v string) bool {
	l.face.Bold, l.face.Italic = false, false
	words := strings.Fields(v)
	for i, w := range words {
		switch w {
		case "normal", "small-caps":
		case "italic", "oblique":
			l.face.Italic = true
		case "bold", "bolder", "600", "700", "800", "900":
			l.face.Bold = true
		case "100", "200", "300", "400", "500", "lighter":
		default:
			size, _, _ := strings.Cut(w, "/")
			if i+1 < len(words) {
				l.face.Family = family(strings.Join(words[i+1:], " "))
			}
			return l.resize(size)
		}
	}
	return false
}

// A run is text that is set as one, from where the pen is.
type run struct {
	n    *node
	s    state
	set  map[string]string
	text string
	// x and y put the pen there and begin a chunk, dx and dy move it.
	x, y, dx, dy float64
	hasX, hasY   bool
}

// A typesetter gathers the runs of a text element.
type typesetter struct {
	w     *walker
	runs  []run
	blank bool // the last character was a blank, or nothing stands before it
	keep  bool // blanks stay
}

// text draws a text by its font's outlines; where it can't, only a blank text
// draws nothing.
func (w *walker) text(n *node, s state, set map[string]string) *Error {
	if n.blank() || s.letter.size == 0 {
		return nil
	}
	t := typesetter{w: w, blank: true, keep: n.attrs["space"] == "preserve"}
	if err := t.gather(n, s, set); err != nil {
		return err
	}
	t.trim()
	shown := false
	for _, r := range t.runs {
		shown = shown || strings.TrimSpace(r.text) != "" && !r.s.hidden && !(r.s.fill.is(nothing) && r.s.stroke.is(nothing))
	}
	if !shown && w.mode != clipping {
		return nil
	}
	if w.options.Font == nil {
		return n.fail("turn it into paths in the drawing program, letter it in the design, or say in the braces with which font: font = \"letters.ttf\"",
			"text can't be drawn from artwork without its font")
	}
	return t.place()
}

// gather walks the element's own text and that of the spans in it.
func (t *typesetter) gather(n *node, s state, set map[string]string) *Error {
	for _, name := range []string{"textLength", "rotate", "lengthAdjust", "path"} {
		if v, ok := n.attrs[name]; ok && name != "lengthAdjust" && strings.Trim(v, "0 ") != "" {
			return n.fail("turn it into paths in the drawing program", "a text with %s can't be drawn", name)
		}
	}
	place, err := readPlaces(n, &s)
	if err != nil {
		return err
	}
	for _, c := range n.children {
		switch c.name {
		case textName:
			t.say(n, s, set, c.text, place)
		case "tspan", "a":
			inner := s
			cs, seen, err := t.w.enter(c, &inner)
			if err != nil {
				return err
			}
			if !seen {
				continue
			}
			if err := t.gather(c, inner, cs); err != nil {
				return err
			}
		default:
			if !skipped(c.name) && !c.blank() {
				return c.fail("turn it into paths in the drawing program", "this can't be drawn as text")
			}
		}
	}
	return nil
}

// places are the lists of places that an element states, used up letter by letter.
type places struct{ x, y, dx, dy []float64 }

func readPlaces(n *node, s *state) (*places, *Error) {
	p := &places{}
	for name, to := range map[string]*[]float64{"x": &p.x, "y": &p.y, "dx": &p.dx, "dy": &p.dy} {
		for _, part := range strings.FieldsFunc(n.attrs[name], func(c rune) bool { return c == ',' || unicode.IsSpace(c) }) {
			of := across
			if strings.HasSuffix(name, "y") {
				of = down
			}
			v, err := s.length(n, name, part, of)
			if err != nil {
				return nil, err
			}
			*to = append(*to, v)
		}
	}
	return p, nil
}

// next takes the first place of each list.
func (p *places) next(r *run) {
	take := func(list *[]float64) (float64, bool) {
		if len(*list) == 0 {
			return 0, false
		}
		v := (*list)[0]
		*list = (*list)[1:]
		return v, true
	}
	r.x, r.hasX = take(&p.x)
	r.y, r.hasY = take(&p.y)
	r.dx, _ = take(&p.dx)
	r.dy, _ = take(&p.dy)
}

func (p *places) empty() bool { return len(p.x)+len(p.y)+len(p.dx)+len(p.dy) == 0 }

// say takes text as runs: one for each letter that has a place of its own or is
// spaced, one for the rest.
func (t *typesetter) say(n *node, s state, set map[string]string, text string, place *places) {
	var kept []rune
	for _, c := range text {
		if unicode.IsControl(c) && !unicode.IsSpace(c) {
			continue
		}
		if c == '\n' || c == '\r' || c == '\t' {
			c = ' '
		}
		if c == ' ' && t.blank && !t.keep {
			continue
		}
		t.blank = c == ' '
		kept = append(kept, c)
	}
	for len(kept) > 0 {
		k := len(kept)
		if !place.empty() && (len(place.x) > 1 || len(place.y) > 1 || len(place.dx) > 1 || len(place.dy) > 1) || s.letter.spacing != 0 || s.letter.words != 0 {
			k = 1
			for k < len(kept) && unicode.Is(unicode.Mn, kept[k]) {
				k++
			}
		}
		r := run{n: n, s: s, set: set, text: string(kept[:k])}
		place.next(&r)
		t.runs = append(t.runs, r)
		kept = kept[k:]
	}
}

// trim takes the blank from the end of a text.
func (t *typesetter) trim() {
	if t.keep {
		return
	}
	for i := len(t.runs) - 1; i >= 0; i-- {
		r := &t.runs[i]
		if r.text = strings.TrimRight(r.text, " "); r.text != "" {
			return
		}
	}
}

// place sets the runs, chunk by chunk, each aligned at its anchor.
func (t *typesetter) place() *Error {
	pen := geom.Point{}
	for len(t.runs) > 0 {
		n := 1
		for n < len(t.runs) && !t.runs[n].hasX && !t.runs[n].hasY {
			n++
		}
		end, err := t.chunk(t.runs[:n], pen)
		if err != nil {
			return err
		}
		pen = end
		t.runs = t.runs[n:]
	}
	return nil
}

// chunk sets runs that follow one another from one place.
func (t *typesetter) chunk(runs []run, pen geom.Point) (geom.Point, *Error) {
	if runs[0].hasX {
		pen.X = runs[0].x
	}
	if runs[0].hasY {
		pen.Y = runs[0].y
	}
	type set struct {
		traces []trace
		at     geom.Point
	}
	var all []set
	start := pen
	for _, r := range runs {
		pen = pen.Add(geom.Pt(r.dx, r.dy))
		traces, advance, err := t.w.letters(&r)
		if err != nil {
			return pen, err
		}
		all = append(all, set{traces, pen})
		pen.X += advance
	}
	share := map[string]float64{"middle": 0.5, "end": 1}[runs[0].s.letter.anchor]
	back := geom.Pt(-(pen.X-start.X)*share, 0)
	for i, r := range runs {
		s := r.s
		at := all[i].at.Add(back)
		s.m = s.m.times(translate(at.X, at.Y))
		s.evenOdd, s.clipEvenOdd = false, false
		s.markers = [3]string{}
		if err := t.w.paint(r.n, &s, r.set, all[i].traces); err != nil {
			return pen, err
		}
	}
	return pen.Add(back), nil
}

// letters are the outlines of a run at the pen, in user units, and how far it
// moves on.
func (w *walker) letters(r *run) ([]trace, float64, *Error) {
	l := r.s.letter
	if l.refused != "" {
		return nil, 0, r.n.fail("turn it into paths in the drawing program", "a text with %s can't be drawn", shorten(l.refused))
	}
	font, err := w.options.Font(l.face)
	if err != nil {
		return nil, 0, r.n.fail("turn it into paths in the drawing program, or name another font", "%s", err)
	}
	if font.Single() {
		return nil, 0, r.n.fail("name a font whose letters have outlines", "letters of the font %s are single lines, which fill nothing", font.Name())
	}
	// Set in mm, where tolerances are what they should be.
	k := r.s.m.growth()
	if !(k > 1e-9) || !(l.size*k < MaxSize) || r.text == "" {
		return nil, 0, nil
	}
	line, err := font.Text(r.text, l.size*k*font.CapShare())
	if err != nil {
		return nil, 0, r.n.fail("turn it into paths in the drawing program, or name another font", "%s", err)
	}
	var out []trace
	back := scale(1/k, 1/k)
	for _, p := range line.Outline {
		t := traced(p)
		out = append(out, t.moved(back))
	}
	advance := line.Advance/k + l.spacing
	if r.text == " " || r.text == "\u00a0" {
		advance += l.words
	}
	return out, advance, nil
}

// moved is a trace as m maps it.
func (t *trace) moved(m affine) trace {
	out := trace{start: m.at(t.start), closed: t.closed, steps: make([]step, len(t.steps))}
	for i, s := range t.steps {
		s.end, s.c1, s.c2 = m.at(s.end), m.at(s.c1), m.at(s.c2)
		s.center, s.u, s.v = m.at(s.center), m.vector(s.u), m.vector(s.v)
		out.steps[i] = s
	}
	return out
}
