package numeral

import (
	"fmt"
	"strings"

	"foredge/lang/spell"
	"foredge/lang/unit"
)

// NoUnit says what is wrong with a word that follows a number and is no unit.
// adjoins tells that no blank stands between the two.
func NoUnit(number, word string, adjoins bool) *Error {
	e := &Error{Message: word + " is no unit", help: "units are " + spell.And(unit.Names())}
	before, after, minus := strings.Cut(word, "-")
	_, isUnit := unit.Lookup(before)
	meant, known := unit.Meant(word)
	switch {
	case minus && isUnit:
		e.help = fmt.Sprintf("a minus sign needs blanks around it: %s %s - %s", number, before, after)
	case adjoins && Exponent(word) == len(word):
		e.help = "write the number out; powers of ten are not understood"
	case known:
		e.help = fmt.Sprintf("did you mean %s?", meant.Name)
		e.Instead = []string{meant.Name}
	default:
		if near := spell.Nearest(word, unit.Names()); near != "" {
			e.help = fmt.Sprintf("did you mean %s?", near)
			e.Instead = []string{near}
		} else if !adjoins {
			e.help += "; anything else stands in a line of its own, or after ;"
		}
	}
	return e
}

// Exponent is how many bytes at the start of a text are a power of ten, as the e+3
// of 1e+3 is; 0 if it doesn't begin with one.
func Exponent(text string) int {
	if text == "" || text[0] != 'e' && text[0] != 'E' {
		return 0
	}
	at := 1
	if at < len(text) && (text[at] == '+' || text[at] == '-') {
		at++
	}
	if end := digits(text, at); end > at {
		return end
	}
	return 0
}
