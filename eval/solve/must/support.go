package must

import (
	"foredge/eval/relation"
	"foredge/eval/solve/linear"
	"maps"
	"slices"
)

// undecide is a block of dimensions that some relations do not decide, with
// what those lean on.
func (q *Problem) undecide(vars []relation.VarID, relations []int32) Undecided {
	given := slices.DeleteFunc(q.Support(relations, nil), func(r int32) bool { return slices.Contains(relations, r) })
	return Undecided{Vars: vars, Relations: relations, Given: given}
}

// A giver is the step that made a dimension known.
type giver struct {
	kind giverKind
	at   int32 // the relation (byOne), the place in problem.steps (byMany) or in problem.solved (byBlock)
	col  int32 // for byMany, the column of the step
}

// A step is an elimination that made dimensions known.
type step struct {
	*linear.Elimination
	relation []int32 // of each row, below 0 for an extra row
}

type giverKind uint8

const (
	byNothing giverKind = iota // not known, or known from the start
	byOne                      // one relation whose other dimensions were known
	byMany                     // several relations together
	byBlock                    // a block of non-linear relations
)

// A Conflict is something that can't hold: a relation with what it leans on,
// or a sign rule, or limits that leave nothing.
type Conflict struct {
	Relations []int32 // enough of them to show it, in order
}

// An OddCount is a count that can't be what it comes out as: no whole number,
// out of bounds, or NaN where nothing bounds it.
type OddCount struct {
	Var      relation.VarID
	Value, U float64
}

// An Undecided is a block of dimensions for which the equations that should
// give them have no solution, or several.
type Undecided struct {
	Vars      []relation.VarID
	Relations []int32
	Given     []int32     // the other relations that those lean on
	Found     [][]float64 // the solutions, each a value for every one of vars
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
	seen := make(map[int32]bool)
	seenVar := make(map[relation.VarID]bool)
	var todo []relation.VarID
	see := func(v relation.VarID) {
		if !seenVar[v] {
			seenVar[v] = true
			todo = append(todo, v)
		}
	}
	add := func(r int32) {
		if r >= 0 && !seen[r] {
			seen[r] = true
			for _, v := range q.Vars[r] {
				see(v)
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
			for _, row := range q.step.Giving(c) {
				add(q.stepRows[row])
			}
		}
		switch g := q.giver[v]; g.kind {
		case byOne:
			add(g.at)
		case byMany:
			by := q.steps[g.at]
			for _, row := range by.Giving(g.col) {
				add(by.relation[row])
			}
		case byBlock:
			for _, r := range q.solved[g.at] {
				add(r)
			}
		}
	}
	return slices.Sorted(maps.Keys(seen))
}
