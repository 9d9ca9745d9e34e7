package level

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/graph"
	"foredge/eval/solve/must"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

// countRounds is how many counts that hang together are made whole at a level,
// one after another.
const countRounds = 20

// meetWhole meets goals with counts that are whole. Where the goals leave a
// count between two whole numbers it is given the one with which they are met
// better, of two as good the smaller, and they are met anew. Counts that have
// nothing to do with each other are chosen at once.
func (d *Design) meetWhole(goals []goal) {
	if len(goals) == 0 {
		return
	}
	var counts []relation.VarID
	for _, v := range d.wholes() {
		if !d.decided(v) {
			counts = append(counts, v)
		}
	}
	if len(counts) == 0 {
		d.meet(goals)
		return
	}
	w := wholly{Design: d, goals: goals, counts: counts, before: d.now(),
		open: map[relation.VarID]bool{}, given: map[relation.VarID]bool{}}
	for _, v := range counts {
		w.open[v] = true
	}
	d.refused = nil
	odd := w.try()
	if len(odd) == 0 {
		return
	}
	w.divide()
	for range countRounds {
		w.choose(oneEach(w.part, odd))
		if odd = w.try(); len(odd) == 0 && w.improve() {
			odd = w.try()
		}
		if len(odd) == 0 {
			break
		}
	}
	if !w.met {
		d.meet(goals)
	}
	for _, c := range append(w.lost, odd...) {
		told := slices.ContainsFunc(d.NotWhole, func(o must.OddCount) bool { return o.Var == c.Var })
		if _, none := w.noneWhole(w.form(c.Var)); !told && (none || d.decided(c.Var)) {
			d.NotWhole = append(d.NotWhole, c)
		}
	}
}

// wholes are the counts of the design.
func (d *Design) wholes() []relation.VarID {
	if d.whole == nil {
		d.whole = []relation.VarID{}
		for _, v := range d.scope.Vars {
			if d.Sys.Vars[v].Whole && d.Sys.Vars[v].Bench == d.bench {
				d.whole = append(d.whole, v)
			}
		}
	}
	return d.whole
}

// A wholly chooses whole numbers for the counts that a level decides.
type wholly struct {
	*Design
	goals  []goal
	counts []relation.VarID        // not decided before the level
	open   map[relation.VarID]bool // those
	before state
	met    bool // the goals are equations now
	chosen []choice
	lost   []must.OddCount         // counts that can be neither
	given  map[relation.VarID]bool // counts that are chosen, or can't be
	part   graph.Groups            // of dimensions that hang together, goals among the ties
	first  map[int32]*goal         // of each part
	partOf []int32                 // of each goal, -1 where it speaks of nothing that is open
}

// A choice is a number for a count, and the goal on whose account it has to be
// chosen.
type choice struct {
	count relation.VarID
	n     float64
	goal  *goal
}

// try meets the goals if no count comes out as no whole number by that. It lists
// those that do.
func (w *wholly) try() []must.OddCount {
	outcomes, bent := w.best(w.goals)
	odd := w.foreseen(outcomes, bent)
	if w.met = len(odd) == 0; w.met {
		w.settle(outcomes)
		odd = w.odd()
	}
	return odd
}

// foreseen lists the counts that outcomes would decide, but not as whole ones.
// Found in the state before any of them holds they don't hang on which of them
// comes first.
func (w *wholly) foreseen(outcomes []outcome, bent bend) []must.OddCount {
	q := w.Problem
	// All that is spoken of gets its form before the space is copied.
	for _, v := range w.counts {
		w.form(v)
	}
	for _, o := range outcomes {
		w.formsOf(o.form)
	}
	for _, f := range slices.Concat(bent.equations, bent.limits) {
		w.formsOf(f)
	}
	rows := func() []sparse.Affine {
		rows := make([]sparse.Affine, 0, len(outcomes))
		for _, o := range outcomes {
			rows = append(rows, q.Form(o.form).Plus(-1, o.target))
		}
		return rows
	}
	moved := w.moved(rows(), bent)
	odd := map[relation.VarID]must.OddCount{}
	look := func(v relation.VarID, about float64, none bool) {
		if none {
			odd[v] = must.OddCount{Var: v, Value: about, U: q.Uncertainty(w.form(v).Grad)}
		}
	}
	for _, v := range w.counts {
		if !w.given[v] && !moved[v] {
			about, none := w.stillNoneWhole(v)
			look(v, about, none)
		}
	}
	if len(moved) > 0 {
		base, parts := q.Space, q.PartOf
		q.Space, q.PartOf = base.Clone(), nil
		defer func() { q.Space, q.PartOf = base, parts }()
		w.bendTo(bent)
		q.Space.FixAll(rows())
	}
	for _, v := range w.counts {
		if !w.given[v] && moved[v] {
			about, none := w.noneWhole(w.form(v))
			look(v, about, none)
		}
	}
	var out []must.OddCount
	for _, v := range w.counts {
		if c, is := odd[v]; is {
			out = append(out, c)
		}
	}
	return out
}

// moved is the counts on which it may have an influence that forms become 0.
func (w *wholly) moved(rows []sparse.Affine, bent bend) map[relation.VarID]bool {
	space := w.Problem.Space
	by := map[int32]bool{}
	for _, a := range rows {
		for _, t := range a.Terms {
			by[space.Group(t.At)] = true
		}
	}
	out := map[relation.VarID]bool{}
	all := len(bent.equations)+len(bent.limits) > 0
	for _, v := range w.counts {
		if all || slices.ContainsFunc(w.form(v).Terms, func(t sparse.Term) bool { return by[space.Group(t.At)] }) {
			out[v] = true
		}
	}
	return out
}

// A leeway is what limits leave of a count.
type leeway struct {
	part  *must.Part // on which that hangs
	about float64
	none  bool // no whole number
}

// stillNoneWhole is noneWhole, remembered until something is fixed with which the count
// hangs together.
func (w *wholly) stillNoneWhole(v relation.VarID) (about float64, none bool) {
	count := w.form(v)
	if len(count.Terms) != 1 {
		return w.noneWhole(count)
	}
	part := w.Problem.Part(count)
	known, ok := w.leeways[v]
	if !ok || known.part != part {
		known.part = part
		known.about, known.none = w.noneWhole(count)
		if w.leeways == nil {
			w.leeways = map[relation.VarID]leeway{}
		}
		w.leeways[v] = known
	}
	return known.about, known.none
}

// formsOf gives all that is spoken of a form.
func (w *wholly) formsOf(f relation.Form) {
	for _, t := range f.Terms {
		w.form(t.Var)
	}
}

// noneWhole reports whether limits leave a count no whole number, and about
// which number they leave it then.
func (w *wholly) noneWhole(count sparse.Affine) (about float64, none bool) {
	if len(count.Terms) == 0 {
		return count.Const, notWhole(count.Const)
	}
	if low, high := w.Problem.Seen(count); math.Ceil(low) <= high {
		return 0, false
	}
	low, high := w.Problem.Reach(count)
	return (low + high) / 2, math.Ceil(low-plan.Tolerance) > high+plan.Tolerance
}

// form is a dimension by what is still open.
func (w *wholly) form(v relation.VarID) sparse.Affine {
	if w.Problem.Known[v] {
		return sparse.Affine{Const: w.Problem.Value[v], Grad: w.Problem.Grad[v]}
	}
	return w.Problem.VarForm(v)
}

// notWhole reports whether a number can't be a count.
func notWhole(n float64) bool {
	return !(math.Abs(n-math.Round(n)) <= plan.Tolerance && n > -0.5 && n < plan.MostCount+0.5)
}

// odd lists the counts that are decided now and not whole, or not but for what
// was uncertain, and those on whose account a goal was given up.
func (w *wholly) odd() []must.OddCount {
	var out []must.OddCount
	seen := map[relation.VarID]bool{}
	for _, v := range w.counts {
		if w.given[v] || !w.decided(v) {
			continue
		}
		if f := w.form(v); notWhole(f.Const) {
			seen[v] = true
			out = append(out, must.OddCount{Var: v, Value: f.Const, U: w.Problem.Uncertainty(f.Grad)})
		}
	}
	for _, c := range slices.Concat(w.Problem.Rounded, w.refused) {
		if !w.given[c.Var] && !seen[c.Var] && w.open[c.Var] {
			seen[c.Var] = true
			out = append(out, c)
		}
	}
	return out
}

// divide finds what hangs together.
func (w *wholly) divide() {
	w.back(w.before)
	w.part = w.parts()
	w.partOf = make([]int32, len(w.goals))
	for i := range w.goals {
		w.partOf[i] = w.join(w.part, w.goals[i].vars())
	}
	w.first = map[int32]*goal{}
	for i, v := range w.partOf {
		if v < 0 {
			continue
		}
		root := w.part.Root(v)
		if w.partOf[i] = root; w.first[root] == nil {
			w.first[root] = &w.goals[i]
		}
	}
}

// parts groups the dimensions that lines make hang together now, by way of what
// is not decided.
func (d *Design) parts() graph.Groups {
	part := graph.NewGroups(len(d.Sys.Vars))
	for _, r := range d.scope.Relations {
		if d.Problem.Active[r] && !d.Plan.Broken[r] {
			d.join(part, d.Vars[r])
		}
	}
	var vars []relation.VarID
	for _, x := range d.Problem.Extra {
		vars = vars[:0]
		for _, t := range x.Form.Terms {
			vars = append(vars, t.Var)
		}
		d.join(part, vars)
	}
	return part
}

// join makes those of some dimensions one group that are not decided, and gives
// the first of them, -1 if there is none.
func (d *Design) join(part graph.Groups, vars []relation.VarID) int32 {
	first := int32(-1)
	for _, v := range vars {
		switch {
		case d.decided(v):
		case first < 0:
			first = int32(v)
		default:
			part.Join(first, int32(v))
		}
	}
	return first
}

// oneEach takes of each part the count that is nearest to a whole number.
func oneEach(part graph.Groups, odd []must.OddCount) []must.OddCount {
	off := func(c must.OddCount) float64 { return math.Abs(c.Value - math.Round(c.Value)) }
	slices.SortStableFunc(odd, func(a, b must.OddCount) int { return cmp.Compare(off(a), off(b)) })
	var out []must.OddCount
	seen := map[int32]bool{}
	for _, c := range odd {
		if root := part.Root(int32(c.Var)); !seen[root] {
			seen[root] = true
			out = append(out, c)
		}
	}
	return out
}

// choose gives each of some counts of different parts the better of the two
// whole numbers about it.
func (w *wholly) choose(odd []must.OddCount) {
	try := func(round func(float64) float64) ([]choice, map[int32]miss) {
		next := make([]choice, 0, len(odd))
		for _, c := range odd {
			n := wholeBy(c, round)
			goal := w.first[w.part.Root(int32(c.Var))]
			if goal == nil {
				goal = &w.goals[0]
			}
			next = append(next, choice{c.Var, n, goal})
		}
		return next, w.attempt(w.chosen, next)
	}
	low, lowMiss := try(math.Floor)
	high, highMiss := try(math.Ceil)
	for i, c := range odd {
		root := w.part.Root(int32(c.Var))
		l, h := lowMiss[root], highMiss[root]
		w.given[c.Var] = true
		switch {
		case !l.possible() && !h.possible():
			w.lost = append(w.lost, c)
		case h.less(l):
			w.chosen = append(w.chosen, high[i])
		default:
			w.chosen = append(w.chosen, low[i])
		}
	}
	w.restart(w.chosen, nil)
}

// improve gives counts that were chosen with others of their part the next whole number, up or down,
// where the goals are met better by it, as long as they are: the first of them was chosen when the
// others weren't whole yet. Of two as good the smaller is taken. It reports whether there are any;
// they have to be met again then.
func (w *wholly) improve() bool {
	of := map[int32][]int{} // places among the chosen, by part
	most := 0
	for i, c := range w.chosen {
		root := w.part.Root(int32(c.count))
		of[root] = append(of[root], i)
		most = max(most, len(of[root]))
	}
	if most < 2 {
		return false
	}
	maps.DeleteFunc(of, func(_ int32, places []int) bool { return len(places) < 2 })
	best := w.attempt(w.chosen, nil)
	for range countRounds {
		better := false
		for k := range most {
			for _, by := range [2]float64{-1, 1} {
				better = w.step(of, k, by, best) || better
			}
		}
		if !better {
			break
		}
	}
	w.restart(w.chosen, nil)
	return true
}

// step changes the k-th of the counts that were chosen in each part where the goals are met better by
// it. It reports whether it has changed one.
func (w *wholly) step(of map[int32][]int, k int, by float64, best map[int32]miss) (changed bool) {
	var others, next []choice
	for i, c := range w.chosen {
		places := of[w.part.Root(int32(c.count))]
		if k < len(places) && places[k] == i {
			c.n += by
			next = append(next, c)
		} else {
			others = append(others, c)
		}
	}
	missed := w.attempt(others, next)
	for _, c := range next {
		root := w.part.Root(int32(c.count))
		is, was := missed[root], best[root]
		if c.n >= 0 && c.n <= plan.MostCount && is.possible() && (is.less(was) || by < 0 && !was.less(is)) {
			w.chosen[of[root][k]], best[root], changed = c, is, true
		}
	}
	return changed
}

// wholeBy is the number that a count becomes by a way to round.
func wholeBy(c must.OddCount, round func(float64) float64) float64 {
	if nearest, ok := plan.Whole(c.Value, c.U); ok {
		return nearest
	}
	return math.Min(math.Max(round(c.Value), 0), plan.MostCount)
}

// A miss says by how much the goals of a part are missed.
type miss struct {
	refused int     // counts that can't be what they are given
	open    int     // goals that could not be worked out
	sum     float64 // of the weighed squares
}

func (m miss) possible() bool { return m.refused == 0 }

// less reports whether a miss is less than another by more than the arithmetic.
func (m miss) less(o miss) bool {
	if m.refused != o.refused {
		return m.refused < o.refused
	}
	if m.open != o.open {
		return m.open < o.open
	}
	return m.sum < o.sum-1e-9*(1+o.sum)
}

// restart goes back and gives some counts, and then some more of different
// parts. It says in which parts one can't be.
func (w *wholly) restart(counts, more []choice) map[int32]miss {
	w.back(w.before)
	out := map[int32]miss{}
	for _, some := range [2][]choice{counts, more} {
		for _, c := range w.give(some) {
			root := w.part.Root(int32(c.count))
			m := out[root]
			m.refused++
			out[root] = m
		}
	}
	return out
}

// attempt is by how much the goals of each part are missed with some counts
// given, and some more.
func (w *wholly) attempt(counts, more []choice) map[int32]miss {
	out := w.restart(counts, more)
	target := map[int]float64{}
	outcomes, _ := w.best(w.goals)
	for _, o := range outcomes {
		if !o.Limit {
			target[o.Index] = o.target.Const
		}
	}
	for i := range w.goals {
		g, m := &w.goals[i], out[w.partOf[i]]
		off, ok := target[g.index]
		if !ok {
			off, ok = w.offBy(g)
		}
		if ok {
			m.sum += g.weight * off * off
		} else {
			m.open++
		}
		out[w.partOf[i]] = m
	}
	return out
}

// offBy is left - right of a goal that is decided.
func (w *wholly) offBy(g *goal) (float64, bool) {
	form, ok := w.goalForm(g, nil)
	if !ok {
		return 0, false
	}
	a := w.Problem.Form(form)
	return a.Const, len(a.Terms) == 0
}

// give makes counts of different parts, or that are known to agree, what they are
// to be. It returns those that can't be.
func (d *Design) give(counts []choice) (refused []choice) {
	var fixings []outcome
	for _, c := range counts {
		form := relation.Form{Terms: []relation.Term{{Var: c.count, Coef: 1}}, Const: -c.n}
		a := d.Problem.Form(form)
		if low, high := d.Problem.Reach(a); low > plan.Tolerance || high < -plan.Tolerance {
			refused = append(refused, c)
		} else if len(a.Terms) > 0 {
			fixing := Fixing{Level: c.goal.level, Index: c.goal.index, Vars: []relation.VarID{c.count}}
			fixings = append(fixings, outcome{Fixing: fixing, form: form})
		}
	}
	d.fixAll(fixings)
	for _, f := range fixings {
		if !d.decided(f.Vars[0]) {
			refused = append(refused, choice{count: f.Vars[0]})
		}
	}
	return refused
}
