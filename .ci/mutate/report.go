package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
)

// A tally counts what became of the mutants of a package.
type tally struct{ killed, living, equivalent, broken int }

func (t *tally) add(u tally) {
	t.killed += u.killed
	t.living += u.living
	t.equivalent += u.equivalent
	t.broken += u.broken
}

// counted is the number of mutants that could be killed.
func (t tally) counted() int { return t.killed + t.living }

// share is how many of those that could be killed were.
func (t tally) share() float64 {
	if t.counted() == 0 {
		return 1
	}
	return float64(t.killed) / float64(t.counted())
}

// count tells for each package what became of its mutants, and for all.
func count(tried []mutant, found map[key]result, judged map[key]string) (each map[string]tally, all tally) {
	each = map[string]tally{}
	for _, m := range tried {
		var t tally
		switch found[m.key].State {
		case killed:
			t.killed = 1
		case broken:
			t.broken = 1
		case living:
			if judged[m.key] != "" {
				t.equivalent = 1
			} else {
				t.living = 1
			}
		}
		sum := each[m.Package]
		sum.add(t)
		each[m.Package] = sum
		all.add(t)
	}
	return each, all
}

// report prints the table, and the living in the form in which equivalent.tsv
// names them.
func report(w io.Writer, tried []mutant, found map[key]result, judged map[key]string) tally {
	each, all := count(tried, found, judged)
	var names []string
	for name := range each {
		names = append(names, name)
	}
	slices.Sort(names)
	row := func(name string, t tally) {
		fmt.Fprintf(w, "%-24s %7d %7d %11d %7d %6.1f %%\n", name, t.killed, t.living, t.equivalent, t.broken, 100*t.share())
	}
	fmt.Fprintf(w, "%-24s %7s %7s %11s %7s %8s\n", "package", "killed", "living", "equivalent", "broken", "killed")
	for _, name := range names {
		row(name, each[name])
	}
	row("all", all)
	for _, m := range tried {
		if found[m.key].State == living && judged[m.key] == "" {
			fmt.Fprintf(w, "\nlives: %s:%d, in %s: %s\n    %s\n%s\t\n", m.File, m.At, m.Function, m.Change, m.Line, strings.Join(m.fields(), "\t"))
		}
	}
	return all
}

// tellJudged tells judgements that no longer hold: of code that is not there,
// and of mutants that a test does kill. It reports whether there were any.
func tellJudged(w io.Writer, judged map[key]string, every []mutant, found map[key]result) bool {
	there := map[key]bool{}
	for _, m := range every {
		there[m.key] = true
	}
	var wrong []string
	for k := range judged {
		switch {
		case !there[k]:
			wrong = append(wrong, fmt.Sprintf("equivalent.tsv names what is not in the code: %s, %s: %s in %s", k.File, k.Function, k.Change, k.Line))
		case found[k].State == killed:
			wrong = append(wrong, fmt.Sprintf("equivalent.tsv names what the tests of %s kill: %s, %s: %s in %s", found[k].By, k.File, k.Function, k.Change, k.Line))
		}
	}
	slices.Sort(wrong)
	for _, line := range wrong {
		fmt.Fprintln(w, line)
	}
	return len(wrong) > 0
}
