package lettering

import (
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// A spare is a font for what those before it lack.
type spare struct {
	load func() (*Font, error)
	// kin says that nobody asked for it: it is a built-in font of the same style, and
	// stands in for letters, figures and punctuation alone, not for pictures.
	kin bool
}

// A Change says that a font which was asked for lacks a character, and what is
// lettered in another one instead: the word, where it is a letter.
type Change struct {
	Text  string
	Lacks rune
	From  string // the font that lacks it, as it was asked for
	To    string // the font that has it
}

// WithSpares is a font like f with others in turn for what those before it lack: a
// word that has a letter which it lacks is wholly of the next font that has it all,
// its capitals as high. All must have outlines or all single lines. What the built-in
// fonts among them say of their own spares comes last.
func (f *Font) WithSpares(others ...*Font) *Font {
	out := &Font{name: f.name, face: f.face, single: f.single, cap: f.cap, mu: f.mu, glyphs: f.glyphs}
	for _, o := range others {
		out.next = append(out.next, spare{load: func() (*Font, error) { return o, nil }})
	}
	for _, o := range append([]*Font{f}, others...) {
		out.next = append(out.next, o.next...)
	}
	return out
}

// asked are the names of the fonts that were asked for.
func (f *Font) asked() []string {
	names := []string{f.name}
	for _, s := range f.next {
		if o, err := s.load(); err == nil && !s.kin {
			names = append(names, o.name)
		}
	}
	return names
}

// choose finds of which font each character of a line is to be; lacks is the place of
// one that none of them has, -1 if all have one.
func (f *Font) choose(line []rune, rtl, spaced bool) (fonts []int, changes []Change, lacks int, err error) {
	fonts = make([]int, len(line))
	for start, end := 0, 0; start < len(line); start = end {
		end = start + unitOf(line[start:])
		unit := line[start:end]
		n, missing := 0, -1
		for n = 0; n <= len(f.next); n++ {
			if n > 0 && f.next[n-1].kin && slices.ContainsFunc(unit, isPicture) {
				continue
			}
			at, err := f.missing(n, unit, rtl, spaced)
			if err != nil {
				return nil, nil, -1, err
			}
			if n == 0 {
				missing = at
			}
			if at < 0 {
				break
			}
		}
		switch {
		case n > len(f.next):
			return nil, nil, start + missing, nil
		case n > 0:
			to, err := f.next[n-1].load()
			if err != nil {
				return nil, nil, -1, err
			}
			changes = append(changes, Change{string(unit), lacking(unit, missing), f.name, to.name})
			for i := start; i < end; i++ {
				fonts[i] = n
			}
		}
	}
	return fonts, changes, -1, nil
}

// missing is the place of the first character of a unit that the n-th of the fonts has
// no sign for, -1 if it has all.
func (f *Font) missing(n int, unit []rune, rtl, spaced bool) (int, error) {
	first := -1
	for _, r := range runs(unit, rtl) {
		r.font = n
		marks, err := f.marks(unit, r, spaced)
		if err != nil {
			return -1, err
		}
		for _, m := range marks {
			if m.id == 0 && (first < 0 || m.at < first) {
				first = m.at
			}
		}
	}
	return first, nil
}

// lacking is the character at a place of a line for which there is no sign, composed with the
// accents behind it: a font may have e, and no ệ.
func lacking(line []rune, at int) rune {
	end := at + 1
	for end < len(line) && unicode.Is(unicode.M, line[end]) {
		end++
	}
	return []rune(norm.NFC.String(string(line[at:end])))[0]
}

// unitOf is how many characters at the start of a line are of one font: a word of
// letters, a number, or a sign with its accents. An apostrophe between letters is of their
// word, and one, a point or a comma between figures of their number (Unicode Standard
// Annex 29, WB6, WB7, WB11 and WB12, of which no other signs are taken).
func unitOf(line []rune) int {
	class := func(i int) int {
		switch {
		case i >= len(line):
			return 0
		case unicode.IsLetter(line[i]):
			return 1
		case unicode.IsDigit(line[i]):
			return 2
		}
		return 0
	}
	first := class(0)
	within := [...]string{"", "'’", "'’.,"}[first]
	n := 1
	for n < len(line) {
		switch {
		case first != 0 && class(n) == first, unicode.Is(unicode.M, line[n]), unicode.Is(unicode.Cf, line[n]):
		case strings.ContainsRune(within, line[n]) && class(n+1) == first:
		default:
			return n
		}
		n++
	}
	return n
}

// isPicture reports what is no letter, figure or sign of punctuation.
func isPicture(r rune) bool {
	return !unicode.In(r, unicode.L, unicode.M, unicode.N, unicode.P, unicode.Z, unicode.Cf, unicode.Sc, unicode.Sm)
}
