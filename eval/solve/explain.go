package solve

import (
	"slices"

	"foredge/eval/relation"
)

// An equation is one step of an explanation: a relation, or what a wish or a
// default has become.
type equation struct {
	kind  CauseKind
	index int
	vars  []relation.VarID
	held  []int32 // limits at which a wish or default stopped
	used  bool
}

// An explainer finds for every dimension the step that gives it.
type explainer struct {
	*design
	list  []equation
	of    [][]int32 // dimension to its equations
	open  []int32   // of each equation, how many dimensions are not explained
	done  []bool
	queue []int32
	start int // equations before this one have been put in line
}

// explain says of every decided dimension how it came about: readings first,
// then lines that give a number, then what follows from those, level by level.
func (d *design) explain() {
	x := &explainer{design: d, of: make([][]int32, len(d.sys.Vars)), done: make([]bool, len(d.sys.Vars))}
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
			x.add(equation{kind: ByRelation, index: r, vars: d.vars[r]})
		}
	}
	x.level(mustLevel)
	for _, l := range []level{wishLevel, defaultLevel} {
		for _, f := range d.fixed {
			if f.level == l {
				kind := ByWishLine
				if l == defaultLevel {
					kind = ByDefaultLine
				} else if f.limit {
					kind = ByLimit
				}
				x.add(equation{kind: kind, index: f.index, vars: f.vars, held: f.held})
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
	for _, v := range d.pinned {
		d.sol.From[v] = Derived
		d.sol.Cause[v] = Cause{Kind: ByLimit, Index: -1}
		if len(d.limits[v]) > 0 {
			d.sol.Cause[v].Index = int(d.limits[v][0])
		}
	}
}

func (x *explainer) add(e equation) {
	for _, v := range e.vars {
		if !finite(x.sol.Values[v]) {
			return // it says nothing of what is known
		}
	}
	id := int32(len(x.list))
	x.list = append(x.list, e)
	n := int32(0)
	for _, v := range e.vars {
		x.of[v] = append(x.of[v], id)
		if !x.done[v] {
			n++
		}
	}
	x.open = append(x.open, n)
}

// level explains what the equations so far decide.
func (x *explainer) level(l level) {
	for ; x.start < len(x.list); x.start++ {
		if x.open[x.start] == 1 {
			x.queue = append(x.queue, int32(x.start))
		}
	}
	x.run()
	for x.coupled(l) {
		x.run()
	}
}

func (x *explainer) run() {
	for len(x.queue) > 0 {
		e := x.queue[0]
		x.queue = x.queue[1:]
		if x.open[e] == 1 {
			x.give([]int32{e})
		}
	}
}

// give explains the open dimensions of equations by these together.
func (x *explainer) give(eqs []int32) {
	var vars, from []relation.VarID
	for _, e := range eqs {
		x.list[e].used = true
		for _, v := range x.list[e].vars {
			if x.done[v] {
				from = append(from, v)
			} else {
				vars = append(vars, v)
			}
		}
	}
	slices.Sort(vars)
	vars = slices.Compact(vars)
	for _, v := range vars {
		if main := x.mainOf(eqs, v); main >= 0 {
			x.sol.From[v], x.sol.Cause[v] = x.cause(eqs, main, v, append(slices.Clone(from), vars...))
		}
		x.done[v] = true
		for _, e := range x.of[v] {
			if x.open[e]--; x.open[e] == 1 && int(e) < x.start {
				x.queue = append(x.queue, e)
			}
		}
	}
}

// mainOf is the equation to name for a dimension: a default or a wish if one
// takes part, else the first relation that mentions it.
func (x *explainer) mainOf(eqs []int32, v relation.VarID) int32 {
	main := int32(-1)
	for _, e := range eqs {
		if k := x.list[e].kind; k != ByRelation {
			if main < 0 || !slices.Contains(x.list[main].vars, v) && slices.Contains(x.list[e].vars, v) {
				main = e
			}
		}
	}
	if main >= 0 {
		return main
	}
	for _, e := range eqs {
		if slices.Contains(x.list[e].vars, v) {
			return e
		}
	}
	return -1
}

func (x *explainer) cause(eqs []int32, main int32, v relation.VarID, from []relation.VarID) (Origin, Cause) {
	e := &x.list[main]
	c := Cause{Kind: e.kind, Index: e.index}
	slices.Sort(from)
	for _, w := range slices.Compact(from) {
		if w != v {
			c.From = append(c.From, w)
		}
	}
	for _, other := range eqs {
		if other != main && x.list[other].kind == ByRelation {
			c.Together = append(c.Together, x.list[other].index)
		}
	}
	slices.Sort(c.Together)
	origin := Derived
	switch {
	case e.kind == ByWishLine, e.kind == ByLimit:
		origin = ByWish
	case e.kind == ByDefaultLine:
		origin = ByDefault
	case len(c.From) == 0 && x.sys.Relations[e.index].Role != relation.Own:
		origin = Stated
	}
	for _, l := range e.held {
		if l >= 0 && e.kind == ByDefaultLine {
			c.Kind, c.Index = ByLimit, int(l)
			break
		}
	}
	return origin, c
}

// coupled finds dimensions that only several equations together give, after a
// matching of equations with dimensions: a strongly connected part that leans
// on nothing unexplained comes first. It reports whether it found any.
func (x *explainer) coupled(l level) bool {
	match := map[relation.VarID]int32{}
	matched := make([]bool, len(x.list))
	usable := func(e int32) bool {
		if x.open[e] == 0 || x.list[e].used {
			return false
		}
		for _, v := range x.list[e].vars {
			if !x.done[v] && !x.within(v, l) {
				return false
			}
		}
		return true
	}
	var seen map[relation.VarID]bool
	var try func(e int32) bool
	try = func(e int32) bool {
		for _, v := range x.list[e].vars {
			if x.done[v] || seen[v] {
				continue
			}
			seen[v] = true
			if m, ok := match[v]; !ok || try(m) {
				match[v] = e
				matched[e] = true
				return true
			}
		}
		return false
	}
	any := false
	for e := range x.list {
		if usable(int32(e)) {
			seen = map[relation.VarID]bool{}
			any = try(int32(e)) || any
		}
	}
	if !any {
		return false
	}
	// Tarjan's strongly connected parts of: equation -> equations matched to
	// its other dimensions. The first part found leans on no other.
	index, low := map[int32]int{}, map[int32]int{}
	onStack := map[int32]bool{}
	var stack, part []int32
	var visit func(e int32) bool
	visit = func(e int32) bool {
		index[e], low[e] = len(index), len(index)
		stack = append(stack, e)
		onStack[e] = true
		for _, v := range x.list[e].vars {
			if x.done[v] {
				continue
			}
			m, ok := match[v]
			if !ok {
				return false
			}
			if _, visited := index[m]; !visited {
				if visit(m) {
					return true
				}
				if _, ok := low[m]; ok {
					low[e] = min(low[e], low[m])
				}
			} else if onStack[m] {
				low[e] = min(low[e], index[m])
			}
		}
		if low[e] == index[e] {
			i := slices.Index(stack, e)
			part = slices.Clone(stack[i:])
			return true
		}
		return false
	}
	for e := range x.list {
		if !matched[e] {
			continue
		}
		if _, visited := index[int32(e)]; visited {
			continue
		}
		stack, onStack = nil, map[int32]bool{}
		if visit(int32(e)) {
			slices.Sort(part)
			x.give(part)
			return true
		}
	}
	return false
}

// within reports whether a dimension was decided by this level or before.
func (x *explainer) within(v relation.VarID, l level) bool {
	return x.sys.Vars[v].Bench != 0 || x.stage[v] != noLevel && x.stage[v] <= l
}
