package numeral

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"unicode"

	"foredge/lang/unit"
)

// Value reads a text that is one number of a kind and nothing else, in mm or
// degrees if it is a length or an angle. bare is the unit of a length without
// one. Every error is an [Error].
func Value(text string, kind unit.Kind, bare unit.Unit) (float64, error) {
	text = strings.TrimSpace(text)
	return value(text, text, kind, bare)
}

// ValueWithComma reads a number like [Value], but with a comma before its decimals.
func ValueWithComma(text string, kind unit.Kind, bare unit.Unit) (float64, error) {
	text = strings.TrimSpace(text)
	said := ""
	switch {
	case strings.Contains(text, "."):
		said = "%q is no number here: a comma, not a point, stands before its decimals"
	case strings.Count(text, ",") > 1:
		said = "%q has two decimal commas"
	default:
		v, err := value(strings.Replace(text, ",", ".", 1), text, kind, bare)
		if e := (*Error)(nil); errors.As(err, &e) {
			e.help = strings.NewReplacer("12.5", "12,5", "0.8", "0,8").Replace(e.help)
		}
		return v, err
	}
	return 0, &Error{End: len(text), Message: fmt.Sprintf(said, shorten(text)), help: "write it as in 12,5, without marks between thousands"}
}

// value reads a text that messages show as shown.
func value(text, shown string, kind unit.Kind, bare unit.Unit) (float64, error) {
	fail := func(format string, args ...any) (float64, error) {
		return 0, &Error{End: len(text), Message: fmt.Sprintf(format, args...), help: example(kind)}
	}
	shown = shorten(shown)
	p := split(text, 0, true, oneGap)
	name := strings.TrimLeft(text[p.end:], "\t\n\f\r ")
	_, wrong := Scan(text, 0)
	if top, rest, hyphen := strings.Cut(text, "-"); hyphen && IsWhole(top) {
		if above, below, end, ok := fraction(rest, 0); ok && isUnitName(strings.TrimSpace(rest[end:])) {
			blank := shorten(top + " " + above + "/" + below)
			return 0, &Error{End: len(text), Message: fmt.Sprintf("%q may be %s, or %s less %s", shown, blank, shorten(top), shorten(above+"/"+below)),
				help: "write it with a blank: " + blank + rest[end:] + "; a spreadsheet keeps it in a column of text"}
		}
	}
	switch {
	case wrong != nil && !wrong.Unreadable && shown == text:
		return 0, wrong
	case p.end > 0 && isUnitName(name) && wrong == nil:
	case p.end > 0 && name != "" && Exponent(name) == len(name):
		return 0, &Error{End: len(text), Message: fmt.Sprintf("%q is written with a power of ten", shown),
			help: "write the number out; a spreadsheet keeps it as it was typed in a column of text"}
	case strings.ContainsFunc(text, otherDigit):
		return 0, &Error{End: len(text), Message: fmt.Sprintf("%q is written in other digits than 0 to 9", shown),
			help: "write it in the digits 0 to 9"}
	case strings.Contains(text, ","):
		return fail("%q is no number: a point, not a comma, stands before its decimals", shown)
	default:
		return fail("%q is not %s", shown, kind.WithArticle())
	}
	v := p.value()
	if p.bottom != "" && p.decimal == "" && kind == unit.Length && onRule(name, bare) {
		if missing, same, ok := Mixed(p.top, p.bottom); ok {
			return 0, &Error{End: len(text), Message: fmt.Sprintf("%q may be %s, where a blank is missing, or %s", shown, missing, same),
				help: "write the one that is meant with a blank, as in " + missing}
		}
	}
	if p.bottom != "" && !onRule(name, bare) {
		_, known := unit.Lookup(name)
		switch {
		case name != "" && !known: // reported below
		case p.decimal != "":
			return fail("%q is a fraction of an inch rule, and this number is not in inches", shown)
		case known:
			return fail("%q would be %s divided by %s %s", shown, p.top, p.bottom, name)
		}
	}
	if !(v <= LargestAlone) {
		return fail("%q is too large a number", shown)
	}
	u := unit.Unit{Size: 1, Kind: kind}
	switch {
	case name != "":
		var ok bool
		if u, ok = unit.Lookup(name); !ok {
			return fail("%q is no unit", name)
		}
		if u.Kind != kind {
			return fail("%q is %s, and %s is wanted here", shown, u.Kind.WithArticle(), kind.WithArticle())
		}
	case kind == unit.Length:
		u = bare
	}
	if kind == unit.Count && v != math.Trunc(v) {
		return fail("%q is no whole number", shown)
	}
	return v * u.Size, nil
}

// otherDigit reports digits of other scripts.
func otherDigit(c rune) bool { return c > '9' && unicode.IsDigit(c) }

// oneGap takes one blank.
func oneGap(text string) int {
	if text != "" && text[0] == ' ' {
		return 1
	}
	return 0
}

// isUnitName reports whether a text can be the name of a unit, known or not:
// letters of the alphabet and %, or nothing.
func isUnitName(text string) bool {
	for i := range len(text) {
		if c := text[i] | 0x20; text[i] != '%' && (c < 'a' || c > 'z') {
			return false
		}
	}
	return true
}

func shorten(text string) string {
	if r := []rune(text); len(r) > 30 {
		return string(r[:27]) + "..."
	}
	return text
}

// example says how a value of a kind is written.
func example(kind unit.Kind) string {
	switch kind {
	case unit.Count:
		return "write a whole number, as in 2"
	case unit.Length:
		return "write a length, as in 12.5 mm or 4 3/4 in"
	case unit.Angle:
		return "write an angle, as in 30 deg"
	}
	return "write a number, as in 0.8 or 80 %"
}
