package compile

import (
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/lang/ast"
	"foredge/lang/unit"
)

// meant is between which numbers one of a laser, a stock or a shop lies that can be meant, lengths in mm: well
// beyond what is met at a bench (common practice, no source), and so that minutes and money that are
// reckoned with them stay numbers and parts can be laid. Not ok if any will do.
func meant(key string) (least, most float64, ok bool) {
	switch key {
	case "engrave-speed", "mark-speed", "score-speed", "cut-speed", "travel-speed", "corner-speed":
		return 0.01, 100_000, true
	case "acceleration":
		return 0.1, 10_000_000, true
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
	case "size", "bed", "offcuts": // each of the two lengths
		return 1, 100_000, true
	case "margin", "spacing", "heat-spread":
		return 0, 1000, true
	}
	return 0, 0, false
}

// among reports whether a number of a line can be meant, which is an error otherwise.
func (c *compiler) among(key string, v float64, p property, k unit.Kind) bool {
	return c.meantOf(key, key, v, p, k)
}

// meantOf is [compiler.among] of a number of what is called so.
func (c *compiler) meantOf(key, called string, v float64, p property, k unit.Kind) bool {
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
	d := c.Diags.Errorf("not-meant", p.at(), "%s can't be meant to be %s", called, p.at().Short())
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

// sheetSize reads the size of something that parts lie on, as it is called in a message, with
// two lengths that are above 0 and can be meant.
func (c *compiler) sheetSize(key, called string, p property) maybe.Of[model.Size] {
	size, ok := c.pair(key, p).Get()
	if ok && !(size.Width > 0 && size.Height > 0) {
		c.Diags.Errorf("positive", p.at(), "%s can't be %s", called, p.at().Short()).WithHelp("state its width and height, both above 0")
		ok = false
	}
	if pair, is := p.value.(*ast.Pair); ok && is {
		for _, side := range []struct {
			what string
			e    ast.Expr
			v    float64
		}{{"the width of ", pair.A, size.Width}, {"the height of ", pair.B, size.Height}} {
			one := p
			one.value = side.e
			ok = ok && c.meantOf(key, side.what+called, side.v, one, unit.Length)
		}
	}
	return maybe.If(size, ok)
}
