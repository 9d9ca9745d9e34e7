package tell

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// benches says how well each notebook's readings agree, but where a list of
// repeats that was told is among those in doubt. It returns those that contradict
// each other.
func (t *teller) benches(told map[source.Span]diag.Severity) map[int]bool {
	bad := map[int]bool{}
	for _, b := range t.Numbers.Benches {
		bad[b.Bench] = contradicts(t.Numbers, b.Bench)
		doubted := func(k int) bool {
			_, known := told[t.System.Readings[b.Readings[k].Index].At]
			return known
		}
		if b.Freedom > 0 && len(b.Suspects) > 0 && b.ChiSquare > b.Limit95 && !slices.ContainsFunc(b.Suspects, doubted) {
			t.bench(b)
		}
	}
	for _, r := range t.System.Readings {
		if as, known := told[r.At]; known && as == diag.Error {
			bad[r.Bench] = true
		}
	}
	return bad
}

// idleLimits tells of limits in notebooks on what nothing was read of: what is
// measured never follows a limit, so they say nothing to what covers it either.
func (t *teller) idleLimits() {
	for i := range t.System.Relations {
		r := &t.System.Relations[i]
		if r.Bench == 0 || r.Role == relation.Own || r.Sign == relation.EQ {
			continue
		}
		if open := t.unknown(r); len(open) > 0 {
			t.diags.Warnf("idle-limit", r.At, "%s says nothing: nothing was read that gives %s", r.At.Short(), t.nameList(open)).
				WithHelp("measure it, state it by prefer, or put the limit on the panel that covers the notebook")
		}
	}
}

func (t *teller) bench(b solve.BenchReport) {
	name := t.System.Benches[b.Bench-1].Name
	if slip := SlipOf(t.Solution, &b); slip != nil {
		r := t.System.Readings[b.Readings[slip.Reading].Index]
		d := t.diags.Errorf("readings", r.At, "the readings of %s contradict each other: %s was taken as %s, and agrees with the others as %s",
			name, r.Text, slip.Was(), slip.As()).
			WithHelp("write the unit after the number, as in %s = %s, or measure it once more", r.Text, slip.As())
		if at := numberOf(r.At); !at.IsZero() {
			d.WithFix(at, slip.As())
		}
		return
	}
	suspects := t.Suspects(&b)
	reading := func(k int) relation.Reading { return t.System.Readings[b.Readings[k].Index] }
	d := t.contradiction(name, b.ChiSquare > b.Limit999, suspects, reading)
	for _, k := range suspects {
		r, rd := b.Readings[k], reading(k)
		kind := t.KindOf(rd.Left)
		if math.IsNaN(r.Implied) {
			d.Note(rd.At, "%s was read as %s", rd.Text, t.readAs(rd, kind))
			continue
		}
		d.Note(rd.At, "%s was read as %s; the others imply %s", rd.Text,
			t.readAs(rd, kind), t.rounded(r.Implied, r.ImpliedU, kind, rd.At))
		if at := numberOf(rd.At); !at.IsZero() && rd.Flat == 0 && b.ChiSquare-r.Normalised*r.Normalised <= b.Limit95 {
			d.WithFix(at, t.rounded(r.Implied, r.ImpliedU, kind, rd.At))
		}
	}
	d.WithHelp("measure it once more; if it comes out the same, look at the others, the count and what is marked exact")
	for _, k := range suspects {
		t.otherWire(d, reading(k))
	}
}

// otherWire points out the binding outside the notebook whose stated wire a reading contradicts:
// that of the shelf is a usual one, and the maker has measured his own.
func (t *teller) otherWire(d *diag.Diagnostic, r relation.Reading) {
	if r.Left.Op != relation.Ref {
		return
	}
	row, ok := t.Owners[r.Left.Var].(*model.Row)
	if !ok || !row.Is(r.Left.Var, dim.Wire) || row.Binding == nil {
		return
	}
	b, stated := row.Binding, func(o relation.Relation) bool { // where its own lines come to a number
		return o.Role == relation.Own && o.Left.Op == relation.Ref && o.Left.Var == r.Left.Var && len(o.Vars()) == 1
	}
	if !slices.ContainsFunc(t.System.Relations, stated) {
		return
	}
	d.Note(b.At, "the wire of %s is stated here", b.Path)
	d.WithHelp("measure it once more; if it comes out the same it is another wire: put binding own like %s { wire = %s } into the notebook, and name that", b.Path, t.readAs(r, unit.Length))
}

// numberOf is where the one number stands that a line states as a reading, with its unit;
// zero where it states more.
func numberOf(line source.Span) source.Span {
	text := line.Text()
	i := strings.IndexByte(text, '=') + 1
	value := strings.TrimSpace(text[i:])
	number, unitOf := value, ""
	if k := strings.IndexFunc(value, unicode.IsLetter); k >= 0 {
		number, unitOf = strings.TrimSpace(value[:k]), value[k:]
	}
	if _, known := unit.Lookup(unitOf); unitOf != "" && !known || number == "" || strings.Trim(number, "0123456789./ ") != "" {
		return source.Span{}
	}
	start := line.Start + i + strings.Index(text[i:], value)
	return source.Span{File: line.File, Start: start, End: start + len(value)}
}

// contradiction names the readings to take again.
func (t *teller) contradiction(name string, surely bool, suspects []int, reading func(int) relation.Reading) *diag.Diagnostic {
	add, how := t.diags.Warnf, "don't agree as well as the stated accuracy allows"
	if surely {
		add, how = t.diags.Errorf, "contradict each other"
	}
	names := t.readingNames(name, suspects, reading)
	at := reading(suspects[0]).At
	if len(names) == 1 {
		return add("readings", at, "the readings of %s %s: take %s again", name, how, names[0])
	}
	return add("readings", at, "the readings of %s %s: take %s again, one of them is off", name, how, spell.And(names))
}

// readingNames are what readings of a notebook are called beside one another: in full
// where two of different dimensions have one name, and once where one was read twice.
func (t *teller) readingNames(notebook string, all []int, reading func(int) relation.Reading) []string {
	full := func(r relation.Reading) string {
		if r.Left.Op == relation.Ref {
			return strings.TrimPrefix(t.System.Vars[r.Left.Var].Name, notebook+".")
		}
		return r.Text
	}
	times := map[string]int{} // of each dimension
	of := map[string]map[string]bool{}
	for _, k := range all {
		r := reading(k)
		times[full(r)]++
		if of[r.Text] == nil {
			of[r.Text] = map[string]bool{}
		}
		of[r.Text][full(r)] = true
	}
	var names []string
	told := map[string]bool{}
	for _, k := range all {
		r := reading(k)
		what := r.Text
		if len(of[r.Text]) > 1 {
			what = full(r)
		}
		if told[full(r)] {
			continue
		}
		told[full(r)] = true
		if n := times[full(r)]; n == 2 {
			what = "both readings of " + what
		} else if n > 2 {
			what = fmt.Sprintf("all %d readings of %s", n, what)
		}
		names = append(names, what)
	}
	return names
}

// readAs writes what was read, with what the jaws' flat makes of it.
func (t *teller) readAs(r relation.Reading, k unit.Kind) string {
	if r.Flat == 0 {
		return t.Format(r.Value, k, r.At)
	}
	return fmt.Sprintf("%s, and is %s with the flat of the jaws", t.Format(r.Read, k, r.At), t.Format(r.Value, k, r.At))
}

// rounded writes a value to the digits that its uncertainty warrants.
func (t *teller) rounded(v, u float64, k unit.Kind, at source.Span) string {
	if k != unit.Length || !(u > 0) {
		return t.Format(v, k, at)
	}
	in := t.UnitOf(at)
	digits := int(math.Ceil(-math.Log10(u/in.Size))) + 1
	digits = max(0, min(digits, 5))
	return unit.FormatNumber(v/in.Size, digits) + " " + in.Name
}
