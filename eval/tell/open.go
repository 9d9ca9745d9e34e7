package tell

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/lang/diag"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// tangle tells of relations that have no solution together, or several.
func (t *teller) tangle(g solve.Tangle) {
	if len(g.Relations) == 0 {
		return
	}
	first := &t.System.Relations[g.Relations[0]]
	names := t.nameList(g.Vars)
	if why := t.fault(first); len(g.Found) == 0 && why != "" {
		t.diags.Errorf("impossible", first.At, "%s can't be worked out: what gives it %s", names, why).
			WithHelp("check the values that this line uses")
		return
	}
	if len(g.Found) == 0 {
		values := "no value of %s makes this hold"
		if len(g.Vars) > 1 {
			values = "no values of %s make this hold"
		}
		d := t.diags.Errorf("no-solution", first.At, values, names)
		t.noteRelations(d, g.Relations[1:])
		t.noteRelations(d, g.Given)
		d.WithHelp("state one of them as a number to see which line is off")
		if len(g.Relations)+len(g.Given) > 1 {
			d.WithHelp("change or take out one of these lines")
		}
		return
	}
	d := t.diags.Errorf("several-solutions", first.At, "there are several solutions for %s", names)
	for _, found := range g.Found {
		parts := make([]string, len(g.Vars))
		for i, id := range g.Vars {
			v := t.System.Vars[id]
			parts[i] = v.Name + " = " + t.Format(found[i], v.Kind, first.At)
		}
		d.Note(first.At, "one is %s", strings.Join(parts, ", "))
	}
	d.WithHelp("add a limit that leaves only the one you mean")
}

func (t *teller) noteRelations(d *diag.Diagnostic, relations []int) {
	for _, i := range relations {
		if r := &t.System.Relations[i]; r.Role != relation.Own {
			d.Note(r.At, "%s", r.At.Short())
		}
	}
}

// nameList lists dimensions: "a, b and c", no more than four of them.
func (t *teller) nameList(ids []relation.VarID) string {
	names := make([]string, 0, len(ids))
	for _, id := range ids {
		names = append(names, t.System.Vars[id].Name)
	}
	if len(names) > 4 {
		return strings.Join(names[:4], ", ") + fmt.Sprintf(" and %d more", len(names)-4)
	}
	return spell.And(names)
}

// free tells of dimensions that nothing decides.
func (t *teller) free(f solve.FreeGroup) {
	if len(f.Vars) == 0 {
		return
	}
	if row, ok := t.Owners[f.Settle].(*model.Row); ok && row.Is(f.Settle, dim.Inset) {
		if across, has := row.Dim(dim.HoleAcross); has && !t.Known(across) && !slices.Contains(f.Vars, across) {
			return // it follows once its holes have a size, and it is told that they have none
		}
	}
	if t.freeLattice(f) {
		return
	}
	if line, is := t.Owners[f.Settle].(*model.Stitch); is { // its stitches are counted once it is known where it runs
		if inset, has := line.Dim(dim.Inset); has && inset != f.Settle && slices.Contains(f.Vars, inset) {
			f.Settle, f.Low, f.High = inset, math.Inf(-1), math.Inf(1)
		}
	}
	settle := t.System.Vars[f.Settle]
	at := settle.At
	together := ""
	if len(f.Vars) > 1 {
		together = ": they move together"
	}
	var d *diag.Diagnostic
	if line, v := t.backwards(f); line != nil {
		d = t.diags.Errorf("backwards", line.At, "%s doesn't give %s: floor, ceil and nearest only work forwards", line.At.Short(), t.System.Vars[v].Name)
	} else {
		d = t.diags.Errorf("open", at, "nothing decides %s%s", t.nameList(f.Vars), together)
		t.noteForwards(d, f)
	}
	t.noteMissing(d, f.Settle)
	t.toState(d, f.Settle)
	room := ""
	switch {
	case t.severalOf(d, f.Settle):
	case !math.IsInf(f.Low, 0) && !math.IsInf(f.High, 0) && !math.IsNaN(f.Low+f.High):
		if low, high := math.Ceil(f.Low-1e-6), math.Floor(f.High+1e-6); settle.Whole && low <= high {
			f.Low, f.High = low, high // a count is whole
		}
		low, high := t.Format(f.Low, settle.Kind, at), t.Format(f.High, settle.Kind, at)
		if room = fmt.Sprintf(" (from %s to %s is possible)", low, high); low == high {
			room = fmt.Sprintf(" (only %s is possible)", low)
		}
	case !math.IsInf(f.Low, 0) && f.Low > 0:
		room = fmt.Sprintf(" (at least %s)", t.Format(f.Low, settle.Kind, at))
	}
	if settle.Bench > 0 {
		t.noteOutside(d, f.Settle)
		d.WithHelp("measure it and state it in the braces of %s%s%s", t.System.Benches[settle.Bench-1].Name, room, t.orPitch(f))
		return
	}
	if read, ok := t.unread(f.Settle); ok {
		d.WithHelp("measure %s on the notebook, or state %s%s%s", read, settle.Name, room, t.orPitch(f))
		return
	}
	if rows, ok := t.openRows(f); ok {
		d.WithHelp("state %s: a limit or a wish doesn't choose how many there are", rows)
		return
	}
	d.WithHelp("state %s%s%s", settle.Name, room, t.orPitch(f))
}

// severalOf points out a line by which an open dimension can have a few values alone,
// as of a product: what lies between its limits is then no room.
func (t *teller) severalOf(d *diag.Diagnostic, id relation.VarID) bool {
	if len(t.Numbers.Clashes) > 0 {
		return false // it may be open because of these
	}
	found := false
	for _, k := range t.openIn(id) {
		r := &t.System.Relations[k]
		if r.Bench != t.System.Vars[id].Bench || r.Hides(id) || len(t.unknown(r)) > 1 {
			continue
		}
		d.Note(r.At, "this line alone gives several values, or none: a limit may say which is meant")
		found = true
	}
	return found
}

// toState names the line that is to be written: its value is the maker's to know.
func (t *teller) toState(d *diag.Diagnostic, id relation.VarID) {
	owner := t.Owners[id]
	if owner == nil {
		return
	}
	thing := owner.Base()
	if name, ok := strings.CutPrefix(t.System.Vars[id].Name, thing.Path+"."); ok && thing.Path != "" {
		d.WithLine(thing.At, name+" = ")
	}
}

// openRows is the number of a lattice's rows, if a free group holds it, but not where they
// only wait, as the links do, for the height of the board.
func (t *teller) openRows(f solve.FreeGroup) (name string, ok bool) {
	for _, v := range f.Vars {
		l, is := t.Owners[v].(*model.Lattice)
		if !is || !l.Is(v, dim.Rows) {
			continue
		}
		link, _ := l.Dim(dim.Link)
		high, _ := l.Panel.Dim(dim.Height)
		if !slices.Contains(f.Vars, high) || !slices.Contains(f.Vars, link) {
			return t.System.Vars[v].Name, true
		}
	}
	return "", false
}

// freeLattice tells of a free group that holds the turn or the radius of a lattice: links are
// counted by them, and no line about what follows from that decides them.
func (t *teller) freeLattice(f solve.FreeGroup) bool {
	for _, v := range f.Vars {
		l, is := t.Owners[v].(*model.Lattice)
		if !is {
			continue
		}
		name := t.System.Vars[v].Name
		switch {
		case l.Is(v, dim.Turn):
			d := t.diags.Errorf("open", l.At, "nothing decides %s: a limit or a wish doesn't say how far a board is to bend", name)
			t.toState(d, v)
			d.WithHelp("state %s, the whole angle of the bend, as in turn = 180 deg", name)
		case l.Is(v, dim.Radius):
			d := t.diags.Errorf("open", l.At, "nothing decides %s: a limit or a wish about what follows from it doesn't", name)
			t.toState(d, v)
			d.WithHelp("state %s, the least inside radius that the board is to bend to, as in radius = %s", name, unit.Example(20, l.Unit))
		case l.Is(v, dim.Rows) && t.linkTooLong(l):
		default:
			continue
		}
		return true
	}
	return false
}

// linkTooLong tells of a lattice whose links and ends are longer together than the board is
// high.
func (t *teller) linkTooLong(l *model.Lattice) bool {
	link, high, end := t.Of(&l.Thing, dim.Link), t.Of(&l.Panel.Thing, dim.Height), t.Of(&l.Thing, dim.Bridge)
	if id, has := l.Dim(dim.End); has && t.Known(id) {
		end = t.Of(&l.Thing, dim.End)
	}
	if !(link+2*end > high) {
		return false
	}
	t.diags.Errorf("no-room", l.At, "%s has no room for a link of %s and its ends: it is %s high", l.Panel.Path, unit.FormatLength(link, l.Unit), unit.FormatLength(high, l.Unit)).
		WithHelp("state a shorter link, or leave it out: it is then as long as suits the board")
	return true
}

// noteOutside points out the first line outside a notebook that speaks of an open
// dimension of it: it takes the notebook as it was measured.
func (t *teller) noteOutside(d *diag.Diagnostic, id relation.VarID) {
	for _, i := range t.linesOf(id) {
		if r := &t.System.Relations[i]; r.Bench == 0 && r.Role != relation.Own {
			d.Note(r.At, "this line asks for it; no line outside a notebook decides what it measures")
			return
		}
	}
}

// unread is the dimension of the covered notebook's row that would decide one of
// a panel's row, if it isn't known either: where a cover has to fit, measuring is
// better than stating.
func (t *teller) unread(id relation.VarID) (name string, ok bool) {
	row, isRow := t.Owners[id].(*model.Row)
	if !isRow || row.Covers == nil {
		return "", false
	}
	for _, d := range row.Covers.Dims() {
		if d.Dim != dim.Gap && row.Is(id, d.Dim) {
			return t.System.Vars[d.ID].Name, !t.Known(d.ID)
		}
	}
	for i, gap := range row.Gaps {
		if gap == id && i < len(row.Covers.Gaps) {
			measured := row.Covers.Gaps[i]
			return t.System.Vars[measured].Name, !t.Known(measured)
		}
	}
	return "", false
}

// orPitch is the spacing as one more thing to state for an even row whose run
// is open: what most would rather state.
func (t *teller) orPitch(f solve.FreeGroup) string {
	row, isRow := t.Owners[f.Settle].(*model.Row)
	if !isRow {
		return ""
	}
	run := false
	for _, v := range f.Vars {
		if t.Owners[v] != model.Node(row) {
			return ""
		}
		run = run || row.Is(v, dim.Run)
	}
	pitch, even := row.Dim(dim.Pitch)
	if !even || !run || math.IsNaN(t.Of(&row.Thing, dim.Count)) || t.Known(pitch) {
		return ""
	}
	return ", or " + t.System.Vars[pitch].Name
}

// impossible tells of dimensions that are needed and whose lines are settled but
// give no number: they divide by what came out as 0, or take the root of what
// came out below 0.
func (t *teller) impossible() {
	for i, v := range t.System.Vars {
		if !v.Needed || finite(t.Numbers.Values[i]) {
			continue
		}
		at := v.At
		for _, k := range t.linesOf(relation.VarID(i)) {
			r := &t.System.Relations[k]
			if r.Role == relation.Stated || r.Role == relation.Pattern {
				at = r.At
				break
			}
		}
		t.diags.Errorf("impossible", at, "%s can't be worked out: what gives it divides by 0 or takes the root of a number below 0", v.Name).
			WithHelp("check the values that this line uses, or state %s", v.Name)
	}
}

// unworkable tells of limits about what is known that can't be worked out all the same: no
// value keeps them.
func (t *teller) unworkable() {
	for i := range t.System.Relations {
		r := &t.System.Relations[i]
		if r.Sign == relation.EQ || r.Role != relation.Stated && r.Role != relation.Pattern {
			continue
		}
		unknown := slices.ContainsFunc(r.Vars(), func(v relation.VarID) bool { return !finite(t.Numbers.Values[v]) })
		if why := t.fault(r); why != "" && !unknown && !finite(r.Residual(t.Numbers.Values)) {
			t.diags.Errorf("impossible", r.At, "%s can't be worked out: it %s", r.At.Short(), why).
				WithHelp("check the values that this line uses")
		}
	}
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// fault says what in a relation can't be computed from what is known, "" for
// nothing.
func (t *teller) fault(r *relation.Relation) string {
	return t.faultIn(r.Left) + t.faultIn(r.Right)
}

func (t *teller) faultIn(e relation.Expr) string {
	switch {
	case e.Op == relation.Quotient && t.Eval(e.Args[1]) == 0:
		return "divides by 0"
	case e.Op == relation.Sqrt && t.Eval(e.Args[0]) < 0:
		return "takes the root of a number below 0"
	}
	for _, a := range e.Args {
		if why := t.faultIn(a); why != "" {
			return why
		}
	}
	return ""
}

// backwards finds a line that would have to be worked out backwards to give a
// dimension of a free group, and that dimension; nil if there is none. So would one
// of which all else is known, and one beside another line between the same
// dimensions.
func (t *teller) backwards(f solve.FreeGroup) (line *relation.Relation, v relation.VarID) {
	for _, v := range f.Vars {
		for _, i := range t.hiding(v) {
			r := &t.System.Relations[i]
			if r.Sign == relation.EQ && t.wouldGive(i, v) {
				return r, v
			}
		}
	}
	return nil, 0
}

// wouldGive reports whether a relation would give a dimension that it hides, if it
// worked backwards.
func (t *teller) wouldGive(i int, v relation.VarID) bool {
	r := &t.System.Relations[i]
	open := t.unknown(r)
	if !slices.ContainsFunc(open, func(v relation.VarID) bool { return !r.Hides(v) }) {
		return true
	}
	return slices.ContainsFunc(t.openIn(v), func(k int) bool {
		return k != i && !slices.ContainsFunc(t.unknown(&t.System.Relations[k]), func(v relation.VarID) bool { return !slices.Contains(open, v) })
	})
}

// openIn lists the lines with = in which a dimension is open.
func (t *teller) openIn(v relation.VarID) []int {
	if t.equations == nil {
		t.equations = map[relation.VarID][]int{}
		for k := range t.System.Relations {
			if r := &t.System.Relations[k]; r.Role != relation.Own && r.Sign == relation.EQ {
				for _, v := range t.unknown(r) {
					t.equations[v] = append(t.equations[v], k)
				}
			}
		}
	}
	return t.equations[v]
}

// unknown lists the dimensions of a relation that nothing decides.
func (t *teller) unknown(r *relation.Relation) []relation.VarID {
	return slices.DeleteFunc(r.Vars(), t.Known)
}

// hiding lists the relations in which a dimension stands in what only works
// forwards.
func (t *teller) hiding(v relation.VarID) []int {
	if t.forwards == nil {
		t.forwards = forwards(t.System)
	}
	return t.forwards[v]
}

// noteForwards points out lines of a free group that only work forwards.
func (t *teller) noteForwards(d *diag.Diagnostic, f solve.FreeGroup) {
	var lines []int
	for _, id := range f.Vars {
		lines = append(lines, t.hiding(id)...)
	}
	slices.Sort(lines)
	for _, i := range slices.Compact(lines) {
		if t.System.Relations[i].Role == relation.Own {
			continue // none that the maker wrote
		}
		d.Note(t.System.Relations[i].At, "floor, ceil and nearest only work forwards: what they take must be known without them")
	}
}

// forwards lists the relations in which a dimension stands in what only works
// forwards.
func forwards(s *relation.System) map[relation.VarID][]int {
	in := map[relation.VarID][]int{}
	var walk func(i int, e relation.Expr, inside bool)
	walk = func(i int, e relation.Expr, inside bool) {
		switch e.Op {
		case relation.Ref:
			if inside {
				in[e.Var] = append(in[e.Var], i)
			}
		case relation.Floor, relation.Ceil, relation.Nearest:
			inside = true
		}
		for _, a := range e.Args {
			walk(i, a, inside)
		}
	}
	for i := range s.Relations {
		walk(i, s.Relations[i].Left, false)
		walk(i, s.Relations[i].Right, false)
	}
	return in
}

// noteMissing says that what a panel covers, which would decide the size of the panel or of its
// rows, isn't there.
func (t *teller) noteMissing(d *diag.Diagnostic, id relation.VarID) {
	panel, _ := t.Owners[id].(*model.Panel)
	who := "it"
	if row, ok := t.Owners[id].(*model.Row); ok && row.Panel != nil {
		panel, who = row.Panel, row.Panel.Path
	}
	if panel != nil && panel.Missing != nil {
		d.Note(panel.Missing.At, "%s, which %s covers, isn't there: its `when` doesn't hold", panel.Missing.Path, who)
	}
}
