package tell

import (
	"fmt"
	"math"
	"strings"

	"foredge/eval/caliper"
	"foredge/eval/relation"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// How unlikely the scatter of repeats must be before it is told, for all lists of
// a design together. The test of how readings agree warns of 5 right designs in a
// hundred already; with 1 % for the lists it is less than 6 in all, and errors,
// at 0.1 % each, are below 0.3 %.
const (
	doubtful      = 0.01
	contradictory = 0.001
)

// much is the range, in mm or degrees, up to which something may really vary.
const much = 2

// repeats holds the values of each list against each other. It returns how lists
// were told, by their place.
func (t *teller) repeats() map[source.Span]diag.Severity {
	lists := map[source.Span]bool{} // what is like another repeats its lists
	for _, r := range t.System.Readings {
		if len(r.Each) > 1 {
			lists[r.At] = true
		}
	}
	told := map[source.Span]diag.Severity{}
	// Of n tests, each as strict as the n-th root of what all may cost.
	each := func(all float64) float64 { return -math.Expm1(math.Log1p(-all) / float64(len(lists))) }
	for i := range t.System.Readings {
		r := &t.System.Readings[i]
		if _, known := told[r.At]; known || len(r.Each) < 2 {
			continue
		}
		reads := make([]float64, len(r.Each))
		for k, v := range r.Each {
			reads[k] = v.Value
		}
		tool := caliper.Tool{Accuracy: r.Accuracy, Resolution: r.Resolution}
		switch found := tool.Repeats(reads, r.Step); {
		case found.Chance < each(contradictory):
			t.repeat(r, found, t.diags.Errorf)
			told[r.At] = diag.Error
		case found.Chance < each(doubtful):
			t.repeat(r, found, t.diags.Warnf)
			told[r.At] = diag.Warning
		}
	}
	return told
}

// repeat tells of a list whose values don't go together, by errors or warnings.
func (t *teller) repeat(r *relation.Reading, found caliper.Repeat, add func(diag.Code, source.Span, string, ...any) *diag.Diagnostic) {
	kind := t.KindOf(r.Left)
	write := func(v float64) string { return t.Format(v, kind, r.At) }
	allowed := 2*r.Accuracy + math.Max(r.Step, r.Resolution)
	apart := fmt.Sprintf("the readings of %s are %s apart, and ± %s leaves %s between two of them",
		r.Text, write(found.Range), write(r.Accuracy), write(allowed))
	help := fmt.Sprintf("measure %s once more", r.Text)
	var d *diag.Diagnostic
	if len(found.Odd) == 1 {
		odd := r.Each[found.Odd[0]]
		d = add("repeats", odd.At, "%s: %s is the odd one, %s from the middle one", apart, write(odd.Value), write(math.Abs(odd.Value-found.Median)))
		if p := t.misread(odd.At, odd.Value, func(v float64) bool { return math.Abs(v-found.Median) <= allowed }); p != nil && kind == unit.Length {
			d.WithHelp("%s; %s was taken as %s, and goes with the others as %s", help, odd.At.Short(), p.Was(), p.As())
			return
		}
	} else {
		d = add("repeats", r.At, "%s: one of them is off", apart)
		least, greatest := r.Each[found.Odd[0]].Value, 0.0
		for n, k := range found.Odd {
			v := r.Each[k].Value
			least, greatest = min(least, v), max(greatest, v)
			if n < 4 {
				d.Note(r.Each[k].At, "read as %s", write(v))
			}
		}
		for _, times := range []float64{10, 25.4, 2.54} {
			if math.Abs(greatest-times*least) <= allowed*times {
				d.WithHelp("%s; one is %s times the other, as if a unit were wrong, or a decimal point", help, unit.FormatNumber(times, 2))
				return
			}
		}
	}
	if found.Range <= math.Max(much, 0.05*found.Median) {
		help += fmt.Sprintf("; where it really varies, as leaves that give and sheets do, say by how much behind the last value: ± %s", t.halfOf(found.Range, kind, r.At))
	}
	d.WithHelp("%s", help)
}

// halfOf is half of a range, rounded up to two digits.
func (t *teller) halfOf(r float64, k unit.Kind, at source.Span) string {
	size := 1.0
	if k == unit.Length {
		size = t.UnitOf(at).Size
	}
	half := r / 2 / size
	step := math.Pow10(int(math.Floor(math.Log10(half))) - 1)
	return strings.TrimSpace(unit.FormatNumber(math.Ceil(half/step-1e-9)*step, 6))
}
