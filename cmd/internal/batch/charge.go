package batch

import (
	"bytes"
	"fmt"
	"strings"

	"foredge/cmd/internal/cost"
	"foredge/cmd/internal/driver"
	"foredge/eval/design"
)

// A charge is how long the laser takes over an order, all its copies, and what they cost.
type charge struct {
	asked bool // the maker has stated something of it
	cost.Charge
}

// asked says whether a design states anything of time and money.
func asked(l *design.Laser) bool { return l.Pace != design.Pace{} || l.Shop != design.Shop{} }

// chargeEach is for an order that has its own files, which are run for each copy.
func chargeEach(solved *design.Design, sheets []driver.Sheet, copies int) charge {
	c := charge{asked: asked(&solved.Laser)}
	if !c.asked {
		return c
	}
	one := cost.Of(sheets, solved.Laser.Shop).Charge
	c.Charge = cost.Nothing()
	for range copies {
		c.Add(one)
	}
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
	if m, ok := c.Minutes.Get(); ok {
		fmt.Fprintf(b, ticketTime+"%.2f minutes%s\n", m, all)
	}
	if cents, ok := c.Total.Get(); ok {
		fmt.Fprintf(b, ticketCost+"%s%s\n", cost.Money(cents), all)
	}
	if len(c.Missing) > 0 {
		fmt.Fprintf(b, "  Time and cost lack what isn't stated: %s\n", line(strings.Join(c.Missing, ", ")))
	}
}
