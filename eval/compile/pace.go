package compile

import (
	"strings"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/unit"
)

// paceLine decodes what a laser or a stock states of how it is run. Speeds are lengths a
// second, so that a number without a unit is in the file's.
func (c *compiler) paceLine(pace *design.Pace, speeds *[]model.Speed, key string, p property) {
	switch key {
	case "passes":
		n, ok := c.number(key, p, unit.Count, 1)
		pace.Passes = maybe.If(int(n), ok && c.among(key, n, p, unit.Count))
		return
	case "one-way":
		answer, _ := choose(c, p, "an answer", word.Answers()...)
		pace.OneWay = maybe.Is(answer == word.Yes)
		return
	}
	v, ok := c.number(key, p, unit.Length, 0)
	if key == "corner-speed" && ok && v == 0 { // it stops at corners
		pace.Corner = maybe.Is(0.0)
		return
	}
	if ok && v == 0 && key != "run-out" {
		c.Diags.Errorf("positive", p.at(), "%s can't be 0", key).WithHelp("state what the machine does, or take the line out: what isn't stated isn't reckoned with")
		return
	}
	ok = ok && c.among(key, v, p, unit.Length)
	if ok && strings.HasSuffix(key, "-speed") {
		*speeds = append(*speeds, model.Speed{Name: key, Value: v, At: p.at()})
	}
	*map[string]*maybe.Of[float64]{
		"engrave-speed": &pace.Engrave, "mark-speed": &pace.Mark, "score-speed": &pace.Score, "cut-speed": &pace.Cut,
		"travel-speed": &pace.Travel, "acceleration": &pace.Acceleration, "corner-speed": &pace.Corner,
		"engrave-distance": &pace.EngraveDistance, "run-out": &pace.RunOut, "heat-spread": &pace.HeatSpread,
	}[key] = maybe.If(v, ok)
}

// mostShare is the largest share that is taken for one: above it a % is missing.
const mostShare = 5

// shopLine decodes what a shop reckons with.
func (c *compiler) shopLine(shop *design.Shop, key string, p property) {
	switch key {
	case "rate":
		shop.Rate = c.money(key, p)
	case "labour":
		if n, ok := p.value.(*ast.Number); ok && n.Unit != "" {
			c.Diags.Errorf("kind-mismatch", p.at(), "labour is a number of minutes, and %s isn't one", p.at().Short()).
				WithHelp("write the minutes of a cover without a unit, as in labour = 6")
			return
		}
		v, ok := c.number(key, p, unit.Ratio, 0)
		shop.Labour = maybe.If(v, ok && c.among(key, v, p, unit.Ratio))
	default:
		v, ok := c.number(key, p, unit.Ratio, 0)
		if ok && v > mostShare {
			c.Diags.Errorf("share", p.at(), "a %s of %s is %s %%", key, p.at().Short(), unit.FormatNumber(100*v, 2)).
				WithHelp("state it as a share, as in %s = 20 %%; up to %d %% is taken for one", key, 100*mostShare)
			return
		}
		*map[string]*maybe.Of[float64]{"waste": &shop.Waste, "profit": &shop.Profit}[key] = maybe.If(v, ok)
	}
}

// money decodes a price.
func (c *compiler) money(key string, p property) maybe.Of[float64] {
	v, ok := c.number(key, p, unit.Money, 0)
	return maybe.If(v, ok && c.among(key, v, p, unit.Money))
}
