package lettering

import (
	"slices"
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
	Changes []Change // what isn't of the font that was asked for
}

// Text sets one line with capitals cap mm high. The errors are [MissingError],
// [ControlError] and, for a damaged font, [UnreadableFontError].
func (f *Font) Text(s string, cap float64) (Line, error) {
	runes := []rune(s)
	raw, err := f.set(runes, rightToLeft(runes), false)
	if err != nil {
		return Line{}, err
	}
	k := cap / f.cap
	out := outlineOf(f.unite(raw.at(k, 0, geom.Point{})))
	return Line{out, raw.advance * k, cap, out.Bounds(), raw.changes}, nil
}

// Apart is like Text for a line that begins at the left whatever it begins with, with
// after[i] mm more behind its i-th character, as drawings have it: letters that are
// moved apart stay kerned and form no ligatures.
func (f *Font) Apart(s string, cap float64, after []float64) (Line, error) {
	runes := []rune(s)
	raw, err := f.set(runes, false, slices.ContainsFunc(after, func(x float64) bool { return x != 0 }))
	if err != nil {
		return Line{}, err
	}
	k := cap / f.cap
	shifts := make([]float64, len(raw.after)+1) // before each gap, and at the end
	for i, at := range raw.after {
		shifts[i+1] = shifts[i]
		if at < len(after) {
			shifts[i+1] += after[at]
		}
	}
	glyphs := make([]placed, len(raw.signs))
	for i, s := range raw.signs {
		glyphs[i] = s.glyph.at(place{k: k, shift: s.pen.Mul(k).Add(geom.Pt(shifts[s.spaces], 0))})
	}
	out := outlineOf(f.unite(glyphs))
	return Line{out, raw.advance*k + shifts[len(raw.after)], cap, out.Bounds(), raw.changes}, nil
}

// A setting is a line in font units, Y down.
type setting struct {
	signs   []sign
	advance float64
	spaces  int   // between how many letters space can be added
	after   []int // which characters these are
	changes []Change
}

// A sign is a glyph in its place.
type sign struct {
	glyph
	at     int // which character of the line it stands for
	pen    geom.Point
	middle float64 // of the room that it takes up along the line
	spaces int     // how many letters before it may be followed by added space
	joins  bool    // it is connected with its neighbours
}

// ink is the bounds of the line's ink, each unit of the font being k mm and
// space mm being added between letters.
func (l setting) ink(k, space float64) geom.Box {
	b := geom.EmptyBox()
	for _, s := range l.signs {
		d := geom.Pt(float64(s.spaces)*space, 0)
		b = b.Union(geom.Box{Min: s.box.Min.Add(s.pen).Mul(k).Add(d), Max: s.box.Max.Add(s.pen).Mul(k).Add(d)})
	}
	return b
}

// at gives the glyphs in mm, the line's pen starting at a place.
func (l setting) at(k, space float64, start geom.Point) []placed {
	out := make([]placed, len(l.signs))
	for i, s := range l.signs {
		out[i] = s.glyph.at(place{k: k, shift: s.pen.Mul(k).Add(geom.Pt(float64(s.spaces)*space, 0)).Add(start)})
	}
	return out
}

// set lays out a line of a text that runs from right to left or not.
func (f *Font) set(line []rune, rtl, spaced bool) (setting, error) {
	for _, r := range line {
		if unicode.IsControl(r) || unicode.Is(unicode.Zl, r) || unicode.Is(unicode.Zp, r) {
			return setting{}, ControlError{r}
		}
	}
	out, lacks, err := f.lay(line, rtl, spaced)
	if err != nil {
		return setting{}, UnreadableFontError{f.name, err}
	}
	if lacks >= 0 {
		return setting{}, MissingError{lacking(line, lacks), f.asked(), holders(lacking(line, lacks), f.single)}
	}
	return out, nil
}

// lay sets a line; lacks is the place of a character that neither the font nor one of
// those that follow it has a sign for, -1 if all have one.
func (f *Font) lay(line []rune, rtl, spaced bool) (out setting, lacks int, err error) {
	out, lacks, err = f.layRuns(line, runs(line, rtl), spaced)
	if lacks < 0 || err != nil || len(f.next) == 0 {
		return out, lacks, err
	}
	from, changes, lacks, err := f.choose(line, rtl, spaced)
	if lacks >= 0 || err != nil {
		return out, lacks, err
	}
	out, lacks, err = f.layRuns(line, runsOf(line, rtl, from), spaced)
	out.changes = changes
	return out, lacks, err
}

func (f *Font) layRuns(line []rune, runs []run, spaced bool) (out setting, lacks int, err error) {
	out.signs, out.after = make([]sign, 0, len(line)), make([]int, 0, len(line))
	for _, r := range runs {
		marks, err := f.marks(line, r, spaced)
		if err != nil {
			return out, -1, err
		}
		for _, m := range marks {
			if m.id == 0 {
				return out, m.at, nil
			}
			g, err := f.glyph(m.id)
			if err != nil {
				return out, -1, err
			}
			if len(g.outline) > 0 {
				out.signs = append(out.signs, sign{g, m.at, geom.Pt(out.advance+m.offset.X, -m.offset.Y), out.advance + m.advance/2, out.spaces, m.joins})
			}
			out.advance += m.advance
			// Accents stay with their letters, joined letters with one another.
			if m.advance > 0 && !m.joins {
				out.spaces++
				out.after = append(out.after, m.at)
			}
		}
	}
	return out, -1, nil
}

// marks shapes a run in the font that it is of, in units of the first.
func (f *Font) marks(line []rune, r run, spaced bool) ([]mark, error) {
	if r.font > 0 {
		other, err := f.next[r.font-1].load()
		if err != nil {
			return nil, err
		}
		at := r
		at.font = 0
		marks, err := other.marks(line, at, spaced)
		k := f.cap / other.cap
		for i := range marks {
			m := &marks[i]
			m.advance, m.offset = m.advance*k, m.offset.Mul(k)
			if m.id != 0 {
				m.id |= uint32(r.font) << fontBits
			}
		}
		return marks, err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.face.marks(line, r, spaced)
}

// fontBits is where the number of a glyph says which font it is of; below it is its
// number there. A font has at most 65,536 (OpenType specification, "maxp").
const fontBits = 24

// glyph is a glyph at the origin. Those of the font itself are kept once drawn.
func (f *Font) glyph(id uint32) (glyph, error) {
	if n := id >> fontBits; n > 0 {
		other, err := f.next[n-1].load()
		if err != nil {
			return glyph{}, err
		}
		g, err := other.glyph(id &^ (n << fontBits))
		k := f.cap / other.cap
		g.id, g.outline, g.box = id, geom.Scale(k).Outline(g.outline), geom.Box{Min: g.box.Min.Mul(k), Max: g.box.Max.Mul(k)}
		return g, err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	if g, ok := f.glyphs[id]; ok {
		return g, nil
	}
	o, err := f.face.outline(id)
	if err != nil {
		return glyph{}, err
	}
	g := glyph{id: id, outline: o, box: o.Bounds()}
	if !f.single {
		// Looked at with an em of 1 mm, to which the tolerances are fine enough.
		em := geom.Scale(1 / max(f.face.unitsPerEm(), g.box.Width(), g.box.Height()))
		g.clean = !touches(pieces(em.Outline(o)), nil)
		if g.clean {
			g.outline = orient(o, em)
		}
	}
	f.glyphs[id] = g
	return g, nil
}

// unite is the outlines of glyphs in their places. Single lines stay as they are.
func (f *Font) unite(glyphs []placed) []part {
	if !f.single {
		return unite(glyphs)
	}
	return apart(glyphs)
}
