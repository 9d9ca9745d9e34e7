package cost

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"foredge/cmd/internal/driver"
	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/layout"
)

// A File is a file that is run.
type File struct {
	Suffix string // by which its name is told from the design's others
	Runs   int    // how often it is run for one cover
	layout.Reckoning
}

// A Cost is what making a cover once takes, with the files that are run for it.
type Cost struct {
	Files []File
	Charge
}

// A Charge is what something takes of the laser, and what it costs.
type Charge struct {
	Minutes maybe.Of[float64] // of the laser
	Bill
	Missing []string // what isn't stated for minutes and money, as a maker would look for it
}

// Nothing takes no time and costs nothing: what sums begin with.
func Nothing() Charge { return Charge{Minutes: maybe.Is(0.0), Bill: Bill{Total: maybe.Is(int64(0))}} }

// Add adds a charge. What isn't known of one isn't known of the sum.
func (c *Charge) Add(d Charge) {
	sum, known := c.Minutes.Get()
	minutes, also := d.Minutes.Get()
	c.Minutes = maybe.If(sum+minutes, known && also)
	c.Laser, c.Wood, c.Labour, c.Profit = c.Laser+d.Laser, c.Wood+d.Wood, c.Labour+d.Labour, c.Profit+d.Profit
	total, known := c.Total.Get()
	more, also := d.Total.Get()
	c.Total = maybe.If(total+more, known && also)
	c.Missing = with(c.Missing, d.Missing)
}

// with is a list with what another has beside it.
func with(list, more []string) []string {
	for _, what := range more {
		if !slices.Contains(list, what) {
			list = append(list, what)
		}
	}
	return list
}

// A Bill is money, in cents.
type Bill struct {
	Laser, Wood, Labour, Profit int64
	Total                       maybe.Of[int64] // the sum of these; absent where something isn't stated
}

// Of is the cost of a design's sheets, as [driver.Session.Sequenced] gives them. Of none, as of a
// file of jobs, nothing is known.
func Of(sheets []driver.Sheet, shop design.Shop) Cost {
	var c Cost
	var parts []layout.Part
	seconds, timed := 0.0, true
	for _, s := range sheets {
		if s.For != driver.Cutting && !s.Inside {
			parts = append(parts, s.Drawing.Parts...)
		}
		if s.For == driver.Looking {
			continue
		}
		f := File{s.Suffix, s.Runs(), s.Drawing.Reckon()}
		time, ok := f.Time.Get()
		seconds, timed = seconds+float64(f.Runs)*time.Total(), timed && ok
		c.Missing = with(c.Missing, f.Missing)
		c.Files = append(c.Files, f)
	}
	if len(c.Files) == 0 {
		return c
	}
	c.Charge = inCents(layout.Charge(shop, maybe.If(seconds, timed), c.Missing, parts))
	return c
}

// mostCharged is up to how much money a cover is charged with, so that the cents of a million
// covers can be counted.
const mostCharged = 1e9

// inCents is a bill in whole cents that add up. One beyond what can be counted isn't told.
func inCents(b layout.Bill) Charge {
	if sum := b.Laser + b.Wood + b.Labour + b.Profit; !(sum <= mostCharged) {
		return Charge{Minutes: b.Minutes, Missing: append(b.Missing, fmt.Sprintf("speeds, sizes and prices by which a cover comes to no more than %.0f", float64(mostCharged)))}
	}
	c := Cents(b.Laser, b.Wood, b.Labour, b.Profit)
	return Charge{b.Minutes, Bill{c[0], c[1], c[2], c[3], maybe.If(c[0]+c[1]+c[2]+c[3], b.Total().Present())}, b.Missing}
}

// Cents are amounts of money in whole cents that add up to their sum as it is rounded: each
// is rounded down, and what is lacking goes to those that lose most by that.
func Cents(amounts ...float64) []int64 {
	sum, lacking := 0.0, int64(0)
	all := make([]int64, len(amounts))
	order := make([]int, len(amounts))
	for i, a := range amounts {
		sum += a
		all[i] = int64(math.Floor(100*a + 1e-9))
		order[i] = i
		lacking -= all[i]
	}
	lacking += int64(math.Round(100 * sum))
	slices.SortStableFunc(order, func(i, j int) int {
		return cmp.Compare(100*amounts[j]-float64(all[j]), 100*amounts[i]-float64(all[i]))
	})
	for k := range min(max(lacking, 0), int64(len(order))) {
		all[order[k]]++
	}
	return all
}

// Money writes cents as a person does: 12.50.
func Money(cents int64) string { return strconv.FormatFloat(float64(cents)/100, 'f', 2, 64) }
