package solve

import (
	"slices"

	"foredge/eval/relation"
)

// An equation is one step of an explanation: a relation, or what a wish or a
// default has become.
type equation struct {
	kind CauseKind
	used bool
	at   int32 // the relation, or the place in design.fixed
}

// An explainer finds for every dimension the step that gives it.
type explainer struct {
	*design
	list  []equation
	of    []lists[int32] // dimension to its equations, for each level
	open  []int32        // of each equation, how many dimensions are not explained
	done  []bool
	queue []int32
	from  slab[relation.VarID] // of the causes
	// Room for an equation that alone gives a dimension.
	oneEq  [1]int32
	oneVar [1]relation.VarID
}

// explain says of every decided dimension how it came about: readings first,
// then lines that give a number, then what follows from those, level by level.
func (d *design) explain() {
	x := &explainer{design: d, done: make([]bool, len(d.sys.Vars))}
	x.list = make([]equation, 0, len(d.sys.Relations)+len(d.fixed))
	for i := range d.sys.Readings {
		e := d.sys.Readings[i].Left
		if e.Op != relation.Ref || !d.sane(e) || x.done[e.Var] || !finite(d.sol.Values[e.Var]) || len(d.adj.grad[e.Var]) == 0 {
			continue
		}
		x.done[e.Var] = true
		d.sol.From[e.Var] = Reading
		d.sol.Cause[e.Var] = Cause{Kind: ByReadings, Index: i}
	}
	for v, c := range d.because {
		x.done[v] = true
		d.sol.From[v] = Derived
		d.sol.Cause[v] = c
	}
	for r := range d.sys.Relations {
		rel := &d.sys.Relations[r]
		if rel.Sign == relation.EQ && !d.broken[r] && (rel.Bench != 0 || d.active[r]) {
			x.add(equation{kind: ByRelation, at: int32(r)})
		}
	}
	x.level(mustLevel)
	for _, l := range []level{wishLevel, defaultLevel} {
		for i, f := range d.fixed {
			if f.level == l {
				kind := ByWishLine
				if l == defaultLevel {
					kind = ByDefaultLine
				} else if f.limit {
					kind = ByLimit
				}
				x.add(equation{kind: kind, at: int32(i)})
			}
		}
		x.level(l)
	}
	for v := range d.sys.Vars {
		if x.done[v] || !finite(d.sol.Values[v]) {
			continue
		}
		switch {
		case len(d.adj.grad[v]) > 0:
			d.sol.From[v] = Reading
			d.sol.Cause[v] = Cause{Kind: ByReadings, Index: -1}
		default:
			d.sol.From[v] = Derived
		}
	}
	for _, p := range d.pinned {
		d.sol.From[p.at] = Derived
		d.sol.Cause[p.at] = Cause{Kind: ByLimit, Index: int(p.limit)}
	}
}

// varsOf are the dimensions of an equation.
func (x *explainer) varsOf(e int32) []relation.VarID {
	if x.list[e].kind == ByRelation {
		return x.vars[x.list[e].at]
	}
	return x.fixed[x.list[e].at].vars
}

// add files an equation, unless it says nothing of what is known.
func (x *explainer) add(e equation) {
	x.list = append(x.list, e)
	for _, v := range x.varsOf(int32(len(x.list) - 1)) {
		if !finite(x.sol.Values[v]) {
			x.list = x.list[:len(x.list)-1]
			return
		}
	}
}

// level explains what the equations so far decide.
func (x *explainer) level(l level) {
	x.index()
	x.run()
	for x.coupled(l) {
		x.run()
	}
}

// index files the equations that have come since it was last called, and puts
// those in line that leave one dimension.
func (x *explainer) index() {
	first := len(x.open)
	if first == len(x.list) {
		return
	}
	x.open = append(x.open, make([]int32, len(x.list)-first)...)
	of := newLister[int32](len(x.done))
	for id := first; id < len(x.list); id++ {
		for _, v := range x.varsOf(int32(id)) {
			of.expect(int32(v))
		}
	}
	for id := first; id < len(x.list); id++ {
		for _, v := range x.varsOf(int32(id)) {
			of.put(int32(v), int32(id))
			if !x.done[v] {
				x.open[id]++
			}
		}
		if x.open[id] == 1 {
			x.queue = append(x.queue, int32(id))
		}
	}
	x.of = append(x.of, of.done())
}

func (x *explainer) run() {
	for len(x.queue) > 0 {
		e := x.queue[0]
		x.queue = x.queue[1:]
		if x.open[e] != 1 {
			continue
		}
		for _, v := range x.varsOf(e) {
			if !x.done[v] {
				x.oneEq[0], x.oneVar[0] = e, v
				x.give(x.oneEq[:], x.oneVar[:])
				break
			}
		}
	}
}

// give explains dimensions by equations together, of which eqs[i] is the one
// matched with vars[i].
func (x *explainer) give(eqs []int32, vars []relation.VarID) {
	// A default or a wish that takes part is what decides.
	main := int32(-1)
	var together []int
	for _, e := range eqs {
		x.list[e].used = true
		if x.list[e].kind != ByRelation {
			if main < 0 {
				main = e
			}
		} else if len(eqs) > 1 {
			together = append(together, int(x.list[e].at))
		}
	}
	slices.Sort(together)
	for i, v := range vars {
		e := eqs[i]
		from := x.othersIn(x.from.take(len(x.varsOf(e)))[:0], e, v)
		if main >= 0 && x.list[e].kind == ByRelation {
			from = x.othersIn(from, main, v)
			e = main
		}
		slices.Sort(from)
		x.sol.From[v], x.sol.Cause[v] = x.cause(&x.list[e], slices.Compact(from), together)
	}
	for _, v := range vars {
		x.done[v] = true
		for _, of := range x.of {
			for _, e := range of.of(int32(v)) {
				if x.open[e]--; x.open[e] == 1 {
					x.queue = append(x.queue, e)
				}
			}
		}
	}
}

func (x *explainer) othersIn(from []relation.VarID, e int32, v relation.VarID) []relation.VarID {
	for _, w := range x.varsOf(e) {
		if w != v {
			from = append(from, w)
		}
	}
	return from
}

func (x *explainer) cause(e *equation, from []relation.VarID, together []int) (Origin, Cause) {
	c := Cause{Kind: e.kind, Index: int(e.at), From: from, Together: together}
	var held []int32
	if e.kind != ByRelation {
		c.Index, held = x.fixed[e.at].index, x.fixed[e.at].held
	}
	for _, l := range held {
		if l >= 0 && e.kind == ByDefaultLine {
			c.Kind, c.Index = ByLimit, int(l)
			break
		}
	}
	switch {
	case e.kind == ByWishLine, e.kind == ByLimit:
		return ByWish, c
	case e.kind == ByDefaultLine:
		return ByDefault, c
	case len(from) == 0 && x.sys.Relations[e.at].Role != relation.Own:
		return Stated, c
	}
	return Derived, c
}

// coupled finds dimensions that only several equations together give. After a
// matching of equations with dimensions, the strongly connected parts of what
// leans on what are such blocks (Dulmage and Mendelsohn 1958; Tarjan 1972).
// It reports whether it found any.
func (x *explainer) coupled(l level) bool {
	m := &matching{x: x, level: l}
	var usable []int32
	for e := range x.list {
		if m.usable(int32(e)) {
			usable = append(usable, int32(e))
		}
	}
	if len(usable) == 0 {
		return false
	}
	m.of, m.with, m.seen = make([]int32, len(x.done)), make([]relation.VarID, len(x.list)), make([]int32, len(x.done))
	for v := range m.of {
		m.of[v] = -1
	}
	for e := range m.with {
		m.with[e] = -1
	}
	any := false
	for _, e := range usable {
		m.round++
		any = m.match(e) || any
	}
	if !any {
		return false
	}
	progress := false
	for _, part := range m.parts() {
		vars := make([]relation.VarID, len(part))
		fresh := true
		for i, e := range part {
			vars[i] = m.with[e]
			fresh = fresh && !x.done[vars[i]] && !x.list[e].used
		}
		if fresh {
			x.give(part, vars)
			x.run()
			progress = true
		}
	}
	return progress
}

// A matching gives each equation a dimension of its own.
type matching struct {
	x     *explainer
	level level
	of    []int32          // dimension to equation, -1 if none
	with  []relation.VarID // equation to dimension, -1 if none
	seen  []int32          // of each dimension, the round that saw it
	round int32

	index, low []int32
	stack      []int32
	on         []bool
	count      int32
	found      [][]int32
}

// usable reports whether all an equation still leaves open is decided by the
// level.
func (m *matching) usable(e int32) bool {
	if m.x.open[e] == 0 || m.x.list[e].used {
		return false
	}
	for _, v := range m.x.varsOf(e) {
		if !m.x.done[v] && !m.x.within(v, m.level) {
			return false
		}
	}
	return true
}

func (m *matching) match(e int32) bool {
	for _, v := range m.x.varsOf(e) { // one that is still free, if there is
		if !m.x.done[v] && m.of[v] < 0 {
			m.of[v], m.with[e] = e, v
			return true
		}
	}
	for _, v := range m.x.varsOf(e) {
		if m.x.done[v] || m.seen[v] == m.round {
			continue
		}
		m.seen[v] = m.round
		if m.match(m.of[v]) {
			m.of[v], m.with[e] = e, v
			return true
		}
	}
	return false
}

// parts lists the strongly connected parts, each after those it leans on,
// without those that lean on a dimension that no equation gives.
func (m *matching) parts() [][]int32 {
	n := len(m.x.list)
	m.index, m.low, m.on = make([]int32, n), make([]int32, n), make([]bool, n)
	for e := range n {
		if m.with[e] >= 0 && m.index[e] == 0 {
			m.visit(int32(e))
		}
	}
	var out [][]int32
	whole := make([]bool, n)
	for _, part := range m.found {
		ok := true
		for _, e := range part {
			whole[e] = true
		}
		for _, e := range part {
			for _, v := range m.x.varsOf(e) {
				if !m.x.done[v] && (m.of[v] < 0 || !whole[m.of[v]]) {
					ok = false
				}
			}
		}
		if !ok {
			for _, e := range part {
				whole[e] = false
			}
			continue
		}
		slices.Sort(part)
		out = append(out, part)
	}
	return out
}

func (m *matching) visit(e int32) {
	m.count++
	m.index[e], m.low[e] = m.count, m.count
	m.stack = append(m.stack, e)
	m.on[e] = true
	for _, v := range m.x.varsOf(e) {
		if m.x.done[v] || m.of[v] < 0 {
			continue
		}
		next := m.of[v]
		if m.index[next] == 0 {
			m.visit(next)
			m.low[e] = min(m.low[e], m.low[next])
		} else if m.on[next] {
			m.low[e] = min(m.low[e], m.index[next])
		}
	}
	if m.low[e] != m.index[e] {
		return
	}
	var part []int32
	for {
		top := m.stack[len(m.stack)-1]
		m.stack = m.stack[:len(m.stack)-1]
		m.on[top] = false
		part = append(part, top)
		if top == e {
			break
		}
	}
	m.found = append(m.found, part)
}

// within reports whether a dimension was decided by this level or before.
func (x *explainer) within(v relation.VarID, l level) bool {
	return x.sys.Vars[v].Bench != 0 || x.stage[v] != noLevel && x.stage[v] <= l
}
