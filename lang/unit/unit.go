package unit

import (
	"math"
	"strconv"
	"strings"
)

// A Kind is what sort of value something is.
type Kind uint8

const (
	None   Kind = iota
	Bare        // a number whose place has yet to say what it is
	Length      // millimetres
	Angle       // degrees
	Count       // a whole number
	Ratio       // a plain factor
	Text
	Money
	Time  // seconds
	Speed // millimetres a second
	Truth // the outcome of a condition
)

func (k Kind) String() string {
	return [...]string{"nothing", "plain number", "length", "angle", "count", "ratio", "text",
		"money", "time", "speed", "condition"}[k]
}

// WithArticle gives the kind as in "a length", "an angle".
func (k Kind) WithArticle() string {
	switch k {
	case Angle:
		return "an angle"
	case Text, Money, Time, None:
		return k.String()
	}
	return "a " + k.String()
}

// A Unit is one that may stand behind a number.
type Unit struct {
	Name string
	Kind Kind
	// Size is how many of the kind's inner unit make one of this: 25.4 for in.
	Size float64
}

// MM and Inch are the two units that `units` may name.
var (
	MM   = Unit{"mm", Length, 1}
	Inch = Unit{"in", Length, 25.4}
)

// all lists every unit, in the order in which help names them. The inch is
// 25.4 mm exactly and the point 1/72 in (CSS Values and Units, absolute
// lengths).
func all() []Unit {
	return []Unit{
		MM, {"cm", Length, 10}, {"m", Length, 1000}, Inch, {"pt", Length, 25.4 / 72},
		{"deg", Angle, 1}, {"%", Ratio, 0.01},
	}
}

// Names lists the names of all units.
func Names() []string {
	var names []string
	for _, u := range all() {
		names = append(names, u.Name)
	}
	return names
}

// Lookup finds a unit by its name.
func Lookup(name string) (Unit, bool) {
	for _, u := range all() {
		if u.Name == name {
			return u, true
		}
	}
	return Unit{}, false
}

// FormatLength writes a length of mm millimetres in the given unit for a
// person: at most four digits behind the point in mm, five in inches, no
// trailing zeros.
func FormatLength(mm float64, in Unit) string {
	digits := 4
	if in.Name == "in" {
		digits = 5
	}
	return FormatNumber(mm/in.Size, digits) + " " + in.Name
}

// FormatNumber writes x with at most the given digits behind the point,
// without trailing zeros and never as -0.
func FormatNumber(x float64, digits int) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	s := strconv.FormatFloat(x, 'f', digits, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
