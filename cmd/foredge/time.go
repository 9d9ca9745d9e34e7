package main

import (
	"bufio"
	"context"
	"flag"
	"fmt"
	"io"
	"strings"

	"foredge/cmd/internal/cost"
	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/glance"
	"foredge/lang/data"
	"foredge/layout/motion"
	"foredge/layout/tour"
)

func timeCommand() *command {
	return &command{
		name:  "time",
		args:  "FILE",
		most:  "[--json]",
		short: "tell how long the laser takes over a design, and what it costs",
		long: "It lists each file that foredge build would write, with the minutes of the laser, how far it cuts\n" +
			"and how far it goes with the beam off; then what one cover costs. It reckons with what the laser\n" +
			"and the stocks state, such as cut-speed, acceleration, rate and price, and makes nothing up: what\n" +
			"it lacks is named. With --json it is data; lengths are in mm.",
		setup: func(flags *flag.FlagSet) runner {
			asJSON := false
			flags.BoolVar(&asJSON, "json", false, "print all of it as JSON (and errors too, on standard error)")
			return func(ctx context.Context, t *terminal, args []string) int {
				if len(args) != 1 {
					return t.fail(misused("as in foredge time harbour-log.fore", "time works on one design at a time, and %d are named", len(args)))
				}
				r := driver.NewSession(t.stdin).Time(ctx, args[0], driver.Options{})
				status := t.report(t.stderr, []*driver.Result{r}, asJSON)
				if !r.OK() {
					return status
				}
				c := cost.Of(r.Sheets, r.Solution.Design().Laser.Shop)
				w := bufio.NewWriter(t.stdout)
				defer w.Flush()
				if asJSON {
					writeTimeJSON(w, r, c)
				} else {
					writeTime(w, r, c)
				}
				return status
			}
		},
	}
}

// writeTime shows a cost to a person.
func writeTime(w io.Writer, r *driver.Result, c cost.Cost) {
	if len(c.Files) == 0 {
		return // which is told
	}
	rows := [][]string{{"file", "minutes", "cut", "travel"}}
	for _, f := range c.Files {
		minutes := "-"
		if t, ok := f.Time.Get(); ok {
			minutes = fmt.Sprintf("%.2f", t.Total()/60)
		}
		rows = append(rows, []string{driver.Name(r.Design) + f.Suffix, minutes, fmt.Sprintf("%.2f m", f.Cut/1000), fmt.Sprintf("%.2f m", f.Travel/1000)})
		if f.Runs > 1 { // a row's numbers are those of one run
			last := &rows[len(rows)-1]
			*last = append(*last, fmt.Sprintf("run %d times", f.Runs))
		}
	}
	if minutes, ok := c.Minutes.Get(); ok && len(c.Files) > 1 {
		rows = append(rows, []string{"in all", fmt.Sprintf("%.2f", minutes)})
	}
	glance.Table(w, "", rows)
	if total, ok := c.Total.Get(); ok {
		fmt.Fprintf(w, "\nA cover costs %s: the laser %s, wood %s, labour %s, profit %s.\n",
			cost.Money(total), cost.Money(c.Laser), cost.Money(c.Wood), cost.Money(c.Labour), cost.Money(c.Profit))
	}
	if len(c.Missing) > 0 {
		fmt.Fprintf(w, "\nNot told, as it isn't stated: %s.\n", strings.Join(c.Missing, ", "))
	}
}

// A timeJSON is a file in time --json. What isn't known is null.
type timeJSON struct {
	Name    string       `json:"name"`
	Runs    int          `json:"runs,omitempty"` // for one cover, where it is run several times
	Minutes *data.Number `json:"minutes"`
	Engrave *data.Number `json:"engrave-minutes"`
	Mark    *data.Number `json:"mark-minutes"`
	Score   *data.Number `json:"score-minutes"`
	Cut     *data.Number `json:"cut-minutes"`
	Travel  *data.Number `json:"travel-minutes"`
	CutMM   data.Number  `json:"cut"`
	Moved   data.Number  `json:"travel"`
}

func writeTimeJSON(w io.Writer, r *driver.Result, c cost.Cost) error {
	files := []timeJSON{}
	for _, f := range c.Files {
		minutes := func(of func(motion.Time) float64) *data.Number {
			t, ok := f.Time.Get()
			return number(of(t)/60, ok)
		}
		op := func(op tour.Op) *data.Number { return minutes(func(t motion.Time) float64 { return t.Ops[op] }) }
		runs := f.Runs
		if runs == 1 {
			runs = 0
		}
		files = append(files, timeJSON{driver.Name(r.Design) + f.Suffix, runs, minutes(motion.Time.Total),
			op(tour.Engrave), op(tour.Mark), op(tour.Score), op(tour.Cut),
			minutes(func(t motion.Time) float64 { return t.Travel }), data.Number(f.Cut), data.Number(f.Travel)})
	}
	money := func(cents int64) *data.Number { return number(float64(cents)/100, c.Total.Present()) }
	missing := append([]string{}, c.Missing...)
	return data.Write(w, struct {
		data.Head
		File    string       `json:"file"`
		Files   []timeJSON   `json:"files"`
		Minutes *data.Number `json:"minutes"`
		Laser   *data.Number `json:"laser"`
		Wood    *data.Number `json:"wood"`
		Labour  *data.Number `json:"labour"`
		Profit  *data.Number `json:"profit"`
		Cost    *data.Number `json:"cost"`
		Missing []string     `json:"missing"`
	}{data.NewHead(), shownName(r.Design), files, number(c.Minutes.Or(0), c.Minutes.Present()),
		money(c.Laser), money(c.Wood), money(c.Labour), money(c.Profit), money(c.Total.Or(0)), missing})
}

// number is a number of data, null where it isn't known.
func number(v float64, known bool) *data.Number {
	if !known {
		return nil
	}
	n := data.Number(v)
	return &n
}
