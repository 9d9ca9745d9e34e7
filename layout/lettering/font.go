package lettering

import (
	"errors"
	"fmt"
	"strings"
	"sync"
	"unicode"

	"foredge/eval/word"
	"foredge/layout/geom"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gobolditalic"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/gomedium"
	"golang.org/x/image/font/gofont/gomediumitalic"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/gomonobold"
	"golang.org/x/image/font/gofont/gomonobolditalic"
	"golang.org/x/image/font/gofont/gomonoitalic"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/gofont/gosmallcaps"
	"golang.org/x/image/font/gofont/gosmallcapsitalic"
)

// A Font is a typeface ready to set text. It is safe for use by several
// goroutines at once.
type Font struct {
	name   string
	face   face
	single bool    // its letters are lines, not areas
	cap    float64 // height of its capitals, font units

	mu     sync.Mutex       // guards the face and glyphs
	glyphs map[uint32]glyph // at the origin, font units, Y down

	held memo
}

// A face is what a font is read from. Measures are in font units. It is for one
// goroutine at a time.
type face interface {
	unitsPerEm() float64
	lineHeight() float64
	statedCapHeight() (float64, error)
	has(rune) bool
	// marks shapes a line of a text that runs from right to left or not; spaced
	// letters aren't drawn as one.
	marks(line []rune, rtl, spaced bool) ([]mark, error)
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

// builtin is a font that comes with the program, read when first used.
type builtin struct {
	name string
	load func() (*Font, error)
}

func lazy(name string, data []byte) builtin {
	return builtin{name, sync.OnceValues(func() (*Font, error) { return Parse(name, data) })}
}

func pen(f word.LineFont, data string) builtin {
	return builtin{f.String(), sync.OnceValues(func() (*Font, error) { return strokeFont(f.String(), data) })}
}

// outlineFonts holds the built-in fonts; it is never written to. The Go fonts, by
// Bigelow & Holmes for the Go project, are under the licence of Go.
var outlineFonts = [...]builtin{
	lazy("Go Regular", goregular.TTF),
	lazy("Go Italic", goitalic.TTF),
	lazy("Go Bold", gobold.TTF),
	lazy("Go Bold Italic", gobolditalic.TTF),
	lazy("Go Medium", gomedium.TTF),
	lazy("Go Medium Italic", gomediumitalic.TTF),
	lazy("Go Mono", gomono.TTF),
	lazy("Go Mono Italic", gomonoitalic.TTF),
	lazy("Go Mono Bold", gomonobold.TTF),
	lazy("Go Mono Bold Italic", gomonobolditalic.TTF),
	lazy("Go Smallcaps", gosmallcaps.TTF),
	lazy("Go Smallcaps Italic", gosmallcapsitalic.TTF),
}

// lineFonts holds the single-line fonts.
var lineFonts = [...]builtin{
	pen(word.Stroke, "roman.jhf"),
	pen(word.StrokeScript, "script.jhf"),
}

// Default is the font of a text that names none.
const Default = "Go Regular"

// Names lists the built-in fonts with outlines.
func Names() []string {
	names := make([]string, len(outlineFonts))
	for i, b := range outlineFonts {
		names[i] = b.name
	}
	return names
}

// An UnknownFontError says that no built-in font has a name.
type UnknownFontError struct{ Name string }

func (e UnknownFontError) Error() string {
	return fmt.Sprintf("there is no built-in font called %q", e.Name)
}

// Load gives a built-in font by its name, in capitals or not. The error is an
// [UnknownFontError].
func Load(name string) (*Font, error) {
	for _, list := range [][]builtin{outlineFonts[:], lineFonts[:]} {
		for _, b := range list {
			if strings.EqualFold(b.name, name) {
				return b.load()
			}
		}
	}
	return nil, UnknownFontError{name}
}

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
	f := &Font{name: name, face: from, glyphs: map[uint32]glyph{}}
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

// A MissingError says that a font has no sign for a character.
type MissingError struct {
	Char rune
	Font string
	Has  []string // built-in fonts that have it
}

func (e MissingError) Error() string {
	have := "no built-in font has it"
	if len(e.Has) > 0 {
		have = "it is in " + strings.Join(e.Has, ", ")
	}
	return fmt.Sprintf("the font %q has no %s; %s", e.Font, describe(e.Char), have)
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

// describe names a character by its look, if it has one, and its number.
func describe(r rune) string {
	if unicode.IsGraphic(r) && !unicode.IsSpace(r) && !unicode.Is(unicode.Mn, r) {
		return fmt.Sprintf("“%c” (%U)", r, r)
	}
	return fmt.Sprintf("%U", r)
}

// holders lists the built-in fonts that have a character, single-line ones
// where one of those lacks it.
func holders(r rune, single bool) []string {
	var names []string
	list := outlineFonts[:]
	if single {
		list = append(lineFonts[:len(lineFonts):len(lineFonts)], list...)
	}
	for _, b := range list {
		if f, err := b.load(); err == nil && f.Has(r) {
			names = append(names, b.name)
		}
	}
	return names
}
