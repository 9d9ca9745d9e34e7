package fitview

import (
	"fmt"
	"math"
	"strings"

	"foredge/lang/unit"
)

// glue stands for a blank at which a line must not break, until it is written.
const glue = "\x1f"

// digits is how many decimals are shown of an uncertain length.
func (p *page) digits() int {
	if p.notebook.Unit.Imperial() {
		return 5
	}
	return 3
}

// fixed writes a length without its unit, all with as many digits.
func (p *page) fixed(mm float64) string {
	if math.IsNaN(mm) {
		return "open"
	}
	return fmt.Sprintf("%.*f", p.digits(), mm/p.notebook.Unit.Size)
}

// plain writes a length without its unit and without needless digits.
func (p *page) plain(mm float64) string {
	return unit.FormatNumber(mm/p.notebook.Unit.Size, p.digits()+1)
}

// length writes a length with its unit.
func (p *page) length(mm float64) string { return p.plain(mm) + glue + p.notebook.Unit.Name }

// about writes a length that is no more than a rough figure, without its unit.
func (p *page) about(mm float64) string {
	return unit.FormatNumber(mm/p.notebook.Unit.Size, p.digits()-1)
}

func (p *page) aboutLength(mm float64) string { return p.about(mm) + glue + p.notebook.Unit.Name }

// rounded writes a length with the digits that its standard uncertainty
// warrants, and with its unit.
func (p *page) rounded(mm, u float64) string {
	if !(u > 0) {
		return p.length(mm)
	}
	digits := int(math.Ceil(-math.Log10(u/p.notebook.Unit.Size))) + 1
	return unit.FormatNumber(mm/p.notebook.Unit.Size, max(0, min(digits, p.digits()+1))) + glue + p.notebook.Unit.Name
}

// glued keeps a number and its unit on one line.
func glued(s string) string { return strings.ReplaceAll(s, " ", glue) }

// spread writes an uncertainty with two digits that count, without its unit.
func (p *page) spread(mm float64) string {
	x := mm / p.notebook.Unit.Size
	if !(x > 0) {
		return "0"
	}
	digits := 1 - int(math.Floor(math.Log10(x)))
	scale := math.Pow(10, float64(digits))
	return unit.FormatNumber(math.Round(x*scale)/scale, max(0, digits))
}

// within writes a length with its uncertainty: 4.447 ± 0.012 mm. Its digits are
// those of u.
func (p *page) within(mm, u, shown float64) string {
	value, name, _ := strings.Cut(p.rounded(mm, u), glue)
	return value + glue + "±" + glue + p.spread(shown) + glue + name
}

// unitName is the notebook's unit in words.
func (p *page) unitName() string {
	if p.notebook.Unit.Imperial() {
		return "inches"
	}
	return p.notebook.Unit.Name
}

// percent writes a probability, with its standard error if it was simulated.
func percent(p, err float64) string {
	switch {
	case p > 0.9999:
		return "more than 99.99" + glue + "%"
	case p < 0.0001:
		return "less than 0.01" + glue + "%"
	case err > 0:
		return fmt.Sprintf("%.2f%s%% (simulated, give or take %.2f%s%%)", 100*p, glue, 200*err, glue)
	case p > 0.99:
		return fmt.Sprintf("%.2f%s%%", 100*p, glue)
	case p > 0.98: // rounded up it would look like the 99 % that are asked for
		return fmt.Sprintf("%.2f%s%%", math.Floor(1e4*p)/100, glue)
	}
	return fmt.Sprintf("%.1f%s%%", 100*p, glue)
}

// Percent writes a probability for a person.
func Percent(p float64) string { return strings.ReplaceAll(percent(p, 0), glue, " ") }

// signed writes a number of standard deviations.
func signed(x float64) string {
	if s := fmt.Sprintf("%+.1f", x); s != "+0.0" && s != "-0.0" {
		return s
	}
	return "0.0"
}

// count writes a number of things: 1 hole, 24 holes.
func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
