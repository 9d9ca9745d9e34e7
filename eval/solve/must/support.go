package must

import (
	"maps"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/linear"
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
func (q *Problem) conflict(relations []int32, vars []relation.VarID) Conflict {
	seen := make(map[int32]bool)
	seenVar := make(map[relation.VarID]bool)
	listed := listedRows{}
	var todo []relation.VarID
	see := func(v relation.VarID) {
		if !seenVar[v] {
			seenVar[v] = true
			todo = append(todo, v)
		}
	}
	add := func(r int32) {
		if seen[r] || r < 0 && !q.benches {
			return // what later levels have fixed is no part of a conflict
		}
		seen[r] = true
		if r >= 0 {
			for _, v := range q.Vars[r] {
				see(v)
			}
			return
		}
		for _, t := range q.Extra[-1-r].Form.Terms {
			see(t.Var)
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
			for _, row := range q.step.Giving(c, listed.of(q.step)) {
				add(q.stepRows[row])
			}
		}
		switch from := q.giver[v]; from.kind {
		case byOne:
			add(from.at)
		case byMany:
			by := q.steps[from.at]
			for _, row := range by.Giving(from.col, listed.of(by.Elimination)) {
				add(by.relation[row])
			}
		case byBlock:
			for _, r := range q.solved[from.at] {
				add(r)
			}
		}
	}
	var c Conflict
	for _, r := range slices.Sorted(maps.Keys(seen)) {
		if r >= 0 {
			c.Relations = append(c.Relations, r)
		} else {
			c.Rows = append(c.Rows, -1-r)
		}
	}
	return c
}

// listedRows are the rows of eliminations that have been listed.
type listedRows map[*linear.Elimination]map[int32]bool

func (l listedRows) of(e *linear.Elimination) map[int32]bool {
	if l[e] == nil {
		l[e] = map[int32]bool{}
	}
	return l[e]
}
