package cost

import (
	"cmp"
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
	layout.Reckoning
}

// A Cost is what making a cover once takes.
type Cost struct {
	Files   []File
	Minutes maybe.Of[float64] // of the laser, over all files
	Bill                      // what it costs
	Missing []string          // what isn't stated for minutes and money, as a maker would look for it
}

// A Bill is money, in cents.
type Bill struct {
	Laser, Wood, Labour, Profit int64
	Total                       maybe.Of[int64] // the sum of these; absent where something isn't stated
}

// Of is the cost of a design's sheets, as [driver.Session.Sequenced] gives them.
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
		f := File{s.Suffix, s.Drawing.Reckon()}
		time, ok := f.Time.Get()
		seconds, timed = seconds+time.Total(), timed && ok
		for _, m := range f.Missing {
			if !slices.Contains(c.Missing, m) {
				c.Missing = append(c.Missing, m)
			}
		}
		c.Files = append(c.Files, f)
	}
	b := layout.Charge(shop, maybe.If(seconds, timed), c.Missing, parts)
	c.Minutes, c.Missing, c.Bill = b.Minutes, b.Missing, InCents(b)
	return c
}

// InCents is a bill in whole cents that add up.
func InCents(b layout.Bill) Bill {
	c := Cents(b.Laser, b.Wood, b.Labour, b.Profit)
	return Bill{c[0], c[1], c[2], c[3], maybe.If(c[0]+c[1]+c[2]+c[3], b.Total().Present())}
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
