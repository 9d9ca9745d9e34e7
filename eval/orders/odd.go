package orders

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"foredge/lang/lookalike"
)

// An Oddity is something in a text that its customer may not have written, or that
// a maker should look at before it is cut.
type Oddity struct {
	What string // as in "begins with a blank"
	// Meant is what the text was meant to be, as far as that can be guessed; "" where
	// it can't, and where [Clean] makes it so.
	Meant string
	// Look says that it is no slip of those who wrote the table, only worth a look.
	Look bool
}

// String is the oddity with what was meant.
func (o Oddity) String() string {
	if o.Meant == "" {
		return o.What
	}
	return fmt.Sprintf("%s; %q may be meant", o.What, o.Meant)
}

// Lost is the sign for a character that a program could not read (U+FFFD). What
// stood there nobody can tell any more.
const Lost = '�'

// Odd lists what in a text isn't as a customer writes: what other programs have put
// there, blanks where none belong, characters that can't be seen, and letters of a
// wrong alphabet. It is empty for a text with nothing odd.
func Odd(text string) []Oddity {
	if usual(text) {
		return nil
	}
	var odd []Oddity
	told := map[string]bool{}
	add := func(o Oddity) {
		if o.What != "" && !told[o.What] {
			told[o.What] = true
			odd = append(odd, o)
		}
	}
	for _, find := range []func(string, func(Oddity)){oddBlanks, oddCharacters, coded, unfilled, oddQuotes, lostLetters} {
		find(text, add)
	}
	signs := controlsAsSigns(text, func(string) {})
	if meant, from := garbled(signs); from != "" {
		if meant == ungarbled(signs) {
			meant = "" // it is certain, and cleaned
		}
		add(Oddity{What: "looks as if it was read in the wrong encoding, " + from, Meant: meant})
	} else {
		for _, word := range strings.FieldsFunc(text, notOfWord) {
			if mix := lookalike.Mixed(word); mix != "" {
				add(Oddity{What: "mixes alphabets in one word: " + mix})
			}
		}
	}
	return odd
}

func notOfWord(c rune) bool { return !unicode.IsLetter(c) && !unicode.Is(unicode.M, c) }

// usual reports a text in which nothing can be odd, as most are: words of small
// letters and capitals with single blanks, hyphens, points and commas between them.
func usual(text string) bool {
	between := true
	for i := range len(text) {
		switch c := text[i]; {
		case c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z':
			between = false
		case c == ' ' && between:
			return false
		case c == ' ', c == '-' && !between, c == '.' && !between, c == ',' && !between:
			between = c == ' '
		default:
			return false
		}
	}
	return !between && !anyWordOf(text, standsForNothing) && !isNothing(text) && spreadsheetSays(text) == "" && !standIns().MatchString(text)
}

func oddBlanks(text string, add func(Oddity)) {
	if text != strings.TrimLeftFunc(text, unicode.IsSpace) {
		add(Oddity{What: "begins with a blank"})
	}
	if text != strings.TrimRightFunc(text, unicode.IsSpace) {
		add(Oddity{What: "ends with a blank"})
	}
	var before rune
	for _, c := range text {
		if isBlank(c) && isBlank(before) {
			add(Oddity{What: "has two blanks next to each other"})
			return
		}
		before = c
	}
}

// oddCharacters finds what can't be seen, and pictures.
func oddCharacters(text string, add func(Oddity)) {
	joins := joinsLetters(text)
	for _, c := range text {
		switch {
		case c == '\n':
			add(Oddity{What: "has several lines", Look: true})
			if EmptyLine(text) {
				add(Oddity{What: "has an empty line between others", Look: true})
			}
		case isLineEnd(c) || unicode.Is(unicode.Cc, c):
			add(Oddity{What: fmt.Sprintf("has a control character, U+%04X", c)})
		case joins && isJoiner(c):
		case unseen(c):
			add(Oddity{What: fmt.Sprintf("has a character that can't be seen, U+%04X", c), Look: c >= 0xFE00 && c <= 0xFE0F})
		case c != ' ' && unicode.Is(unicode.Zs, c):
			add(Oddity{What: fmt.Sprintf("has an unusual blank, U+%04X", c), Look: true})
		case unicode.Is(unicode.Co, c):
			add(Oddity{What: fmt.Sprintf("has a private-use character, U+%04X", c)})
		case isPicture(c):
			add(Oddity{What: fmt.Sprintf("has a picture in place of a letter, U+%04X", c), Look: true})
		}
	}
}

// oddQuotes finds quotes as programs leave them.
func oddQuotes(text string, add func(Oddity)) {
	_, inQuotes := wrapped(strings.TrimSpace(text))
	switch {
	case inQuotes:
		add(Oddity{What: "stands in quotes as a whole"})
	case singleQuotes(text) != text:
		add(Oddity{What: "has doubled quotes"})
	case loneQuote(text):
		add(Oddity{What: "has a quote without its fellow"})
	}
	if mendApostrophes(text) != text {
		add(Oddity{What: "has an accent in place of an apostrophe"})
	}
	if carried := carryAccents(text); carried != text {
		add(Oddity{What: "has an accent before the letter that may have been meant to carry it", Meant: carried})
	}
}

// loneQuote reports a double quote without its fellow. One behind a digit may stand for inches, or
// be the fellow of another.
func loneQuote(text string) bool {
	count := func(quote string) (bare, inches int) {
		for before, rest, more := strings.Cut(text, quote); more; before, rest, more = strings.Cut(rest, quote) {
			if last := len(before) - 1; last >= 0 && before[last] >= '0' && before[last] <= '9' {
				inches++
			} else {
				bare++
			}
		}
		return bare, inches
	}
	if bare, inches := count(`"`); bare > 0 || inches > 0 {
		return bare%2 == 1 && inches == 0
	}
	if strings.Contains(text, "€“") {
		return false // what is left of a dash in UTF-8
	}
	low, _ := count("„")
	high, highInches := count("“")
	close, inches := count("”")
	high += highInches // one that closes what is low: „26“
	switch {
	case low > 0: // „Ann“, „Ann”
		return low != high+close && low != high+close+inches
	case high > 0:
		return high != close && high != close+inches
	}
	return close%2 == 1 && inches == 0 // ”Ann”
}

// isBlank reports the blanks of all scripts; no line end is one.
func isBlank(c rune) bool { return unicode.Is(unicode.Zs, c) || c == '\t' }

// isLineEnd reports the line ends that a table's own lines don't have.
func isLineEnd(c rune) bool {
	return c == '\v' || c == '\f' || c == 0x85 || c == 0x2028 || c == 0x2029
}

// unseen reports characters that show nothing and take no room: formats, fillers of
// Hangul, variation selectors and others that Unicode ignores by default (the Unicode Standard,
// section 5.21). The signs of Arabic under which numbers stand are formats, and are seen.
func unseen(c rune) bool {
	return unicode.In(c, unicode.Cf, unicode.Other_Default_Ignorable_Code_Point, unicode.Variation_Selector) && !unicode.Is(unicode.Prepended_Concatenation_Mark, c)
}

// isJoiner reports what joins or parts letters or says where a text begins, which in
// some scripts is part of how a word is written.
func isJoiner(c rune) bool { return c == 0x200C || c == 0x200D || c == 0x200E || c == 0x200F }

// joinsLetters reports a text of a script in which joiners belong to the writing.
func joinsLetters(text string) bool {
	return strings.ContainsFunc(text, func(c rune) bool {
		return c >= 0x0590 && unicode.In(c, unicode.Arabic, unicode.Hebrew, unicode.Syriac, unicode.Devanagari, unicode.Bengali, unicode.Gurmukhi,
			unicode.Gujarati, unicode.Oriya, unicode.Tamil, unicode.Telugu, unicode.Kannada, unicode.Malayalam, unicode.Sinhala, unicode.Mongolian)
	})
}

// Empty reports a text of which nothing would be seen.
func Empty(text string) bool {
	for _, c := range text {
		if !unicode.IsSpace(c) && !unseen(c) && !unicode.Is(unicode.Cc, c) && c != 0x2800 {
			return false
		}
	}
	return true
}

// EmptyLine reports a text with a line between others on which nothing would be seen.
func EmptyLine(text string) bool {
	lines := strings.Split(strings.TrimFunc(text, unicode.IsSpace), "\n")
	return slices.ContainsFunc(lines, Empty)
}

// isPicture reports emoji and other pictures: symbols that are not letters, in
// the blocks from Miscellaneous Technical on, and what builds emoji of them.
func isPicture(c rune) bool {
	return unicode.Is(unicode.So, c) && c != Lost && (c >= 0x2300 && c < 0x3000 || c >= 0x1F000) || unicode.Is(unicode.Regional_Indicator, c) ||
		c >= 0x1F3FB && c <= 0x1F3FF
}
