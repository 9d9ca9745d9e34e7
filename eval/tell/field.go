package tell

import (
	"math"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/solve"
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
			WithHelp("state pitch-%s, or their size and the gap between them, as in gap-%s >= 3", way, way)
	case c.Value > model.MaxMembers || math.IsInf(c.Value, 1):
		t.diags.Errorf("too-many", at, "%s would be %s, and a field has at most %d members", v.Name, unit.FormatNumber(c.Value, 2), model.MaxMembers).
			WithHelp("check the numbers of this field; a unit may be missing")
	case v.Most && c.Value == 0:
		t.diags.Errorf("member-room", at, "%s has no room for even one member %s", field.Path, way).
			WithHelp("loosen its limits, which hold on both sides as long as it is centred, or make its members smaller")
	case v.Most:
		t.diags.Errorf("count", at, "%s comes out at %s, and a count must be whole", v.Name, unit.FormatNumber(c.Value, 2)).
			WithHelp("the other lines of this field leave most nothing to choose: state one number fewer, such as one of its distances")
	default:
		t.diags.Errorf("count", at, "%s comes out at %s, and it must be a whole number from 1 up", v.Name, unit.FormatNumber(c.Value, 2)).
			WithHelp("state one number fewer in this field, or write %s = most and let it be centred", way)
	}
}

// fields tells of fields that have too many members, or none, and of members that
// are spoken of but aren't there.
func (t *teller) fields() {
	counts := func(f *model.Field) (across, down int) {
		return int(math.Round(t.Of(&f.Thing, dim.Across))), int(math.Round(t.Of(&f.Thing, dim.Down)))
	}
	for _, n := range t.Things {
		f, ok := n.(*model.Field)
		if !ok || f.Panel == nil {
			continue
		}
		switch across, down := counts(f); {
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
		if across, down := counts(c.Field); c.Across > across || c.Down > down {
			t.diags.Errorf("no-member", c.At, "there is no %s.%d.%d: %s has %d across and %d down", c.Field.Path, c.Across, c.Down, c.Field.Path, across, down).
				WithHelp("members are counted across from the spine, then down from the head")
		}
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
