package numeral

import (
	"fmt"
	"strconv"
	"unicode"
	"unicode/utf8"
)

// Read reads the number of a design that begins at text[at], up to its unit,
// and returns where it ends. divided tells that it follows a division sign:
// 7/16 is then two divisions. A number that is wrong has a value nevertheless,
// so that reading can go on.
func Read(text string, at int, divided bool) (n Number, end int, wrong *Error) {
	p := split(text, at, divided, blanks)
	n.Decimals = decimals(p.decimal)
	if p.decimal != "" {
		n.Value, wrong = limited(p.decimal, at)
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
				help: "write it as in 4 3/4"}
		}
	}
	n.Value += top / float64(n.Denominator)
	return n, p.end, wrong
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
	return 0, &Error{Start: at, End: at + len(decimal), Message: fmt.Sprintf("the number %s is too large", shown),
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
