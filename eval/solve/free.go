package solve

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/graph"
	"foredge/eval/solve/level"
	"foredge/eval/solve/sparse"
)

// freedom finds the needed dimensions that nothing decides and puts together
// what moves together: dimensions whose forms share parameters, directly or
// through others. That falls out the same whichever dimensions were taken for
// parameters.
func (t *telling) freedom() {
	q := t.Problem
	for v := range t.Sys.Vars {
		if t.Sys.Vars[v].Needed && math.IsNaN(t.sol.Values[v]) && !q.Known[v] {
			q.VarForm(relation.VarID(v))
		}
	}
	together := t.moving()
	told := t.alreadyTold(together)
	var order []int32
	members := map[int32][]relation.VarID{}
	for v := range t.Sys.Vars {
		id := relation.VarID(v)
		if !math.IsNaN(t.sol.Values[v]) || q.Known[v] || q.FormOf[v] < 0 {
			continue
		}
		f := q.VarForm(id)
		if len(f.Terms) == 0 {
			continue
		}
		// In a part too large for that, what no equation decides is taken as
		// free, though limits might leave it no room.
		if t.pin(id, f) {
			continue
		}
		if !t.Sys.Vars[v].Needed {
			continue
		}
		g := together.Root(f.Terms[0].At)
		if told[g] {
			continue
		}
		if members[g] == nil {
			order = append(order, g)
		}
		members[g] = append(members[g], id)
	}
	var clashing map[relation.VarID]bool
	if len(order) > 0 {
		clashing = t.clashing()
	}
	for _, g := range order {
		if t.tellApart(members[g]) {
			continue
		}
		free := FreeGroup{Vars: members[g], Settle: t.settlesMost(members[g]), Low: math.Inf(-1), High: math.Inf(1)}
		// What a clash leaves open isn't told, and may be much.
		if !slices.ContainsFunc(free.Vars, func(v relation.VarID) bool { return clashing[v] }) {
			free.Low, free.High = q.Reach(q.VarForm(free.Settle))
		}
		t.sol.Free = append(t.sol.Free, free)
	}
	t.apartUnasked()
	t.freeOnBenches()
}

// apartUnasked tells the clashes of lines about what is open and nobody asks for, as a
// board's thickness that isn't stated: what must hold has to be able to, asked for or not.
func (t *telling) apartUnasked() {
	q := t.Problem
	for _, r := range slices.Concat(q.Pending, q.Hard) {
		open := false
		for _, v := range q.Vars[r] {
			if !q.Known[v] {
				q.VarForm(v) // so that its limits count
				open = true
			}
		}
		if open && q.ApartIn(r) {
			t.tellApart(q.Vars[r])
		}
	}
}

// clashing are the dimensions of which lines that clash speak.
func (t *telling) clashing() map[relation.VarID]bool {
	out := map[relation.VarID]bool{}
	for _, c := range t.sol.Clashes {
		for _, r := range c.Relations {
			for _, v := range t.Plan.Vars[r] {
				out[v] = true
			}
		}
	}
	return out
}

// moving joins the parameters that move together.
func (t *telling) moving() graph.Groups {
	q := t.Problem
	for _, r := range q.Pending {
		for _, v := range q.Vars[r] {
			if !q.Known[v] {
				q.VarForm(v) // so that it has a parameter
			}
		}
	}
	together := graph.NewGroups(len(q.Space.Uses))
	for v, f := range q.FormOf {
		if f < 0 || q.Known[v] {
			continue
		}
		terms := q.Space.Forms[f].Terms
		for _, t := range terms {
			together.Join(terms[0].At, t.At)
		}
	}
	// An equation still waiting for more joins what it mentions.
	for _, r := range q.Pending {
		if !q.IsEquation(r) {
			continue
		}
		first := int32(-1)
		for _, v := range q.Vars[r] {
			if q.Known[v] {
				continue
			}
			for _, t := range q.VarForm(v).Terms {
				if first < 0 {
					first = t.At
				}
				together.Join(first, t.At)
			}
		}
	}
	return together
}

// alreadyTold are the groups that hang on a count or a block that has been told:
// they are not told again.
func (t *telling) alreadyTold(together graph.Groups) map[int32]bool {
	told := map[int32]bool{}
	tell := func(v relation.VarID) {
		if !t.Problem.Known[v] && t.Problem.FormOf[v] >= 0 {
			for _, term := range t.Problem.VarForm(v).Terms {
				told[together.Root(term.At)] = true
			}
		}
	}
	for _, x := range t.sol.Tangles {
		for _, v := range x.Vars {
			tell(v)
		}
	}
	for _, c := range t.sol.Counts {
		tell(c.Var)
	}
	return told
}

// mostCompared is how many dimensions of a group are tried for the one that
// would settle the most.
const mostCompared = 200

// settlesMost is the dimension of a group that gives the most of the others.
func (t *telling) settlesMost(group []relation.VarID) relation.VarID {
	best, settle := -1, relation.VarID(0)
	for _, v := range group[:min(len(group), mostCompared)] {
		f := t.Problem.VarForm(v)
		n := 0
		for _, w := range group {
			if parallel(f.Terms, t.Problem.VarForm(w).Terms) {
				n++
			}
		}
		if n > best {
			best, settle = n, v
		}
	}
	return settle
}

// freeOnBenches tells the needed dimensions of benches that their readings
// leave open.
func (t *telling) freeOnBenches() {
	told := map[relation.VarID]bool{}
	for _, g := range t.sol.Free {
		for _, v := range g.Vars {
			told[v] = true
		}
	}
	for _, x := range t.sol.Tangles {
		for _, v := range x.Vars {
			told[v] = true
		}
	}
	for v := range t.Sys.Vars {
		id := relation.VarID(v)
		if t.Sys.Vars[v].Bench != 0 && t.Sys.Vars[v].Needed && math.IsNaN(t.sol.Values[v]) && !told[id] {
			t.sol.Free = append(t.sol.Free, FreeGroup{Vars: []relation.VarID{id}, Settle: id, High: math.Inf(1)})
		}
	}
}

// pin settles a dimension to which limits alone leave no room. It moves with
// the benches as those limits do.
func (t *telling) pin(v relation.VarID, f sparse.Affine) bool {
	at, limit, ok := t.Problem.Pinned(f, level.DecidedRange)
	if !ok {
		return false
	}
	t.sol.Values[v] = at.Const
	t.sol.U[v] = t.Adj.Uncertainty(at.Grad)
	t.sol.uncertain.grad[v] = at.Grad
	t.Pinned = append(t.Pinned, level.Pinning{At: v, Limit: limit})
	return true
}

// parallel reports whether one form is a multiple of the other, constants
// apart.
func parallel(a, b []sparse.Term) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i].At != b[i].At {
			return false
		}
		if d := a[i].Coef*b[0].Coef - a[0].Coef*b[i].Coef; math.Abs(d) > 1e-9*math.Abs(a[i].Coef*b[0].Coef) {
			return false
		}
	}
	return true
}
