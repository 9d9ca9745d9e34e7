package solve

import (
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/graph"
	"foredge/eval/solve/level"
	"foredge/eval/solve/sparse"
)

// An equation is one step of an explanation: a relation, or what a wish or a
// default has become.
type equation struct {
	kind CauseKind
	used bool
	at   int32 // the relation, or the place in Design.Fixed
}

// An explainer finds for every dimension the step that gives it.
type explainer struct {
	*telling
	list []equation
	// narrow are the dimensions on which an equation depends, where these aren't all
	// that it names: the pitch of a row of one hole.
	narrow map[int32][]relation.VarID
	of     []sparse.Lists[int32] // dimension to its equations, for each level
	open   []int32               // of each equation, how many dimensions are not explained
	done   []bool
	queue  []int32
	from   sparse.Slab[relation.VarID] // of the causes
	// Room for an equation that alone gives a dimension.
	oneEq  [1]int32
	oneVar [1]relation.VarID
}

// explain says of every decided dimension how it came about: readings first,
// then lines that give a number, then what follows from those, level by level.
func (t *telling) explain() {
	n := len(t.Sys.Relations) + len(t.Fixed)
	x := &explainer{telling: t, list: make([]equation, 0, n), open: make([]int32, 0, n), queue: make([]int32, 0, n),
		done: make([]bool, len(t.Sys.Vars))}
	for _, alone := range []bool{true, false} { // width = 148, and then 2 * thick = 6
		for i := range t.Sys.Readings {
			e := t.Sys.Readings[i].Left
			if alone != (e.Op == relation.Ref) || !t.Sane(e) {
				continue
			}
			v, ok := e.Only()
			if !ok || x.done[v] || !sparse.Finite(t.sol.Values[v]) || len(t.Adj.Grad[v]) == 0 {
				continue
			}
			x.done[v] = true
			t.sol.From[v] = Reading
			t.sol.Cause[v] = Cause{Kind: ByReadings, Index: i}
		}
	}
	for v, c := range t.Because {
		x.done[v] = true
		t.sol.From[v] = Derived
		t.sol.Cause[v] = Cause{Kind: ByRelation, Index: int(c.Relation), From: c.From}
	}
	for _, p := range t.Pinned {
		x.done[p.At] = true
		t.sol.From[p.At] = Derived
		t.sol.Cause[p.At] = Cause{Kind: ByLimit, Index: int(p.Limit)}
	}
	// What was measured never follows from what is made from it.
	for _, bench := range []bool{true, false} {
		for r := range t.Sys.Relations {
			if t.Equation[r] && (t.Active[r] || bench) && bench == (t.Sys.Relations[r].Bench != 0) {
				x.add(equation{kind: ByRelation, at: int32(r)})
			}
		}
		x.level(level.Must)
		if bench {
			x.readings()
		}
	}
	for _, l := range []level.Level{level.Wish, level.Default} {
		for i, f := range t.Fixed {
			if f.Level == l {
				kind := ByWishLine
				if l == level.Default {
					kind = ByDefaultLine
				} else if f.Limit {
					kind = ByLimit
				}
				x.add(equation{kind: kind, at: int32(i)})
			}
		}
		x.level(l)
	}
	for v := range t.Sys.Vars {
		if x.done[v] || !sparse.Finite(t.sol.Values[v]) {
			continue
		}
		switch {
		case len(t.Adj.Grad[v]) > 0:
			t.sol.From[v] = Reading
			t.sol.Cause[v] = Cause{Kind: ByReadings, Index: -1}
		default:
			t.sol.From[v] = Derived
		}
	}
}

// readings explains by the readings of a bench as a whole what no reading and no line of
// it gives by itself, and what follows from that.
func (x *explainer) readings() {
	for v := range x.Sys.Vars {
		if x.done[v] || x.Sys.Vars[v].Bench == 0 || x.Stage[v] == level.Wish || !sparse.Finite(x.sol.Values[v]) || len(x.Adj.Grad[v]) == 0 {
			continue
		}
		x.sol.From[v] = Reading
		x.sol.Cause[v] = Cause{Kind: ByReadings, Index: -1}
		x.did(relation.VarID(v))
		x.run()
	}
}

// varsOf are the dimensions of an equation.
func (x *explainer) varsOf(e int32) []relation.VarID {
	if x.narrow != nil {
		if vars, is := x.narrow[e]; is {
			return vars
		}
	}
	if x.list[e].kind == ByRelation {
		return x.Vars[x.list[e].at]
	}
	return x.Fixed[x.list[e].at].Vars
}

// add files an equation, unless it says nothing of what is known.
func (x *explainer) add(e equation) {
	x.list = append(x.list, e)
	last := int32(len(x.list) - 1)
	if x.known(x.varsOf(last)) {
		return
	}
	if e.kind == ByRelation {
		if vars := x.Sys.Relations[e.at].VarsAt(x.sol.Values); x.known(vars) {
			x.narrowed(last, vars)
			return
		}
	}
	x.list = x.list[:last]
}

// narrowed notes on which dimensions an equation depends, if there are any.
func (x *explainer) narrowed(e int32, vars []relation.VarID) {
	if x.narrow == nil {
		x.narrow = map[int32][]relation.VarID{}
	}
	if len(vars) > 0 {
		x.narrow[e] = vars
	}
}

// known reports whether dimensions all have a value.
func (x *explainer) known(vars []relation.VarID) bool {
	for _, v := range vars {
		if !sparse.Finite(x.sol.Values[v]) {
			return false
		}
	}
	return true
}

// level explains what the equations so far decide.
func (x *explainer) level(l level.Level) {
	x.index()
	x.run()
	for x.coupled(l) {
		x.run()
	}
}

// index files the equations that have come since it was last called, and puts
// those in line that leave one dimension: first those that speak of no other.
func (x *explainer) index() {
	first := len(x.open)
	if first == len(x.list) {
		return
	}
	x.open = append(x.open, make([]int32, len(x.list)-first)...)
	of := sparse.NewLister[int32](len(x.done))
	for id := first; id < len(x.list); id++ {
		for _, v := range x.varsOf(int32(id)) {
			of.Expect(int32(v))
		}
	}
	for id := first; id < len(x.list); id++ {
		for _, v := range x.varsOf(int32(id)) {
			of.Put(int32(v), int32(id))
			if !x.done[v] {
				x.open[id]++
			}
		}
	}
	for _, alone := range []bool{true, false} {
		for id := first; id < len(x.list); id++ {
			if x.open[id] == 1 && alone == (len(x.varsOf(int32(id))) == 1) {
				x.queue = append(x.queue, int32(id))
			}
		}
	}
	x.of = append(x.of, of.Done())
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
		from := x.othersIn(x.from.Take(len(x.varsOf(e)))[:0], e, v)
		if main >= 0 && x.list[e].kind == ByRelation {
			from = x.othersIn(from, main, v)
			e = main
		}
		slices.Sort(from)
		x.sol.From[v], x.sol.Cause[v] = x.cause(&x.list[e], slices.Compact(from), together)
	}
	for _, v := range vars {
		x.did(v)
	}
}

// did marks a dimension as explained.
func (x *explainer) did(v relation.VarID) {
	x.done[v] = true
	for _, of := range x.of {
		for _, e := range of.Of(int32(v)) {
			if x.open[e]--; x.open[e] == 1 {
				x.queue = append(x.queue, e)
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
		f := &x.Fixed[e.at]
		c.Index, c.Missed, held = f.Index, !f.Met, f.Held
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
	case e.kind == ByDefaultLine, e.kind == ByRelation && x.Sys.Relations[e.at].Role == relation.Held:
		return ByDefault, c
	case len(from) == 0 && x.Sys.Relations[e.at].Role != relation.Own:
		return Stated, c
	}
	return Derived, c
}

// coupled finds dimensions that only several equations together give: in a
// matching of equations with dimensions, the blocks of equations that take each
// other's. It reports whether it found any.
func (x *explainer) coupled(l level.Level) bool {
	var usable []int32
	for e := range x.list {
		if x.usable(int32(e), l) {
			usable = append(usable, int32(e))
		}
	}
	if len(usable) == 0 {
		return false
	}
	mentions := make([][]int32, len(usable))
	var kept sparse.Slab[int32]
	for k, e := range usable {
		mentions[k] = x.openIn(kept.Take(int(x.open[e])), e)
	}
	m := graph.Match(mentions, len(x.done))
	progress := false
	var room []relation.VarID
	for _, block := range m.Blocks() {
		vars, fresh := room[:0], true
		for i, k := range block {
			v, e := relation.VarID(m.Unknown[k]), usable[k]
			vars, block[i] = append(vars, v), e
			fresh = fresh && !x.done[v] && !x.list[e].used
		}
		room = vars
		if fresh {
			x.give(block, vars)
			x.run()
			progress = true
		}
	}
	return progress
}

// openIn lists in room the dimensions that an equation still leaves open.
func (x *explainer) openIn(room []int32, e int32) []int32 {
	open := room[:0]
	for _, v := range x.varsOf(e) {
		if !x.done[v] {
			open = append(open, int32(v))
		}
	}
	return open
}

// usable reports whether all an equation still leaves open is decided by the
// level.
func (x *explainer) usable(e int32, l level.Level) bool {
	if x.open[e] == 0 || x.list[e].used {
		return false
	}
	for _, v := range x.varsOf(e) {
		if !x.done[v] && !x.within(v, l) {
			return false
		}
	}
	return true
}

// within reports whether a dimension was decided by this level or before.
func (x *explainer) within(v relation.VarID, l level.Level) bool {
	return x.Stage[v] != level.None && x.Stage[v] <= l
}
