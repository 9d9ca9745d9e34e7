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

// blanksToFill are the places of a template that nobody has filled in. Square brackets, < > and
// per cent signs are customers' own too: among other words they are a place only round what fields
// of forms are called.
var blanksToFill = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`\{\{[^{}]*\}\}|\$\{[^{}]*\}|\{%[^{}]*%\}|\[\[[^\[\]]*\]\]|<<[^<>]*>>|%%[A-Za-z_]+%%|%?\{[\pL\pN_ .-]+\}|%[0-9]\$s|[\[<%](?i:(?:your|first|last|full|customer)[ _.-]?)?(?i:name|text|title|message|initials|customer|order)[\]>%]|(?:^|\s)\$(?:[A-Za-z]+_[A-Za-z_]+|[a-z]+[A-Z][A-Za-z]*|(?i:name|text|title|message|initials|customer|order))\b|^\s*(?:\[[\pL_ .-]+\]|<[\pL_ .-]+>|%[\pL_]+%|%[sd])\s*$`)
})

// standIns are what programs and shops show in a field until something is written there.
// From memory of forms, no source.
var standIns = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?i)\blorem ipsum\b|^[\s("\[<]*(?:` +
		`(?:(?:please )?(?:enter|type|insert|write|add|put)(?: in)? )?(?:your|customer|customer's)(?: own| custom)?(?: first| last| full)? (?:name|names|text|message|initials|engraving)(?: goes)?(?: here)?|` +
		`(?:please )?(?:enter|type|insert)(?: a| the)?(?: first| last| full)? (?:name|names|text|message|initials)(?: here)?|` +
		`(?:name|text|message|initials)(?: goes)? here|(?:sample|dummy|placeholder|example) (?:name|text)|type here|placeholder|` +
		`(?:ihr|dein|euer) (?:name|text)|(?:name|text) (?:hier )?(?:eingeben|hier)|(?:votre|ton) (?:nom|prénom|texte)(?: ici)?|(?:tu|su) (?:nombre|texto)(?: aquí)?` +
		`)[\s)"\]>.!:…]*$`)
})

// spreadsheetSays reports what a spreadsheet makes of a whole cell: a truth (ISO/IEC
// 26300-2, OpenFormula, 6.15), or a day out of 1/5 or 1-05. From memory which days.
func spreadsheetSays(text string) (what string) {
	switch text = strings.TrimSpace(text); {
	case text == "TRUE" || text == "FALSE" || text == "WAHR" || text == "FALSCH":
		return fmt.Sprintf("is %s, as spreadsheets say that something is so or not", text)
	case sheetDay().MatchString(text):
		return "is a day as spreadsheets write it, perhaps out of two numbers"
	case sheetFormula().MatchString(text):
		return "is a formula of a spreadsheet"
	}
	return ""
}

var (
	sheetDay = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^(?:[0-9]{1,2}-(?:Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)|(?:Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)-[0-9]{2})$`)
	})
	// sheetMoment is a day of ISO 8601 with a time behind it.
	sheetMoment = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^[0-9]{4}-[0-9]{2}-[0-9]{2}[ T][0-9]{2}:[0-9]{2}(?::[0-9]{2}(?:\.[0-9]+)?)?(?:Z|[+-][0-9]{2}:?[0-9]{2})?$`)
	})
	// sheetNumber is a day or a time in digits, which customers write too, or a day of our
	// years as spreadsheets count them from 1900 (ISO/IEC 26300-2, OpenFormula, 4.3.3), with a time.
	sheetNumber = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^(?:[0-9]{1,2}/[0-9]{1,2}/[0-9]{4}|[0-9]{1,2}:[0-9]{2}:[0-9]{2}|[34][0-9]{4}[.,][0-9]+)$`)
	})
	// sheetFormula is a sum, a call or a cell behind an equals sign: =1+1, =SUM(A1:A3), =B2.
	sheetFormula = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^[=+-]+(?:[A-Z][A-Z.]*\(.*|[0-9.,]+[-+*/^&].*)$|^=(?:\$?[A-Z]{1,3}\$?[0-9]+.*|.*![A-Z$]+[0-9]+.*|[0-9.,]+)$`)
	})
)

// standsForNothing reports the words that programs write where there is nothing. No
// name is written so: Null is one, NULL isn't.
func standsForNothing(word string) bool {
	switch strings.Trim(word, "()[]<>") {
	case "NULL", "null", "undefined", "NaN", "nil", "#NULL", `\N`:
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
	if what := spreadsheetSays(text); what != "" {
		if _, is := formulaText(text); !is {
			add(Oddity{What: what})
		}
	}
	switch whole := strings.TrimSpace(text); {
	case sheetMoment().MatchString(whole):
		add(Oddity{What: "is a day with a time as spreadsheets and programs write it"})
	case sheetNumber().MatchString(whole):
		add(Oddity{What: "is a day or a time as spreadsheets write it, perhaps out of other numbers", Look: true})
	}
	switch {
	case standIns().MatchString(text):
		add(Oddity{What: "says what is to be written there, as a form does"})
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
		case end-i == len(letters) && end-i == 1:
			add(Oddity{What: "is a question mark alone, in place of a letter that a program didn't have or of a text that nobody knew"})
		case unicode.IsLetter(after), end-i > 1 && (unicode.IsSpace(before) && unicode.IsSpace(after)):
			add(Oddity{What: fmt.Sprintf("has %s in place of letters that a program didn't have", strings.Repeat("?", end-i))})
		case end == len(letters) && unicode.IsLetter(before) && !strings.ContainsFunc(text, unicode.IsSpace):
			add(Oddity{What: "ends with a question mark, which may stand for a letter that a program didn't have", Look: true})
		}
		i = end
	}
}
