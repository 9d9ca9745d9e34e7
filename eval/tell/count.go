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
	"foredge/eval/solve/plan"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// count tells of a count that is not whole, not bounded or too large.
func (t *teller) count(c solve.CountProblem) {
	v := t.System.Vars[c.Var]
	at := t.countAt(c.Var)
	switch owner := t.Owners[c.Var].(type) {
	case *model.Lattice:
		t.latticeCount(owner, c, at)
		return
	case *model.Field:
		t.fieldCount(owner, c, at)
		return
	case *model.Stitch:
		switch {
		case c.Value < 0:
			t.diags.Errorf("negative", owner.At, "%s would be %s: the other edges have more holes than are stated", v.Name, unit.FormatNumber(c.Value, 2)).
				WithHelp("state a larger count, or leave it to the stitch-length")
		case owner.Is(c.Var, dim.Count): // of its parts nothing more need be told
			t.diags.Errorf("too-many", owner.At, "%s would be %s, and a line of stitches has at most %d holes", v.Name, unit.FormatNumber(c.Value, 2), model.MaxHoles).
				WithHelp("state a longer stitch-length; a unit may be missing")
		}
		return
	case *model.Row:
		if owner.Covers != nil && t.Of(&owner.Covers.Thing, dim.Count) == c.Value && c.Value != math.Trunc(c.Value) {
			return // it is that of the notebook's row, of which it is told
		}
	}
	row, onPanel := t.Owners[c.Var].(*model.Row)
	switch {
	case (c.Unbounded || v.Most && c.Value == 0) && t.overlaps(t.Owners[c.Var], at):
	case c.Unbounded:
		t.diags.Errorf("unbounded", at, "%s can't be most: nothing stated keeps the holes apart", v.Name).
			WithHelp("state the pitch or the web, as in web = %s", unit.Example(3, t.UnitOf(at)))
	case v.Most && math.IsInf(c.Value, 1) && onPanel:
		t.boundless(v.Name, row.Panel, dim.Length(row.Edge), at)
	case c.Value > model.MaxHoles || math.IsInf(c.Value, 1):
		t.diags.Errorf("too-many", at, "%s would be %s, and a row has at most %d holes", v.Name, unit.FormatNumber(c.Value, 2), model.MaxHoles).
			WithHelp("check the numbers of this row; a unit may be missing")
	case c.Value < 0:
		t.diags.Errorf("negative", at, "%s would be %s; a count can't be below 0", v.Name, unit.FormatNumber(c.Value, 2)).
			WithHelp("check the numbers of this row")
	case v.Most && c.Value == 0:
		t.noRoom(t.Owners[c.Var].(*model.Row), at)
	case v.Most:
		t.diags.Errorf("count", at, "%s comes out at %s, and a count must be whole", v.Name, fraction(c.Value)).
			WithHelp("the other lines of this row leave most nothing to choose: state one number fewer, such as its first or its last")
	case t.stated(c.Var):
		t.diags.Errorf("count", at, "%s is %s, and a count must be whole", v.Name, fraction(c.Value)).
			WithHelp("write a whole number, or count = most for as many as there is room for")
	case row != nil && row.Book != nil && c.U > plan.SureCount:
		t.diags.Errorf("count", at, "what was read leaves %s anything from %s to %s", v.Name, unit.FormatNumber(math.Max(1, math.Round(c.Value-2*c.U)), 0),
			unit.FormatNumber(math.Round(c.Value+2*c.U), 0)).
			WithHelp("count the holes and state their number, as in count = %s; what was read will then show what is off", unit.FormatNumber(math.Max(1, math.Round(c.Value)), 0))
	case row != nil && row.Book != nil:
		t.diags.Errorf("count", at, "%s comes out at %s, and a count must be whole", v.Name, fraction(c.Value)).
			WithHelp("count the holes and state their number, as in count = %s; what was read will then show what is off", unit.FormatNumber(math.Max(1, math.Round(c.Value)), 0))
	default:
		t.diags.Errorf("count", at, "%s comes out at %s, and a count must be whole", v.Name, fraction(c.Value)).
			WithHelp("state one number fewer in this row, or write count = most and let the row be centred")
	}
}

// fraction writes a count with as many digits as it takes to see that it isn't whole: 23.9995.
func fraction(count float64) string {
	for digits := 2; ; digits++ {
		if s := unit.FormatNumber(count, digits); strings.Contains(s, ".") || digits == 9 {
			return s
		}
	}
}

// notWhole reports whether a count that could not be found is given by other lines, as
// no whole one, of which it is told by itself.
func (t *teller) notWhole(c solve.CountProblem) bool {
	return c.Value == 0 && t.System.Vars[c.Var].Most && slices.ContainsFunc(t.Numbers.Counts, func(other solve.CountProblem) bool {
		return other.Var == c.Var && other.Value > 0 && other.Value != math.Trunc(other.Value)
	})
}

// clashesBeside reports whether a line states a whole count, and clashes with others that come to one that isn't.
func (t *teller) clashesBeside(count solve.CountProblem) bool {
	if _, lattice := t.Owners[count.Var].(*model.Lattice); lattice || !(count.Value > 0 && count.Value != math.Trunc(count.Value)) {
		return false
	}
	return slices.ContainsFunc(t.Numbers.Clashes, func(c solve.Clash) bool {
		return slices.ContainsFunc(c.Relations, func(i int) bool {
			r := &t.System.Relations[i]
			n, number := r.Right.Constant()
			return r.Role == relation.Stated && r.Sign == relation.EQ && r.Left.Op == relation.Ref && r.Left.Var == count.Var && number && n >= 0 && n == math.Trunc(n)
		})
	})
}

// stated reports whether a line gives a dimension as a number.
func (t *teller) stated(id relation.VarID) bool {
	c := t.Numbers.Cause[id]
	if c.Kind != solve.ByRelation || c.Index < 0 {
		return false
	}
	r := t.System.Relations[c.Index]
	_, left := r.Left.Constant()
	_, right := r.Right.Constant()
	return r.Role != relation.Own && (left || right) && (r.Left.Op == relation.Ref || r.Right.Op == relation.Ref)
}

// overlaps tells of holes that are longer than the pitch of their row, so that no
// number of them can be.
func (t *teller) overlaps(owner model.Node, at source.Span) bool {
	row, ok := owner.(*model.Row)
	if !ok {
		return false
	}
	pitch, along := t.said(&row.Thing, dim.Pitch), t.said(&row.Thing, dim.HoleAlong)
	if !(along > pitch) {
		return false
	}
	length := t.Format(along, unit.Length, at)
	t.diags.Errorf("overlap", at, "holes of %s every %s run into one another in %s", length, t.Format(pitch, unit.Length, at), row.Path).
		WithHelp("state a pitch of more than %s", length)
	return true
}

// said is the number that a line gives a dimension, whether or not it could hold;
// NaN if none does.
func (t *teller) said(thing *model.Thing, n dim.Name) float64 {
	id, ok := thing.Dim(n)
	if !ok {
		return math.NaN()
	}
	for _, i := range t.linesOf(id) {
		if r := &t.System.Relations[i]; r.Sign == relation.EQ && r.Role != relation.Own && r.Left.Op == relation.Ref && r.Left.Var == id {
			if x, known := r.Right.Constant(); known {
				return x
			}
		}
	}
	return math.NaN()
}

// impliedCounts notes each row of a notebook whose holes nobody has counted: that
// what was read leaves one whole number doesn't make it that of the holes.
func (t *teller) impliedCounts(wrong set) {
	for _, n := range t.Things {
		row, ok := n.(*model.Row)
		if !ok || row.Book == nil || len(row.Gaps) > 0 || wrong[row] {
			continue
		}
		id, _ := row.Dim(dim.Count)
		count := t.Value(id)
		if c := t.Numbers.Cause[id]; !t.Known(id) || count != math.Trunc(count) || c.Kind == solve.ByRelation && !t.System.Relations[c.Index].Role.Background() || t.spokenOf(id) {
			continue
		}
		whole, what := unit.FormatNumber(count, 0), "what was read implies"
		if t.byWish(id, map[relation.VarID]bool{}) {
			what = "with what was preferred it comes out as"
		}
		t.diags.Infof("implied-count", row.At, "nothing says how many holes %s has; %s %s", row.Path, what, whole).
			WithHelp("count them, and write count = %s if there are so many", whole).WithLine(row.At, "count = "+whole)
	}
}

// byWish reports whether a wish has a say in a dimension; seen are those that were
// looked at.
func (t *teller) byWish(id relation.VarID, seen map[relation.VarID]bool) bool {
	if seen[id] {
		return false
	}
	seen[id] = true
	return t.Numbers.From[id] == solve.ByWish || slices.ContainsFunc(t.Numbers.Cause[id].From, func(v relation.VarID) bool { return t.byWish(v, seen) })
}

// spokenOf reports whether a line with = speaks of a dimension.
func (t *teller) spokenOf(id relation.VarID) bool {
	return slices.ContainsFunc(t.linesOf(id), func(i int) bool {
		r := &t.System.Relations[i]
		return r.Sign == relation.EQ && r.Role != relation.Own && r.Role != relation.Fact
	})
}

// boundless tells of a count that can't be most as the board could grow with it.
func (t *teller) boundless(count string, on *model.Panel, size dim.Name, at source.Span) {
	d := t.diags.Errorf("boundless", at, "%s can't be most: nothing fixes %s, so the board would grow with each one more", count, on.Path+"."+size.String())
	d.WithHelp("state %s in %s, or a limit, as in %s <= 200 mm", size, on.Path, size)
}

// noRoom tells that not even one hole of a row fits, or that none does where the row is
// centred, and what keeps it out.
func (t *teller) noRoom(row *model.Row, at source.Span) {
	what := ""
	edge, hole := t.Of(row.Outer(), dim.Length(row.Edge)), t.Of(&row.Thing, dim.HoleAlong)
	if !math.IsNaN(hole) && !math.IsNaN(edge) {
		what = fmt.Sprintf(" of %s along an edge of %s", t.Format(hole, unit.Length, at), t.Format(edge, unit.Length, at))
	}
	var all []int     // the lines about either
	var ends [2][]int // of them those of each that aren't of something that follows the row
	var taken [2]float64
	farthest := 0.0
	for i, n := range []dim.Name{dim.First, dim.Last} {
		id, ok := row.Dim(n)
		if !ok {
			continue
		}
		for _, k := range t.linesOf(id) {
			r := &t.System.Relations[k]
			if r.Role == relation.Own {
				continue
			}
			all = append(all, k)
			if !slices.Contains(r.Follows, id) {
				ends[i] = append(ends[i], k)
			}
			x, known := r.Right.Constant()
			if !known || r.Left.Op != relation.Ref {
				continue
			}
			if r.Sign == relation.GE {
				farthest = max(farthest, x)
			}
			if r.Sign != relation.LE {
				taken[i] = max(taken[i], x)
			}
		}
	}
	own := slices.Concat(ends[0], ends[1])
	slices.Sort(own)
	own = slices.Compact(own)
	slices.Sort(all)
	all = slices.Compact(all)
	d := t.diags.Errorf("no-hole", at, "%s has no room for even one hole%s", row.Path, what).
		WithHelp("loosen the limits of the row, or make its holes smaller")
	switch {
	case len(all) > 0 && len(own) == max(len(ends[0]), len(ends[1])) && farthest+hole <= edge+1e-6:
		d.Message = fmt.Sprintf("%s is centred, and so has no number of holes with which it keeps its limits", row.Path)
		d.WithHelp("loosen the limits, or state one at each end, and it needn't be centred; or make its holes smaller")
	case taken[0]+hole+taken[1] <= edge+1e-6:
		d.Message = fmt.Sprintf("%s has no number of holes with which all its lines hold", row.Path)
		d.WithHelp("loosen one of them, such as a limit or what states one of its ends")
		for _, n := range []dim.Name{dim.Pitch, dim.Web} {
			id, ok := row.Dim(n)
			if !ok {
				continue
			}
			all = append(all, slices.DeleteFunc(slices.Clone(t.linesOf(id)), func(k int) bool { return t.System.Relations[k].Role == relation.Own })...)
		}
		slices.Sort(all)
		all = slices.Compact(all)
	}
	for _, i := range all {
		d.Note(t.System.Relations[i].At, "%s", t.System.Relations[i].At.Short())
	}
}

// countAt is the line that states a count, else the thing.
func (t *teller) countAt(id relation.VarID) source.Span {
	if c := t.Numbers.Cause[id]; c.Kind == solve.ByRelation && c.Index >= 0 {
		if r := t.System.Relations[c.Index]; r.Role == relation.Stated || r.Role == relation.Pattern {
			return r.At
		}
	}
	for _, i := range t.linesOf(id) {
		if r := &t.System.Relations[i]; r.Role == relation.Stated && r.Left.Op == relation.Ref && r.Left.Var == id {
			return r.At
		}
	}
	return t.System.Vars[id].At
}

// latticeCount tells of a number of links or rows that can't be.
func (t *teller) latticeCount(l *model.Lattice, c solve.CountProblem, at source.Span) {
	v := t.System.Vars[c.Var]
	for _, n := range []dim.Name{dim.Links, dim.Rows} {
		said := t.said(&l.Thing, n)
		if !l.Is(c.Var, n) || !(said >= 1) || said != math.Trunc(said) || said > model.MaxHoles {
			continue
		}
		d := t.diags.Errorf("count", at, "%s comes out at %s by what else is stated, and this line asks for %s", v.Name,
			fraction(c.Value), unit.FormatNumber(said, 0)).WithHelp("change this line or take it out, or change what else is stated of %s", l.Path)
		if n == dim.Rows {
			d.WithHelp("take out one of rows, link and end; where these are all stated, state only one of height, head and tail")
		}
		return
	}
	if c.Value > model.MaxHoles || math.IsInf(c.Value, 1) {
		t.diags.Errorf("too-many", at, "%s would be %s, and a lattice has at most %d of them", v.Name, unit.FormatNumber(c.Value, 0), model.MaxHoles).
			WithHelp("check its numbers and how thick the board is; a unit may be missing")
		return
	}
	t.diags.Errorf("count", at, "%s comes out at %s, and it must be a whole number from 1 up", v.Name, fraction(c.Value)).
		WithHelp("state its radius or its links and let its width follow; let its height follow from its rows, or be filled by them")
}
