package numeral

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// The limits of numbers. On a bench nothing comes near them.
const (
	Largest      = 1e15 // of a number in a design
	LargestAlone = 1e9  // of a number in a text of its own
	Finest       = 1e6  // the parts into which a fraction in a design divides 1
)

// A Number is a number as it was written, without its unit.
type Number struct {
	Value float64
	// Denominator is 16 for 2 3/16: the fineness of an inch rule. 0 if the
	// number is not a fraction.
	Denominator int
	// Decimals is how many digits stand after the point.
	Decimals int
}

// An Error is what is wrong with a number, in a maker's words.
type Error struct {
	Start, End int // the bytes of the text that it speaks of
	Message    string
	help       string
	// Instead is what may be meant by those bytes, if the help names it in full.
	Instead []string
	// Unreadable tells that no number at all can be made of those bytes.
	Unreadable bool
	// Large tells that it is larger than any that may be; the value is then none that
	// was meant.
	Large bool
}

func (e *Error) Error() string { return e.Message }

// Help says what to do next.
func (e *Error) Help() string { return e.help }

// Scan finds the end of the decimal that begins at text[at], with a digit or
// the point. Without one of these, it ends where it begins.
func Scan(text string, at int) (end int, wrong *Error) {
	point := digits(text, at)
	if point == len(text) || text[point] != '.' {
		return point, nil
	}
	end = digits(text, point+1)
	switch {
	case point == at && end == point+1:
		return at, nil // a point alone
	case point == at:
		return end, nil
	case end == point+1:
		written := text[at:end]
		wrong = &Error{Start: at, End: end, Message: fmt.Sprintf("digits are missing after the point of %s", written),
			help: fmt.Sprintf("write %s, or %s0", text[at:point], written)}
	}
	if end+1 < len(text) && text[end] == '.' && digits(text, end+1) > end+1 {
		end = digits(text, end+1)
		if wrong == nil {
			wrong = &Error{Start: at, End: end, Message: text[at:end] + " has two decimal points",
				help: "a number has one decimal point and no marks between thousands: 1250.5"}
		}
		wrong.Unreadable = true
	}
	return end, wrong
}

// digits returns where the digits that begin at text[at] end.
func digits(text string, at int) int {
	for at < len(text) && '0' <= text[at] && text[at] <= '9' {
		at++
	}
	return at
}

// IsWhole reports whether a text consists of digits and nothing else.
func IsWhole(text string) bool { return text != "" && digits(text, 0) == len(text) }

// parts are what a number is written with: a decimal, a fraction, or a whole
// number and a fraction.
type parts struct {
	decimal     string
	top, bottom string // of the fraction; empty if there is none
	end         int    // of all of it, in the text
}

// split takes the number that begins at text[at] to its parts. gap returns how
// many bytes at the start of a text may stand between a whole number and its
// fraction. alone says that A/B without a whole number is one.
func split(text string, at int, alone bool, gap func(string) int) parts {
	if alone {
		if top, bottom, end, ok := fraction(text, at); ok {
			return parts{top: top, bottom: bottom, end: end}
		}
	}
	end, _ := Scan(text, at)
	p := parts{decimal: text[at:end], end: end}
	if !IsWhole(p.decimal) {
		return p
	}
	if n := gap(text[end:]); n > 0 {
		if top, bottom, end, ok := fraction(text, end+n); ok {
			p.top, p.bottom, p.end = top, bottom, end
		}
	}
	return p
}

// fraction finds A/B at text[at], without blanks.
func fraction(text string, at int) (top, bottom string, end int, ok bool) {
	slash := digits(text, at)
	if slash == at || slash == len(text) || text[slash] != '/' {
		return "", "", at, false
	}
	end, _ = Scan(text, slash+1)
	top, bottom = text[at:slash], text[slash+1:end]
	return top, bottom, end, IsWhole(bottom)
}

// value is the value of the parts, NaN or infinite if it is none.
func (p parts) value() float64 {
	v := 0.0
	if p.decimal != "" {
		v = float(p.decimal)
	}
	if p.bottom != "" {
		v += float(p.top) / float(p.bottom)
	}
	return v
}

// float gives the value of a decimal, NaN if it is too large for any.
func float(decimal string) float64 {
	v, err := strconv.ParseFloat(decimal, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// decimals counts the digits after the point.
func decimals(decimal string) int {
	if i := strings.IndexByte(decimal, '.'); i >= 0 {
		return len(decimal) - i - 1
	}
	return 0
}
