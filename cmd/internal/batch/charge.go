package batch

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"foredge/cmd/internal/cost"
	"foredge/cmd/internal/driver"
	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/layout"
)

// A charge is how long the laser takes over an order, all its copies, and what they cost.
type charge struct {
	asked   bool // the maker has stated something of it
	minutes maybe.Of[float64]
	cents   maybe.Of[int64]
	missing []string // what isn't stated
}

// asked says whether a design states anything of time and money.
func asked(l *design.Laser) bool { return l.Pace != design.Pace{} || l.Shop != design.Shop{} }

// chargeEach is for an order that has its own files, which are run for each copy.
func chargeEach(solved *design.Design, sheets []driver.Sheet, copies int) charge {
	c := charge{asked: asked(&solved.Laser)}
	if !c.asked {
		return c
	}
	one := cost.Of(sheets, solved.Laser.Shop)
	if m, ok := one.Minutes.Get(); ok {
		c.minutes = maybe.Is(m * float64(copies))
	}
	if total, ok := one.Total.Get(); ok {
		c.cents = maybe.Is(total * int64(copies))
	}
	c.missing = one.Missing
	return c
}

// A timed sheet is how long it takes, by the parts that lie on it: each is charged for what
// it takes by itself, and for its share of the way between them.
type timed struct {
	seconds map[string]float64 // nil where it isn't known
	missing []string
}

func timeOf(drawings ...*layout.Drawing) timed {
	t := timed{seconds: map[string]float64{}}
	for _, d := range drawings {
		if d == nil {
			continue
		}
		r := d.Reckon()
		for _, m := range r.Missing {
			if !slices.Contains(t.missing, m) {
				t.missing = append(t.missing, m)
			}
		}
		time, ok := r.Time.Get()
		if !ok {
			t.seconds = nil
			continue
		}
		sum := 0.0
		for _, s := range r.Share {
			sum += s
		}
		for i, p := range d.Parts {
			if t.seconds != nil && sum > 0 {
				t.seconds[p.Name] += time.Total() * r.Share[i] / sum
			}
		}
	}
	return t
}

// chargeLaid is for an order whose parts lie on sheets with those of others.
func chargeLaid(m *made, its []layout.On, sheets []timed, copies int) charge {
	c := charge{asked: m.charge.asked}
	if !c.asked {
		return c
	}
	seconds, known := 0.0, true
	for _, on := range its {
		t := &sheets[on.Sheet]
		seconds += t.seconds[on.Part]
		known = known && t.seconds != nil
		for _, what := range t.missing {
			if !slices.Contains(c.missing, what) {
				c.missing = append(c.missing, what)
			}
		}
	}
	shop := m.shop
	shop.Labour = maybe.Is(shop.Labour.Or(0) * float64(copies))
	parts := slices.Clone(m.kerfed.Parts)
	for i := range parts {
		parts[i].Copies = max(parts[i].Copies, 1) * copies
	}
	b := layout.Charge(shop, maybe.If(seconds, known), c.missing, parts)
	c.minutes, c.missing, c.cents = b.Minutes, b.Missing, cost.InCents(b).Total
	return c
}

// write tells the charge on a ticket.
func (c charge) write(b *bytes.Buffer, copies int) {
	if !c.asked {
		return
	}
	all := ""
	if copies > 1 {
		all = fmt.Sprintf(", all %d", copies)
	}
	if m, ok := c.minutes.Get(); ok {
		fmt.Fprintf(b, "  The laser runs %.2f minutes%s\n", m, all)
	}
	if cents, ok := c.cents.Get(); ok {
		fmt.Fprintf(b, "  It costs %s%s\n", cost.Money(cents), all)
	}
	if len(c.missing) > 0 {
		fmt.Fprintf(b, "  Time and cost lack what isn't stated: %s\n", line(strings.Join(c.missing, ", ")))
	}
}
