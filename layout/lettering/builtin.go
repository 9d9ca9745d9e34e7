package lettering

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"foredge/eval/word"

	"github.com/go-fonts/dejavu/dejavusans"
	"github.com/go-fonts/dejavu/dejavusansbold"
	"github.com/go-fonts/dejavu/dejavusansboldoblique"
	"github.com/go-fonts/dejavu/dejavusansmono"
	"github.com/go-fonts/dejavu/dejavusansmonobold"
	"github.com/go-fonts/dejavu/dejavusansmonoboldoblique"
	"github.com/go-fonts/dejavu/dejavusansmonooblique"
	"github.com/go-fonts/dejavu/dejavusansoblique"
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

// builtin is a font that comes with the program, read when first used.
type builtin struct {
	name string
	load func() (*Font, error)
	// kin are the fonts that stand in for it, one after another, where it lacks a
	// letter; known says once which they are.
	kin   []string
	known *sync.Once
}

func lazy(name string, data []byte, kin ...string) builtin {
	return builtin{name, sync.OnceValues(func() (*Font, error) { return Parse(name, data) }), kin, new(sync.Once)}
}

func pen(f word.LineFont, data string, kin ...string) builtin {
	return builtin{f.String(), sync.OnceValues(func() (*Font, error) { return strokeFont(f.String(), data) }), kin, new(sync.Once)}
}

// font is the font, with its kin to be read when they are needed.
func (b builtin) font() (*Font, error) {
	f, err := b.load()
	if err != nil {
		return nil, err
	}
	b.known.Do(func() {
		for _, name := range b.kin {
			f.next = append(f.next, spare{load: func() (*Font, error) { return Load(name) }, kin: true})
		}
	})
	return f, nil
}

// outlineFonts holds the built-in fonts; it is never written to. The Go fonts, by
// Bigelow & Holmes for the Go project, are under the licence of Go; the DejaVu fonts,
// with letters of more scripts, under that of Bitstream Vera, on which they are based.
var outlineFonts = [...]builtin{
	lazy("Go Regular", goregular.TTF, "DejaVu Sans"),
	lazy("Go Italic", goitalic.TTF, "DejaVu Sans Oblique", "DejaVu Sans"),
	lazy("Go Bold", gobold.TTF, "DejaVu Sans Bold", "DejaVu Sans"),
	lazy("Go Bold Italic", gobolditalic.TTF, "DejaVu Sans Bold Oblique", "DejaVu Sans Bold", "DejaVu Sans"),
	lazy("Go Medium", gomedium.TTF, "DejaVu Sans"),
	lazy("Go Medium Italic", gomediumitalic.TTF, "DejaVu Sans Oblique", "DejaVu Sans"),
	lazy("Go Mono", gomono.TTF, "DejaVu Sans Mono", "DejaVu Sans"),
	lazy("Go Mono Italic", gomonoitalic.TTF, "DejaVu Sans Mono Oblique", "DejaVu Sans Mono", "DejaVu Sans"),
	lazy("Go Mono Bold", gomonobold.TTF, "DejaVu Sans Mono Bold", "DejaVu Sans Bold", "DejaVu Sans"),
	lazy("Go Mono Bold Italic", gomonobolditalic.TTF, "DejaVu Sans Mono Bold Oblique", "DejaVu Sans Mono Bold", "DejaVu Sans Bold", "DejaVu Sans"),
	lazy("Go Smallcaps", gosmallcaps.TTF, "DejaVu Sans"),
	lazy("Go Smallcaps Italic", gosmallcapsitalic.TTF, "DejaVu Sans Oblique", "DejaVu Sans"),
	lazy("DejaVu Sans", dejavusans.TTF),
	lazy("DejaVu Sans Oblique", dejavusansoblique.TTF, "DejaVu Sans"),
	lazy("DejaVu Sans Bold", dejavusansbold.TTF, "DejaVu Sans"),
	lazy("DejaVu Sans Bold Oblique", dejavusansboldoblique.TTF, "DejaVu Sans Bold", "DejaVu Sans"),
	lazy("DejaVu Sans Mono", dejavusansmono.TTF, "DejaVu Sans"),
	lazy("DejaVu Sans Mono Oblique", dejavusansmonooblique.TTF, "DejaVu Sans Mono", "DejaVu Sans"),
	lazy("DejaVu Sans Mono Bold", dejavusansmonobold.TTF, "DejaVu Sans Bold", "DejaVu Sans"),
	lazy("DejaVu Sans Mono Bold Oblique", dejavusansmonoboldoblique.TTF, "DejaVu Sans Mono Bold", "DejaVu Sans Bold", "DejaVu Sans"),
}

// lineFonts holds the single-line fonts.
var lineFonts = [...]builtin{
	pen(word.Stroke, "roman.jhf"),
	pen(word.StrokeScript, "script.jhf", word.Stroke.String()),
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

// Face is what the built-in font is called that is bold or italic, or both, and of the
// family of another. It stays bold or italic where that is so already. There may be
// none of that name.
func Face(name string, bold, italic bool) string {
	family, weight := strings.Fields(name), ""
	for n := len(family) - 1; n > 0; n-- {
		switch strings.ToLower(family[n]) {
		case "regular":
		case "medium":
			weight = " Medium"
		case "bold":
			bold = true
		case "italic", "oblique":
			italic = true
		default:
			continue
		}
		family = slices.Delete(family, n, n+1)
	}
	if bold {
		weight = " Bold"
	}
	face := strings.Join(family, " ") + weight
	if !italic {
		return face
	}
	if oblique := face + " Oblique"; slices.ContainsFunc(outlineFonts[:], func(b builtin) bool { return strings.EqualFold(b.name, oblique) }) {
		return oblique
	}
	return face + " Italic"
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
				return b.font()
			}
		}
	}
	return nil, UnknownFontError{name}
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
