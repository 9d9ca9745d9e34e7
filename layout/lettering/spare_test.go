package lettering

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"foredge/lang/foretest"

	"github.com/go-fonts/latin-modern/lmroman10regular"
)

// What a font lacks is of the next one that has it, the whole word where it is a letter,
// with capitals as high as those of the first; all else stays as it was.
func TestSpares(t *testing.T) {
	own, err := Parse("own.otf", lmroman10regular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	both := own.WithSpares(load(t, "Go Mono"), load(t, "DejaVu Sans"))
	for _, c := range []struct {
		text string
		want []Change
	}{
		{"Tern", nil},
		{"Жук Tern", []Change{{"Жук", 'Ж', "own.otf", "Go Mono"}}},
		{"a≈b", []Change{{"≈", '≈', "own.otf", "Go Mono"}}},
		{"Tern Әлия", []Change{{"Әлия", 'Ә', "own.otf", "DejaVu Sans"}}},
		{"Жук שלום", []Change{{"Жук", 'Ж', "own.otf", "Go Mono"}, {"שלום", 'ש', "own.otf", "DejaVu Sans"}}},
		// An apostrophe is of the word that it stands in, a point of the number.
		{"O’Жo 'Tern' L'Жa", []Change{{"O’Жo", 'Ж', "own.otf", "Go Mono"}, {"L'Жa", 'Ж', "own.otf", "Go Mono"}}},
		{"‘Жo’ x. 'Ж", []Change{{"Жo", 'Ж', "own.otf", "Go Mono"}, {"Ж", 'Ж', "own.otf", "Go Mono"}}},
		{"1.٣, 2,5", []Change{{"1.٣", '٣', "own.otf", "DejaVu Sans"}}},
		{"♞", []Change{{"♞", '♞', "own.otf", "DejaVu Sans"}}},
	} {
		b, err := Fit(both, c.text, 100, 20, Style{Cap: 5})
		if err != nil || !slices.Equal(b.Changes, c.want) {
			t.Errorf("%q: %v, want %v; %v", c.text, b.Changes, c.want, err)
		}
	}
	// However its accents are put together it is one letter that is lacking.
	for _, word := range []string{"Vi\u1ec7t", "Vie\u0323\u0302t"} {
		b, err := Fit(load(t, "Go Regular").WithSpares(load(t, "DejaVu Sans")), word, 100, 20, Style{Cap: 5})
		if want := []Change{{word, 'ệ', "Go Regular", "DejaVu Sans"}}; err != nil || !slices.Equal(b.Changes, want) {
			t.Errorf("%q: %v, want %v; %v", word, b.Changes, want, err)
		}
	}
	// A word of another font is what that font alone makes of it.
	for _, word := range []string{"HЖ", "שלום", "Ж"} {
		got, err := both.Text(word, 10)
		font := "Go Mono"
		if word == "שלום" {
			font = "DejaVu Sans"
		}
		want, wrong := load(t, font).Text(word, 10)
		if err != nil || wrong != nil {
			t.Fatal(err, wrong)
		}
		foretest.Near(t, word+" advances", got.Advance, want.Advance, 1e-9)
		foretest.Near(t, word+" in width", got.Ink.Width(), want.Ink.Width(), 1e-9)
		foretest.Near(t, word+" in height", got.Ink.Height(), want.Ink.Height(), 1e-9)
	}
	// Beside one another they are as far apart as each asks for.
	a, _ := own.Text("H ", 10)
	b, _ := load(t, "Go Mono").Text("Ж", 10)
	got, _ := both.Text("H Ж", 10)
	foretest.Near(t, "two fonts advance", got.Advance, a.Advance+b.Advance, 1e-9)
	// From right to left too: the second word stands at the left.
	line, err := load(t, "Go Regular").Text("ים שלום", 10)
	if err != nil {
		t.Fatal(err)
	}
	alone, _ := load(t, "DejaVu Sans").Text("ים שלום", 10)
	if line.Ink.Width() < 0.9*alone.Ink.Width() || line.Ink.Width() > 1.1*alone.Ink.Width() || len(line.Outline) != len(alone.Outline) {
		t.Errorf("two words from right to left are %.3f wide, in their own font %.3f", line.Ink.Width(), alone.Ink.Width())
	}
	// Cut through, equal letters are equal.
	cut, err := Fit(both, "ЖЖ", 100, 20, Style{Cap: 10})
	if err != nil {
		t.Fatal(err)
	}
	if o, err := cut.Stencil(1, 0); err != nil || len(o) == 0 {
		t.Errorf("cut through: %d outlines, %v", len(o), err)
	}
	// What none has is an error that names all that were asked for, but not their kin.
	var missing MissingError
	if _, err := both.Text("鳥", 5); !errors.As(err, &missing) || strings.Join(missing.Fonts, ", ") != "own.otf, Go Mono, DejaVu Sans" {
		t.Errorf("%v", err)
	}
	// A picture is nobody's letter: nothing stands in for it that wasn't asked for.
	if _, err := load(t, "Go Regular").Text("♞", 5); !errors.As(err, &missing) || !slices.Contains(missing.Has, "DejaVu Sans") {
		t.Errorf("%v", err)
	}
}

// In every style there are the letters of Latin with accents, Vietnamese among them, of
// Greek, old and new, and of Cyrillic: the code charts of Unicode, by their names of
// blocks.
func TestEveryStyleHasAccentsGreekAndCyrillic(t *testing.T) {
	ranges := map[string][2]rune{
		"Latin-1 Supplement": {0xc0, 0xff}, "Latin Extended-A": {0x100, 0x17f}, "Vietnamese": {0x1ea0, 0x1ef9},
		"Greek": {0x391, 0x3a1}, "Greek, small": {0x3b1, 0x3c9}, "Greek with accents": {0x3aa, 0x3b0}, "Greek Extended": {0x1f00, 0x1f15},
		"Cyrillic": {0x400, 0x45f},
	}
	for _, name := range append(Names(), "stroke", "stroke-script") {
		f := load(t, name)
		for what, r := range ranges {
			for c := r[0]; c <= r[1]; c++ {
				l, err := f.Text(string(c), 5)
				if err != nil || len(l.Outline) == 0 {
					t.Errorf("%s: %s, %U: %v", name, what, c, err)
				}
			}
		}
	}
}
