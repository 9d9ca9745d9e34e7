package solve

import (
	"math"
	"slices"

	"foredge/eval/relation"
)

// freedom finds the needed dimensions that nothing decides and puts together
// what moves together: dimensions whose forms share parameters, directly or
// through others. That falls out the same whichever dimensions were taken for
// parameters.
func (d *design) freedom() {
	q := d.q
	for v := range d.sys.Vars {
		if d.sys.Vars[v].Needed && math.IsNaN(d.sol.Values[v]) && !q.known[v] {
			q.varForm(relation.VarID(v))
		}
	}
	for _, r := range q.pending {
		for _, v := range q.vars[r] {
			if !q.known[v] {
				q.varForm(v) // so that it has a parameter
			}
		}
	}
	group := make([]int32, len(q.space.uses))
	for i := range group {
		group[i] = int32(i)
	}
	var root func(int32) int32
	root = func(i int32) int32 {
		for group[i] != i {
			group[i] = group[group[i]]
			i = group[i]
		}
		return i
	}
	for v, f := range q.formOf {
		if f < 0 || q.known[v] {
			continue
		}
		terms := q.space.forms[f].terms
		for _, t := range terms {
			a, b := root(terms[0].at), root(t.at)
			group[max(a, b)] = min(a, b)
		}
	}
	// An equation still waiting for more joins what it mentions.
	for _, r := range q.pending {
		if !q.isEquation(r) {
			continue
		}
		first := int32(-1)
		for _, v := range q.vars[r] {
			if q.known[v] {
				continue
			}
			for _, t := range q.varForm(v).terms {
				if first < 0 {
					first = t.at
				}
				a, b := root(first), root(t.at)
				group[max(a, b)] = min(a, b)
			}
		}
	}
	// What hangs on a count or block already reported is not reported again.
	told := map[int32]bool{}
	tell := func(v relation.VarID) {
		if !q.known[v] && q.formOf[v] >= 0 {
			for _, t := range q.varForm(v).terms {
				told[root(t.at)] = true
			}
		}
	}
	for _, t := range d.sol.Tangles {
		for _, v := range t.Vars {
			tell(v)
		}
	}
	for _, c := range d.sol.Counts {
		tell(c.Var)
	}
	var order []int32
	members := map[int32][]relation.VarID{}
	for v := range d.sys.Vars {
		id := relation.VarID(v)
		if !math.IsNaN(d.sol.Values[v]) || q.known[v] || q.formOf[v] < 0 {
			continue
		}
		f := q.varForm(id)
		if len(f.terms) == 0 {
			continue
		}
		// In a part too large for that, what no equation decides is taken as
		// free, though limits might leave it no room.
		if q.part(f).poly != nil {
			if d.pin(id, f) {
				continue
			}
		}
		if !d.sys.Vars[v].Needed {
			continue
		}
		g := root(f.terms[0].at)
		if told[g] {
			continue
		}
		if members[g] == nil {
			order = append(order, g)
		}
		members[g] = append(members[g], id)
	}
	for _, g := range order {
		free := FreeGroup{Vars: members[g]}
		best := -1
		for i, v := range free.Vars {
			if i == mostCompared {
				break
			}
			f := q.varForm(v)
			n := 0
			for _, w := range free.Vars {
				if parallel(f.terms, q.varForm(w).terms) {
					n++
				}
			}
			if n > best {
				best, free.Settle = n, v
			}
		}
		free.Low, free.High = q.reach(q.varForm(free.Settle))
		d.sol.Free = append(d.sol.Free, free)
	}
	// A needed dimension of a bench that its readings leave open.
	for v := range d.sys.Vars {
		id := relation.VarID(v)
		if d.sys.Vars[v].Bench != 0 && d.sys.Vars[v].Needed && math.IsNaN(d.sol.Values[v]) &&
			!slices.ContainsFunc(d.sol.Free, func(g FreeGroup) bool { return slices.Contains(g.Vars, id) }) {
			d.sol.Free = append(d.sol.Free, FreeGroup{Vars: []relation.VarID{id}, Settle: id, High: math.Inf(1)})
		}
	}
}

// pin settles a dimension to which limits alone leave no room. It moves with
// the benches as those limits do.
func (d *design) pin(v relation.VarID, f affine) bool {
	low, at, is := d.q.least(f)
	if is != bounded {
		return false
	}
	high, from, is := d.q.least(f.scale(-1))
	if is != bounded || -high.c-low.c > decidedRange {
		return false
	}
	d.sol.Values[v] = (low.c - high.c) / 2
	d.sol.U[v] = d.adj.uncertainty(low.g)
	d.sol.uncertain.grad[v] = low.g
	limit := int32(-1)
	for _, l := range d.limitsOf(append(at, from...)) {
		if limit < 0 {
			limit = l
		}
	}
	d.pinned = append(d.pinned, pinning{v, limit})
	return true
}

// mostCompared is how many dimensions of a group are tried for the one that
// would settle the most.
const mostCompared = 200

// parallel reports whether one form is a multiple of the other, constants
// apart.
func parallel(a, b []term) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i].at != b[i].at {
			return false
		}
		if d := a[i].c*b[0].c - a[0].c*b[i].c; math.Abs(d) > 1e-9*math.Abs(a[i].c*b[0].c) {
			return false
		}
	}
	return true
}
