package lookalike

import (
	"fmt"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// Key is the same for names that some system takes for one: on many disks
// capitals and small letters are one, and so is é, whether it is one character
// or an e with an accent after it (Unicode Standard Annex 15).
func Key(name string) string {
	for i := range len(name) {
		if name[i] >= 0x80 {
			return norm.NFC.String(strings.ToLower(strings.ToUpper(norm.NFD.String(name))))
		}
	}
	return strings.ToLower(name)
}

// Composed writes each letter with its accents as one character, where there is one:
// names that are the same so can't be told apart by reading them.
func Composed(name string) string { return norm.NFC.String(name) }

// Decomposed writes each letter with its accents one after the other, as some disks do.
func Decomposed(name string) string { return norm.NFD.String(name) }

// Mixed tells the scripts of a word that has letters of several of the three
// alphabets whose letters look alike (Unicode TR 39), "" if it has not.
func Mixed(word string) string {
	if strings.IndexFunc(word, func(c rune) bool { return c >= 0x80 }) < 0 {
		return ""
	}
	scripts := []struct {
		name  string
		table *unicode.RangeTable
	}{{"Latin", unicode.Latin}, {"Greek", unicode.Greek}, {"Cyrillic", unicode.Cyrillic}}
	var found []string
	for _, s := range scripts {
		for _, c := range word {
			if unicode.Is(s.table, c) {
				found = append(found, fmt.Sprintf("%s %c (U+%04X)", s.name, c, c))
				break
			}
		}
	}
	if len(found) < 2 {
		return ""
	}
	return strings.Join(found, ", ")
}

// Latin is a text as a person reads it who expects Latin letters: wide, raised and
// ornamental ones as plain ones (NFKC, Unicode Standard Annex 15), and each letter of
// the Greek and the Cyrillic alphabet that has the shape of a Latin one as that.
func Latin(text string) string { return shapes().Replace(norm.NFKC.String(text)) }

// shapes are letters of other alphabets that look like Latin ones: from memory, after
// the table of confusables of Unicode Technical Standard 39.
var shapes = sync.OnceValue(func() *strings.Replacer {
	const (
		theirs = "АВСЕНКМОРТХУІЅЈавсеоркмнтхуіѕјԁһѵΑΒΕΖΗΙΚΜΝΟΡΤΥΧαινορυχ"
		ours   = "ABCEHKMOPTXYISJabceopkmhtxyisjdhvABEZHIKMNOPTYXaivopux"
	)
	latin := []rune(ours)
	var pairs []string
	for i, r := range []rune(theirs) {
		pairs = append(pairs, string(r), string(latin[i]))
	}
	return strings.NewReplacer(pairs...)
})
