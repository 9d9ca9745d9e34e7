package art

import (
	"maps"
	"slices"
	"strings"
	"unicode"

	"foredge/layout/geom"
)

// A letter is how text is set.
type letter struct {
	size    float64 // of the em, in user units
	root    float64 // the size of the root element, in user units
	face    Face
	anchor  string            // start, middle or end
	spacing float64           // between letters, user units
	words   float64           // added between words
	refused map[string]string // properties that can't be set, with their values; never changed once made
	// blanks says that blanks stay as they are; lines says so of the breaks of lines
	// too, which can't be set.
	blanks, lines bool
	// flows is what breaks the text into lines in SVG 2 (11.7), which isn't done here: programs write
	// where each line stands as well.
	flows string
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
		l.size = l.root * x.v
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
	stated("white-space", func(v string) bool {
		first, _, _ := strings.Cut(v, " ")
		l.blanks = first == "preserve" || first == "pre" || first == "pre-wrap" || first == "break-spaces"
		l.lines = first != "preserve" && l.blanks || first == "pre-line" || first == "preserve-breaks"
		return true
	})
	for _, name := range []string{"inline-size", "shape-inside"} {
		stated(name, func(v string) bool {
			if x, ok := parseLength(v); v != "auto" && v != "none" && v != "initial" && !(ok && x.v == 0) {
				l.flows = name
			}
			return true
		})
	}
	for name, plain := range plainText() {
		v, ok := set[name]
		if !ok || v == "inherit" || v == "unset" {
			continue
		}
		// Solid lines and colours of what isn't drawn may stand there.
		first, _, _ := strings.Cut(v, " ")
		if strings.Contains(" "+plain+" initial ", " "+first+" ") {
			if !strings.HasPrefix(name, "text-decoration") { // that of a text goes on in its spans (CSS Text Decoration 3, 2)
				l.refuse(name, "")
			}
			continue
		}
		l.refuse(name, v)
	}
}

// plainText is what properties say of text that is set as it is here.
func plainText() map[string]string {
	const normal = "normal none auto"
	return map[string]string{"text-decoration": "none", "text-decoration-line": "none", "writing-mode": "lr lr-tb horizontal-tb", "baseline-shift": "0 0px 0% baseline",
		"dominant-baseline": "auto alphabetic", "alignment-baseline": "auto alphabetic baseline", "text-transform": "none", "direction": "ltr",
		"unicode-bidi": "normal", "font-variant": normal, "font-variant-caps": normal, "font-variant-ligatures": "normal common-ligatures",
		"font-variant-position": normal, "font-variant-numeric": normal, "font-variant-east-asian": normal, "font-variant-alternates": normal,
		"font-feature-settings": normal, "font-variation-settings": normal, "font-kerning": "auto normal", "kerning": "auto", "glyph-orientation-horizontal": "auto 0 0deg",
		"font-stretch": "normal 100%", "font-width": "normal 100%", "font-size-adjust": "none"}
}

// refuse keeps a property that can't be set, or forgets it if its value is "".
func (l *letter) refuse(name, value string) {
	if _, known := l.refused[name]; !known && value == "" {
		return
	}
	refused := maps.Clone(l.refused)
	if refused == nil {
		refused = map[string]string{}
	}
	delete(refused, name)
	if value != "" {
		refused[name] = value
	}
	l.refused = refused
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
	for _, name := range []string{"font-variant", "font-stretch", "font-size-adjust"} {
		l.refuse(name, "")
	}
	words := strings.Fields(v)
	for i, w := range words {
		switch w {
		case "normal":
		case "small-caps":
			l.refuse("font-variant", w)
		case "ultra-condensed", "extra-condensed", "condensed", "semi-condensed", "semi-expanded", "expanded", "extra-expanded", "ultra-expanded":
			l.refuse("font-stretch", w)
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
	text []rune
	// after is how much farther apart than they are the text's characters lie from the
	// next ones, in user units.
	after []float64
	spot
}

// A spot is where a character is put, in user units: x and y begin a chunk there, dx
// and dy move it.
type spot struct {
	x, y, dx, dy float64
	hasX, hasY   bool
}

// A typesetter gathers the runs of a text element.
type typesetter struct {
	w     *walker
	runs  []run
	open  []*places // of the elements round a character, the innermost last
	blank bool      // the last character was a blank, or nothing stands before it
	// broken says that a line has ended, after letters, whose end can't be set.
	broken bool
}

// text draws a text by its font's outlines; where it can't, only a blank text
// draws nothing.
func (w *walker) text(n *node, s state, set map[string]string) *Error {
	if n.blank() || s.letter.size == 0 {
		return nil
	}
	t := typesetter{w: w, blank: true}
	if err := t.gather(n, s, set); err != nil {
		return err
	}
	t.trim()
	shown := false
	for _, r := range t.runs {
		shown = shown || strings.TrimSpace(string(r.text)) != "" && !r.s.hidden && !(r.s.fill.is(nothing) && r.s.stroke.is(nothing))
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
	if n.name != "a" { // that states no places
		place, err := readPlaces(n, &s)
		if err != nil {
			return err
		}
		t.open = append(t.open, place)
		defer func() { t.open = t.open[:len(t.open)-1] }()
	}
	for _, c := range n.children {
		switch c.name {
		case textName:
			if err := t.say(n, s, set, c.text); err != nil {
				return err
			}
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

// places are the lists of places that an element states for the characters in it,
// those of its spans among them (SVG 2, 11.4).
type places struct {
	x, y, dx, dy []float64
	used         int // how many characters have come so far
}

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

// next is where the next character is put: by the innermost element that says so.
func (t *typesetter) next() spot {
	var at spot
	of := func(list func(p *places) []float64) (float64, bool) {
		for i := len(t.open) - 1; i >= 0; i-- {
			if p := t.open[i]; p.used < len(list(p)) {
				return list(p)[p.used], true
			}
		}
		return 0, false
	}
	at.x, at.hasX = of(func(p *places) []float64 { return p.x })
	at.y, at.hasY = of(func(p *places) []float64 { return p.y })
	at.dx, _ = of(func(p *places) []float64 { return p.dx })
	at.dy, _ = of(func(p *places) []float64 { return p.dy })
	for _, p := range t.open {
		p.used++
	}
	return at
}

// fixed reports a place to which the text before it doesn't lead.
func (s spot) fixed() bool { return s.hasX || s.hasY }

// say takes text as runs: a new one from each letter on that has a place of its own.
func (t *typesetter) say(n *node, s state, set map[string]string, text string) *Error {
	placed := func(p *places) bool { return len(p.x)+len(p.y) > 0 }
	if s.letter.flows != "" && strings.TrimSpace(text) != "" && !slices.ContainsFunc(t.open[1:], placed) {
		return n.fail("give each line a span with an x and a y of its own, or turn it into paths in the drawing program", "a text that is broken into lines by %s can't be drawn", s.letter.flows)
	}
	first := true
	for _, c := range text {
		if unicode.IsControl(c) && !unicode.IsSpace(c) {
			continue
		}
		t.broken = t.broken || s.letter.lines && (c == '\n' || c == '\r') && len(t.runs) > 0
		if c == '\n' || c == '\r' || c == '\t' {
			c = ' '
		}
		if c == ' ' && t.blank && !s.letter.blanks {
			continue
		}
		t.blank = c == ' ' && !s.letter.blanks
		at := t.next()
		if t.broken && c != ' ' {
			if !at.fixed() {
				return n.fail("give each line an x and a y of its own, or turn it into paths in the drawing program", "a text whose lines end where its file says, by white-space, can't be drawn")
			}
			t.broken = false
		}
		accent := unicode.Is(unicode.Mn, c)
		if first || !accent && (at.fixed() || at.dy != 0 || at.dx != 0 && toLeft(c)) {
			t.runs = append(t.runs, run{n: n, s: s, set: set, spot: at})
			first = false
		} else if r := &t.runs[len(t.runs)-1]; !accent {
			r.after[len(r.after)-1] += at.dx
		}
		r := &t.runs[len(t.runs)-1]
		space := s.letter.spacing
		if c == ' ' || c == '\u00a0' {
			space += s.letter.words
		}
		r.text, r.after = append(r.text, c), append(r.after, space)
	}
	return nil
}

// toLeft reports a letter of a script that runs from right to left.
func toLeft(c rune) bool {
	return c >= 0x590 && unicode.In(c, unicode.Hebrew, unicode.Arabic, unicode.Syriac, unicode.Thaana, unicode.Nko, unicode.Mandaic, unicode.Samaritan, unicode.Adlam)
}

// trim takes the blank from the end of a text.
func (t *typesetter) trim() {
	for i := len(t.runs) - 1; i >= 0; i-- {
		r := &t.runs[i]
		if r.s.letter.blanks {
			return
		}
		for len(r.text) > 0 && r.text[len(r.text)-1] == ' ' {
			r.text = r.text[:len(r.text)-1]
		}
		if r.after = r.after[:len(r.text)]; len(r.text) > 0 {
			return
		}
	}
}

// place sets the runs, chunk by chunk, each aligned at its anchor.
func (t *typesetter) place() *Error {
	pen := geom.Point{}
	for len(t.runs) > 0 {
		n := 1
		for n < len(t.runs) && !t.runs[n].fixed() {
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
	start := pen.Add(geom.Pt(runs[0].dx, 0))
	left := false // a run before it has letters that run to the left
	for _, r := range runs {
		if slices.ContainsFunc(r.text, toLeft) {
			if left {
				return pen, r.n.fail("turn it into paths in the drawing program, or make it one span without places of its own", "a line from right to left in several pieces can't be drawn")
			}
			left = true
		}
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
	for _, name := range slices.Sorted(maps.Keys(l.refused)) {
		return nil, 0, r.n.fail("turn it into paths in the drawing program", "a text with %s: %s can't be drawn", name, shorten(l.refused[name]))
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
	if !(k > 1e-9) || !(l.size*k < MaxSize) || len(r.text) == 0 {
		return nil, 0, nil
	}
	after := make([]float64, len(r.after))
	for i, x := range r.after {
		after[i] = x * k
	}
	line, err := font.Apart(string(r.text), l.size*k*font.CapShare(), after)
	if err != nil {
		return nil, 0, r.n.fail("turn it into paths in the drawing program, or name another font", "%s", err)
	}
	for _, c := range line.Changes {
		if !r.s.hidden && !slices.Contains(w.spent.changes, c) {
			w.spent.changes = append(w.spent.changes, c)
		}
	}
	var out []trace
	back := scale(1/k, 1/k)
	for _, p := range line.Outline {
		t := traced(p)
		out = append(out, t.moved(back))
	}
	return out, line.Advance / k, nil
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
