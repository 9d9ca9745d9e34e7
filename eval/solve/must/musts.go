package must

import "slices"

// Solve works out all that the equations decide. What they leave open stands
// in q.Space afterwards, what can't hold in q.Conflicts.
func (q *Problem) Solve() {
	q.start()
	for {
		q.Spend(perRelation*(1+len(q.scope.Relations)), -1)
		q.propagate()
		step, cols, rows := q.together()
		again := q.take(step, cols, rows)
		if again {
			continue
		}
		q.openSpace(step, cols, rows)
		// With benches open, a product on the bench and on what lies on it say the
		// same, which no block of as many equations as unknowns may hold.
		if q.benches || !q.blocks() {
			return
		}
	}
}

// Failed reports whether the musts can't all hold.
func (q *Problem) Failed() bool {
	return q.Refused || len(q.Conflicts) > 0 || slices.ContainsFunc(q.Undecided, func(u Undecided) bool { return len(u.Found) == 0 })
}

// Core is the smallest conflict found of a trial that has failed.
func (q *Problem) Core() Conflict {
	all := slices.Clone(q.Conflicts)
	if q.Refused {
		all = append(all, q.refusal)
	}
	for _, u := range q.Undecided {
		if len(u.Found) == 0 {
			all = append(all, q.conflict(u.Relations, u.Vars))
		}
	}
	return slices.MinFunc(all, func(a, b Conflict) int {
		return len(a.Relations) + len(a.Rows) - len(b.Relations) - len(b.Rows)
	})
}
