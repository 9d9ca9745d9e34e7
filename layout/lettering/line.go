package lettering

import (
	"unicode"

	"foredge/layout/geom"
)

// A Line is one line of text set in a font, in mm, its baseline at Y = 0 and its
// pen starting at X = 0.
type Line struct {
	Outline geom.Outline
	Advance float64  // how far the pen has moved
	Cap     float64  // height of a capital letter
	Ink     geom.Box // bounds of the outline; empty for blanks
}

// Text sets one line with capitals cap mm high. The errors are [MissingError],
// [ControlError] and, for a damaged font, [UnreadableFontError].
func (f *Font) Text(s string, cap float64) (Line, error) {
	raw, err := f.set(s)
	if err != nil {
		return Line{}, err
	}
	k := cap / f.cap
	out := unite(raw.at(geom.Scale(k)))
	return Line{out, raw.advance * k, cap, out.Bounds()}, nil
}

// A setting is a line in font units, Y down: glyphs and where the pen was.
type setting struct {
	glyphs  []glyph
	pen     []geom.Point
	advance float64
	ink     geom.Box
}

// at gives the glyphs in their places.
func (l setting) at(where geom.Similarity) []glyph {
	out := make([]glyph, len(l.glyphs))
	for i, g := range l.glyphs {
		out[i] = glyph{geom.Shift(l.pen[i]).Then(where).Outline(g.outline), g.clean}
	}
	return out
}

func (f *Font) set(s string) (setting, error) {
	runes := []rune(s)
	for _, r := range runes {
		if unicode.IsControl(r) || unicode.Is(unicode.Zl, r) || unicode.Is(unicode.Zp, r) {
			return setting{}, ControlError{r}
		}
	}
	out, lacks, err := f.lay(runes)
	if err != nil {
		return setting{}, UnreadableFontError{f.name, err}
	}
	if lacks >= 0 {
		return setting{}, MissingError{runes[lacks], f.name, holders(runes[lacks])}
	}
	return out, nil
}

// lay sets a line; lacks is the place of a character that the font has no sign
// for, -1 if it has all.
func (f *Font) lay(line []rune) (out setting, lacks int, err error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	marks, err := f.shaper.marks(line)
	if err != nil {
		return out, -1, err
	}
	out.ink = geom.EmptyBox()
	for _, m := range marks {
		if m.id == 0 {
			return out, m.at, nil
		}
		g, err := f.glyph(m.id)
		if err != nil {
			return out, -1, err
		}
		if len(g.outline) > 0 {
			pen := geom.Pt(out.advance+m.offset.X, -m.offset.Y)
			out.glyphs, out.pen = append(out.glyphs, g), append(out.pen, pen)
			b := g.outline.Bounds()
			out.ink = out.ink.Union(geom.Box{Min: b.Min.Add(pen), Max: b.Max.Add(pen)})
		}
		out.advance += m.advance
	}
	return out, -1, nil
}

// glyph is a glyph at the origin, kept once drawn. The font must be locked.
func (f *Font) glyph(id uint32) (glyph, error) {
	if g, ok := f.glyphs[id]; ok {
		return g, nil
	}
	o, err := f.shaper.outline(id)
	if err != nil {
		return glyph{}, err
	}
	// Looked at with an em of 1 mm, to which the tolerances are fine enough.
	em := geom.Scale(1 / max(f.shaper.unitsPerEm(), o.Bounds().Width(), o.Bounds().Height()))
	g := glyph{outline: o, clean: !touches(pieces(em.Outline(o)), nil)}
	if g.clean {
		g.outline = orient(o, em)
	}
	f.glyphs[id] = g
	return g, nil
}
