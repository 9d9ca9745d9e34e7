package source

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// What surrounds text whose direction is its own: FIRST STRONG ISOLATE and POP DIRECTIONAL ISOLATE.
const (
	isolate = "\u2068"
	pop     = "\u2069"
)

// Isolated is a text from left to right in which each stretch that is written from right to
// left stands by itself: what is said before and behind it, numbers above all, stays where it is
// (Unicode Standard Annex 9, 2.7). Where there is no such stretch it is the text.
func Isolated(text string) string {
	if ascii(text) {
		return text
	}
	var b strings.Builder
	done, from, to := 0, -1, -1 // what is written, and of a stretch its first and behind its last strong character
	flush := func() {
		if from >= 0 {
			b.WriteString(text[done:from] + isolate + text[from:to] + pop)
			done, from = to, -1
		}
	}
	for i, r := range text {
		switch {
		case leftward(r):
			if to = i + utf8.RuneLen(r); from < 0 {
				from = i
			}
		case unicode.Is(unicode.Mn, r): // a point or an accent on the letter before
			if to == i {
				to += utf8.RuneLen(r)
			}
		case unicode.IsLetter(r), r == '\n':
			flush()
		}
	}
	flush()
	return b.String() + text[done:]
}

// leftward reports whether a character is a letter that is written from right to left: one of the blocks that Unicode
// keeps for such scripts.
func leftward(r rune) bool {
	return unicode.IsLetter(r) && (r >= 0x0590 && r <= 0x08ff || r >= 0xfb1d && r <= 0xfdff || r >= 0xfe70 && r <= 0xfeff ||
		r >= 0x10800 && r <= 0x10fff || r >= 0x1e800 && r <= 0x1efff)
}

func ascii(text string) bool {
	for i := range len(text) {
		if text[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}
