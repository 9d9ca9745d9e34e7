package must

import (
	"slices"

	"foredge/eval/relation"
)

// undecide is a block of dimensions that some relations do not decide, with
// what those lean on.
func (q *Problem) undecide(vars []relation.VarID, relations []int32) Undecided {
	given := slices.DeleteFunc(q.Support(relations, nil), func(r int32) bool { return slices.Contains(relations, r) })
	return Undecided{Vars: vars, Relations: relations, Given: given}
}

// formOfToday is the column of a dimension that is still unknown in the
// elimination that the space was made from, -1 if it has none.
func (q *Problem) formOfToday(v relation.VarID) int32 {
	if !q.settled || q.Known[v] {
		return -1
	}
	if c := q.FormOf[v]; c >= 0 && int(c) < len(q.step.RowOf) {
		return c
	}
	return -1
}

// Support lists the relations that the values of the given dimensions, and the
// given relations, lean on, themselves among them.
func (q *Problem) Support(relations []int32, vars []relation.VarID) []int32 {
	return q.conflict(relations, vars).Relations
}

// noted is how many relations the conflicts of a problem may list together. There
// are as many conflicts as lines that are broken, each as long as what those lean
// on; those that are not noted show once some of the others are mended.
const noted = 50_000

// note records a conflict, if there aren't too many.
func (q *Problem) note(relations []int32, vars []relation.VarID) {
	if q.noted > noted {
		return
	}
	c := q.conflict(relations, vars)
	q.noted += 1 + len(c.Relations)
	q.Conflicts = append(q.Conflicts, c)
}

// conflict is what the values of the given dimensions, and the given relations,
// lean on, themselves among them. An extra row stands among relations as the
// negative number that an elimination gives it.
func (q *Problem) conflict(relations []int32, vars []relation.VarID) (c Conflict) {
	s := q.listing()
	if q.benches {
		s.rows = append(s.rows, make([]int32, max(0, len(q.Extra)-len(s.rows)))...)
	}
	var todo []relation.VarID
	see := func(v relation.VarID) {
		if s.vars[v] != s.round {
			s.vars[v] = s.round
			todo = append(todo, v)
		}
	}
	add := func(r int32) {
		switch {
		case r < 0 && !q.benches:
			// what later levels have fixed is no part of a conflict
		case r >= 0 && s.relations[r] != s.round:
			s.relations[r] = s.round
			c.Relations = append(c.Relations, r)
			for _, v := range q.Vars[r] {
				see(v)
			}
		case r < 0 && s.rows[-1-r] != s.round:
			s.rows[-1-r] = s.round
			c.Rows = append(c.Rows, -1-r)
			for _, t := range q.Extra[-1-r].Form.Terms {
				see(t.Var)
			}
		}
	}
	for _, r := range relations {
		add(r)
	}
	for _, v := range vars {
		see(v)
	}
	for len(todo) > 0 {
		v := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if c := q.formOfToday(v); c >= 0 {
			for _, row := range q.step.Giving(c, s.round) {
				add(q.stepRows[row])
			}
		}
		switch from := q.giver[v]; from.kind {
		case byOne:
			add(from.at)
		case byMany:
			by := q.steps[from.at]
			for _, row := range by.Giving(from.col, s.round) {
				add(by.relation[row])
			}
		case byBlock:
			for _, r := range q.solved[from.at] {
				add(r)
			}
		}
	}
	slices.Sort(c.Relations)
	slices.SortFunc(c.Rows, func(a, b int32) int { return int(b) - int(a) })
	return c
}

// A listing marks what has been listed, each with the round of it.
type listing struct {
	round                 int32
	vars, relations, rows []int32
}

// listing begins a round.
func (s *Solver) listing() *listing {
	if s.listed.vars == nil {
		s.listed.vars, s.listed.relations = make([]int32, len(s.Sys.Vars)), make([]int32, len(s.Sys.Relations))
	}
	s.listed.round++
	return &s.listed
}
