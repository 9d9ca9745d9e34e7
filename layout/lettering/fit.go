package lettering

import (
	"math"
	"slices"
	"strings"

	"foredge/layout/geom"
)

// A Mode says how the size of a text follows its box.
type Mode uint8

const (
	Shrink Mode = iota // as asked, smaller if the box is
	Fill               // as large as the box allows
)

// An Align says where lines stand in their box from left to right.
type Align uint8

const (
	Center Align = iota
	Left
	Right
	Spread // evenly round a whole circle
)

// A Style says how a text is set in its box. Lengths are in mm.
type Style struct {
	Mode  Mode
	Cap   float64 // height of a capital letter; 0 for as large as the box allows
	Align Align
	// Space is added between letters, or taken away if below 0; it does not
	// shrink with them. Joined letters stay joined.
	Space float64
	// Wrap breaks lines at blanks, where that lets the text be larger.
	Wrap bool

	Curve Curve
	// Radius is that of the curve on which the baseline lies; on a [Circle] 0
	// asks for the largest that the box allows.
	Radius float64
	Inside bool // heads towards the centre, at the foot of the circle
}

// A Block is a text set in its box.
type Block struct {
	Outline geom.Outline
	Cap     float64 // height of its capitals, mm
	Lines   int     // how many lines it takes, blank ones too
	Wrapped bool    // it has more lines than it came with
	// Changes are what isn't lettered in the font that was asked for.
	Changes []Change
	// Unspaced says that space was asked for, and letters are joined, between which
	// there is none.
	Unspaced bool
	// Crowd says of letters that run into one another along the curve, nil of none.
	Crowd *Crowd

	font  *Font
	parts []part // of the outline
	asked bool   // its capitals are as high as was asked for
}

// A RoomError says that a box has no room for any text at all.
type RoomError struct{ W, H float64 } // mm

func (RoomError) Error() string { return "there is no room for the text" }

// Fit sets a text, line by line where it holds line breaks, inside the box from
// (0, 0) to (w, h). With [Shrink] capitals are as high as the style says, or
// less if the box is too small; with [Fill], or without a height, they are as
// large as the box allows.
//
// All ink lies inside the box: that is a promise. Straight lines are aligned by
// their ink. Up and down, the text is centred from the top of the first line's
// capitals to the last line's baseline, and shifted only as far as accents or
// descenders would else leave the box; so is one on an arc, from the top to the foot that its
// letters would have if all were capitals. A text of blanks has no outline. The
// errors are those of [Font.Text], [RoomError] and [CurveError].
func Fit(f *Font, s string, w, h float64, st Style) (Block, error) {
	if !(w > 0 && h > 0) {
		return Block{}, RoomError{w, h}
	}
	t, err := f.compose(s, st)
	if err != nil {
		return Block{}, err
	}
	if t.blank() {
		return Block{Cap: st.Cap, Lines: len(t.lines)}, nil
	}
	// A hair stays free at each edge for rounding; for the arcs of letters that
	// overlap, if they need it, a broader one.
	box := geom.Box{Max: geom.Pt(w, h)}
	for _, hair := range []float64{1e-9, 2 * curveTol} {
		inner := box.Grow(-hair)
		if inner.Empty() {
			break
		}
		k, err := t.scale(inner)
		if err != nil {
			return Block{}, err
		}
		if k*f.cap < smallest {
			break
		}
		parts := f.unite(t.place(k, inner))
		if out := outlineOf(parts); box.Holds(out.Bounds()) {
			var crowd *Crowd
			if b, _ := t.bow(k, inner); t.Curve != Straight && t.Align != Spread {
				crowd = t.crowd(k, b)
			}
			return Block{Outline: out, Cap: k * f.cap, Lines: len(t.lines), Wrapped: len(t.lines) > len(t.came), Changes: t.changes(),
				Unspaced: st.Space != 0 && slices.ContainsFunc(t.lines, setting.joins), Crowd: crowd,
				font: f, parts: parts, asked: k == st.Cap/f.cap}, nil
		}
	}
	return Block{}, RoomError{w, h}
}

// smallest is the height in mm of capitals below which there are no letters:
// the resolution of the files.
const smallest = 1e-3

// A text is what [Fit] works on: lines in font units.
type text struct {
	Style
	font  *Font
	lines []setting
	came  [][]rune // the lines that it came with
	right bool     // it runs from right to left
	gap   reach    // what stays free where a line closes round a circle
}

// compose sets the lines of a text, not yet wrapped.
func (f *Font) compose(s string, st Style) (*text, error) {
	s = strings.ReplaceAll(s, "\r\n", "\n")
	t := &text{Style: st, font: f, right: rightToLeft([]rune(s))}
	for _, part := range strings.Split(s, "\n") {
		line, err := f.set([]rune(part), t.right, t.apart())
		if err != nil {
			return nil, err
		}
		t.lines = append(t.lines, line)
		t.came = append(t.came, []rune(part))
	}
	if st.Curve != Straight {
		return t, t.checkCurve()
	}
	return t, nil
}

// apart reports whether letters are moved apart, and so form no ligatures.
func (s Style) apart() bool { return s.Space != 0 || s.Align == Spread }

// changes are those of all lines, each told once.
func (t *text) changes() []Change {
	var all []Change
	for _, l := range t.lines {
		for _, c := range l.changes {
			if !slices.Contains(all, c) {
				all = append(all, c)
			}
		}
	}
	return all
}

func (t *text) blank() bool {
	for _, l := range t.lines {
		if len(l.signs) > 0 {
			return false
		}
	}
	return true
}

// scale is how many mm a font unit may be for the text to fit into a box, and
// breaks its lines for that.
func (t *text) scale(box geom.Box) (float64, error) {
	asked := math.Inf(1)
	if t.Mode == Shrink && t.Cap > 0 {
		asked = t.Cap / t.font.cap
	}
	switch {
	case t.Curve != Straight:
		return largest(asked, box, t.font, func(k float64) bool { return t.curveFits(k, box) }), nil
	case t.Wrap:
		return t.wrap(asked, box)
	}
	return t.scaleLines(asked, box), nil
}

// scaleLines is how many mm a font unit may be for straight lines to fit as they are
// broken.
func (t *text) scaleLines(asked float64, box geom.Box) float64 {
	if t.Space != 0 {
		return largest(asked, box, t.font, func(k float64) bool { return t.fits(t.lines, k, box) })
	}
	widest := 0.0
	for _, l := range t.lines {
		if len(l.signs) > 0 {
			widest = max(widest, l.ink(1, 0).Width())
		}
	}
	return min(asked, box.Width()/widest, box.Height()/t.height(t.lines, 1))
}

// largest is the largest scale, up to the one asked, at which a text fits, 0 if
// there is none, by halving: what fits at one scale fits at any smaller one.
func largest(asked float64, box geom.Box, f *Font, fits func(k float64) bool) float64 {
	if !math.IsInf(asked, 1) && fits(asked) {
		return asked
	}
	// No text is so flat that its capitals could be a thousand times the box.
	low, high := 0.0, min(asked, 1000*max(box.Width(), box.Height())/f.cap)
	for range 200 {
		k := (low + high) / 2
		if k == low || k == high || high-low < 1e-12*high {
			break
		}
		if fits(k) {
			low = k
		} else {
			high = k
		}
	}
	return low
}

func (t *text) fits(lines []setting, k float64, box geom.Box) bool {
	if t.height(lines, k) > box.Height() {
		return false
	}
	for _, l := range lines {
		if len(l.signs) > 0 && l.ink(k, t.Space).Width() > box.Width() {
			return false
		}
	}
	return true
}

// height is that of the ink of lines, each unit of the font being k mm.
func (t *text) height(lines []setting, k float64) float64 {
	return t.ink(lines, k).Height()
}

// ink is the bounds of the ink of lines from the first baseline, at Y = 0, on.
// From left to right they are those of all lines set at X = 0.
func (t *text) ink(lines []setting, k float64) geom.Box {
	b := geom.EmptyBox()
	for i, l := range lines {
		if len(l.signs) > 0 {
			ink, down := l.ink(k, t.Space), geom.Pt(0, k*float64(i)*t.font.lineHeight())
			b = b.Union(geom.Box{Min: ink.Min.Add(down), Max: ink.Max.Add(down)})
		}
	}
	return b
}

// place puts the text into the box, each unit of the font being k mm.
func (t *text) place(k float64, box geom.Box) []placed {
	if t.Curve != Straight {
		return t.placeCurve(k, box)
	}
	// The first baseline, if capitals and baselines are centred, then as near to
	// that as the ink allows.
	ink := t.ink(t.lines, k)
	last := float64(len(t.lines)-1) * t.font.lineHeight()
	y := box.Center().Y - k*(last-t.font.cap)/2
	y = math.Max(box.Min.Y-ink.Min.Y, math.Min(y, box.Max.Y-ink.Max.Y))
	var all []placed
	for i, l := range t.lines {
		if len(l.signs) == 0 {
			continue
		}
		ink := l.ink(k, t.Space)
		x := box.Center().X - ink.Center().X
		switch t.Align {
		case Left:
			x = box.Min.X - ink.Min.X
		case Right:
			x = box.Max.X - ink.Max.X
		}
		down := y + k*float64(i)*t.font.lineHeight()
		all = append(all, l.at(k, t.Space, geom.Pt(x, down))...)
	}
	return all
}
