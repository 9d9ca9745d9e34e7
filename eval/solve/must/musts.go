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
func (q *Problem) Core() (core Conflict) {
	least := -1
	see := func(c Conflict) {
		if n := len(c.Relations) + len(c.Rows); least < 0 || n < least {
			least, core = n, c
		}
	}
	for _, c := range q.Conflicts {
		see(c)
	}
	if q.refusal != nil {
		see(*q.refusal)
	}
	for _, u := range q.Undecided {
		if len(u.Found) == 0 {
			see(q.conflict(u.Relations, u.Vars))
		}
	}
	return core
}
