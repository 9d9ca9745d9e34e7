package solution

import (
	"math"
	"slices"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/solve"
)

// oneMore lists the lines that can't all hold if a count that is most were larger
// by one, with the other such counts as they are: by themselves, or with the board's size
// as it came out, or with the default that centres the row where it is met, or with both.
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
	near, far, size, panel := dim.First, dim.Last, dim.Width, (*model.Panel)(nil)
	switch n := s.Owners[count].(type) {
	case *model.Row:
		size, panel = dim.Length(n.Edge), n.Panel
	case *model.Field:
		near, far, panel = dim.Spine, dim.Foredge, n.Panel
		if n.Is(count, dim.Down) {
			near, far, size = dim.Head, dim.Tail, dim.Height
		}
	}
	if panel == nil {
		return s.against(&system, count)
	}
	var centred []relation.Relation
	owner := s.Owners[count].Base()
	for _, d := range s.System.Defaults {
		if d.Left.Op == relation.Ref && owner.Is(d.Left.Var, near) && d.Right.Op == relation.Ref && owner.Is(d.Right.Var, far) &&
			math.Abs(s.Value(d.Left.Var)-s.Value(d.Right.Var)) < 1e-6 {
			centred = append(centred, relation.Relation{Left: d.Left, Right: d.Right, Role: relation.Held, At: d.At, Why: d.Why})
		}
	}
	kept := relation.Relation{Left: panel.V(size), Right: relation.C(s.Of(&panel.Thing, size)), Role: relation.Held, At: panel.At}
	stated := slices.Clip(system.Relations)
	for _, also := range [][]relation.Relation{nil, {kept}, centred, append(centred, kept)} {
		system.Relations = append(stated, also...)
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
