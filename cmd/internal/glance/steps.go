package glance

import (
	"fmt"
	"io"
	"strings"

	"foredge/eval/solution"
)

// Steps writes the steps of an explanation, each further in than the one that
// it explains.
func Steps(w io.Writer, steps []solution.Step) {
	write(w, steps, func(step solution.Step) string {
		if step.Uncertainty == "" {
			return ""
		}
		return " (u " + step.Uncertainty + ")"
	})
}

// StepsWithin is [Steps] with how far the readings leave each value open, 95 times in a
// hundred, in place of its standard uncertainty: what is shown beside a value elsewhere.
func StepsWithin(w io.Writer, steps []solution.Step) {
	write(w, steps, func(step solution.Step) string {
		if step.Within == "" {
			return ""
		}
		return " ± " + step.Within
	})
}

func write(w io.Writer, steps []solution.Step, surely func(solution.Step) string) {
	for _, step := range steps {
		line := strings.Repeat("  ", step.Depth) + step.Name + " = " + step.Value + surely(step)
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
}
