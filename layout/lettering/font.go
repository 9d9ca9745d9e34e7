package lettering

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"sync"
	"unicode"

	"foredge/layout/geom"
)

// A Font is a typeface ready to set text. It is safe for use by several
// goroutines at once.
type Font struct {
	name   string
	face   face
	single bool    // its letters are lines, not areas
	cap    float64 // height of its capitals, font units

	mu     *sync.Mutex      // guards the face and glyphs, which fonts may share
	glyphs map[uint32]glyph // at the origin, font units, Y down

	next []spare // in turn for what it lacks
	held memo
}

// A face is what a font is read from. Measures are in font units. It is for one
// goroutine at a time.
type face interface {
	unitsPerEm() float64
	lineHeight() float64
	statedCapHeight() (float64, error)
	has(rune) bool
	// marks shapes a run of a line; spaced letters aren't drawn as one.
	marks(line []rune, r run, spaced bool) ([]mark, error)
	outline(id uint32) (geom.Outline, error)
}

// Single says whether the letters are single lines, to be marked and not filled.
func (f *Font) Single() bool { return f.single }

// Name is the name by which the font was asked for.
func (f *Font) Name() string { return f.name }

// lineHeight is the distance of two baselines, in font units.
func (f *Font) lineHeight() float64 { return f.face.lineHeight() }

// Has says whether the font has a sign for a character.
func (f *Font) Has(r rune) bool { return f.face.has(r) }

// An UnreadableFontError says that a font file can't be used, and why.
type UnreadableFontError struct {
	Name string
	Why  error
}

func (e UnreadableFontError) Error() string {
	var why damage
	if errors.As(e.Why, &why) {
		return fmt.Sprintf("%q can't be read as a font (TTF, OTF or TTC): %s", e.Name, string(why))
	}
	return fmt.Sprintf("%q can't be read as a font (TTF, OTF or TTC): it is damaged", e.Name)
}

// A damage is what is wrong with a font file, as its owner may be told.
type damage string

func (d damage) Error() string { return string(d) }

func (e UnreadableFontError) Unwrap() error { return e.Why }

// Parse reads a maker's own font: a TTF or OTF file, or one of the fonts of a
// TTC file, whose number or name stands after a # in the name. The error is an
// [UnreadableFontError], which may wrap a [CollectionError].
func Parse(name string, data []byte) (*Font, error) {
	s, err := newShaper(name, data)
	if err != nil {
		return nil, UnreadableFontError{name, err}
	}
	return newFont(name, s)
}

func newFont(name string, from face) (*Font, error) {
	f := &Font{name: name, face: from, mu: &sync.Mutex{}, glyphs: map[uint32]glyph{}}
	var err error
	if f.cap, err = f.measureCap(); err != nil {
		return nil, UnreadableFontError{name, err}
	}
	return f, nil
}

// measureCap measures the letter H, whose top and foot are flat. A font without
// one may state the height of its capitals; else they are taken to be 0.7 em
// (common practice, no source).
func (f *Font) measureCap() (float64, error) {
	// The OpenType specification allows 16 to 16384 units per em.
	if em := f.face.unitsPerEm(); em < 16 || em > 16384 {
		return 0, damage("its scale is wrong")
	}
	if f.Has('H') {
		h, _, err := f.lay([]rune{'H'}, false, false)
		if err != nil {
			return 0, err
		}
		if ink := h.ink(1, 0); !ink.Empty() && ink.Min.Y < 0 {
			return -ink.Min.Y, nil
		}
	}
	stated, err := f.face.statedCapHeight()
	if err != nil || stated > 0 {
		return stated, err
	}
	return 0.7 * f.face.unitsPerEm(), nil
}

// A MissingError says that fonts have no sign for a character.
type MissingError struct {
	Char  rune
	Fonts []string // that were asked for
	Has   []string // built-in fonts that have it
}

func (e MissingError) Error() string {
	have := "no built-in font has it"
	if len(e.Has) > 0 {
		have = "it is in " + strings.Join(e.Has, ", ")
	}
	if len(e.Fonts) == 1 {
		return fmt.Sprintf("the font %q has no %s; %s", e.Fonts[0], Describe(e.Char), have)
	}
	names := make([]string, len(e.Fonts))
	for i, f := range e.Fonts {
		names[i] = strconv.Quote(f)
	}
	return fmt.Sprintf("none of the fonts %s has %s; %s", strings.Join(names, ", "), Describe(e.Char), have)
}

// A ControlError says that a text holds a character that stands for no sign.
type ControlError struct{ Char rune }

func (e ControlError) Error() string {
	switch e.Char {
	case '\t':
		return "the text holds a tab, which can't be drawn; use spaces"
	case '\n', '\r', '\u0085', '\u2028', '\u2029':
		return "the text holds a line break, which can't be drawn here"
	}
	return fmt.Sprintf("the text holds a control character (%U), which can't be drawn", e.Char)
}

// Describe names a character by its look, if it has one, and its number.
func Describe(r rune) string {
	if unicode.IsGraphic(r) && !unicode.IsSpace(r) && !unicode.Is(unicode.Mn, r) {
		return fmt.Sprintf("“%c” (%U)", r, r)
	}
	return fmt.Sprintf("%U", r)
}
