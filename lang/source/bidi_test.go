package source_test

import (
	"slices"
	"strings"
	"testing"
	"unicode"

	"golang.org/x/text/unicode/bidi"

	"foredge/lang/source"
)

func raw(text string) string { return strings.NewReplacer("\u2068", "", "\u2069", "").Replace(text) }

// Words from right to left stand by themselves; the rest stays as it is.
func TestIsolated(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"a sheet of ply, 600 mm", "a sheet of ply, 600 mm"},
		{"Größe Ž 東京", "Größe Ž 東京"},
		{"a sheet of שלום, 600 mm by 400 mm", "a sheet of \u2068שלום\u2069, 600 mm by 400 mm"},
		{"שלום: 3 parts", "\u2068שלום\u2069: 3 parts"},
		{"כחול.a.2", "\u2068כחול\u2069.a.2"},
		{"t: שלום עולם, capitals 5 mm", "t: \u2068שלום עולם\u2069, capitals 5 mm"},
		{"مَ 5", "\u2068مَ\u2069 5"},
		{"שלום\nעולם", "\u2068שלום\u2069\n\u2068עולם\u2069"},
		{"\xffשלום\xff", "\xff\u2068שלום\u2069\xff"},
		{"", ""},
	} {
		got := source.Isolated(c.text)
		if got != c.want {
			t.Errorf("%q: %q, want %q", c.text, got, c.want)
		}
		if back := raw(got); back != c.text {
			t.Errorf("%q came back as %q", c.text, back)
		}
	}
}

// By the Unicode Bidirectional Algorithm, as golang.org/x/text has it, a Hebrew name takes the comma behind it, and
// with that the number, to its other side, unless it stands by itself.
func TestIsolatedByTheAlgorithm(t *testing.T) {
	const text = "a sheet of שלום, 600 mm"
	turned := func(text string) (all []string) {
		var p bidi.Paragraph
		_, err := p.SetString(text, bidi.DefaultDirection(bidi.LeftToRight))
		if err != nil {
			t.Fatal(err)
		}
		order, err := p.Order()
		if err != nil {
			t.Fatal(err)
		}
		for i := range order.NumRuns() {
			if r := order.Run(i); r.Direction() == bidi.RightToLeft {
				all = append(all, raw(r.String()))
			}
		}
		return all
	}
	if got := turned(text); !slices.Equal(got, []string{"שלום, "}) {
		t.Errorf("as it is %q runs from right to left", got)
	}
	if got := turned(source.Isolated(text)); !slices.Equal(got, []string{"שלום"}) {
		t.Errorf("by itself %q runs from right to left", got)
	}
}

// Each letter that golang.org/x/text knows to run from right to left does, and no other.
func TestWhatRunsLeftward(t *testing.T) {
	for r := rune(0x80); r <= 0x1ffff; r++ {
		if !unicode.IsLetter(r) {
			continue
		}
		p, _ := bidi.LookupRune(r)
		want := p.Class() == bidi.R || p.Class() == bidi.AL
		if got := source.Isolated(string(r)) != string(r); got != want {
			t.Errorf("%U %q stands by itself: %v", r, r, got)
		}
	}
}
