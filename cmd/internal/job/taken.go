package job

import (
	"math"
	"slices"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/word"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
	"foredge/layout"
)

// A taken is what a design takes a stock to be: its parts are drawn for the kerf, and lie
// along the grain.
type taken struct {
	kerf  maybe.Of[float64]
	grain word.Grain
	from  string
	at    source.Span
}

// take notes what a design takes its stocks to be, which were met before.
func (s *shelf) take(kerfed *layout.Drawing, name string, at source.Span) {
	for _, p := range kerfed.Parts {
		if k := s.of[p.Stock]; k != nil && p.Of != nil {
			if t := (taken{p.Want, p.Of.Grain, name, at}); !slices.Contains(k.taken, t) {
				k.taken = append(k.taken, t)
			}
		}
	}
}

// asTaken sees that a stock of the job's file is as all designs take it to be: what it says
// of kerf and grain changes none of their parts.
func (s *shelf) asTaken(diags *diag.List, own *design.Stock, by []taken) {
	for _, t := range by {
		if a, ok := own.Kerf.Get(); ok && math.Abs(a-t.kerf.Or(math.Inf(1))) > sameThick {
			drawn := "without one"
			if b, known := t.kerf.Get(); known {
				drawn = "for " + unit.FormatLength(b, s.own.Unit)
			}
			diags.Errorf("job-stock", own.At, "the kerf of %s is %s here, and %s is drawn %s", own.Name, unit.FormatLength(a, s.own.Unit), t.from, drawn).
				Note(t.at, "%s is made here", t.from).WithHelp("parts are cut by the kerf of their own design: state it once, in a file that the designs use")
			return
		}
		if own.Grain != 0 && own.Grain != t.grain {
			runs := "nothing is said of it"
			if t.grain != 0 {
				runs = "along its " + t.grain.String()
			}
			diags.Errorf("job-stock", own.At, "the grain of %s runs along its %s here, and in %s %s", own.Name, own.Grain, t.from, runs).
				Note(t.at, "%s is made here", t.from).WithHelp("parts lie by the grain of their own design: state it once, in a file that the designs use")
			return
		}
	}
}
