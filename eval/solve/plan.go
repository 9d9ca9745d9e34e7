package solve

import (
	"math"
	"slices"

	"foredge/eval/relation"
)

// tolerance is how far a relation may be from holding, in mm (or degrees, or
// plain numbers).
const tolerance = 1e-6

// mostCount is the largest count there may be.
const mostCount = 10000

// A plan is what every solve of one system shares: the system's relations made
// ready. It is not changed once made.
type plan struct {
	sys    *relation.System
	vars   [][]relation.VarID // of each relation
	forms  []relation.Form    // left - right, where that is linear outright
	linear []bool
	broken []bool // can't be computed at all: a quotient by 0, a number that is none
	// equations lists the equations that mention a dimension, limits the
	// inequalities.
	equations, limits lists[int32]
	readings          []reading          // of the system's, ready
	own               [][]relation.VarID // the dimensions of each bench
	benches           []scope            // with all dimensions that their lines and readings mention
	design            scope              // what is no bench, with all dimensions
	rooms             *rooms
}

func planOf(sys *relation.System) *plan {
	n := len(sys.Relations)
	p := &plan{
		sys:    sys,
		vars:   make([][]relation.VarID, n),
		forms:  make([]relation.Form, n),
		linear: make([]bool, n),
		broken: make([]bool, n),
	}
	equations, limits := newLister[int32](len(sys.Vars)), newLister[int32](len(sys.Vars))
	var terms slab[relation.Term]
	var ids slab[relation.VarID]
	room := make([]relation.Term, 0, 16)
	for i := range sys.Relations {
		r := &sys.Relations[i]
		var all []relation.VarID
		var form relation.Form
		form, p.linear[i] = r.DifferenceIn(room, relation.Nothing)
		if p.linear[i] {
			p.forms[i] = relation.Form{Terms: terms.copy(form.Terms), Const: form.Const}
			all = ids.take(len(form.Terms))
			for j, t := range form.Terms {
				all[j] = t.Var
				p.broken[i] = p.broken[i] || !finite(t.Coef)
			}
			p.broken[i] = p.broken[i] || !finite(p.forms[i].Const)
		} else {
			all = r.Vars()
		}
		for _, v := range all {
			if v < 0 || int(v) >= len(sys.Vars) {
				p.broken[i] = true
			}
		}
		if p.broken[i] {
			continue
		}
		p.vars[i] = all
		if p.broken[i] {
			continue
		}
		for _, v := range all {
			if r.Sign == relation.EQ {
				equations.expect(int32(v))
			} else {
				limits.expect(int32(v))
			}
		}
	}
	for i, vars := range p.vars {
		for _, v := range vars {
			if sys.Relations[i].Sign == relation.EQ {
				equations.put(int32(v), int32(i))
			} else {
				limits.put(int32(v), int32(i))
			}
		}
	}
	p.equations, p.limits = equations.done(), limits.done()
	p.readings = make([]reading, len(sys.Readings))
	for i := range sys.Readings {
		read := &p.readings[i]
		form, ok := sys.Readings[i].Left.LinearIn(room, relation.Nothing)
		if !ok {
			read.vars = sys.Readings[i].Left.Vars()
			continue
		}
		read.linear = true
		read.form = relation.Form{Terms: terms.copy(form.Terms), Const: form.Const}
		read.vars = ids.take(len(form.Terms))
		for j, t := range form.Terms {
			read.vars[j] = t.Var
		}
	}
	p.divide()
	return p
}

// A reading is what was read, as an expression in dimensions.
type reading struct {
	vars   []relation.VarID
	linear bool // outright; then form is it
	form   relation.Form
}

// sound lists the dimensions that there are of those that relation r mentions.
func (p *plan) sound(r int) []relation.VarID {
	return slices.DeleteFunc(p.sys.Relations[r].Vars(), func(v relation.VarID) bool {
		return v < 0 || int(v) >= len(p.sys.Vars)
	})
}

// A giver is the step that made a dimension known.
type giver struct {
	kind giverKind
	at   int32 // the relation (byOne), the place in problem.steps (byMany) or in problem.solved (byBlock)
	col  int32 // for byMany, the column of the step
}

// A step is an elimination that made dimensions known.
type step struct {
	*elimination
	relation []int32 // of each row, below 0 for an extra row
}

type giverKind uint8

const (
	byNothing giverKind = iota // not known, or known from the start
	byOne                      // one relation whose other dimensions were known
	byMany                     // several relations together
	byBlock                    // a block of non-linear relations
)

// A conflict is something that can't hold: a relation with what it leans on,
// or a sign rule, or limits that leave nothing.
type conflict struct {
	relations []int32 // enough of them to show it, in order
}

// A problem is the musts of one part of a system, on the way to being solved.
type problem struct {
	*plan
	*room
	scope  scope
	active []bool // which relations are in play
	signs  bool   // whether dimensions that aren't Signed must not be negative

	queue   []int32
	terms   [1]relation.Term // room for what one equation leaves
	piece   [1]relation.Form // room for the form of one limit
	sum     sum
	kept    slab[term]        // terms of forms
	steps   []step            // what made dimensions known by several relations
	solved  [][]int32         // the relations of each block that did
	leeway  map[int32]float64 // what rounding a count costs an equation
	pending []int32           // non-linear equations still with unknowns

	wrong   []conflict
	counts  []CountProblem
	tangles []Tangle
	// uncertainty gives the standard uncertainty of a gradient.
	uncertainty func([]term) float64

	space    *space
	settled  bool         // step and space are those of today
	step     *elimination // what the space was made from
	stepRows []int32      // the relation of each of its rows
	owner    []relation.VarID
	limit    []limitForm
	ofForm   []int32         // form of the space to its place in limit, -1 if it has none
	partOf   map[int32]*part // parameter to its part, where that is worked out
	waits    map[int32]bool  // parameters that pending and hard wait for, once asked for
	hard     []int32         // limits that can't be put as linear forms yet

	// extra are equations that later levels have fixed. refused says that one
	// of them can't hold.
	extra   []extraRow
	refused bool
	rough   bool // some gradient has to be worked out again at the final values
}

// An extraRow is form = 0, where form may move with the benches.
type extraRow struct {
	form relation.Form
	g    []term
}

// A limitForm ties a form of the space to the limit it came from.
type limitForm struct {
	form     int32
	relation int32          // -1 for a sign rule
	piece    int            // which of the relation's forms
	sign     relation.VarID // for a sign rule
}

// newProblem makes a problem of a scope. Of its relations those marked active
// are in play, all of them if active is nil.
func newProblem(p *plan, s scope, active []bool, signs bool) *problem {
	q := &problem{
		plan: p, scope: s, room: p.rooms.take(), active: active, signs: signs,
		uncertainty: func([]term) float64 { return 0 },
	}
	if active == nil {
		q.active = q.mine
		for _, r := range s.relations {
			q.active[r] = true
		}
	}
	return q
}

// give takes the dimensions marked known as facts.
func (q *problem) give(value []float64, known []bool, grad [][]term) {
	for _, v := range q.scope.vars {
		if known[v] {
			q.value[v], q.known[v], q.given[v], q.grad[v] = value[v], true, true, grad[v]
		}
	}
}

// lookup tells what is known so far. A dimension that there isn't is no number.
func (q *problem) lookup(v relation.VarID) (float64, bool) {
	if v < 0 || int(v) >= len(q.value) {
		return math.NaN(), true
	}
	return q.value[v], q.known[v]
}

// isEquation reports whether relation r is an equation in play.
func (q *problem) isEquation(r int32) bool {
	return q.active[r] && !q.dead[r] && !q.broken[r] && q.sys.Relations[r].Sign == relation.EQ
}

// difference is left - right of relation r with what is known put in; its
// terms may be put into room.
func (q *problem) difference(r int32, room []relation.Term) (relation.Form, bool) {
	if !q.linear[r] {
		return q.sys.Relations[r].DifferenceIn(room, q.lookup)
	}
	f := relation.Form{Const: q.forms[r].Const, Terms: room}
	for _, t := range q.forms[r].Terms {
		if q.known[t.Var] {
			f.Const += t.Coef * q.value[t.Var]
		} else {
			f.Terms = append(f.Terms, t)
		}
	}
	return f, true
}

// moved is how left - right of relation r moves with the benches through what
// is known, at the values of today. Where a dimension still unknown multiplies
// a known one that can't be told yet, and q.rough is set.
func (q *problem) moved(r int32) []term {
	terms := q.forms[r].Terms
	if !q.linear[r] {
		any := false
		for _, v := range q.vars[r] {
			any = any || len(q.grad[v]) > 0
		}
		if !any {
			return nil
		}
		_, terms = q.sys.Relations[r].Gradient(q.value)
	}
	var g []term
	for _, t := range terms {
		if !q.known[t.Var] || len(q.grad[t.Var]) == 0 {
			continue
		}
		if !finite(t.Coef) {
			q.rough = true
			continue
		}
		g = combine(g, t.Coef, q.grad[t.Var], 0)
	}
	return g
}

// settle makes a dimension known.
func (q *problem) settle(v relation.VarID, value float64, g []term, by giver) {
	if q.known[v] {
		return
	}
	if !finite(value) {
		return
	}
	dim := &q.sys.Vars[v]
	if dim.Whole {
		value, g = q.whole(v, value, g)
	}
	q.value[v], q.grad[v], q.known[v], q.giver[v] = value, g, true, by
	if q.signs && !dim.Signed && !dim.Whole && dim.Bench == 0 && value < -tolerance {
		q.wrong = append(q.wrong, conflict{q.behind(nil, []relation.VarID{v})})
	}
	for _, r := range q.equations.of(int32(v)) {
		if q.open[r]--; q.open[r] <= 1 {
			q.enqueue(r)
		}
	}
}

// whole rounds a count that is near enough to a whole number.
func (q *problem) whole(v relation.VarID, value float64, g []term) (float64, []term) {
	u := q.uncertainty(g)
	near := tolerance
	if u > 1e-12 {
		near = max(tolerance, min(3*u, 0.2))
	}
	n := math.Round(value)
	if math.Abs(value-n) > near || n < 0 || n > mostCount {
		q.counts = append(q.counts, CountProblem{Var: v, Value: value, U: u})
		return value, g
	}
	if shift := math.Abs(value - n); shift > 0 {
		// The equations that gave it need not hold closer than the rounding.
		before := q.value[v]
		q.value[v] = n
		for _, r := range q.equations.of(int32(v)) {
			_, terms := q.sys.Relations[r].Gradient(q.value)
			for _, t := range terms {
				if t.Var != v {
					continue
				}
				k := math.Abs(t.Coef)
				if !finite(k) {
					k = 1e3 // a factor not yet known: longer than any pitch
				}
				if q.leeway == nil {
					q.leeway = map[int32]float64{}
				}
				q.leeway[r] += 2 * k * shift
			}
		}
		q.value[v] = before
	}
	return n, nil
}

// allowed is how far equation r may be from holding.
func (q *problem) allowed(r int32) float64 { return tolerance + q.leeway[r] }

// formOfToday is the column of a dimension that is still unknown in the
// elimination that the space was made from, -1 if it has none.
func (q *problem) formOfToday(v relation.VarID) int32 {
	if !q.settled || q.known[v] {
		return -1
	}
	if c := q.formOf[v]; c >= 0 && int(c) < len(q.step.rowOf) {
		return c
	}
	return -1
}

// behind lists the relations that the values of the given dimensions, and the
// given relations, lean on, themselves among them.
func (q *problem) behind(relations []int32, vars []relation.VarID) []int32 {
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
			for _, v := range q.vars[r] {
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
			for _, row := range q.step.rowsGiving(c) {
				add(q.stepRows[row])
			}
		}
		switch g := q.giver[v]; g.kind {
		case byOne:
			add(g.at)
		case byMany:
			by := q.steps[g.at]
			for _, row := range by.rowsGiving(g.col) {
				add(by.relation[row])
			}
		case byBlock:
			for _, r := range q.solved[g.at] {
				add(r)
			}
		}
	}
	return sortedKeys(seen)
}
