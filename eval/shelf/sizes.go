package shelf

import (
	"cmp"
	"slices"
	"strings"

	"foredge/lang/numeral"
	"foredge/lang/unit"
)

// A Size is a loop or a coil as it is sold.
type Size struct {
	Name string
	Ring float64 // the inside diameter, in mm
}

// Sizes lists what is sold of one form of binding, loop or coil, from the smallest
// to the largest. Like [Declaration] it relies on how the parts are laid out: of a
// binding in one line, which states its form and its ring.
func Sizes(form string) (sizes []Size) {
	for _, name := range Declared("wires", "binding") {
		text, _ := Declaration("wires", "binding", name)
		if of, ok := stated(text, "form"); !ok || of != form {
			continue
		}
		ring, _ := stated(text, "ring")
		if v, err := numeral.Value(ring, unit.Length, unit.MM); err == nil {
			sizes = append(sizes, Size{name, v})
		}
	}
	slices.SortStableFunc(sizes, func(a, b Size) int { return cmp.Compare(a.Ring, b.Ring) })
	return sizes
}

// stated is what a declaration of one line gives for a name.
func stated(text, name string) (value string, ok bool) {
	_, rest, ok := strings.Cut(text, " "+name+" =")
	return strings.TrimSpace(rest[:max(0, strings.IndexAny(rest, ";}"))]), ok
}
