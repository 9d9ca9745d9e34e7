package solution

import (
	"slices"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/solve"
)

// oneMore lists the lines that can't all hold if a count that is most were larger
// by one, with the other such counts as they are: by themselves, or with the board's
// size as it came out, or with the default that centres the row, or with both.
func (s *Solution) oneMore(count relation.VarID) []With {
	system := *s.System
	system.Vars = slices.Clone(system.Vars)
	system.Relations = slices.Clone(system.Relations)
	for i := range system.Vars {
		id, v := relation.VarID(i), &system.Vars[i]
		if !v.Most || !s.Known(id) {
			continue
		}
		v.Most = false
		n := relation.Relation{Left: relation.V(id), Right: relation.C(s.Value(id)), Role: relation.Stated, At: v.At, Words: v.Name + " = most"}
		if id == count {
			n.Right.Value++
		}
		system.Relations = append(system.Relations, n)
	}
	var size, centred []relation.Relation
	near, far, along, panel := dim.First, dim.Last, dim.Width, (*model.Panel)(nil)
	switch n := s.Owners[count].(type) {
	case *model.Row:
		along, panel = dim.Length(n.Edge), n.Panel
	case *model.Field:
		near, far, panel = dim.Spine, dim.Foredge, n.Panel
		if n.Is(count, dim.Down) {
			near, far, along = dim.Head, dim.Tail, dim.Height
		}
	}
	if panel != nil {
		size = []relation.Relation{{Left: panel.V(along), Right: relation.C(s.Of(&panel.Thing, along)), Role: relation.Held, At: panel.At}}
	}
	owner := s.Owners[count].Base()
	for _, d := range s.System.Defaults {
		if d.Left.Op == relation.Ref && owner.Is(d.Left.Var, near) && d.Right.Op == relation.Ref && owner.Is(d.Right.Var, far) {
			centred = append(centred, relation.Relation{Left: d.Left, Right: d.Right, Role: relation.Held, At: d.At, Why: d.Why})
		}
	}
	stated := system.Relations
	for _, also := range [][]relation.Relation{nil, size, centred, slices.Concat(size, centred)} {
		system.Relations = slices.Concat(stated, also)
		if lines := s.against(&system, count); lines != nil {
			return lines
		}
	}
	return nil
}

// against lists the lines of a system that clash with what it states of a count.
func (s *Solution) against(system *relation.System, count relation.VarID) []With {
	for _, c := range solve.Solve(system).Clashes {
		if !slices.ContainsFunc(c.Relations, func(i int) bool { return states(&system.Relations[i], count) }) {
			continue
		}
		var lines []With
		for _, i := range c.Relations {
			r := &system.Relations[i]
			if r.Role == relation.Own || states(r, count) {
				continue
			}
			text := s.Say(r)
			if r.Role == relation.Held {
				text = "default: " + text
			}
			lines = append(lines, With{text, r.At})
		}
		return lines
	}
	return nil
}

// states reports whether a relation gives a dimension a number.
func states(r *relation.Relation, id relation.VarID) bool {
	return r.Sign == relation.EQ && r.Left.Op == relation.Ref && r.Left.Var == id && r.Right.Op == relation.Const
}
