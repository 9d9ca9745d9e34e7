package must

import (
	"maps"

	"foredge/eval/relation"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

// Within is a problem about a part of what this one is about, with what is known
// so far as facts.
func (q *Problem) Within(part plan.Scope) *Problem {
	t := NewProblem(q.Solver, part, nil, q.signs)
	t.Give(q.Value, q.Known, q.Grad)
	t.leeway = maps.Clone(q.leeway)
	t.Uncertainty = q.Uncertainty
	return t
}

// Adopt takes over what a problem of a part has found. What the part has left
// open gets parameters and forms of its own; those it had before are no longer
// asked for.
func (q *Problem) Adopt(part *Problem) {
	open := part.waitingFor() // before its forms are counted
	forms, params := q.Space.Append(part.Space)
	steps, solved := int32(len(q.steps)), int32(len(q.solved))
	q.steps, q.solved = append(q.steps, part.steps...), append(q.solved, part.solved...)
	for _, v := range part.scope.Vars {
		if q.Known[v] {
			continue
		}
		if f := q.FormOf[v]; f >= 0 {
			for _, t := range q.Space.Forms[f].Terms {
				q.Space.Gone = append(q.Space.Gone, t.At)
			}
		}
		switch by := &part.giver[v]; by.kind {
		case byMany:
			by.at += steps
		case byBlock:
			by.at += solved
		}
		q.Value[v], q.Known[v], q.Grad[v], q.giver[v], q.FormOf[v] = part.Value[v], part.Known[v], part.Grad[v], part.giver[v], -1
		if f := part.FormOf[v]; f >= 0 && !part.Known[v] {
			q.FormOf[v] = f + forms
		}
	}
	for _, r := range part.scope.Relations {
		q.dead[r] = q.dead[r] || part.dead[r]
	}
	for _, l := range part.limit {
		l.form += forms
		q.tie(l)
	}
	if q.waits != nil { // else it has not been asked for yet, and is found as things are now
		for p := range open {
			q.waits[p+params] = true
		}
	}
	q.owner = nil
	q.Rounded = append(q.Rounded, part.Rounded...)
	q.leeway = part.leeway
	q.Rough = q.Rough || part.Rough
}

// Unknown reports whether a dimension isn't known.
func (q *Problem) Unknown(v relation.VarID) bool { return !q.Known[v] }

// Connected is what hangs together with some dimensions: the relations in play
// that mention them, what else is open in those, and so on. If also is not nil, it
// says what else hangs together with an open dimension.
func (q *Problem) Connected(todo []relation.VarID, open func(relation.VarID) bool, also func(relation.VarID) []relation.VarID) plan.Scope {
	marks := NewProblem(q.Solver, plan.Scope{}, nil, q.signs)
	defer marks.Close()
	s := &marks.scope
	see := func(v relation.VarID) {
		if !marks.seen[v] {
			marks.seen[v] = true
			s.Vars = append(s.Vars, v)
		}
	}
	for _, v := range todo {
		see(v)
	}
	for i := 0; i < len(s.Vars); i++ {
		v := s.Vars[i]
		if !open(v) {
			continue
		}
		if also != nil {
			for _, w := range also(v) {
				see(w)
			}
		}
		for _, of := range [2]sparse.Lists[int32]{q.Equations, q.Limits} {
			for _, r := range of.Of(int32(v)) {
				if q.Active[r] && !marks.Active[r] {
					marks.Active[r] = true
					s.Relations = append(s.Relations, r)
					for _, w := range q.Vars[r] {
						see(w)
					}
				}
			}
		}
	}
	s.Sort()
	return *s
}
