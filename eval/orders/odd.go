package orders

import (
	"fmt"
	"strings"
	"unicode"

	"foredge/lang/lookalike"
)

// Odd lists what in a text a maker should look at before it is cut: blanks
// where none belong, characters that can't be seen, pictures, and letters of
// one alphabet that look like those of another. It is empty for a text with
// nothing odd.
func Odd(text string) []string {
	var odd []string
	if text != strings.TrimLeftFunc(text, unicode.IsSpace) {
		odd = append(odd, "begins with a blank")
	}
	if text != strings.TrimRightFunc(text, unicode.IsSpace) {
		odd = append(odd, "ends with a blank")
	}
	told := map[string]bool{}
	tell := func(format string, args ...any) {
		if s := fmt.Sprintf(format, args...); !told[s] {
			told[s] = true
			odd = append(odd, s)
		}
	}
	var before rune
	for _, c := range text {
		switch {
		case isBlank(c) && isBlank(before):
			tell("has two blanks next to each other")
		case c == '\n':
			tell("has several lines")
		case unicode.Is(unicode.Cc, c):
			tell("has a control character, U+%04X", c)
		case unicode.Is(unicode.Cf, c) || c == 0x034F || c == 0x115F || c == 0x1160 || c == 0x3164 || unicode.Is(unicode.Variation_Selector, c):
			tell("has a character that can't be seen, U+%04X", c)
		case c != ' ' && unicode.Is(unicode.Zs, c):
			tell("has an unusual blank, U+%04X", c)
		case unicode.Is(unicode.Co, c):
			tell("has a private-use character, U+%04X", c)
		case isPicture(c):
			tell("has a picture in place of a letter, U+%04X", c)
		case (before == 'Ã' || before == 'Â') && c >= 0x80 && c <= 0xBF:
			tell("looks as if it was read in the wrong encoding: %c%c", before, c)
		}
		before = c
	}
	for _, word := range strings.FieldsFunc(text, func(c rune) bool { return !unicode.IsLetter(c) && !unicode.Is(unicode.M, c) }) {
		if mix := lookalike.Mixed(word); mix != "" {
			tell("mixes alphabets in one word: %s", mix)
		}
	}
	return odd
}

func isBlank(c rune) bool { return unicode.Is(unicode.Zs, c) || c == '\t' }

// isPicture reports emoji and other pictures: symbols that are not letters, in
// the blocks from Miscellaneous Technical on, and what builds emoji of them.
func isPicture(c rune) bool {
	return unicode.Is(unicode.So, c) && (c >= 0x2300 && c < 0x3000 || c >= 0x1F000) || unicode.Is(unicode.Regional_Indicator, c) ||
		c >= 0x1F3FB && c <= 0x1F3FF
}
