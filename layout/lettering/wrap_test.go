package lettering

import (
	"math/rand/v2"
	"strings"
	"testing"
	"unicode"

	"foredge/lang/foretest"
	"foredge/layout/geom"

	"github.com/go-fonts/latin-modern/lmroman10italic"
	"github.com/go-text/typesetting/segmenter"
)

// bestOfAll is the height of capitals of the best of all ways to break a text at its
// blanks, each set as a text that comes with those line breaks.
func bestOfAll(t *testing.T, f *Font, s string, w, h float64, st Style) float64 {
	t.Helper()
	st.Wrap = false
	var blanks []int
	for i, r := range []rune(s) {
		if r == ' ' {
			blanks = append(blanks, i)
		}
	}
	best := 0.0
	for breaks := range 1 << len(blanks) {
		text := []rune(s)
		for i, at := range blanks {
			if breaks>>i&1 == 1 {
				text[at] = '\n'
			}
		}
		composed, err := f.compose(string(text), st)
		if err != nil {
			t.Fatal(err)
		}
		k, err := composed.scale(geom.Box{Max: geom.Pt(w, h)})
		if err != nil {
			t.Fatal(err)
		}
		best = max(best, k*f.cap)
	}
	return best
}

// Wrapped letters are as large as the best of all ways to break the text lets them
// be, found by trying all.
func TestWrapIsBestOfAllBreaks(t *testing.T) {
	italic, err := Parse("italic", lmroman10italic.TTF)
	if err != nil {
		t.Fatal(err)
	}
	fonts := []*Font{load(t, Default), load(t, "Go Mono"), load(t, "Go Smallcaps Italic"), load(t, "stroke"), italic}
	words := strings.Fields("A b c d e f g h tern gulls Harbour log of the high tide , — . ' \" _ ÅÅ ÿ Ǻ Ç ggg xxx noon lift-off Ty WAVE 12 3/4")
	r := rand.New(rand.NewPCG(14, 3))
	n := foretest.Sample(1000, 1000)
	for i := range n {
		f := fonts[i%len(fonts)]
		var parts []string
		for range 1 + r.IntN(9) {
			parts = append(parts, words[r.IntN(len(words))])
			if r.IntN(12) == 0 {
				parts[len(parts)-1] += "\n" + words[r.IntN(len(words))]
			}
		}
		s := strings.Join(parts, " ")
		if f == italic {
			s = strings.Map(func(c rune) rune {
				if f.Has(c) || c == '\n' {
					return c
				}
				return 'g'
			}, s)
		}
		st := Style{Wrap: true, Mode: Mode(r.IntN(2)), Cap: float64(r.IntN(3)) * 4}
		if r.IntN(4) == 0 {
			st.Space = r.Float64()*2 - 0.3
		}
		w, h := 10+r.Float64()*100, 5+r.Float64()*60
		want := bestOfAll(t, f, s, w, h, st)
		if want < smallest {
			continue
		}
		got, err := Fit(f, s, w, h, st)
		if err != nil {
			t.Errorf("%q in %.3f by %.3f: %v", s, w, h, err)
			continue
		}
		if got.Cap < want*(1-1e-6) || got.Cap > want*(1+1e-9) {
			t.Errorf("%d: %q in %s, %.3f by %.3f, %+v: capitals of %.6f, the best of all is %.6f", i, s, f.Name(), w, h, st, got.Cap, want)
		}
	}
}

// A line may be broken at each blank at which Unicode's rules let it be, as a library
// that follows them (Standard Annex 14) has them, and at no other.
func TestBlanksThatPart(t *testing.T) {
	blanks := []rune{'\u200b'}
	for _, r16 := range unicode.Zs.R16 {
		for r := rune(r16.Lo); r <= rune(r16.Hi); r += rune(r16.Stride) {
			blanks = append(blanks, r)
		}
	}
	if len(blanks) < 17 || len(unicode.Zs.R32) > 0 {
		t.Fatalf("blanks %U", blanks)
	}
	may, mayNot := 0, 0
	for _, r := range blanks {
		var lines segmenter.Segmenter
		lines.Init([]rune{'a', r, 'b'})
		n := 0
		for at := lines.LineIterator(); at.Next(); {
			n++
		}
		if n == 2 {
			may++
		} else {
			mayNot++
		}
		if parts(r) != (n == 2) {
			t.Errorf("%U: parts words: %v; there are %d lines", r, parts(r), n)
		}
	}
	if may < 14 || mayNot < 3 {
		t.Errorf("%d blanks at which lines are broken, %d at which they aren't", may, mayNot)
	}
	for _, s := range []string{"HHH\u2003HHH", "HHH\u2004 HHH", "HHH\u2009HHH", "HHH\u200bHHH", "א\u2003HHH\u2003HHH"} {
		f := load(t, "DejaVu Sans")
		if !f.Has([]rune(strings.TrimLeft(s, "Hא"))[0]) {
			t.Errorf("%q isn't in the font", s)
			continue
		}
		got, err := Fit(f, s, 20, 60, Style{Wrap: true})
		plain := strings.Map(func(r rune) rune {
			if parts(r) {
				return '\n'
			}
			return r
		}, s)
		want, errWant := Fit(f, strings.ReplaceAll(plain, "\n\n", "\n"), 20, 60, Style{})
		if err != nil || errWant != nil || got.Lines != want.Lines || got.Cap != want.Cap {
			t.Errorf("%q: %d lines, capitals of %g, want %d and %g; %v %v", s, got.Lines, got.Cap, want.Lines, want.Cap, err, errWant)
		}
	}
}

// Lines that run both ways have their words elsewhere when they are broken elsewhere.
func TestWrapOfMixedLinesIsBest(t *testing.T) {
	fonts, _ := outside(t)
	f := fonts["DejaVu Sans"]
	words := []string{"גל", "ים", "שחף", "12", "Tern", "A", "(3)", "עוגן", "log"}
	r := rand.New(rand.NewPCG(14, 33))
	for range foretest.Sample(200, 200) {
		var parts []string
		for range 2 + r.IntN(6) {
			parts = append(parts, words[r.IntN(len(words))])
		}
		s, w, h := strings.Join(parts, " "), 10+r.Float64()*60, 10+r.Float64()*60
		st := Style{Wrap: true}
		want := bestOfAll(t, f, s, w, h, st)
		got, err := Fit(f, s, w, h, st)
		if err != nil || got.Cap < want*(1-1e-6) || got.Cap > want*(1+1e-9) {
			t.Errorf("%q in %.3f by %.3f: capitals of %.6f, the best of all is %.6f; %v", s, w, h, got.Cap, want, err)
		}
	}
}
