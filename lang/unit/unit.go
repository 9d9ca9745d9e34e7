package unit

import (
	"slices"
	"strings"
)

// A Unit is one that may follow a number.
type Unit struct {
	Name string
	Kind Kind
	// Size is how many of the kind's inner unit make one of this: 25.4 for in.
	Size float64
}

// Imperial reports whether whoever works in this unit thinks in inches and
// their fractions: lengths are then shown with the digits and steps of an inch.
func (u Unit) Imperial() bool { return u.Name == Inch.Name }

// MM and Inch are the two units that `units` may name.
var (
	MM   = Unit{"mm", Length, 1}
	Inch = Unit{"in", Length, 25.4}
)

// units lists every unit, in the order in which help names them, and other
// ways in which people write it: these are not read, but tell what was meant.
// It is never written to. The inch is 25.4 mm exactly, and the point is 1/72
// in (CSS Values and Units Module Level 4, W3C, absolute lengths).
var units = [...]struct {
	Unit
	others string
}{
	{MM, "millimetre millimetres millimeter millimeters mms"},
	{Unit{"cm", Length, 10}, "centimetre centimetres centimeter centimeters"},
	{Unit{"m", Length, 1000}, "metre metres meter meters"},
	{Inch, "inch inches Inch inchs ins ″"},
	{Unit{"pt", Length, 25.4 / 72}, "point points pts"},
	{Unit{"deg", Angle, 1}, "degree degrees degs º °"},
	{Unit{"%", Ratio, 0.01}, "percent pct"},
}

// Names lists the names of all units.
func Names() []string {
	names := make([]string, len(units))
	for i, u := range units {
		names[i] = u.Name
	}
	return names
}

// Lookup finds a unit by its name.
func Lookup(name string) (Unit, bool) {
	for i := range units {
		if units[i].Name == name {
			return units[i].Unit, true
		}
	}
	return Unit{}, false
}

// Meant finds the unit that is meant by another usual spelling of its name,
// such as inches. The spelling itself can't be used.
func Meant(spelling string) (Unit, bool) {
	for _, u := range units {
		if slices.Contains(strings.Fields(u.others), spelling) {
			return u.Unit, true
		}
	}
	return Unit{}, false
}
