package orders

import "strings"

// swallowed warns of a row whose value holds a line break where, without the quotes about it, each of
// its lines is a row of the table: a quote that is opened and that another row happens to close
// makes one order of two.
func (r *reader) swallowed(row *Row, record []string) {
	if r.width < 2 {
		return // any text of several lines is like such rows
	}
	for i, value := range record {
		if !strings.Contains(value, "\n") {
			continue
		}
		for line := range strings.Lines(strings.ReplaceAll(row.At.Text(), `"`, "")) {
			// One that a blank follows is of a sentence.
			if strings.Count(line, string(r.sep))-strings.Count(line, string(r.sep)+" ") != r.width-1 {
				return
			}
		}
		row.Problems.Warnf("odd-text", r.field(i, value), "this value goes on in the next line, and each of these lines looks like a row of the table").
			WithHelp("see that a quote which opens there isn't closed in another row: what it holds is one value")
		return
	}
}
