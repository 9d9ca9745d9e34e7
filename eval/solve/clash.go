package solve

import (
	"math"
	"slices"

	"foredge/eval/relation"
)

// clashes makes an irreducible clash of each conflict of a problem. A conflict
// that shares a line with a clash already found is left out: it shows itself
// once that one is mended.
func (p *plan) clashes(q *problem) []Clash {
	var out []Clash
	taken := map[int]bool{}
	for _, w := range q.wrong {
		c, ok := q.clash(w)
		if !ok || slices.ContainsFunc(c.Relations, func(r int) bool { return taken[r] }) {
			continue
		}
		for _, r := range c.Relations {
			taken[r] = true
		}
		out = append(out, c)
	}
	return out
}

// clash drops from a conflict every line without which it is still one, and
// measures by how much the last misses.
func (q *problem) clash(w conflict) (Clash, bool) {
	var members []int32
	for _, r := range w.relations {
		if r >= 0 && q.active[r] && q.sys.Relations[r].Role != relation.Own {
			members = append(members, r)
		}
	}
	slices.SortStableFunc(members, func(a, b int32) int {
		x, y := q.sys.Relations[a].At, q.sys.Relations[b].At
		switch {
		case x.Before(y):
			return -1
		case y.Before(x):
			return 1
		}
		return int(a) - int(b)
	})
	if len(members) == 0 || !q.clashing(members) {
		return Clash{}, false
	}
	for i := 0; i < len(members); {
		without := slices.Delete(slices.Clone(members), i, i+1)
		if q.clashing(without) {
			members = without
		} else {
			i++
		}
	}
	c := Clash{}
	for _, m := range members {
		c.Relations = append(c.Relations, int(m))
	}
	q.measure(&c, members)
	return c, true
}

// trial solves the musts of some lines with the kinds' own relations that
// touch them, or some more dimensions that will be asked of it.
func (q *problem) trial(members []int32, also []relation.VarID) *problem {
	t := newProblem(q.plan, scope{}, nil, q.signs)
	var todo []relation.VarID
	see := func(v relation.VarID) {
		if !t.seen[v] {
			t.seen[v] = true
			t.scope.vars = append(t.scope.vars, v)
			todo = append(todo, v)
		}
	}
	add := func(r int32) {
		if t.active[r] {
			return
		}
		t.active[r] = true
		t.scope.relations = append(t.scope.relations, r)
		for _, v := range q.vars[r] {
			see(v)
		}
	}
	for _, m := range members {
		add(m)
	}
	for _, v := range also {
		see(v)
	}
	for len(todo) > 0 {
		v := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if q.given[v] {
			continue
		}
		for _, of := range [2]lists[int32]{q.equations, q.limits} {
			for _, r := range of.of(int32(v)) {
				if q.active[r] && q.sys.Relations[r].Role == relation.Own {
					add(r)
				}
			}
		}
	}
	t.scope.sort()
	t.give(q.value, q.given, q.grad)
	t.uncertainty = q.uncertainty
	t.musts()
	t.bound()
	return t
}

// clashing reports whether some lines with the kinds' own can't all hold.
func (q *problem) clashing(members []int32) bool {
	t := q.trial(members, nil)
	defer t.leave()
	return t.failed()
}

// failed reports whether the musts can't all hold.
func (q *problem) failed() bool {
	return len(q.wrong) > 0 || slices.ContainsFunc(q.tangles, func(t Tangle) bool { return len(t.Found) == 0 })
}

// measure finds the range that the other members leave for the last one's
// left side.
func (q *problem) measure(c *Clash, members []int32) {
	last := members[len(members)-1]
	rel := &q.sys.Relations[last]
	c.Low, c.High, c.Asked, c.Miss = math.Inf(-1), math.Inf(1), math.NaN(), math.NaN()
	t := q.trial(members[:len(members)-1], q.vars[last])
	defer t.leave()
	for _, v := range q.vars[last] {
		if !t.known[v] {
			t.varForm(v)
		}
	}
	left, lok := rel.Left.Linear(t.lookup)
	right, rok := rel.Right.Linear(t.lookup)
	if lok {
		c.Low, c.High = t.reach(t.form(left))
	}
	if !rok {
		return
	}
	low, high := t.reach(t.form(right))
	if !lok {
		if low == high {
			c.Asked = low
		}
		return
	}
	// How far left - right is from what the sign of the relation asks.
	least, most := t.reach(t.form(left.Plus(right, -1)))
	switch {
	case least > 0 && rel.Sign != relation.GE:
		c.Miss = least
		c.Asked = c.Low - least
	case most < 0 && rel.Sign != relation.LE:
		c.Miss = -most
		c.Asked = c.High - most
	}
	if high-low <= tolerance {
		c.Asked = low
	}
}
