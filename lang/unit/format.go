package unit

import (
	"math"
	"strconv"
	"strings"
)

// FormatLength writes a length of mm millimetres in the given unit for a
// person: at most four digits after the point in mm, five in inches, no
// trailing zeros.
func FormatLength(mm float64, in Unit) string {
	digits := 4
	if in.Imperial() {
		digits = 5
	}
	return FormatNumber(mm/in.Size, digits) + " " + in.Name
}

// Format writes a value for a person, a length in the given unit and an area in its
// square: an angle to three digits after the point, a plain number and an area to four.
func Format(v float64, k Kind, in Unit) string {
	switch k {
	case Length:
		return FormatLength(v, in)
	case Area:
		return FormatNumber(v/(in.Size*in.Size), 4) + " " + in.Name + "²"
	case Angle:
		return FormatNumber(v, 3) + " deg"
	}
	return FormatNumber(v, 4)
}

// FormatFine writes a value as [Format] does, to nine digits after the point: for
// values that would look alike otherwise.
func FormatFine(v float64, k Kind, in Unit) string {
	const digits = 9
	switch k {
	case Length:
		return FormatNumber(v/in.Size, digits) + " " + in.Name
	case Area:
		return FormatNumber(v/(in.Size*in.Size), digits) + " " + in.Name + "²"
	case Angle:
		return FormatNumber(v, digits) + " deg"
	}
	return FormatNumber(v, digits)
}

// Example writes a length of mm millimetres as a maker might write it bare in a file
// of the given unit, for hints: the number itself in mm, else the number of inches
// to two digits.
func Example(mm float64, in Unit) string {
	if !in.Imperial() {
		return FormatNumber(mm/in.Size, 4)
	}
	x, _ := strconv.ParseFloat(strconv.FormatFloat(mm/in.Size, 'g', 2, 64), 64)
	return FormatNumber(x, 6)
}

// FormatNumber writes x with at most the given digits after the point,
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
