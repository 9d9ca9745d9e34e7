package orders

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"foredge/lang/unit"
)

// numeral is a number as the language writes it, with an optional unit:
// 12.5, 7 3/8 in, 20 %.
var numeral = regexp.MustCompile(`^([0-9]+(?:\.[0-9]*)?|\.[0-9]+|(?:([0-9]+)[ -])?([0-9]+)/([0-9]+))\s*([a-zA-Z%]*)$`)

// number reads a value of a kind. bare is the unit of a length without one.
func number(text string, kind unit.Kind, bare unit.Unit) (float64, error) {
	text = strings.TrimSpace(text)
	m := numeral.FindStringSubmatch(text)
	if m == nil {
		if strings.Contains(text, ",") {
			return 0, fmt.Errorf("%q is no number: a point, not a comma, stands before its decimals", shorten(text))
		}
		return 0, fmt.Errorf("%q is not %s", shorten(text), kind.WithArticle())
	}
	v, err := strconv.ParseFloat(m[1], 64)
	if m[4] != "" {
		var whole, over, under float64
		if m[2] != "" {
			whole, _ = strconv.ParseFloat(m[2], 64)
		}
		over, _ = strconv.ParseFloat(m[3], 64)
		under, err = strconv.ParseFloat(m[4], 64)
		v = whole + over/under
	}
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) || v > 1e9 {
		return 0, fmt.Errorf("%q is too large a number", shorten(text))
	}
	u := unit.Unit{Size: 1, Kind: kind}
	if m[5] != "" {
		known, ok := unit.Lookup(m[5])
		if !ok {
			return 0, fmt.Errorf("%q is no unit", m[5])
		}
		if known.Kind != kind {
			return 0, fmt.Errorf("%q is %s, and %s is wanted here", shorten(text), known.Kind.WithArticle(), kind)
		}
		u = known
	} else if kind == unit.Length {
		u = bare
	}
	if kind == unit.Count && v != math.Trunc(v) {
		return 0, fmt.Errorf("%q is no whole number", shorten(text))
	}
	return v * u.Size, nil
}

func shorten(text string) string {
	if r := []rune(text); len(r) > 30 {
		return string(r[:27]) + "..."
	}
	return text
}

// example says how a value of a column is written.
func example(c Column) string {
	switch c.Kind {
	case unit.Count:
		return "write a whole number, as in 2"
	case unit.Length:
		return "write a length, as in 12.5 mm or 7 3/8 in"
	case unit.Angle:
		return "write an angle, as in 30 deg"
	}
	return "write a number, as in 0.8 or 80 %"
}
