package main

import (
	"bufio"
	"context"
	"flag"
	"fmt"
	"io"
	"math"
	"strings"
	"unicode/utf8"

	"foredge/cmd/internal/driver"
	"foredge/eval"
	"foredge/lang/data"
	"foredge/lang/diag"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

func solveCommand() *command {
	return &command{
		name:  "solve",
		args:  "FILE",
		most:  "[--json] [--why NAME]",
		short: "list every dimension, its value and where it comes from",
		long: "The list is in the unit of the design; uncertainties are standard ones. With --json lengths\n" +
			"are in mm, to 1e-9. What is known is listed too where a dimension stays open or\n" +
			"readings contradict each other.",
		setup: func(flags *flag.FlagSet) runner {
			asJSON := flags.Bool("json", false, "print the dimensions as JSON (and errors too, on standard error)")
			why := flags.String("why", "", "tell how the dimension `NAME` came to its value")
			return func(ctx context.Context, t *terminal, args []string) int {
				switch {
				case len(args) != 1:
					return t.fail(misused("as in foredge solve harbour-log.fore", "solve works on one design at a time, and %d are named", len(args)))
				case *asJSON && *why != "":
					return t.fail(misused("leave one of them out", "--why prints text and --json data"))
				}
				r := driver.NewSession(t.stdin).Solve(ctx, args[0], *why)
				status := t.report(t.stderr, []*driver.Result{r}, *asJSON)
				if status != done && !partly(r) {
					return status
				}
				w := bufio.NewWriter(t.stdout)
				defer w.Flush()
				switch {
				case *why != "":
					if err := writeWhy(w, r.Solution, *why); err != nil {
						return t.fail(err)
					}
				case *asJSON:
					writeDimensionsJSON(w, r)
				default:
					writeDimensions(w, r.Solution)
				}
				return status
			}
		},
	}
}

// partly reports whether a design is solved but for dimensions that nothing
// decides and readings that don't agree, so that the rest is worth showing.
func partly(r *driver.Result) bool {
	if r.Err != nil || r.Solution == nil {
		return false
	}
	for _, d := range r.Diagnostics {
		if d.Severity == diag.Error && d.Code != "open" && d.Code != "readings" {
			return false
		}
	}
	return true
}

// A dimensionJSON is a dimension in solve --json.
type dimensionJSON struct {
	Value       data.Number `json:"value"` // null where it is open
	Kind        string      `json:"kind"`
	From        string      `json:"from"`
	Uncertainty data.Number `json:"uncertainty"`
	At          *data.Place `json:"at"`
}

// writeDimensionsJSON writes all dimensions as data: lengths in mm.
func writeDimensionsJSON(w io.Writer, r *driver.Result) error {
	all := map[string]dimensionJSON{}
	for _, d := range r.Solution.Dimensions() {
		all[d.Name] = dimensionJSON{data.Number(d.Value), d.Kind.String(), d.From.String(), data.Number(d.Uncertainty), data.At(d.At)}
	}
	return data.Write(w, struct {
		data.Head
		File       string                   `json:"file"`
		Unit       string                   `json:"unit"`
		Dimensions map[string]dimensionJSON `json:"dimensions"`
	}{data.NewHead(), shownName(r.Design), "mm", all})
}

// writeDimensions lists all dimensions for a person, in the design's unit.
func writeDimensions(w io.Writer, s *eval.Solution) {
	var rows [][]string
	for _, d := range s.Dimensions() {
		row := []string{d.Name, "open", "", d.From.String(), d.At.String()}
		if !math.IsNaN(d.Value) {
			row[1] = value(d.Value, d.Kind, s.Unit)
			if d.Uncertainty > 0 {
				row[2] = "± " + value(d.Uncertainty, d.Kind, s.Unit)
			}
		}
		rows = append(rows, row)
	}
	writeTable(w, rows)
}

// value writes a dimension's value for a person.
func value(v float64, k unit.Kind, u unit.Unit) string {
	switch k {
	case unit.Length:
		return unit.FormatLength(v, u)
	case unit.Angle:
		return unit.FormatNumber(v, 3) + " deg"
	}
	return unit.FormatNumber(v, 4)
}

// writeTable writes rows in columns.
func writeTable(w io.Writer, rows [][]string) {
	var wide []int
	for _, row := range rows {
		for i, cell := range row {
			if i == len(wide) {
				wide = append(wide, 0)
			}
			wide[i] = max(wide[i], utf8.RuneCountInString(cell))
		}
	}
	for _, row := range rows {
		line := ""
		for i, cell := range row {
			line += cell + strings.Repeat(" ", wide[i]-utf8.RuneCountInString(cell)+2)
		}
		fmt.Fprintln(w, strings.TrimRight(line, " "))
	}
}

// writeWhy tells how a dimension came to its value, each step further in than
// the one that it explains.
func writeWhy(w io.Writer, s *eval.Solution, name string) error {
	id, ok := s.Dimension(name)
	if !ok {
		help := "foredge solve FILE lists them all"
		if near := spell.Nearest(name, s.Names()); near != "" {
			help = fmt.Sprintf("did you mean %s?", near)
		}
		return misused(help, "the design has no dimension %q", name)
	}
	for _, step := range s.Why(id) {
		line := strings.Repeat("  ", step.Depth) + step.Name + " = " + step.Value
		if step.Uncertainty != "" {
			line += " ± " + step.Uncertainty
		}
		line += "  " + step.From.String()
		switch {
		case step.Seen:
			line += ", see above"
		case step.Text != "":
			line += ": " + step.Text
		}
		if !step.Seen && !step.At.IsZero() {
			line += "  (" + step.At.String() + ")"
		}
		fmt.Fprintln(w, line)
		if step.Seen {
			continue
		}
		for _, with := range step.With {
			fmt.Fprintf(w, "%s  together with %s  (%s)\n", strings.Repeat("  ", step.Depth), with.Text, with.At)
		}
		if len(step.Breaks) > 0 {
			fmt.Fprintf(w, "%s  with %s these can't all hold:\n", strings.Repeat("  ", step.Depth), step.More)
		}
		for _, line := range step.Breaks {
			fmt.Fprintf(w, "%s    %s  (%s)\n", strings.Repeat("  ", step.Depth), line.Text, line.At)
		}
	}
	return nil
}
