package must

import "slices"

// Solve works out all that the equations decide. What they leave open stands
// in q.Space afterwards, what can't hold in q.Conflicts.
func (q *Problem) Solve() {
	q.start()
	for {
		q.propagate()
		step, cols, rows := q.together()
		again := q.take(step, cols, rows)
		if again {
			continue
		}
		q.openSpace(step, cols, rows)
		if q.blocks() {
			continue
		}
		return
	}
}

// Failed reports whether the musts can't all hold.
func (q *Problem) Failed() bool {
	return len(q.Conflicts) > 0 || slices.ContainsFunc(q.Undecided, func(u Undecided) bool { return len(u.Found) == 0 })
}
