package main

import (
	"fmt"
	"regexp"
	"strings"

	"foredge/lang/diag"
	"foredge/lang/source"
)

// mostAlike is how many orders a person is told of one by one that have the same
// wrong; one or two more than these are told too.
const mostAlike = 20

// varying is what differs between the messages of orders that have the same wrong:
// texts in quotes and numbers.
func varying() *regexp.Regexp {
	return regexp.MustCompile(`"(?:[^"\\]|\\.)*"|[0-9]+`)
}

// kindOf is what the messages of orders have in common that have the same wrong.
func kindOf(d *diag.Diagnostic, varying *regexp.Regexp) string {
	message := d.Message
	if rest, of := strings.CutPrefix(message, "order "); of {
		_, message, _ = strings.Cut(rest, ": ")
	}
	return fmt.Sprint(d.Severity, d.Code, varying.ReplaceAllString(message, "?"))
}

// folded are diagnostics of orders as a person is told of them: of many of a kind the
// first few, with how many more there are and where.
func folded(l diag.List) diag.List {
	kinds, varying := make([]string, len(l)), varying()
	count := map[string]int{}
	for i, d := range l {
		if !d.Span.IsZero() {
			kinds[i] = kindOf(d, varying)
			count[kinds[i]]++
		}
	}
	var out diag.List
	last := map[string]*diag.Diagnostic{} // that is told of a kind
	told := map[string]int{}
	rest := map[string]*lines{}
	for i, d := range l {
		k := kinds[i]
		if count[k] <= mostAlike+2 {
			out = append(out, d)
			continue
		}
		if told[k]++; told[k] <= mostAlike {
			own := *d
			last[k] = &own
			out = append(out, &own)
			continue
		}
		if rest[k] == nil {
			rest[k] = &lines{}
		}
		rest[k].add(d.Span)
	}
	for k, at := range rest {
		last[k].Notes = append(last[k].Notes[:len(last[k].Notes):len(last[k].Notes)], diag.Note{
			Message: fmt.Sprintf("the same is told of %d more, in %s (--json lists them all)", told[k]-mostAlike, at)})
	}
	return out
}

// lines are those of a file, as runs of lines that follow one another.
type lines struct {
	runs [][2]int
}

func (l *lines) add(at source.Span) {
	n := at.File.LineNumber(at.Start)
	if k := len(l.runs) - 1; k >= 0 && n >= l.runs[k][0] && n <= l.runs[k][1]+1 {
		l.runs[k][1] = max(n, l.runs[k][1])
		return
	}
	l.runs = append(l.runs, [2]int{n, n})
}

// mostRuns is how many runs of lines are named.
const mostRuns = 10

func (l *lines) String() string {
	var all []string
	for _, r := range l.runs[:min(len(l.runs), mostRuns)] {
		if r[0] == r[1] {
			all = append(all, fmt.Sprint(r[0]))
		} else {
			all = append(all, fmt.Sprintf("%d to %d", r[0], r[1]))
		}
	}
	if len(l.runs) > mostRuns {
		all = append(all, "and others")
	}
	if len(all) == 1 && l.runs[0][0] == l.runs[0][1] {
		return "line " + all[0]
	}
	return "lines " + strings.Join(all, ", ")
}
