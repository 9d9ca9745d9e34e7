package numeral

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"foredge/lang/unit"
)

// Read reads the number of a design that begins at text[at], up to its unit,
// and returns where it ends. bare is the unit of a length without one. A number
// that is wrong has a value nevertheless, so that reading can go on.
func Read(text string, at int, bare unit.Unit) (n Number, end int, wrong *Error) {
	p := split(text, at, true, blanks)
	if p.bottom != "" && !onRule(wordAfter(text[p.end:]), bare) {
		if p.decimal != "" {
			wrong = mixed(text, at, p)
		} else {
			p = split(text, at, false, blanks)
		}
	}
	n.Decimals = decimals(p.decimal)
	if p.decimal != "" {
		var large *Error
		if n.Value, large = limited(p.decimal, at); wrong == nil {
			wrong = large
		}
	}
	if p.bottom == "" {
		return n, p.end, wrong
	}
	start := p.end - len(p.bottom) - len("/") - len(p.top)
	top, large := limited(p.top, start)
	if wrong == nil {
		wrong = large
	}
	var err error
	n.Denominator, err = strconv.Atoi(p.bottom)
	if err != nil || n.Denominator == 0 || n.Denominator > Finest {
		n.Denominator = 1
		if wrong == nil {
			wrong = &Error{Start: start, End: p.end, Message: fmt.Sprintf("%s/%s is no fraction of a rule", p.top, p.bottom),
				help: "write it as in 4 3/4 in"}
		}
	}
	n.Value += top / float64(n.Denominator)
	return n, p.end, wrong
}

// onRule reports whether a fraction is one of an inch rule: what follows it says
// so, or bare if that is no unit.
func onRule(word string, bare unit.Unit) bool {
	u, ok := unit.Lookup(word)
	if !ok {
		u, ok = unit.Meant(word) // is reported as no unit
	}
	if !ok {
		u = bare
	}
	return u.Imperial()
}

// wordAfter is the word that follows a number, or the sign %; blanks may stand
// before it.
func wordAfter(text string) string {
	text = text[blanks(text):]
	end := strings.IndexFunc(text, func(r rune) bool { return r != '%' && r != '-' && !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	if end >= 0 {
		text = text[:end]
	}
	return strings.TrimRight(text, "-") // in 3/8 in- a it is a minus
}

// mixed says what to write in place of 7 3/8 where that is none of an inch rule.
func mixed(text string, at int, p parts) *Error {
	written, point := shorten(text[at:p.end]), "7.375"
	if v := p.value(); v <= Largest {
		point = strconv.FormatFloat(math.Round(v*1e6)/1e6, 'f', -1, 64)
	}
	return &Error{Start: at, End: p.end, Message: written + " is a fraction of an inch rule, and this number is not in inches",
		help: fmt.Sprintf("write %s in if it is, or else a number with a point, as in %s", written, point)}
}

// limited gives the value of a decimal at text[at]: 0 if it is too large.
func limited(decimal string, at int) (float64, *Error) {
	if v := float(decimal); v <= Largest {
		return v, nil
	}
	const most = 40 // characters shown
	shown := decimal
	if len(shown) > most {
		shown = shown[:most] + "…"
	}
	return 0, &Error{Start: at, End: at + len(decimal), Large: true, Message: fmt.Sprintf("the number %s is too large", shown),
		help: "nothing on a bench is that large"}
}

// blanks returns how many bytes at the start of a text are blanks of a design
// within a line, those of text programs among them.
func blanks(text string) int {
	n := 0
	for n < len(text) {
		switch c := text[n]; {
		case c == ' ', c == '\t', c == '\r':
			n++
		case c < utf8.RuneSelf:
			return n
		default:
			r, size := utf8.DecodeRuneInString(text[n:])
			if !unicode.Is(unicode.Zs, r) {
				return n
			}
			n += size
		}
	}
	return n
}
