package solve

import (
	"maps"
	"math"
	"slices"

	"foredge/eval/relation"
)

// most finds, for each count that is to be as large as can be, the largest
// whole number with which the musts can hold, and the row be centred where
// nothing ties its ends.
func (d *design) most() {
	var stale map[relation.VarID]bool // what hangs together with counts found since d.q was made
	renew := func() {
		if stale != nil {
			d.q = d.begin(nil)
			d.q.bound()
			stale = nil
		}
	}
	for v := range d.sys.Vars {
		id := relation.VarID(v)
		if !d.sys.Vars[v].Most || d.sys.Vars[v].Bench != 0 {
			continue
		}
		if stale[id] {
			renew()
		}
		if d.q.known[v] {
			continue
		}
		n, part, cause, problem := d.largest(id)
		if problem != nil {
			d.sol.Counts = append(d.sol.Counts, *problem)
			continue
		}
		if d.counted == nil {
			d.counted = map[relation.VarID]float64{}
			d.because = map[relation.VarID]Cause{}
		}
		d.counted[id] = float64(n)
		d.because[id] = cause
		if stale == nil {
			stale = map[relation.VarID]bool{}
		}
		for _, w := range part.vars {
			if !d.q.known[w] {
				stale[w] = true
			}
		}
	}
	renew()
}

// A spacing is how a count takes up room: alpha + count*beta = 0, where beta
// is the pitch or its opposite.
type spacing struct {
	relation    int32
	alpha, beta relation.Form
}

// spacingOf finds the equation run = (count - 1) * pitch of a count.
func (d *design) spacingOf(count relation.VarID) (spacing, bool) {
	for _, r := range d.equations.of(int32(count)) {
		if !d.q.isEquation(r) {
			continue
		}
		with := func(n float64) (relation.Form, bool) {
			return d.sys.Relations[r].Difference(func(v relation.VarID) (float64, bool) {
				if v == count {
					return n, true
				}
				return d.q.lookup(v)
			})
		}
		zero, ok := with(0)
		one, ok1 := with(1)
		if !ok || !ok1 {
			continue
		}
		beta := one.Plus(zero, -1)
		if len(beta.Terms) == 0 && beta.Const == 0 {
			continue
		}
		return spacing{r, zero, beta}, true
	}
	return spacing{}, false
}

// largest finds the greatest number that a count can be, and what hangs
// together with it.
func (d *design) largest(count relation.VarID) (int, scope, Cause, *CountProblem) {
	fail := func(p CountProblem) (int, scope, Cause, *CountProblem) { return 0, scope{}, Cause{}, &p }
	sp, ok := d.spacingOf(count)
	if !ok {
		return fail(CountProblem{Var: count, Value: math.NaN(), Unbounded: true})
	}
	// The least pitch by what is stated: sign rules don't count.
	beta := d.q.form(sp.beta)
	least, greatest := d.q.statedReach(beta)
	pitch := least
	if greatest < 0 {
		pitch = -greatest
	}
	if !(pitch > 1e-9) || least <= 0 && greatest >= 0 {
		return fail(CountProblem{Var: count, Value: math.NaN(), Unbounded: true})
	}
	centring := d.centring(count, sp)
	cause := Cause{Kind: ByRelation, Index: int(sp.relation)}
	for _, v := range d.vars[sp.relation] {
		if v != count && d.q.known[v] {
			cause.From = append(cause.From, v)
		}
	}
	low, high := d.q.reach(d.q.form(sp.alpha))
	room := max(math.Abs(low), math.Abs(high)) / pitch
	top := mostCount
	if room < mostCount {
		top = int(math.Floor(room + tolerance))
	}
	seeds := []relation.VarID{count}
	if centring != nil {
		seeds = append(seeds, centring.Terms[0].Var, centring.Terms[1].Var)
	}
	part := d.q.connected(seeds, nil)
	fits := func(n int) bool { return n >= 0 && d.fits(part, count, float64(n), centring) }
	// What fits is a stretch of numbers: gallop down to it, then halve.
	bad, good := top+1, -1
	for step, n := 1, top; n >= 1; n -= step {
		if fits(n) {
			good = n
			break
		}
		bad = n
		if n < top-4 {
			step *= 2
		}
	}
	if good < 0 {
		for n := min(top, 300); n >= 1 && good < 0; n-- { // a stretch the gallop jumped over
			if fits(n) {
				good, bad = n, n+1
			}
		}
	}
	if good < 0 {
		return fail(CountProblem{Var: count, Value: 0})
	}
	for bad-good > 1 {
		n := (good + bad) / 2
		if fits(n) {
			good = n
		} else {
			bad = n
		}
	}
	return good, part, cause, nil
}

// fits reports whether the musts, and the row's centring if asked for, can
// hold with a given count. part is all that hangs together with it.
func (d *design) fits(part scope, count relation.VarID, n float64, centring *relation.Form) bool {
	q := newProblem(d.plan, part, nil, true)
	defer q.leave()
	q.give(d.q.value, d.q.known, d.q.grad)
	q.value[count], q.known[count], q.given[count] = n, true, true
	q.leeway = maps.Clone(d.q.leeway)
	q.uncertainty = d.adj.uncertainty
	if centring != nil {
		q.extra = []extraRow{{form: *centring}}
	}
	q.musts()
	if q.failed() || q.refused {
		return false
	}
	q.bound()
	return !q.failed() && !q.refused
}

// centring finds the default that centres the row of a count: it sets equal
// two dimensions that stand with the row's run in one of its own equations.
// It is nil where there is none or where a line ties one of the two.
func (d *design) centring(count relation.VarID, sp spacing) *relation.Form {
	if d.pairs == nil {
		d.pairs = map[relation.VarID][]int{}
		for i := range d.sys.Defaults {
			if def := &d.sys.Defaults[i]; def.Left.Op == relation.Ref && def.Right.Op == relation.Ref && d.sane(def.Left, def.Right) {
				d.pairs[def.Left.Var] = append(d.pairs[def.Left.Var], i)
			}
		}
	}
	first := -1
	for _, v := range d.vars[sp.relation] {
		if v == count {
			continue
		}
		for _, r := range d.equations.of(int32(v)) {
			if r == sp.relation || d.sys.Relations[r].Role != relation.Own {
				continue
			}
			for _, w := range d.vars[r] {
				for _, i := range d.pairs[w] {
					if (first < 0 || i < first) && slices.Contains(d.vars[r], d.sys.Defaults[i].Right.Var) {
						first = i
					}
				}
			}
		}
	}
	if first < 0 {
		return nil
	}
	left, right := d.sys.Defaults[first].Left.Var, d.sys.Defaults[first].Right.Var
	if d.tied(left) || d.tied(right) {
		return nil
	}
	return &relation.Form{Terms: []relation.Term{{Var: left, Coef: 1}, {Var: right, Coef: -1}}}
}

// tied reports whether a line of the design is an equation about a dimension.
func (d *design) tied(v relation.VarID) bool {
	return slices.ContainsFunc(d.equations.of(int32(v)), func(r int32) bool {
		return d.active[r] && d.sys.Relations[r].Role != relation.Own
	})
}

// statedReach is the range of a form by the stated limits alone.
func (q *problem) statedReach(a affine) (low, high float64) {
	if len(a.terms) == 0 {
		return a.c, a.c
	}
	params, limits := q.space.around(a)
	kept := limits[:0]
	for _, l := range limits {
		if by, ok := q.limitOf(l); ok && by.relation >= 0 {
			kept = append(kept, l)
		}
	}
	return q.polyhedron(params, kept).reach(a)
}
