package eval

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"sort"
	"strings"

	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// reportProblems says in a maker's words why the dimensions can't be worked
// out.
func (s *Solution) reportProblems(diags *diag.List) {
	told := map[string]bool{}
	// What follows from a reported problem within the same thing is no news.
	settled := map[*item]bool{}
	for _, c := range s.Numbers.Counts {
		s.reportCount(diags, c)
		settled[s.owners[c.Var]] = true
	}
	for _, c := range s.Numbers.Clashes {
		if s.concernsAny(c.Relations, settled) && len(s.Numbers.Counts) > 0 {
			continue
		}
		// A mirrored panel repeats the clash of the lines that it inherited.
		key := ""
		for _, i := range c.Relations {
			key += s.System.Relations[i].At.String() + "|"
		}
		if !told[key] {
			told[key] = true
			s.reportClash(diags, c)
		}
	}
	for _, c := range s.Numbers.Clashes {
		s.mention(c.Relations, settled)
	}
	for _, t := range s.Numbers.Tangles {
		s.reportTangle(diags, t)
		s.mention(t.Relations, settled)
	}
	if s.broken {
		return // what is open may have been stated by a line that is broken
	}
	for _, f := range s.Numbers.Free {
		known := false
		for _, id := range f.Vars {
			known = known || settled[s.owners[id]]
		}
		if !known {
			s.reportFree(diags, f)
		}
	}
}

// mention adds the things of which relations speak to a set.
func (s *Solution) mention(relations []int, things map[*item]bool) {
	var walk func(e relation.Expr)
	walk = func(e relation.Expr) {
		if e.Op == relation.Ref {
			things[s.owners[e.Var]] = true
		}
		for _, a := range e.Args {
			walk(a)
		}
	}
	for _, i := range relations {
		walk(s.System.Relations[i].Left)
		walk(s.System.Relations[i].Right)
	}
}

// concernsAny reports whether relations speak of any of the things.
func (s *Solution) concernsAny(relations []int, things map[*item]bool) bool {
	spoken := map[*item]bool{}
	s.mention(relations, spoken)
	for it := range spoken {
		if things[it] {
			return true
		}
	}
	return false
}

func (s *Solution) reportClash(diags *diag.List, c solve.Clash) {
	if len(c.Relations) == 0 {
		return
	}
	last := s.System.Relations[c.Relations[len(c.Relations)-1]]
	kind := s.kindOf(last.Left)
	left := s.describeSide(last.Left, last.Text)
	asks := s.format(c.Asked, kind, last.At)
	var d *diag.Diagnostic
	switch {
	case len(c.Relations) == 1 && last.Left.Op == relation.Ref && s.System.Vars[last.Left.Var].Whole && c.Asked < 0:
		s.reportCount(diags, solve.CountProblem{Var: last.Left.Var, Value: c.Asked})
		return
	case c.Chosen:
		s.reportChosen(diags, last, left, kind, c)
		return
	case last.Role == relation.Fact:
		d = diags.Errorf("clash", lineOf(last), "this does not agree with what %s", factWords(last))
	case len(c.Relations) == 1:
		why := left + " is" + strings.TrimPrefix(s.leaves(c, left, kind, last.At), left)
		if miss := s.format(c.Miss, kind, last.At); math.IsInf(c.Asked, 0) {
			why = "it misses by " + miss + " at the least"
		} else if !math.IsNaN(c.Miss) {
			why += ", " + miss + " too far"
		}
		d = diags.Errorf("clash", last.At, "%s can't hold: %s", short(last.At), why)
	default:
		d = diags.Errorf("clash", last.At, "these %d lines can't all hold", len(c.Relations))
	}
	for _, i := range c.Relations[:len(c.Relations)-1] {
		r := s.System.Relations[i]
		switch {
		case r.Role == relation.Fact:
			for _, at := range r.Facts {
				d.Note(at, "measured: %s", short(at))
			}
			if len(r.Facts) == 0 {
				d.Note(r.At, "%s", factWords(r))
			}
		case r.Inherited != "":
			d.Note(r.At, "%s (for %s)", short(r.At), r.Inherited)
		default:
			d.Note(r.At, "%s", short(r.At))
		}
	}
	if last.Role == relation.Fact {
		for _, at := range last.Facts {
			d.Note(at, "measured: %s", short(at))
		}
	}
	s.noteLattices(d, c.Relations)
	if len(c.Relations) > 1 && !math.IsNaN(c.Asked) && !math.IsNaN(c.Miss) {
		d.Note(last.At, "the others leave %s; this line asks for %s%s: %s too far", s.leaves(c, left, kind, last.At),
			bound(last.Sign), asks, s.format(math.Abs(c.Miss), kind, last.At))
	}
	d.WithHelp("change or take out one of these lines; the others of them can hold")
	switch {
	case len(c.Relations) == 1 && last.Bench != 0:
		d.WithHelp("change this line, or measure again: it contradicts what was read")
	case len(c.Relations) == 1:
		d.WithHelp("change this line: it contradicts what always holds of such a thing")
	}
}

// reportChosen tells of a limit that only what was preferred or is usual
// breaks: one that could not be worked out before that was chosen.
func (s *Solution) reportChosen(diags *diag.List, line relation.Relation, left string, kind unit.Kind, c solve.Clash) {
	d := diags.Errorf("limit", line.At, "%s does not hold: %s comes out at %s, and this line asks for %s%s",
		short(line.At), left, s.format(c.Low, kind, line.At), bound(line.Sign), s.format(c.Asked, kind, line.At))
	told := map[source.Span]bool{}
	for _, v := range line.Vars() {
		cause := s.Numbers.Cause[v]
		if cause.Kind == solve.ByWishLine && cause.Index >= 0 {
			if at := s.System.Wishes[cause.Index].At; !told[at] {
				told[at] = true
				d.Note(at, "%s", short(at))
			}
		}
	}
	d.WithHelp("a limit with max, min or a product is not looked at while wishes and usual values are chosen; state %s itself, or change the limit", left)
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
func lineOf(r relation.Relation) source.Span {
	if len(r.Facts) > 0 {
		return r.Facts[0]
	}
	return r.At
}

func factWords(r relation.Relation) string {
	return "was measured: " + r.Text
}

// leaves says which values the other lines leave for a line's left side.
func (s *Solution) leaves(c solve.Clash, left string, k unit.Kind, at source.Span) string {
	low, high := s.format(c.Low, k, at), s.format(c.High, k, at)
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

// kindOf is the kind of an expression's value, from the dimensions in it.
func (s *Solution) kindOf(e relation.Expr) unit.Kind {
	switch e.Op {
	case relation.Ref:
		return s.System.Vars[e.Var].Kind
	case relation.Const:
		return unit.None
	}
	for _, a := range e.Args {
		if k := s.kindOf(a); k != unit.None && k != unit.Count && k != unit.Ratio {
			return k
		}
	}
	return unit.None
}

// describeSide names the left side of a relation as its line has it.
func (s *Solution) describeSide(e relation.Expr, text string) string {
	if e.Op == relation.Ref {
		return s.System.Vars[e.Var].Name
	}
	for _, sign := range []string{">=", "<=", "="} {
		if i := strings.Index(text, sign); i > 0 {
			return strings.TrimSpace(text[:i])
		}
	}
	return "its left side"
}

func (s *Solution) reportCount(diags *diag.List, c solve.CountProblem) {
	v := s.System.Vars[c.Var]
	at := s.countAt(c.Var)
	if owner := s.owners[c.Var]; owner != nil && owner.thing.Kind.Name == "lattice" {
		s.reportLatticeCount(diags, c, at)
		return
	}
	switch {
	case c.Unbounded:
		diags.Errorf("most", at, "%s can't be most: nothing stated keeps the holes apart", v.Name).
			WithHelp("state the pitch, or a least web, as in web >= 3")
	case c.Value > MaxHoles || math.IsInf(c.Value, 1):
		diags.Errorf("count", at, "%s would be %s, and a row has at most %d holes", v.Name, unit.FormatNumber(c.Value, 2), MaxHoles).
			WithHelp("check the numbers of this row; a unit may be missing")
	case c.Value < 0:
		diags.Errorf("count", at, "%s would be %s; a count can't be below 0", v.Name, unit.FormatNumber(c.Value, 2)).
			WithHelp("check the numbers of this row")
	case v.Most && c.Value == 0:
		s.reportNoRoom(diags, s.owners[c.Var], at)
	case v.Most:
		diags.Errorf("count", at, "%s comes out at %s, and a count must be whole", v.Name, unit.FormatNumber(c.Value, 2)).
			WithHelp("the other lines of this row leave most nothing to choose: state one number less, as its first or its last")
	default:
		diags.Errorf("count", at, "%s comes out at %s, and a count must be whole", v.Name, unit.FormatNumber(c.Value, 2)).
			WithHelp("state one number less in this row, or write count = most and let the row be centred")
	}
}

// reportNoRoom tells that not even one hole of a row fits, and what keeps it
// out.
func (s *Solution) reportNoRoom(diags *diag.List, row *item, at source.Span) {
	what := ""
	if hole, edge := s.of(row, "hole.along"), s.edgeLength(row); !math.IsNaN(hole) && !math.IsNaN(edge) {
		what = fmt.Sprintf(" of %s along an edge of %s", s.format(hole, unit.Length, at), s.format(edge, unit.Length, at))
	}
	d := diags.Errorf("most", at, "%s has no room for even one hole%s", row.thing.Path(), what)
	for _, r := range s.System.Relations {
		if r.Role == relation.Own || !slices.ContainsFunc(r.Vars(), func(v relation.VarID) bool {
			return v == row.vars["first"] || v == row.vars["last"]
		}) {
			continue
		}
		d.Note(r.At, "%s", short(r.At))
	}
	d.WithHelp("loosen the limits of the row, which hold at both ends as long as it is centred, or make its holes smaller")
}

// edgeLength is how long the edge is along which a row runs.
func (s *Solution) edgeLength(row *item) float64 {
	if row.thing.Edge == "head" || row.thing.Edge == "tail" {
		return s.of(row.parent, "width")
	}
	return s.of(row.parent, "height")
}

// countAt is the line that states a count, else the thing.
func (s *Solution) countAt(id relation.VarID) source.Span {
	if c := s.Numbers.Cause[id]; c.Kind == solve.ByRelation && c.Index >= 0 {
		if r := s.System.Relations[c.Index]; r.Role == relation.Stated || r.Role == relation.Pattern {
			return r.At
		}
	}
	for _, r := range s.System.Relations {
		if r.Role == relation.Stated && r.Left.Op == relation.Ref && r.Left.Var == id {
			return r.At
		}
	}
	return s.System.Vars[id].At
}

func (s *Solution) reportTangle(diags *diag.List, t solve.Tangle) {
	if len(t.Relations) == 0 {
		return
	}
	first := s.System.Relations[t.Relations[0]]
	names := s.nameList(t.Vars)
	if why := s.fault(first); len(t.Found) == 0 && why != "" {
		diags.Errorf("impossible", first.At, "%s can't be worked out: what gives it %s", names, why).
			WithHelp("look at what this line takes")
		return
	}
	if len(t.Found) == 0 {
		values := "no value of %s makes this hold"
		if len(t.Vars) > 1 {
			values = "no values of %s make this hold"
		}
		d := diags.Errorf("no-solution", first.At, values, names)
		s.noteRelations(d, t.Relations[1:])
		s.noteRelations(d, t.Given)
		d.WithHelp("state one of them as a number to see which line is off")
		if len(t.Relations)+len(t.Given) > 1 {
			d.WithHelp("change or take out one of these lines")
		}
		return
	}
	d := diags.Errorf("several-solutions", first.At, "there are several solutions for %s", names)
	for _, found := range t.Found {
		parts := make([]string, len(t.Vars))
		for i, id := range t.Vars {
			v := s.System.Vars[id]
			parts[i] = v.Name + " = " + s.format(found[i], v.Kind, first.At)
		}
		d.Note(first.At, "one is %s", strings.Join(parts, ", "))
	}
	d.WithHelp("add a limit that leaves only the one you mean")
}

func (s *Solution) noteRelations(d *diag.Diagnostic, relations []int) {
	for _, i := range relations {
		if r := s.System.Relations[i]; r.Role != relation.Own {
			d.Note(r.At, "%s", short(r.At))
		}
	}
}

// nameList lists dimensions: "a, b and c", no more than four of them.
func (s *Solution) nameList(ids []relation.VarID) string {
	names := make([]string, 0, len(ids))
	for _, id := range ids {
		names = append(names, s.System.Vars[id].Name)
	}
	more := ""
	if len(names) > 4 {
		more = fmt.Sprintf(" and %d more", len(names)-4)
		return strings.Join(names[:4], ", ") + more
	}
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

func (s *Solution) reportFree(diags *diag.List, f solve.FreeGroup) {
	if len(f.Vars) == 0 {
		return
	}
	settle := s.System.Vars[f.Settle]
	at := settle.At
	var d *diag.Diagnostic
	if len(f.Vars) == 1 {
		d = diags.Errorf("open", at, "nothing decides %s", s.nameList(f.Vars))
	} else {
		d = diags.Errorf("open", at, "nothing decides %s: they move together", s.nameList(f.Vars))
	}
	room := ""
	switch {
	case !math.IsInf(f.Low, 0) && !math.IsInf(f.High, 0) && !math.IsNaN(f.Low+f.High):
		room = fmt.Sprintf(" (from %s to %s is possible)", s.format(f.Low, settle.Kind, at), s.format(f.High, settle.Kind, at))
	case !math.IsInf(f.Low, 0) && f.Low > 0:
		room = fmt.Sprintf(" (at least %s)", s.format(f.Low, settle.Kind, at))
	}
	s.noteForwards(d, f)
	if read, ok := s.unread(f.Settle); ok {
		d.WithHelp("measure %s on the notebook, or state %s%s%s", read, settle.Name, room, s.orPitch(f))
		return
	}
	d.WithHelp("state %s%s%s", settle.Name, room, s.orPitch(f))
}

// unread is the dimension of the covered notebook's row that would decide one of
// a panel's row, if it isn't known either: where a cover has to fit, measuring is
// better than stating.
func (s *Solution) unread(id relation.VarID) (name string, ok bool) {
	row := s.owners[id]
	book := s.coveredRow(row)
	if book == nil {
		return "", false
	}
	for _, dim := range slices.Sorted(maps.Keys(row.vars)) {
		v := row.vars[dim]
		if measured, there := book.vars[dim]; v == id && there {
			return s.System.Vars[measured].Name, math.IsNaN(s.value(measured))
		}
	}
	return "", false
}

// orPitch is the spacing as one more thing to state for an even row whose run
// is open: what most would rather state.
func (s *Solution) orPitch(f solve.FreeGroup) string {
	row := s.owners[f.Settle]
	for _, v := range f.Vars {
		if s.owners[v] != row {
			return ""
		}
	}
	pitch, even := row.vars["pitch"]
	if !even || !slices.Contains(f.Vars, row.vars["run"]) || math.IsNaN(s.of(row, "count")) || !math.IsNaN(s.value(pitch)) {
		return ""
	}
	return ", or " + s.System.Vars[pitch].Name
}

// reportImpossible tells of dimensions that are needed and whose lines are
// settled but give no number: they divide by what came out as 0, or take the
// root of what came out below 0.
func (s *Solution) reportImpossible(diags *diag.List) {
	for i, v := range s.System.Vars {
		if x := s.Numbers.Values[i]; !v.Needed || !math.IsNaN(x) && !math.IsInf(x, 0) {
			continue
		}
		at := v.At
		for k := range s.System.Relations {
			r := &s.System.Relations[k]
			if (r.Role == relation.Stated || r.Role == relation.Pattern) && slices.Contains(r.Vars(), relation.VarID(i)) {
				at = r.At
				break
			}
		}
		diags.Errorf("impossible", at, "%s can't be worked out: what gives it divides by 0 or takes the root of what is below 0", v.Name).
			WithHelp("look at what this line takes, or state %s", v.Name)
	}
}

// fault says what in a relation can't be computed from what is known, "" for
// nothing.
func (s *Solution) fault(r relation.Relation) string {
	var walk func(e relation.Expr) string
	walk = func(e relation.Expr) string {
		switch {
		case e.Op == relation.Quotient && e.Args[1].Eval(s.Numbers.Values) == 0:
			return "divides by 0"
		case e.Op == relation.Sqrt && e.Args[0].Eval(s.Numbers.Values) < 0:
			return "takes the root of what is below 0"
		}
		for _, a := range e.Args {
			if why := walk(a); why != "" {
				return why
			}
		}
		return ""
	}
	return walk(r.Left) + walk(r.Right)
}

// noteForwards points out lines of a free group that only work forwards.
func (s *Solution) noteForwards(d *diag.Diagnostic, f solve.FreeGroup) {
	in := map[relation.VarID]bool{}
	for _, id := range f.Vars {
		in[id] = true
	}
	for _, r := range s.System.Relations {
		if forwards(r.Left, false, in) || forwards(r.Right, false, in) {
			d.Note(r.At, "floor, ceil and nearest only work forwards: what they take must be known without them")
		}
	}
}

// forwards reports whether a dimension of the set stands in what only works
// forwards.
func forwards(e relation.Expr, inside bool, set map[relation.VarID]bool) bool {
	switch e.Op {
	case relation.Ref:
		return inside && set[e.Var]
	case relation.Floor, relation.Ceil, relation.Nearest:
		inside = true
	}
	for _, a := range e.Args {
		if forwards(a, inside, set) {
			return true
		}
	}
	return false
}

// reportBenches says how well each notebook's readings agree.
func (s *Solution) reportBenches(diags *diag.List) {
	for _, b := range s.Numbers.Benches {
		if b.Freedom == 0 || len(b.Suspects) == 0 || b.ChiSquare <= b.Limit95 {
			continue
		}
		s.reportBench(diags, b)
	}
}

func (s *Solution) reportBench(diags *diag.List, b solve.BenchReport) {
	name := s.System.Benches[b.Bench-1].Name
	if slip := s.Slip(&b); slip != nil {
		r := s.System.Readings[b.Readings[slip.Reading].Index]
		diags.Errorf("readings", r.At, "the readings of %s contradict each other: %s was taken as %s, and agrees with the others as %s",
			name, r.Text, slip.Was(), slip.As()).
			WithHelp("write the unit behind the number, as in %s = %s, or measure it once more", r.Text, slip.As())
		return
	}
	// The worst first, then those that nothing tells apart from it in the order
	// of the file, as which is nearer may hang on rounding.
	sort.Slice(b.Suspects[1:], func(i, j int) bool {
		at := func(k int) source.Span { return s.System.Readings[b.Readings[b.Suspects[1+k]].Index].At }
		return at(i).Before(at(j))
	})
	first := b.Readings[b.Suspects[0]]
	at := s.System.Readings[first.Index].At
	add := diags.Warnf
	how := "don't agree as well as the gauge promises"
	if b.ChiSquare > b.Limit999 {
		add, how = diags.Errorf, "contradict each other"
	}
	var d *diag.Diagnostic
	if len(b.Suspects) == 1 {
		d = add("readings", at, "the readings of %s %s: take %s again", name, how, s.System.Readings[first.Index].Text)
	} else {
		names := make([]string, len(b.Suspects))
		for i, k := range b.Suspects {
			names[i] = s.System.Readings[b.Readings[k].Index].Text
		}
		d = add("readings", at, "the readings of %s %s: take %s again, one of them is off", name, how,
			strings.Join(names[:len(names)-1], ", ")+" and "+names[len(names)-1])
	}
	for _, k := range b.Suspects {
		r := b.Readings[k]
		rd := s.System.Readings[r.Index]
		kind := s.kindOf(rd.Left)
		if math.IsNaN(r.Implied) {
			d.Note(rd.At, "%s was read as %s", rd.Text, s.readAs(rd, kind))
			continue
		}
		d.Note(rd.At, "%s was read as %s; the others imply %s", rd.Text,
			s.readAs(rd, kind), s.formatRounded(r.Implied, r.ImpliedU, kind, rd.At))
	}
	d.WithHelp("measure it once more; if it comes out the same, look at the others, the count and what is marked exact")
}

// readAs writes what was read, with what the jaws' flat makes of it.
func (s *Solution) readAs(r relation.Reading, k unit.Kind) string {
	if r.Flat == 0 {
		return s.format(r.Value, k, r.At)
	}
	return fmt.Sprintf("%s, and is %s with the flat of the jaws", s.format(r.Read, k, r.At), s.format(r.Value, k, r.At))
}

// formatRounded writes a value to the digits that its uncertainty warrants.
func (s *Solution) formatRounded(v, u float64, k unit.Kind, at source.Span) string {
	if k != unit.Length || !(u > 0) {
		return s.format(v, k, at)
	}
	in := s.unitOf(at)
	digits := int(math.Ceil(-math.Log10(u/in.Size))) + 1
	digits = max(0, min(digits, 5))
	return unit.FormatNumber(v/in.Size, digits) + " " + in.Name
}
