package tell

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
)

func (t *teller) clash(c solve.Clash) {
	if len(c.Relations) == 0 {
		return
	}
	c.Relations = t.withoutRepeats(c.Relations)
	last := &t.System.Relations[c.Relations[len(c.Relations)-1]]
	left := t.leftOf(last)
	if len(c.Relations) == 1 && last.Left.Op == relation.Ref && t.System.Vars[last.Left.Var].Whole && c.Asked < 0 {
		t.count(solve.CountProblem{Var: last.Left.Var, Value: c.Asked})
		return
	}
	if c.Chosen {
		t.chosen(last, left, c)
		return
	}
	if t.reaches(c) || t.asMeasured(c) {
		return
	}
	d := t.clashHead(c, last, left)
	for _, i := range c.Relations[:len(c.Relations)-1] {
		t.clashNote(d, &t.System.Relations[i])
	}
	if last.Role == relation.Fact {
		for _, at := range last.Facts {
			d.Note(at, "measured: %s", at.Short())
		}
	}
	t.noteLattices(d, c.Relations)
	k := t.KindOf(last.Left)
	if len(c.Relations) > 1 && !math.IsNaN(c.Asked) && !math.IsNaN(c.Miss) {
		if left, miss := t.leaves(c, left, k, last.At), t.Format(math.Abs(c.Miss), k, last.At); math.IsInf(c.Asked, 0) {
			// Where both sides of the line move there is no one value that it asks for.
			d.Note(last.At, "the others leave %s; this line is still off by %s", left, miss)
		} else {
			d.Note(last.At, "the others leave %s; this line asks for %s%s: %s too far", left,
				bound(last.Sign), t.Format(c.Asked, k, last.At), miss)
		}
	}
	d.WithHelp("change or take out one of these lines; the others can then hold")
	switch over := t.heldOverhang(c); {
	case over != "":
		d.WithHelp("change one of these lines, or state %s, which is 0 where no line says otherwise", over)
	case len(c.Relations) == 1 && last.Bench != 0:
		d.WithHelp("change this line, or measure again: it contradicts what was read")
	case len(c.Relations) == 1:
		d.WithHelp("change this line: it contradicts what always holds for such a thing")
	}
}

// withoutRepeats leaves out the facts among clashing relations that only repeat
// lines which clash themselves: that a panel is as thick as its stock says.
func (t *teller) withoutRepeats(relations []int) []int {
	stated := map[source.Span]bool{}
	for _, i := range relations {
		if r := &t.System.Relations[i]; r.Role != relation.Fact {
			stated[r.At] = true
		}
	}
	last := relations[len(relations)-1]
	return slices.DeleteFunc(slices.Clone(relations), func(i int) bool {
		r := &t.System.Relations[i]
		return i != last && r.Role == relation.Fact && len(r.Facts) > 0 &&
			!slices.ContainsFunc(r.Facts, func(at source.Span) bool { return !stated[at] })
	})
}

// clashHead says what clashes, at the last of the lines.
func (t *teller) clashHead(c solve.Clash, last *relation.Relation, left string) *diag.Diagnostic {
	switch {
	case last.Role == relation.Fact:
		return t.diags.Errorf("clash", lineOf(last), "this does not agree with what %s", t.factWords(last))
	case len(c.Relations) > 1:
		return t.diags.Errorf("clash", last.At, "these %d lines can't all hold", t.countLines(c.Relations))
	}
	k := t.KindOf(last.Left)
	why := left + " is" + strings.TrimPrefix(t.leaves(c, left, k, last.At), left)
	if miss := t.Format(c.Miss, k, last.At); math.IsInf(c.Asked, 0) {
		why = "it misses by at least " + miss
	} else if !math.IsNaN(c.Miss) {
		why += ", " + miss + " too far"
	}
	return t.diags.Errorf("clash", last.At, "%s can't hold: %s", last.At.Short(), why)
}

// countLines counts the lines of a clash. What holds by default is none, and what
// two panels have from one reading is one.
func (t *teller) countLines(relations []int) int {
	n, read := 0, map[source.Span]bool{}
	for _, i := range relations {
		switch r := &t.System.Relations[i]; {
		case r.Role == relation.Held:
		case r.Role == relation.Fact:
			read[lineOf(r)] = true
		default:
			n++
		}
	}
	return n + len(read)
}

// clashNote points out one of the other lines of a clash.
func (t *teller) clashNote(d *diag.Diagnostic, r *relation.Relation) {
	switch {
	case r.Role == relation.Fact:
		for _, at := range r.Facts {
			d.Note(at, "measured: %s", at.Short())
		}
		if len(r.Facts) == 0 {
			d.Note(r.At, "%s", t.factWords(r))
		}
	case r.Role == relation.Held:
		d.Note(r.At, "default: %s", t.Say(r))
	case r.Inherited != "":
		d.Note(r.At, "%s (for %s)", r.At.Short(), r.Inherited)
	default:
		d.Note(r.At, "%s", r.At.Short())
	}
}

// chosen tells of a limit that only what was preferred or is usual breaks: one
// that could not be worked out before that was chosen.
func (t *teller) chosen(line *relation.Relation, left string, c solve.Clash) {
	k := t.KindOf(line.Left)
	d := t.diags.Errorf("limit", line.At, "%s does not hold: %s comes out at %s, and this line asks for %s%s",
		line.At.Short(), left, t.Format(c.Low, k, line.At), bound(line.Sign), t.Format(c.Asked, k, line.At))
	told := map[source.Span]bool{}
	for _, v := range line.Vars() {
		cause := t.Numbers.Cause[v]
		if cause.Kind == solve.ByWishLine && cause.Index >= 0 {
			if at := t.System.Wishes[cause.Index].At; !told[at] {
				told[at] = true
				d.Note(at, "%s", at.Short())
			}
		}
	}
	d.WithHelp("state %s itself, or change the limit", left)
}

// bound says how a limit asks for a value, nothing for an equation.
func bound(s relation.Sign) string {
	switch s {
	case relation.GE:
		return "at least "
	case relation.LE:
		return "at most "
	}
	return ""
}

// lineOf is the place to mark for a fact: its first reading.
func lineOf(r *relation.Relation) source.Span {
	if len(r.Facts) > 0 {
		return r.Facts[0]
	}
	return r.At
}

func (t *teller) factWords(r *relation.Relation) string { return "was measured: " + t.Say(r) }

// leaves says which values the other lines leave for a line's left side.
func (t *teller) leaves(c solve.Clash, left string, k unit.Kind, at source.Span) string {
	low, high := t.Format(c.Low, k, at), t.Format(c.High, k, at)
	noLow, noHigh := math.IsInf(c.Low, 0) || math.IsNaN(c.Low), math.IsInf(c.High, 0) || math.IsNaN(c.High)
	switch {
	case noLow && noHigh:
		return left + " without bounds"
	case noLow:
		return fmt.Sprintf("%s at most %s", left, high)
	case noHigh:
		return fmt.Sprintf("%s at least %s", left, low)
	case math.Abs(c.High-c.Low) < 1e-6:
		return fmt.Sprintf("%s at %s", left, low)
	}
	return fmt.Sprintf("%s between %s and %s", left, low, high)
}

// leftOf names the left side of a relation: a dimension by its name from the
// top, anything else as the line has it.
func (t *teller) leftOf(r *relation.Relation) string {
	if r.Left.Op == relation.Ref {
		return t.System.Vars[r.Left.Var].Name
	}
	text := t.Say(r)
	for _, sign := range []string{">=", "<=", "="} {
		if i := strings.Index(text, sign); i > 0 {
			return strings.TrimSpace(text[:i])
		}
	}
	return "its left side"
}
