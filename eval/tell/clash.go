package tell

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/eval/word"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

func (t *teller) clash(c solve.Clash) {
	if len(c.Relations) == 0 {
		t.uncovered(c)
		return
	}
	last := &t.System.Relations[c.Relations[len(c.Relations)-1]]
	if t.Broken && last.Role == relation.Held {
		return // nobody stated it, and a line that can't be read may be to blame
	}
	left := t.leftOf(last)
	if len(c.Relations) == 1 && last.Left.Op == relation.Ref && t.System.Vars[last.Left.Var].Whole && c.Asked < 0 {
		t.count(solve.CountProblem{Var: last.Left.Var, Value: c.Asked})
		return
	}
	if len(c.Relations) == 1 && t.gapsAndCount(last) {
		return
	}
	if c.Chosen {
		t.chosen(last, left, c)
		return
	}
	if t.longLink(last) || t.reaches(c) || t.asMeasured(c) {
		return
	}
	notes := t.clashNotes(c, last)
	d := t.clashHead(c, last, left, notes)
	for _, n := range notes {
		d.Note(n.at, "%s", n.words)
	}
	t.noteLattices(d, c.Relations)
	t.noteFields(d, c.Relations)
	oneStock := len(notes) > 0 && t.noteStocks(d, c.Facts)
	k := t.KindOf(last.Left)
	c = t.settled(c, last, 0)
	if len(notes) > 0 && !math.IsNaN(c.Asked) && !math.IsNaN(c.Miss) {
		if left, miss := t.leaves(c, left, k, last.At), t.formatted(c, math.Abs(c.Miss), k, last.At); math.IsInf(c.Asked, 0) {
			// Where both sides of the line move there is no one value that it asks for.
			d.Note(last.At, "the others leave %s; this line is still off by %s", left, miss)
		} else {
			d.Note(last.At, "the others leave %s; this line asks for %s%s: %s too far", left,
				bound(last.Sign), t.formatted(c, c.Asked, k, last.At), miss)
		}
	}
	d.WithHelp("change or take out one of these lines")
	if t.slight(c, k, last.At) {
		d.WithHelp("this looks like a rounded number: take the line out, or write it in full; foredge solve --json prints nine digits")
	}
	switch over := t.heldOverhang(c); {
	case over != "":
		d.WithHelp("change one of these lines, or state %s, which is 0 where no line says otherwise", over)
	case oneStock:
		d.WithHelp("change one of these lines, or state a stock for each thickness and say of each board which it is cut from")
	case last.Bench != 0:
		d.WithHelp("change this line, or measure again: it contradicts what was read")
	case len(notes) == 0 && len(c.Facts) > 0:
		for _, n := range t.factNotes(c) {
			d.Note(n.at, "%s", n.words)
		}
		d.WithHelp("change this line: it contradicts what is covered or cut from, whatever that measures")
	case len(notes) == 0:
		d.WithHelp("change this line: it contradicts what always holds for such a thing")
		switch edge, open := t.reachesOut(last, c.Asked); {
		case edge != word.NoEdge && t.isRecess(last.Left.Var):
			d.WithHelp("a recess has no edge to which it is open: it may reach the %s by a distance of 0", edge)
		case edge != word.NoEdge && open == word.NoEdge:
			d.WithHelp("an opening may reach past an edge to which it is open: write open = %s too", edge)
		case edge != word.NoEdge:
			d.WithHelp("an opening may reach past the one edge to which it is open, and that is the %s: state 0 or more here, or write open = %s instead", open, edge)
		}
	}
}

// longLink tells of a line that states a lattice's link, if that is too long for the board.
func (t *teller) longLink(r *relation.Relation) bool {
	if r.Left.Op != relation.Ref {
		return false
	}
	l, is := t.Owners[r.Left.Var].(*model.Lattice)
	return is && l.Is(r.Left.Var, dim.Link) && t.linkTooLong(l)
}

// reachesOut is the edge past which a line puts a cutout that is closed all round,
// or not open to that edge, and the one to which it is open; none for any other line.
func (t *teller) reachesOut(r *relation.Relation, asked float64) (past, open word.Edge) {
	if r.Left.Op != relation.Ref || asked >= 0 {
		return word.NoEdge, word.NoEdge
	}
	if cutout, ok := t.Owners[r.Left.Var].(*model.Cutout); ok {
		for _, edge := range word.Edges() {
			if cutout.Is(r.Left.Var, dim.From(edge)) {
				return edge, cutout.Open
			}
		}
	}
	return word.NoEdge, word.NoEdge
}

// isRecess reports whether a dimension is of a cutout that doesn't go through.
func (t *teller) isRecess(id relation.VarID) bool {
	cutout, ok := t.Owners[id].(*model.Cutout)
	return ok && cutout.Depth.Present()
}

// factNotes say what ties the lines of a clash to what is covered or cut from.
func (t *teller) factNotes(c solve.Clash) []clashNote {
	var notes []clashNote
	for _, i := range c.Facts {
		r := &t.System.Relations[i]
		notes = append(notes, clashNote{at: r.At, words: t.Say(r)})
	}
	return notes
}

// noteStocks says which boards of a clash about thicknesses are cut from one stock.
func (t *teller) noteStocks(d *diag.Diagnostic, facts []int) bool {
	var stocks []*model.Stock
	boards := map[*model.Stock][]string{}
	for _, i := range facts {
		r := &t.System.Relations[i]
		if r.Left.Op != relation.Ref || r.Right.Op != relation.Ref {
			continue
		}
		stock, ok := t.Owners[r.Right.Var].(*model.Stock)
		if !ok {
			continue
		}
		if same, ok := t.Owners[r.Left.Var].(*model.Stock); ok {
			d.Note(r.At, "%s is %s under another name", same.Name, stock.Name)
			continue
		}
		if boards[stock] == nil {
			stocks = append(stocks, stock)
		}
		boards[stock] = append(boards[stock], t.Owners[r.Left.Var].Base().Path)
	}
	if len(facts) < 2 || len(stocks) == 0 {
		return false
	}
	for _, stock := range stocks {
		are := "is"
		if len(boards[stock]) > 1 {
			are = "are"
		}
		d.Note(stock.At, "%s %s cut from %s, whose sheets are of one thickness", spell.And(boards[stock]), are, stock.Name)
	}
	return true
}

// gapsAndCount tells of a count beside another number of gaps, if that is what a
// line states.
func (t *teller) gapsAndCount(line *relation.Relation) bool {
	if line.Sign != relation.EQ || line.Left.Op != relation.Ref || line.Right.Op != relation.Const {
		return false
	}
	row, isRow := t.Owners[line.Left.Var].(*model.Row)
	if !isRow || !row.Is(line.Left.Var, dim.Count) || len(row.Gaps) == 0 {
		return false
	}
	gaps, stated := len(row.Gaps), unit.FormatNumber(line.Right.Value, 2)
	t.diags.Errorf("clash", line.At, "%s can't hold: the row lists %s, and those lie between %d holes", line.At.Short(), counted(gaps, "gap"), gaps+1).
		WithHelp("write count = %d, or list one gap fewer than there are holes: of %s holes %s", gaps+1, stated, unit.FormatNumber(line.Right.Value-1, 2))
	return true
}

// gapsOnCover tells of gaps that a panel's row lists, of which there are not as many as
// between the holes of the notebook's.
func (t *teller) gapsOnCover(c solve.Clash) bool {
	for _, i := range c.Facts {
		r := &t.System.Relations[i]
		if r.Left.Op != relation.Ref {
			continue
		}
		row, ok := t.Owners[r.Left.Var].(*model.Row)
		if !ok || row.Covers == nil || len(row.Gaps) == 0 || !row.Is(r.Left.Var, dim.Count) {
			continue
		}
		holes := t.Of(&row.Covers.Thing, dim.Count)
		t.diags.Errorf("clash", row.At, "%s lists %s, and those lie between %d holes: %s has %s", row.Path, counted(len(row.Gaps), "gap"), len(row.Gaps)+1,
			row.Covers.Path, unit.FormatNumber(holes, 2)).
			Note(row.Covers.At, "%s was measured here", row.Covers.Path).
			WithHelp("leave the gaps out: the holes of %s lie where they were measured", row.Panel.Path)
		return true
	}
	return false
}

// counted is a number of things: 1 gap, 2 gaps.
func counted(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return strconv.Itoa(n) + " " + thing + "s"
}

// uncovered tells that what was measured can't be covered at all.
func (t *teller) uncovered(c solve.Clash) {
	notes := t.clashNotes(c, nil)
	if len(notes) == 0 {
		notes = t.factNotes(c)
	}
	if len(notes) == 0 {
		return
	}
	if t.gapsOnCover(c) {
		return
	}
	comes := "the panel can't be so"
	for _, i := range c.Facts {
		if r := &t.System.Relations[i]; t.Eval(r.Right) < 0 {
			comes = fmt.Sprintf("%s would be %s", t.leftOf(r), t.Format(t.Eval(r.Right), t.KindOf(r.Left), r.At))
		}
	}
	d := t.diags.Errorf("clash", notes[len(notes)-1].at, "what was measured can't be covered: %s", comes)
	for _, n := range notes {
		d.Note(n.at, "%s", n.words)
	}
	d.WithHelp("measure again: one of these is off")
}

// clashHead says what clashes, at the last of the lines. What holds by default is
// none.
func (t *teller) clashHead(c solve.Clash, last *relation.Relation, left string, others []clashNote) *diag.Diagnostic {
	n := 0
	for _, o := range others {
		if !o.held {
			n++
		}
	}
	switch {
	case len(others) > 0 && last.Role == relation.Held:
		return t.diags.Errorf("clash", last.At, "%s can't hold beside what was measured", t.Say(last))
	case n == 0 && len(others) > 0:
		return t.diags.Errorf("clash", last.At, "%s can't hold beside what holds by default", last.At.Short())
	case len(others) > 0:
		return t.diags.Errorf("clash", last.At, "these %d lines can't all hold", n+1)
	}
	k := t.KindOf(last.Left)
	why := left + " is" + strings.TrimPrefix(t.leaves(c, left, k, last.At), left)
	if miss := t.formatted(c, c.Miss, k, last.At); math.IsInf(c.Asked, 0) {
		why = "it misses by at least " + miss
	} else if !math.IsNaN(c.Miss) {
		why += ", " + miss + " too far"
	}
	return t.diags.Errorf("clash", last.At, "%s can't hold: %s", last.At.Short(), why)
}

// A clashNote is a line of a clash and what to say of it.
type clashNote struct {
	at    source.Span
	words string
	held  bool // it is no line but holds by default
}

// clashNotes are the lines of a clash beside one of them, each once, in source
// order.
func (t *teller) clashNotes(c solve.Clash, line *relation.Relation) []clashNote {
	var notes []clashNote
	said := map[clashNote]bool{}
	note := func(at source.Span, words string, held bool) {
		if n := (clashNote{at, words, held}); !said[n] {
			said[n] = true
			notes = append(notes, n)
		}
	}
	if line != nil {
		said[clashNote{at: line.At, words: t.line(line)}] = true
	}
	for _, i := range slices.Concat(c.Relations, c.Carried.Relations) {
		if r := &t.System.Relations[i]; r != line {
			note(r.At, t.line(r), r.Role == relation.Held)
		}
	}
	for _, i := range c.Carried.Readings {
		r := &t.System.Readings[i]
		note(r.At, "measured: "+t.asRead(r), false)
	}
	for _, i := range c.Carried.Wishes {
		at := t.System.Wishes[i].At
		note(at, at.Short(), false)
	}
	slices.SortStableFunc(notes, func(a, b clashNote) int {
		switch {
		case a.at.Before(b.at):
			return -1
		case b.at.Before(a.at):
			return 1
		}
		return 0
	})
	return notes
}

// line is a line of a clash as it stands in the design.
func (t *teller) line(r *relation.Relation) string {
	switch {
	case r.Bench != 0 && r.Role == relation.Stated:
		return "measured: " + r.At.Short()
	case r.Role == relation.Held:
		return "default: " + t.Say(r)
	case r.Inherited != "":
		return fmt.Sprintf("%s (for %s)", r.At.Short(), r.Inherited)
	}
	return r.At.Short()
}

// asRead is a reading as it stands in the notebook, with what the others made of
// it where that shows.
func (t *teller) asRead(r *relation.Reading) string {
	words := r.At.Short()
	if !strings.Contains(words, "=") {
		words = r.Text + " = " + words
	}
	kind := t.KindOf(r.Left)
	is, adjusted := t.Format(r.Value, kind, r.At), t.Format(t.Eval(r.Left), kind, r.At)
	if is != adjusted && !math.IsNaN(t.Eval(r.Left)) {
		words += ", and comes to " + adjusted + " with the other readings"
	}
	return words
}

// chosen tells of a line that only what was preferred or is usual breaks: one
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
	if line.Sign == relation.EQ {
		d.WithHelp("state a value of %s, or change this line", t.nameList(line.Vars()))
		return
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

// formatted is a value of a clash for a person: with nine digits where it misses by
// so little that no difference would show otherwise.
func (t *teller) formatted(c solve.Clash, v float64, k unit.Kind, at source.Span) string {
	if t.slight(c, k, at) {
		return unit.FormatFine(v, k, t.UnitOf(at))
	}
	return t.Format(v, k, at)
}

// slight reports whether a clash misses by less than the digits of a result show,
// as a number does that was taken from a table of rounded ones.
func (t *teller) slight(c solve.Clash, k unit.Kind, at source.Span) bool {
	return t.Format(math.Abs(c.Miss), k, at) == t.Format(0, k, at)
}

// leaves says which values the other lines leave for a line's left side.
func (t *teller) leaves(c solve.Clash, left string, k unit.Kind, at source.Span) string {
	low, high := t.formatted(c, c.Low, k, at), t.formatted(c, c.High, k, at)
	noLow, noHigh := !finite(c.Low), !finite(c.High)
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
		if left, right, ok := strings.Cut(text, sign); ok {
			if r.Swapped {
				left = right
			}
			return strings.TrimSpace(left)
		}
	}
	return "its left side"
}
