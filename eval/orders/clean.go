package orders

import (
	"fmt"
	"regexp"
	"strings"
	"sync"
	"unicode"

	"foredge/lang/lookalike"
)

// Clean is a text as its customer wrote it, as far as that is certain: without what
// other programs have put in, without blanks where none belong and without what can't
// be seen; with what was changed, in words. It guesses nothing.
func Clean(text string) (clean string, changes []string) {
	if usual(text) {
		return text, nil
	}
	what := func(s string) {
		for _, c := range changes {
			if c == s {
				return
			}
		}
		changes = append(changes, s)
	}
	mend := func() {
		if meant := ungarbled(text); meant != text {
			what("letters read in the wrong encoding mended")
			text = meant
		}
	}
	mend() // before a code that is decoded stands among them
	text = decodeAll(text, what)
	mend()
	text = controlsAsSigns(text, what)
	text = seen(text, what)
	if tidy := trimmed(text); tidy != text {
		what("blanks left out")
		text = tidy
	}
	text = unquoted(text, what)
	if mended := mendApostrophes(text); mended != text {
		what("an accent made an apostrophe")
		text = mended
	}
	return text, changes
}

// Meant is what a text with something odd was meant to be; not sure where cleaning changes
// nothing of it, or leaves something odd.
func Meant(text string) (clean string, sure bool) {
	clean, changes := Clean(text)
	if len(changes) == 0 || lostIn(clean) || Empty(clean) {
		return "", false
	}
	for _, o := range Odd(clean) {
		if !o.Look {
			return "", false
		}
	}
	return clean, true
}

// controlsAsSigns writes the signs that windows-1252 has at the places of the controls
// U+0080 to U+009F, which no text has; five of these places have none, and stay.
func controlsAsSigns(text string, what func(string)) string {
	return strings.Map(func(c rune) rune {
		if !isC1(c) {
			return c
		}
		sign := western().of.DecodeByte(byte(c))
		if sign == Lost {
			return c
		}
		if sign != c {
			what(fmt.Sprintf("U+%04X taken for %c, as windows-1252 has it", c, sign))
		}
		return sign
	}, text)
}

// isC1 reports the controls of ISO 8859 and Unicode beyond ASCII.
func isC1(c rune) bool { return c >= 0x80 && c < 0xA0 }

// seen leaves out what can't be seen and makes every line end a plain one.
func seen(text string, what func(string)) string {
	joins := joinsLetters(text)
	return strings.Map(func(c rune) rune {
		switch {
		case c == '\n' || c == '\t':
			return c
		case isLineEnd(c):
			what("a line end made a plain one")
			return '\n'
		case joins && isJoiner(c), isPictureMaker(c) && strings.ContainsFunc(text, isPicture):
			return c
		case unseen(c) || unicode.Is(unicode.Cc, c) && !isC1(c):
			what(fmt.Sprintf("U+%04X, which can't be seen, left out", c))
			return -1
		}
		return c
	}, text)
}

// isPictureMaker reports what makes one picture of several characters.
func isPictureMaker(c rune) bool {
	return c == 0x200D || c == 0xFE0F || c >= 0xE0020 && c <= 0xE007F
}

// trimmed has single blanks between words, and none at the ends of lines; lines with
// nothing in them are left out at both ends.
func trimmed(text string) string {
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		lines[i] = strings.Join(strings.FieldsFunc(l, isBlank), " ")
	}
	return strings.Trim(strings.Join(lines, "\n"), "\n")
}

// unquoted leaves out quotes around a text, and makes doubled ones single, which may uncover
// such: "O"".
func unquoted(text string, what func(string)) string {
	for {
		if inside, is := wrapped(text); is {
			what("quotes around it left out")
			text = trimmed(inside)
			continue
		}
		single := singleQuotes(text)
		if single == text {
			return text
		}
		what("doubled quotes made single")
		text = single
	}
}

// wrapped reports a text that stands in quotes as a whole, and what is in them: "Ada",
// not "Ada" and "Bo".
func wrapped(text string) (inside string, is bool) {
	for _, quotes := range [][2]string{{`"`, `"`}, {"“", "”"}, {"''", "''"}, {"'", "'"}} {
		inside, is = strings.CutPrefix(text, quotes[0])
		if !is {
			continue
		}
		inside, is = strings.CutSuffix(inside, quotes[1])
		others := quotes[0] + quotes[1]
		if is && !strings.ContainsAny(strings.ReplaceAll(inside, `""`, ""), others) {
			return inside, true
		}
	}
	return "", false
}

// singleQuotes makes doubled quotes single, and the doubled apostrophe of a word, as
// databases write it: O”Neill.
func singleQuotes(text string) string {
	text = strings.ReplaceAll(text, `""`, `"`)
	if !strings.Contains(text, "''") {
		return text
	}
	return doubledApostrophe().ReplaceAllString(text, "$1'$2")
}

var doubledApostrophe = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(\pL)''(\pL)`) })

// mendApostrophes makes a grave or an acute accent that stands alone between two
// letters the apostrophe for which it was typed: O´Neill.
func mendApostrophes(text string) string {
	return accentsInWords(text, func(accent rune, letters []rune, i int) {
		if !mayCarry(letters, i+1) {
			letters[i] = '’'
		}
	})
}

// carryAccents puts an accent on the letter behind it that may have been meant to carry it.
func carryAccents(text string) string {
	carried := accentsInWords(text, func(accent rune, letters []rune, i int) {
		if mayCarry(letters, i+1) {
			letters[i], letters[i+1] = letters[i+1], map[rune]rune{'`': 0x300, '´': 0x301}[accent]
		}
	})
	if carried == text {
		return text // as it is composed, which makes no difference
	}
	return lookalike.Composed(carried)
}

// accentsInWords does something to each grave or acute accent that stands alone between two
// letters, which are the text's and where the accent is.
func accentsInWords(text string, do func(accent rune, letters []rune, i int)) string {
	if !strings.ContainsAny(text, "`´") {
		return text
	}
	letters := []rune(text)
	for i := 1; i+1 < len(letters); i++ {
		if c := letters[i]; (c == '`' || c == '´') && !notOfWord(letters[i-1]) && unicode.IsLetter(letters[i+1]) {
			do(c, letters, i)
		}
	}
	return string(letters)
}

// mayCarry reports whether a letter behind an accent may have been meant to carry it: a vowel
// behind a consonant that ends the word, as in Ren´e. Behind a vowel the accent is a letter of
// its own: Hawai´i.
func mayCarry(letters []rune, i int) bool {
	const vowels = "aeiouy"
	ends := i+1 == len(letters) || !unicode.IsLetter(letters[i+1]) && letters[i+1] != '`' && letters[i+1] != '´'
	return ends && strings.ContainsRune(vowels, letters[i]) && !strings.ContainsRune(vowels, letters[i-2])
}
