package orders

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"
)

// faults are what a spreadsheet shows where a cell can't be worked out (ISO/IEC 26300-2,
// OpenFormula, 5.12, which lists them as Error).
var faults = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`#(?:N/A|NAME\?|REF!|VALUE!|DIV/0!|NUM!|NULL!|ERROR!|SPILL!|CALC!|N/D|NV|BEZUG!|WERT!)|^\s*#{2,}\s*$`)
})

// blanksToFill are the places of a template that nobody has filled in.
var blanksToFill = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`\{\{[^{}]*\}\}|\$\{[^{}]*\}|\{%[^{}]*%\}|\[\[[^\[\]]*\]\]|<<[^<>]*>>|%%[A-Za-z_]+%%|^\s*(?:\{[\pL_ .-]+\}|\[[\pL_ .-]+\]|<[\pL_ .-]+>|%[\pL_]+%|%[sd])\s*$`)
})

// standsForNothing reports the words that programs write where there is nothing. No
// name is written so: Null is one, NULL isn't.
func standsForNothing(word string) bool {
	switch word {
	case "NULL", "null", "undefined", "NaN", "nil", "#NULL":
		return true
	}
	return false
}

// isNothing reports what stands in a whole cell for nothing, or for what is elsewhere.
// From memory of tables of orders, no source.
func isNothing(text string) bool {
	switch word := strings.Trim(text, " ().*[]"); strings.ToLower(word) {
	case "blank":
		return word == "blank" || word != text // Blank is a name
	case "none", "n/a", "n.a", "-", "--", "---", "–", "—", "/", "leave blank", "no text", "no engraving", "no name", "not applicable",
		"no personalisation", "no personalization", "see note", "see notes", "see above", "as above", "same as above", "tbd", "to follow":
		return true
	}
	return false
}

// unfilled finds what programs and people write in place of a text that isn't there.
func unfilled(text string, add func(Oddity)) {
	if strings.ContainsAny(text, "#") {
		for _, fault := range faults().FindAllString(text, -1) {
			add(Oddity{What: fmt.Sprintf("has %s, as spreadsheets tell of a cell that can't be worked out", strings.TrimSpace(fault))})
		}
	}
	if strings.ContainsAny(text, "{[<%$") {
		for _, place := range blanksToFill().FindAllString(text, -1) {
			place = strings.TrimSpace(place)
			if tagOnly(place) {
				continue
			}
			add(Oddity{What: fmt.Sprintf("has %s, a place of a template that isn't filled in", place)})
		}
	}
	switch {
	case anyWordOf(text, standsForNothing):
		add(Oddity{What: "has a word by which programs say that there is nothing"})
	case isNothing(text):
		add(Oddity{What: "says that there is no text, or that it is elsewhere"})
	}
}

// tagOnly reports <b>, which is told as a tag.
func tagOnly(place string) bool {
	return strings.HasPrefix(place, "<") && slices.ContainsFunc(codes(), func(c code) bool { return c.sign.FindString(place) == place })
}

func anyWordOf(text string, is func(string) bool) bool {
	for {
		word, rest, more := strings.Cut(text, " ")
		if is(word) {
			return true
		}
		if !more {
			return false
		}
		text = rest
	}
}

// fileAsked is a file's name with what an address asks of it: sea.png?v=2.
var fileAsked = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^\S+\.[A-Za-z][A-Za-z0-9]{1,3}\?[A-Za-z]+=\S*$`) })

// lostLetters finds question marks that stand for letters which a program didn't have.
func lostLetters(text string, add func(Oddity)) {
	if strings.ContainsRune(text, Lost) {
		add(Oddity{What: "has lost a character: U+FFFD stands in its place"})
	}
	if !strings.Contains(text, "?") || fileAsked().MatchString(text) {
		return
	}
	letters := []rune(text)
	at := func(i int) rune {
		if i < 0 || i >= len(letters) {
			return ' '
		}
		return letters[i]
	}
	for i := 0; i < len(letters); i++ {
		if letters[i] != '?' {
			continue
		}
		end := i
		for at(end) == '?' {
			end++
		}
		before, after := at(i-1), at(end)
		switch {
		case unicode.IsLetter(after), end-i > 1 && (unicode.IsSpace(before) && unicode.IsSpace(after)):
			add(Oddity{What: fmt.Sprintf("has %s in place of letters that a program didn't have", strings.Repeat("?", end-i))})
		case end == len(letters) && unicode.IsLetter(before) && !strings.ContainsFunc(text, unicode.IsSpace):
			add(Oddity{What: "ends with a question mark, which may stand for a letter that a program didn't have", Look: true})
		}
		i = end
	}
}
