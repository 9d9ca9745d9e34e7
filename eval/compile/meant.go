package compile

import (
	"foredge/lang/unit"
)

// meant is between which numbers one of a laser, a stock or a shop lies that can be meant, lengths in mm: well
// beyond what is met at a bench (common practice, no source), and so that minutes and money that are
// reckoned with them stay numbers. Not ok if any will do.
func meant(key string) (least, most float64, ok bool) {
	switch key {
	case "engrave-speed", "mark-speed", "score-speed", "cut-speed", "travel-speed":
		return 0.01, 100_000, true
	case "acceleration":
		return 0.1, 10_000_000, true
	case "corner-speed":
		return 0, 100_000, true
	case "engrave-distance":
		return 0.001, 100, true
	case "run-out":
		return 0, 1000, true
	case "passes":
		return 1, 1000, true
	case "rate", "price":
		return 0, 1_000_000, true
	case "labour":
		return 0, 100_000, true
	}
	return 0, 0, false
}

// among reports whether a number of a line can be meant, which is an error otherwise.
func (c *compiler) among(key string, v float64, p property, k unit.Kind) bool {
	least, most, ok := meant(key)
	if !ok || v >= least && v <= most {
		return true
	}
	say := func(v float64) string {
		if k == unit.Length {
			return unit.FormatLength(v, p.scope.File().Unit)
		}
		return unit.FormatNumber(v, 3)
	}
	d := c.Diags.Errorf("not-meant", p.at(), "%s can't be meant to be %s", key, p.at().Short())
	switch {
	case v < least:
		d.WithHelp("it is taken from %s up: check its unit and its decimal point", say(least))
	case k == unit.Money:
		d.WithHelp("it is taken up to %s: check its decimal point, or reckon in a larger coin, as in thousands", say(most))
	default:
		d.WithHelp("it is taken up to %s: check its unit and its decimal point", say(most))
	}
	return false
}
