package lettering

import (
	"math"
	"slices"
	"unicode"

	"foredge/layout/geom"
)

// A Curve is what a baseline follows.
type Curve uint8

const (
	Straight Curve = iota
	Arc            // of a circle, aligned in the box as a line is
	Circle         // whose centre is that of the box
)

// A CurveError says why a text can't follow a curve.
type CurveError struct{ Why string }

func (e CurveError) Error() string { return e.Why }

func (t *text) checkCurve() error {
	if len(t.lines) > 1 {
		return CurveError{"a text of several lines can't follow a curve"}
	}
	if t.Align == Spread && t.lines[0].joins() {
		return CurveError{"joined letters can't be spread round a circle"}
	}
	t.gap = t.closing()
	return nil
}

// closing is what stays free between the end of a line and its beginning, where it
// goes all round: a blank, as between two words. One word that is spread has all its
// letters at equal distances instead.
func (t *text) closing() reach {
	line := t.came[0]
	last := len(line) - 1
	if last < 0 || unicode.IsSpace(line[0]) || unicode.IsSpace(line[last]) ||
		t.Align == Spread && !slices.ContainsFunc(line, unicode.IsSpace) {
		return reach{}
	}
	blank, err := t.font.set([]rune{' '}, t.right, t.apart())
	if err != nil {
		return reach{t.font.cap / 3, 1} // common practice, no source
	}
	return reach{blank.advance, float64(blank.spaces)}
}

// joins reports whether any of a line's letters are connected.
func (l setting) joins() bool {
	return slices.ContainsFunc(l.signs, func(s sign) bool { return s.joins })
}

// A bow is the circle that a line follows: its radius, and what is added
// between letters.
type bow struct{ r, space float64 }

// bow is the circle for a scale; ok is false if the line would go round more
// than once, or its letters past the centre.
func (t *text) bow(k float64, box geom.Box) (b bow, ok bool) {
	l := t.lines[0]
	ink := l.ink(k, t.Space)
	b = bow{t.Radius, t.Space}
	if b.r == 0 {
		b.r = t.largestRadius(k, min(box.Width(), box.Height())/2)
	}
	if !(b.r > 0) || t.Inside && -ink.Min.Y >= b.r || !t.Inside && ink.Max.Y >= b.r {
		return b, false
	}
	// Letters stand closer on the inner side of their baseline: there must be
	// room for them along it.
	spaces := float64(l.spaces) + t.gap.spaces
	long, round := k*(l.advance+t.gap.advance)+spaces*t.Space, 2*math.Pi*b.r
	if t.Align == Spread && spaces > 0 {
		b.space += (round - long) / spaces
	}
	if max(long, ink.Width()+k*t.gap.advance) > round {
		return b, false
	}
	return b, t.Align != Spread || t.roomInside(k, b)
}

// roomInside reports whether letters that are spread have their space between them also
// where they are nearer to the centre than their baseline, as their heads are inside a circle:
// as deep as both of two neighbours reach.
func (t *text) roomInside(k float64, b bow) bool {
	l := t.lines[0]
	deep := func(s sign) float64 {
		if t.Inside {
			return -k * (s.box.Min.Y + s.pen.Y)
		}
		return k * (s.box.Max.Y + s.pen.Y)
	}
	// Neighbours stand long apart along the baseline, their middles; side by side they
	// would stand at close, and across a blank they take up their ink alone.
	room := func(a, c sign, long, close float64, blank bool) bool {
		if blank {
			close = k * (a.box.Max.X + a.pen.X - a.middle + c.middle - c.box.Min.X - c.pen.X)
		}
		left := (b.r - max(0, min(deep(a), deep(c)))) / b.r
		return long*left >= close+t.Space-1e-9
	}
	first, last := l.signs[0], l.signs[len(l.signs)-1]
	round := 2 * math.Pi * b.r
	for i := 1; i < len(l.signs); i++ {
		a, c := l.signs[i-1], l.signs[i]
		close, steps := k*(c.middle-a.middle), c.spaces-a.spaces
		if steps == 0 {
			continue // an accent on its letter
		}
		long := close + float64(steps)*b.space
		round -= long
		if !room(a, c, long, close, steps > 1) {
			return false
		}
	}
	return room(last, first, round, k*(l.advance-last.middle+first.middle), t.gap.advance > 0)
}

// largestRadius is that of the baseline at which all ink lies inside a circle.
func (t *text) largestRadius(k, circle float64) float64 {
	r := circle
	for _, s := range t.lines[0].signs {
		half := k * max(s.box.Max.X+s.pen.X-s.middle, s.middle-s.box.Min.X-s.pen.X)
		if s.joins {
			half = 0 // it is bent along
		}
		out := -k * (s.box.Min.Y + s.pen.Y)
		if t.Inside {
			out = k * (s.box.Max.Y + s.pen.Y)
		}
		r = min(r, math.Sqrt(max(0, circle*circle-half*half))-out)
	}
	return r * (1 - 1e-12) // for rounding
}

func (t *text) curveFits(k float64, box geom.Box) bool {
	b, ok := t.bow(k, box)
	if !ok {
		return false
	}
	ink := boundsOf(t.bend(k, b, apart))
	if t.Curve == Arc {
		return ink.Width() <= box.Width() && ink.Height() <= box.Height()
	}
	c := box.Center()
	return box.Holds(geom.Box{Min: ink.Min.Add(c), Max: ink.Max.Add(c)})
}

// bend sets the line about the origin, its middle at the top of the circle, or
// at the foot if it is inside. Each letter is turned as a whole, but those that
// are connected are bent. They are united before that, while their joints are
// straight: once bent, their edges run along one another a hair apart.
func (t *text) bend(k float64, b bow, unite func([]placed) []part) []placed {
	middle := t.middle(k, b)
	var out, joined []placed
	for _, s := range t.lines[0].signs {
		if s.joins {
			at := t.along(s, k, b, middle)
			joined = append(joined, s.glyph.at(place{k: k, shift: s.pen.Sub(geom.Pt(s.middle, 0)).Mul(k).Add(geom.Pt(at, 0))}))
			continue
		}
		out = append(out, t.turned(s, k, b, middle))
	}
	for _, p := range unite(joined) {
		whole := glyph{outline: p.outline, clean: true}
		out = append(out, whole.at(place{k: 1, bend: bend{b.r, t.Inside}}))
	}
	return out
}

// middle is what of a line lies at the top of the circle, from where it begins.
func (t *text) middle(k float64, b bow) float64 {
	l := t.lines[0]
	if t.Align == Spread {
		// So that the gap between the last letter and the first is one like all.
		return (k*l.advance + float64(l.spaces)*b.space) / 2
	}
	return l.ink(k, b.space).Center().X
}

// along is where the middle of a sign stands along the baseline, from the middle of its line.
func (t *text) along(s sign, k float64, b bow, middle float64) float64 {
	at := k*s.middle + float64(s.spaces)*b.space - middle
	if t.Align == Spread {
		at += b.space / 2
	}
	return at
}

// turned sets a sign that isn't connected with others about the origin.
func (t *text) turned(s sign, k float64, b bow, middle float64) placed {
	angle, base := t.along(s, k, b, middle)/b.r, -b.r
	if t.Inside {
		angle, base = -angle, b.r
	}
	pen := s.pen.Sub(geom.Pt(s.middle, 0)).Mul(k)
	return s.glyph.at(place{k: k, turn: angle, shift: geom.Turn(geom.Point{}, angle).Point(pen.Add(geom.Pt(0, base)))})
}

// capitals is where the letters of a line on an arc would lie about the origin if all stood on
// the baseline and were as high as capitals.
func (t *text) capitals(k float64, b bow) geom.Box {
	l := t.lines[0]
	middle := l.ink(k, b.space).Center().X
	all := geom.EmptyBox()
	for _, s := range l.signs {
		turn, base := (k*s.middle+float64(s.spaces)*b.space-middle)/b.r, -b.r
		if t.Inside {
			turn, base = -turn, b.r
		}
		for _, x := range []float64{s.box.Min.X, s.box.Max.X} {
			for _, y := range []float64{0, -t.font.cap} {
				p := geom.Turn(geom.Point{}, turn).Point(geom.Pt(k*(x+s.pen.X-s.middle), k*y+base))
				all = all.Union(geom.Box{Min: p, Max: p})
			}
		}
	}
	return all
}

// apart leaves each glyph a part by itself: where their bounds are all that is asked.
func apart(glyphs []placed) []part {
	out := make([]part, len(glyphs))
	for i, g := range glyphs {
		out[i] = part{[]placed{g}, g.outline}
	}
	return out
}

func (t *text) placeCurve(k float64, box geom.Box) []placed {
	b, _ := t.bow(k, box)
	out := t.bend(k, b, t.font.unite)
	d := box.Center()
	if t.Curve == Arc {
		// As of a line its capitals are centred up and down, as nearly as its ink allows.
		ink := boundsOf(out)
		d = geom.Pt(d.X-ink.Center().X, d.Y-t.capitals(k, b).Center().Y)
		d.Y = math.Max(box.Min.Y-ink.Min.Y, math.Min(d.Y, box.Max.Y-ink.Max.Y))
		switch t.Align {
		case Left:
			d.X = box.Min.X - ink.Min.X
		case Right:
			d.X = box.Max.X - ink.Max.X
		}
	}
	for i := range out {
		out[i].outline = geom.Shift(d).Outline(out[i].outline)
		out[i].shift = out[i].shift.Add(d)
	}
	return out
}

func boundsOf(glyphs []placed) geom.Box {
	b := geom.EmptyBox()
	for _, g := range glyphs {
		b = b.Union(g.outline.Bounds())
	}
	return b
}
