package level

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/graph"
	"foredge/eval/solve/must"
	"foredge/eval/solve/sparse"
)

// Later meets the wishes and then the defaults. Where a wish leaves a count that
// the defaults decide no whole number, though the musts do, it gives way: the
// count becomes a whole one before the wishes, and all are met again with it.
func (d *Design) Later() {
	if len(d.wholes()) == 0 {
		d.Wishes()
		d.Defaults()
		return
	}
	l := later{Design: d, before: d.now(), stage: slices.Clone(d.Stage), notWhole: len(d.NotWhole), tried: map[relation.VarID]bool{}}
	l.run(nil)
	if len(l.held()) == 0 {
		return
	}
	l.divide()
	for range countRounds {
		odd := oneEach(l.part, l.held())
		if len(odd) == 0 {
			break
		}
		l.choose(odd)
	}
	// Where it led to no whole counts all the same it was in vain.
	vain := map[int32]bool{}
	for _, c := range l.NotWhole[l.notWhole:] {
		vain[l.part.Root(int32(c.Var))] = true
	}
	if len(vain) > 0 {
		l.run(slices.DeleteFunc(l.chosen, func(c choice) bool { return vain[l.part.Root(int32(c.count))] }))
	}
}

// later is the wishes and defaults of a design, which may be met several times.
type later struct {
	*Design
	before     state
	stage      []Level // of the dimensions before them
	notWhole   int     // how many counts weren't whole before them
	byDefaults int     // and before the defaults
	chosen     []choice
	tried      map[relation.VarID]bool
	part       graph.Groups    // of dimensions that hang together, wishes and defaults among the ties
	first      map[int32]*goal // of each part
	goals      []goal          // all wishes and defaults
}

// run meets the wishes and the defaults after some counts have been given. It
// lists the counts that can't be what they are given.
func (l *later) run(counts []choice) (refused []choice) {
	l.NotWhole = l.NotWhole[:l.notWhole]
	if len(counts) > 0 || len(l.Fixed) > l.before.fixed {
		l.back(l.before)
		copy(l.Stage, l.stage)
	}
	if refused = l.give(counts); len(counts) > 0 {
		l.mark(Wish)
		for v := range l.Sys.Vars {
			if id := relation.VarID(v); l.Sys.Vars[v].Whole && l.stage[v] == None && l.decided(id) {
				if f := l.Problem.VarForm(id); !l.Problem.Known[v] && notWhole(f.Const) {
					l.NotWhole = append(l.NotWhole, must.OddCount{Var: id, Value: f.Const, U: l.Problem.Uncertainty(f.Grad)})
				}
			}
		}
	}
	l.Wishes()
	l.byDefaults = len(l.NotWhole)
	l.Defaults()
	return refused
}

// held lists the counts that aren't whole after the defaults but were after the
// wishes.
func (l *later) held() []must.OddCount {
	var out []must.OddCount
	for _, c := range l.NotWhole[l.byDefaults:] {
		if l.stage[c.Var] == None && !l.tried[c.Var] {
			out = append(out, c)
		}
	}
	return out
}

// divide finds what hangs together.
func (l *later) divide() {
	l.back(l.before)
	for i := range l.Sys.Wishes {
		if w := &l.Sys.Wishes[i]; w.Weight > 0 && sparse.Finite(w.Weight) && l.Sane(w.Left, w.Right) {
			l.goals = append(l.goals, goal{left: &w.Left, right: &w.Right, level: Wish, index: i, weight: w.Weight})
		}
	}
	for i := range l.Sys.Defaults {
		if def := &l.Sys.Defaults[i]; l.Sane(def.Left, def.Right) {
			l.goals = append(l.goals, goal{left: &def.Left, right: &def.Right, level: Default, index: i, weight: 1})
		}
	}
	l.part = l.parts()
	of := make([]int32, len(l.goals))
	for i := range l.goals {
		of[i] = l.join(l.part, l.goals[i].vars())
	}
	l.first = map[int32]*goal{}
	for i, v := range of {
		if v < 0 {
			continue
		}
		if root := l.part.Root(v); l.first[root] == nil {
			l.first[root] = &l.goals[i]
		}
	}
}

// choose gives each of some counts of different parts the better of the two
// whole numbers about it.
func (l *later) choose(odd []must.OddCount) {
	try := func(round func(float64) float64) ([]choice, map[int32]*lapse) {
		next := make([]choice, 0, len(odd))
		for _, c := range odd {
			if goal := l.first[l.part.Root(int32(c.Var))]; goal != nil {
				next = append(next, choice{c.Var, wholeBy(c, round), goal})
			}
		}
		refused := l.run(slices.Concat(l.chosen, next))
		return next, l.lapses(refused)
	}
	low, lows := try(math.Floor)
	high, highs := try(math.Ceil)
	for _, c := range odd {
		l.tried[c.Var] = true
	}
	for i := range low {
		root := l.part.Root(int32(low[i].count))
		a, b := lows[root], highs[root]
		switch {
		case a.impossible && b.impossible:
		case b.less(a):
			l.chosen = append(l.chosen, high[i])
		default:
			l.chosen = append(l.chosen, low[i])
		}
	}
	l.run(l.chosen)
}

// A lapse says by how much the wishes and the defaults of a part are missed.
type lapse struct {
	impossible       bool
	wishes, defaults miss
}

// less reports whether one is the better choice.
func (a *lapse) less(b *lapse) bool {
	switch {
	case a.impossible != b.impossible:
		return b.impossible
	case a.wishes.less(b.wishes):
		return true
	}
	return !b.wishes.less(a.wishes) && a.defaults.less(b.defaults)
}

// lapses are those of what has just been met, by parts.
func (l *later) lapses(refused []choice) map[int32]*lapse {
	values := make([]float64, len(l.Sys.Vars))
	out := map[int32]*lapse{}
	for v := range values {
		values[v], _ = l.result(relation.VarID(v))
		if root := l.part.Root(int32(v)); out[root] == nil {
			out[root] = &lapse{}
		}
	}
	of := func(v relation.VarID) *lapse { return out[l.part.Root(int32(v))] }
	for _, c := range refused {
		of(c.count).impossible = true
	}
	for _, c := range l.NotWhole[l.notWhole:] {
		of(c.Var).wishes.refused++
	}
	for i := range l.goals {
		g := &l.goals[i]
		for _, v := range g.vars() {
			if l.stage[v] != None {
				continue
			}
			m := &of(v).wishes
			if g.level == Default {
				m = &of(v).defaults
			}
			r := g.sides()
			if off := r.Residual(values); sparse.Finite(off) {
				m.sum += g.weight * off * off
			} else {
				m.open++
			}
			break
		}
	}
	return out
}
