package tell

import (
	"math"
	"slices"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/solution"
	"foredge/eval/solve"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// fieldCount tells of a number of members across or down that can't be.
func (t *teller) fieldCount(field *model.Field, c solve.CountProblem, at source.Span) {
	v := t.System.Vars[c.Var]
	way := dim.Across
	if field.Is(c.Var, dim.Down) {
		way = dim.Down
	}
	switch {
	case c.Unbounded:
		t.diags.Errorf("unbounded", at, "%s can't be most: nothing stated keeps its members apart", v.Name).
			WithHelp("state pitch-%s, or their size and the gap between them, as in gap-%s >= %s", way, way, unit.Example(3, t.UnitOf(at)))
	case v.Most && math.IsInf(c.Value, 1):
		size := map[dim.Name]dim.Name{dim.Across: dim.Width, dim.Down: dim.Height}[way]
		t.boundless(v.Name, field.Panel, size, at)
	case c.Value > model.MaxMembers || math.IsInf(c.Value, 1):
		t.diags.Errorf("too-many", at, "%s would be %s, and a field has at most %d members", v.Name, unit.FormatNumber(c.Value, 2), model.MaxMembers).
			WithHelp("check the numbers of this field; a unit may be missing")
	case v.Most && c.Value == 0 && t.beyond(field):
	case v.Most && c.Value == 0:
		t.diags.Errorf("member-room", at, "%s has no room for even one member %s", field.Path, way).
			WithHelp("loosen its limits, which hold on both sides as long as it is centred, or make its members smaller")
	case v.Most:
		t.diags.Errorf("count", at, "%s comes out at %s, and a count must be whole", v.Name, fraction(c.Value)).
			WithHelp("the other lines of this field leave most nothing to choose: state one number fewer, such as one of its distances")
	default:
		t.diags.Errorf("count", at, "%s comes out at %s, and it must be a whole number from 1 up", v.Name, fraction(c.Value)).
			WithHelp("state one number fewer in this field, or write %s = most and let it be centred", way)
	}
}

// members is how many members a field has each way, 0 where that is not known.
func members(s *solution.Solution, f *model.Field) (across, down int) {
	a, d := s.Of(&f.Thing, dim.Across), s.Of(&f.Thing, dim.Down)
	if math.IsNaN(a) || math.IsNaN(d) {
		return 0, 0
	}
	return int(math.Round(a)), int(math.Round(d))
}

// beyond tells of members that aren't there and because of which no number of
// members can be, as where they would lie is not on the panel. It reports whether
// there are any.
func (t *teller) beyond(f *model.Field) (any bool) {
	if len(t.Cells) == 0 {
		return false
	}
	if t.alone == nil {
		t.alone = t.WithoutMembers()
	}
	across, down := members(t.alone, f)
	for _, c := range t.Cells {
		if c.Field == f && across >= 1 && down >= 1 {
			any = t.missing(c, across, down) || any
		}
	}
	return any
}

// missing tells of a member that is spoken of, if it isn't there.
func (t *teller) missing(c model.Cell, across, down int) bool {
	if c.Across <= across && c.Down <= down {
		return false
	}
	t.diags.Errorf("no-member", c.At, "there is no %s.%d.%d: %s has %d across and %d down", c.Field.Path, c.Across, c.Down, c.Field.Path, across, down).
		WithHelp("members are counted across from the spine, then down from the head")
	return true
}

// fields tells of fields that have too many members, or none, and of members that
// are spoken of but aren't there.
func (t *teller) fields() {
	for _, n := range t.Things {
		f, ok := n.(*model.Field)
		if !ok || f.Panel == nil {
			continue
		}
		across, down := members(t.Solution, f)
		switch {
		case across < 1 || down < 1:
			t.diags.Errorf("count", f.At, "%s has %d members across and %d down, so there is none", f.Path, across, down).
				WithHelp("state at least one each way, or put the field under a `when`")
		case across*down > model.MaxMembers:
			t.diags.Errorf("too-many", f.At, "%s would have %d by %d members, and a field has at most %d", f.Path, across, down, model.MaxMembers).
				WithHelp("check its numbers: a unit may be missing; or make several fields")
		default:
			t.memberTexts(f, across*down)
		}
	}
	for _, c := range t.Cells {
		across, down := members(t.Solution, c.Field)
		t.missing(c, across, down)
	}
}

// memberTexts tells of more or fewer texts than a field has members.
func (t *teller) memberTexts(f *model.Field, members int) {
	region, ok := f.Each[0].(*model.Region)
	if !ok {
		return
	}
	for _, m := range region.Marks {
		l, ok := m.(*model.Lettering)
		if !ok || l.Each == nil || len(l.Each) == members {
			continue
		}
		at := l.Each[0].At.To(l.Each[len(l.Each)-1].At)
		t.diags.Errorf("texts", at, "there are %d texts here, and %s has %d members", len(l.Each), f.Path, members).
			WithHelp("list one for each as they are read, row after row and from left to right; \"\" leaves one blank")
	}
}

// noteFields says, of lines that clash, which of the fields that they speak of have one
// member across or down because nothing says how many there are.
func (t *teller) noteFields(d *diag.Diagnostic, relations []int) {
	var ones []int // the relations that say that there is one
	for _, i := range relations {
		for _, v := range t.System.Relations[i].Vars() {
			field, ok := t.Owners[v].(*model.Field)
			if !ok {
				continue
			}
			count, sized := field.Dim(dim.Across)
			if field.Is(v, dim.Height) {
				count, sized = field.Dim(dim.Down)
			} else if !field.Is(v, dim.Width) {
				continue
			}
			if !sized {
				continue
			}
			ones = append(ones, slices.DeleteFunc(slices.Clone(t.linesOf(count)), func(i int) bool {
				r := &t.System.Relations[i]
				_, number := r.Right.Constant()
				return !number || r.Role != relation.Own || r.Left.Op != relation.Ref
			})...)
		}
	}
	slices.Sort(ones)
	for _, i := range slices.Compact(ones) {
		v := t.System.Relations[i].Left.Var
		field, way := t.Owners[v].Base(), dim.Across
		if field.Is(v, dim.Down) {
			way = dim.Down
		}
		d.Note(field.At, "nothing says how many %s has %s, so there is one: state %s if there are more", field.Path, way, way)
	}
}
