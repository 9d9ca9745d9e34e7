package must

import (
	"foredge/eval/relation"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

// Lines are some of a system's lines, to be tried by themselves.
type Lines struct {
	Relations []int32
	// Benches says that the benches' own dimensions are unknown too: then facts
	// always hold, and of the benches' relations those count that are among
	// Relations, and Rows, which say what was read.
	Benches bool
	Rows    []ExtraRow
}

// Trial solves the musts of some lines with the relations that always hold and
// touch them, or some more dimensions that will be asked of it. What hangs on a
// dimension that so much hangs on, and leaves it as it is, it leaves out.
func (q *Problem) Trial(lines Lines, also []relation.VarID) *Problem {
	t := NewProblem(q.Solver, plan.Scope{}, nil, q.signs)
	t.benches, t.Extra = lines.Benches, lines.Rows
	var hung hangings
	if !lines.Benches {
		hung = q.hangings()
	}
	var todo []relation.VarID
	see := func(v relation.VarID) {
		if !t.seen[v] {
			t.seen[v] = true
			t.scope.Vars = append(t.scope.Vars, v)
			todo = append(todo, v)
		}
	}
	add := func(r int32) {
		if t.Active[r] {
			return
		}
		t.Active[r] = true
		t.scope.Relations = append(t.scope.Relations, r)
		for _, v := range q.Vars[r] {
			see(v)
		}
	}
	for _, m := range lines.Relations {
		add(m)
	}
	for _, x := range lines.Rows {
		for _, term := range x.Form.Terms {
			see(term.Var)
		}
	}
	for _, v := range also {
		see(v)
	}
	for len(todo) > 0 {
		v := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if q.given(v, lines.Benches) {
			t.Value[v], t.Known[v], t.Given[v], t.Grad[v] = q.Value[v], true, true, q.Grad[v]
			continue
		}
		if kept, ok := hung.kept[v]; ok {
			for _, r := range kept {
				if q.Active[r] {
					add(r)
				}
			}
			continue
		}
		for _, of := range [2]sparse.Lists[int32]{q.Equations, q.Limits} {
			for _, r := range of.Of(int32(v)) {
				if q.always(r, v, lines.Benches) {
					add(r)
				}
			}
		}
	}
	t.scope.Sort()
	t.Uncertainty = q.Uncertainty
	t.Solve()
	t.Bound()
	return t
}

// given reports whether a trial takes a dimension as it is.
func (q *Problem) given(v relation.VarID, benches bool) bool {
	return q.Given[v] && !(benches && q.Sys.Vars[v].Bench != 0)
}

// always reports whether a relation that mentions a dimension holds whatever the
// lines say: one of the kinds' own or, with the benches open, that a panel lies on
// its notebook. What else lies on the notebook says nothing of it.
func (q *Problem) always(r int32, v relation.VarID, benches bool) bool {
	rel := &q.Sys.Relations[r]
	if benches && q.Sys.Vars[v].Bench != 0 {
		return rel.Role == relation.Own && rel.Bench != 0
	}
	return q.Active[r] && (rel.Role == relation.Own || benches && rel.Role == relation.Fact)
}
