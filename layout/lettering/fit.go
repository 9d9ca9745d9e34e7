package lettering

import (
	"math"
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
)

// A RoomError says that a box has no room for any text at all.
type RoomError struct{ W, H float64 } // mm

func (RoomError) Error() string { return "there is no room for the text" }

// Fit sets a text, line by line where it holds line breaks, inside the box from
// (0, 0) to (w, h), and gives the outline and the height of its capitals in mm.
// With [Shrink] capitals are cap high, or less if the box is too small; with
// [Fill], or a cap of 0, they are as large as the box allows.
//
// All ink lies inside the box: that is a promise. Lines are aligned by their
// ink. Up and down, the text is centred from the top of the first line's
// capitals to the last line's baseline, and shifted only as far as accents or
// descenders would else leave the box. A text of blanks has no outline. The
// errors are those of [Font.Text] and [RoomError].
func Fit(f *Font, s string, w, h, cap float64, mode Mode, align Align) (geom.Outline, float64, error) {
	if !(w > 0 && h > 0) {
		return nil, 0, RoomError{w, h}
	}
	lines, ink, err := f.block(s)
	if err != nil {
		return nil, 0, err
	}
	if ink.Empty() {
		return nil, cap, nil
	}
	widest := 0.0
	for _, l := range lines {
		widest = max(widest, l.ink.Width())
	}
	// A hair stays free at each edge for rounding; for the arcs of letters that
	// overlap, if they need it, a broader one.
	box := geom.Box{Max: geom.Pt(w, h)}
	for _, hair := range []float64{1e-9, 2 * curveTol} {
		inner := box.Grow(-hair)
		if inner.Empty() {
			break
		}
		k := math.Min(inner.Width()/widest, inner.Height()/ink.Height())
		if mode == Shrink && cap > 0 {
			k = math.Min(k, cap/f.cap)
		}
		if out := place(lines, ink, f, k, inner, align); box.Holds(out.Bounds()) {
			return out, k * f.cap, nil
		}
	}
	return nil, 0, RoomError{w, h}
}

// block sets the lines of a text and gives the bounds of their ink, baselines
// lineHeight apart from Y = 0 on, in font units.
func (f *Font) block(s string) (lines []setting, ink geom.Box, err error) {
	ink = geom.EmptyBox()
	for i, part := range strings.Split(strings.ReplaceAll(s, "\r\n", "\n"), "\n") {
		l, err := f.set(part)
		if err != nil {
			return nil, ink, err
		}
		lines = append(lines, l)
		if !l.ink.Empty() {
			down := geom.Pt(0, float64(i)*f.shaper.lineHeight())
			ink = ink.Union(geom.Box{Min: l.ink.Min.Add(down), Max: l.ink.Max.Add(down)})
		}
	}
	return lines, ink, nil
}

// place scales the lines by k and puts them into the box.
func place(lines []setting, ink geom.Box, f *Font, k float64, box geom.Box, align Align) geom.Outline {
	// The first baseline, if capitals and baselines are centred, then as near to
	// that as the ink allows.
	last := float64(len(lines)-1) * f.shaper.lineHeight()
	y := box.Center().Y - k*(last-f.cap)/2
	y = math.Max(box.Min.Y-k*ink.Min.Y, math.Min(y, box.Max.Y-k*ink.Max.Y))
	var all []glyph
	for i, l := range lines {
		if l.ink.Empty() {
			continue
		}
		x := box.Center().X - k*l.ink.Center().X
		switch align {
		case Left:
			x = box.Min.X - k*l.ink.Min.X
		case Right:
			x = box.Max.X - k*l.ink.Max.X
		}
		down := y + k*float64(i)*f.shaper.lineHeight()
		all = append(all, l.at(geom.Scale(k).Then(geom.Shift(geom.Pt(x, down))))...)
	}
	return unite(all)
}
