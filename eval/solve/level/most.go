package level

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/must"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

// Most finds, for each count that is to be as large as can be, the largest
// whole number with which the musts can hold, and the row be centred where
// nothing ties its ends. Those that can't be told before others wait for them.
func (d *Design) Most() {
	m := mosts{Design: d}
	var waiting []most
	for v := range d.Sys.Vars {
		if d.Sys.Vars[v].Most && d.Sys.Vars[v].Bench == 0 {
			waiting = append(waiting, most{count: relation.VarID(v)})
		}
	}
	if len(waiting) == 0 {
		return
	}
	m.stale, m.fresh = make([]bool, len(d.Sys.Vars)), make([]bool, len(d.Sys.Vars))
	for _, w := range waiting {
		m.fresh[w.count] = true
	}
	for settled := true; settled && len(waiting) > 0; {
		waiting, settled = m.round(waiting)
	}
	for _, w := range waiting {
		d.OddCounts = append(d.OddCounts, *w.problem)
	}
	m.renew()
}

// mosts finds several counts that are to be as large as can be.
type mosts struct {
	*Design
	stale []bool // dimensions that hang together with counts found since the problem was made
	due   bool   // there are such
	fresh []bool // and with those found in a round; before the first all counts
}

// A most is what has come of one of them.
type most struct {
	count   relation.VarID
	n       int
	part    plan.Scope // all that hangs together with it
	cause   CountCause
	problem *must.OddCount // why it could not be found
}

// round finds those of some counts that can be told now, and returns the others.
// All are looked at before any is settled, and those that take the same room are
// settled from the largest down, so that it doesn't matter which comes first.
func (m *mosts) round(counts []most) (waiting []most, settled bool) {
	m.renew()
	for i := range counts {
		if m.fresh[counts[i].count] {
			m.look(&counts[i])
		}
	}
	clear(m.fresh)
	slices.SortStableFunc(counts, func(a, b most) int { return b.n - a.n })
	for _, c := range counts {
		if c.problem == nil && m.fresh[c.count] {
			if m.stale[c.count] {
				m.renew()
			}
			m.look(&c)
		}
		switch {
		case c.problem != nil:
			waiting = append(waiting, c)
		case !m.Problem.Known[c.count]:
			m.settle(c)
			settled = true
		}
	}
	slices.SortFunc(waiting, func(a, b most) int { return int(a.count) - int(b.count) })
	return waiting, settled
}

// look finds what a count would be now.
func (m *mosts) look(c *most) {
	if c.n, c.problem = 0, nil; !m.Problem.Known[c.count] {
		c.n, c.part, c.cause, c.problem = m.largest(c.count)
	}
}

// settle makes a count what was found.
func (m *mosts) settle(c most) {
	if m.counted == nil {
		m.counted = map[relation.VarID]float64{}
		m.Because = map[relation.VarID]CountCause{}
	}
	m.counted[c.count] = float64(c.n)
	if sp, ok := m.spacingOf(c.count); ok {
		middle, _, by := m.centring(c.count, sp)
		m.middles = append(m.middles, middle...)
		if len(middle) > 0 {
			if m.holding == nil {
				m.holding = map[int]bool{}
			}
			m.holding[by] = true
		}
	}
	m.Because[c.count] = c.cause
	m.due = true
	for _, v := range c.part.Vars {
		if !m.Problem.Known[v] {
			m.stale[v], m.fresh[v] = true, true
		}
	}
}

// renew solves the musts with what was found since.
func (m *mosts) renew() {
	if m.due {
		m.Problem = m.begin(nil)
		m.Problem.Bound()
		clear(m.stale)
		m.due = false
	}
}

// A spacing is how a count takes up room: alpha + count*beta = 0, where beta
// is the pitch or its opposite.
type spacing struct {
	relation    int32
	alpha, beta relation.Form
}

// spacingOf finds the equation run = (count - 1) * pitch of a count.
func (d *Design) spacingOf(count relation.VarID) (spacing, bool) {
	for _, r := range d.Equations.Of(int32(count)) {
		if !d.Problem.IsEquation(r) {
			continue
		}
		with := func(n float64) (relation.Form, bool) {
			return d.Sys.Relations[r].Difference(func(v relation.VarID) (float64, bool) {
				if v == count {
					return n, true
				}
				return d.Problem.Lookup(v)
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
func (d *Design) largest(count relation.VarID) (int, plan.Scope, CountCause, *must.OddCount) {
	fail := func(p must.OddCount) (int, plan.Scope, CountCause, *must.OddCount) {
		return 0, plan.Scope{}, CountCause{}, &p
	}
	sp, ok := d.spacingOf(count)
	if !ok {
		return fail(must.OddCount{Var: count, Value: math.NaN()})
	}
	// The least pitch by what is stated: sign rules don't count.
	beta := d.Problem.Form(sp.beta)
	least, greatest := d.Problem.StatedReach(beta)
	pitch := least
	if greatest < 0 {
		pitch = -greatest
	}
	if !(pitch > 1e-9) || least <= 0 && greatest >= 0 {
		if d.lineOut(sp) { // what keeps them apart clashed with the limits: there is no room for one
			return fail(must.OddCount{Var: count, Value: 0})
		}
		return fail(must.OddCount{Var: count, Value: math.NaN()})
	}
	centring, kept, _ := d.centring(count, sp)
	cause := CountCause{Relation: sp.relation}
	for _, v := range d.Vars[sp.relation] {
		if v != count && d.Problem.Known[v] {
			cause.From = append(cause.From, v)
		}
	}
	seeds := []relation.VarID{count}
	for _, row := range slices.Concat(centring, kept) {
		for _, t := range row.Form.Terms {
			seeds = append(seeds, t.Var)
		}
	}
	part := d.Problem.Connected(seeds, d.Problem.Unknown, nil)
	room := d.roomFor(part, sp.alpha, kept) / pitch
	top := plan.MostCount
	if room < plan.MostCount {
		top = int(math.Floor(room + plan.Tolerance))
	}
	others := d.others(part, count)
	also := slices.Concat(centring, kept, d.centred(part, others))
	fits := func(n int) bool { return n >= 0 && d.fits(part, others, count, float64(n), also) }
	if math.IsInf(room, 1) && fits(plan.MostCount) {
		return fail(must.OddCount{Var: count, Value: math.Inf(1)})
	}
	find := func(held []must.ExtraRow) int {
		also = slices.Concat(also, held)
		good := largestThat(fits, top)
		if good < 0 && len(kept) > 0 {
			beside := slices.Concat(centring, held)
			good = d.nearest(top, kept, func(n int) *must.Problem { return d.with(part, others, count, float64(n), beside) })
		}
		return good
	}
	plain := also
	good := find(d.heldBesideWishes(part))
	if len(also) > len(plain) && good < 0 { // what then comes is told as what it makes of the board
		also = plain
		good = find(nil)
	}
	if good < 0 && len(others) > 0 { // another count can't be whole whatever this one is, of which it is told
		others = nil
		good = largestThat(fits, top)
	}
	if good < 0 {
		return fail(must.OddCount{Var: count, Value: 0})
	}
	return good, part, cause, nil
}

// lineOut reports whether a line was left out, as it clashes with others, that would say
// something of a pitch.
func (d *Design) lineOut(sp spacing) bool {
	var seeds []relation.VarID
	for _, t := range sp.beta.Terms {
		seeds = append(seeds, t.Var)
	}
	for _, v := range d.Problem.Connected(seeds, d.Problem.Unknown, nil).Vars {
		if slices.ContainsFunc(d.Equations.Of(int32(v)), func(r int32) bool { return !d.Active[r] && !d.Broken[r] }) {
			return true
		}
	}
	return false
}

// largestThat is the largest number, from top down, that fits; -1 if none does.
func largestThat(fits func(n int) bool, top int) int {
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
	for good >= 0 && bad-good > 1 {
		n := (good + bad) / 2
		if fits(n) {
			good = n
		} else {
			bad = n
		}
	}
	return good
}

// nearest finds a count for a board that can't keep its size: its row is tied at both
// ends, and no whole number of holes is just as long. top is how many that size has room
// for. Of the next that fit, with so many or fewer holes and with more, it is the one with
// which the board comes nearer to its size, of two as near the smaller; -1 where none is
// near.
func (d *Design) nearest(top int, kept []must.ExtraRow, with func(n int) *must.Problem) int {
	const reach = 300
	best, miss := -1, math.Inf(1)
	try := func(n int) bool {
		q := with(n)
		if q == nil {
			return false
		}
		defer q.Close()
		off := 0.0
		for _, size := range kept {
			low, high := q.Reach(q.Form(size.Form))
			off += max(low, -high, 0)
		}
		if off < miss-plan.Tolerance {
			best, miss = n, off
		}
		return true
	}
	for n := top; n >= max(1, top-reach); n-- {
		if try(n) {
			break
		}
	}
	for n := max(top+1, 1); n <= min(top+reach, plan.MostCount); n++ {
		if try(n) {
			break
		}
	}
	return best
}

// others are the further counts of a part that are to be as large as can be, up to so
// many as are made whole together.
func (d *Design) others(part plan.Scope, count relation.VarID) []relation.VarID {
	var others []relation.VarID
	for _, v := range part.Vars {
		if v != count && d.Sys.Vars[v].Most && !d.Problem.Known[v] && len(others) < countRounds {
			others = append(others, v)
		}
	}
	return others
}

// centred is what centres the rows of other counts of a part, and of those that were found
// before: a row that is centred leaves its middle to none that shares its room.
func (d *Design) centred(part plan.Scope, others []relation.VarID) (middles []must.ExtraRow) {
	for _, v := range others {
		if sp, ok := d.spacingOf(v); ok {
			middle, _, _ := d.centring(v, sp)
			middles = append(middles, middle...)
		}
	}
	return d.about(part, append(middles, d.middles...))
}

// about is what some rows say of a part. What is known is put in, as a part knows only its own
// dimensions. A row with one that is open outside of the part says nothing of it: that is free.
func (d *Design) about(part plan.Scope, rows []must.ExtraRow) (about []must.ExtraRow) {
	for _, row := range rows {
		form := relation.Form{Const: row.Form.Const}
		free := false
		for _, t := range row.Form.Terms {
			switch {
			case d.Problem.Known[t.Var]:
				form.Const += t.Coef * d.Problem.Value[t.Var]
			case slices.Contains(part.Vars, t.Var):
				form.Terms = append(form.Terms, t)
			default:
				free = true
			}
		}
		if !free && len(form.Terms) > 0 {
			about = append(about, must.ExtraRow{Form: form, Grad: row.Grad})
		}
	}
	return about
}

// roomFor is how long a row may be at the most, with some further equations.
func (d *Design) roomFor(part plan.Scope, length relation.Form, also []must.ExtraRow) float64 {
	q := d.Problem
	if len(also) > 0 {
		q = d.Problem.Within(part)
		defer q.Close()
		q.Extra = also
		q.Solve()
		q.Bound()
	}
	low, high := q.Reach(q.Form(length))
	return max(math.Abs(low), math.Abs(high))
}

// fits reports whether the musts and some further equations can hold with a given
// count, and leave other counts a whole number. part is all that hangs together with
// it.
func (d *Design) fits(part plan.Scope, others []relation.VarID, count relation.VarID, n float64, also []must.ExtraRow) bool {
	q := d.with(part, others, count, n, also)
	if q == nil {
		return false
	}
	q.Close()
	return true
}

// with is the problem of fits, nil if it can't hold.
func (d *Design) with(part plan.Scope, others []relation.VarID, count relation.VarID, n float64, also []must.ExtraRow) *must.Problem {
	q := d.Problem.Within(part)
	q.Value[count], q.Known[count], q.Given[count] = n, true, true
	q.Extra = also
	q.Solve()
	holds := func() bool { return !q.Failed() && !q.Refused }
	if holds() {
		q.Bound()
	}
	if !holds() || slices.ContainsFunc(others, func(v relation.VarID) bool { return noneWhole(q, v) }) {
		q.Close()
		return nil
	}
	return q
}

// noneWhole reports whether a problem leaves a count no whole number.
func noneWhole(q *must.Problem, count relation.VarID) bool {
	if q.Known[count] {
		return notWhole(q.Value[count])
	}
	if low, high := q.Seen(q.VarForm(count)); math.Ceil(low) <= high {
		return false
	}
	low, high := q.Reach(q.VarForm(count))
	return math.Ceil(low-plan.Tolerance) > high+plan.Tolerance
}

// centring finds the default that centres the row of a count: it sets equal
// two dimensions that stand with the row's run in one of its own equations.
// It is nil where there is none, where a line ties one of the two, where the musts
// say where a row of each length lies, or where limits on each of them say where it
// may. kept are the sizes that what it stands on keeps, so that it doesn't grow with
// the row; by is the default.
func (d *Design) centring(count relation.VarID, sp spacing) (form, kept []must.ExtraRow, by int) {
	if d.pairs == nil {
		d.pairs = map[relation.VarID][]int{}
		for i := range d.Sys.Defaults {
			if def := &d.Sys.Defaults[i]; def.Left.Op == relation.Ref && def.Right.Op == relation.Ref && d.Sane(def.Left, def.Right) {
				d.pairs[def.Left.Var] = append(d.pairs[def.Left.Var], i)
			}
		}
	}
	first := -1
	for _, v := range d.Vars[sp.relation] {
		if v == count {
			continue
		}
		for _, r := range d.Equations.Of(int32(v)) {
			if r == sp.relation || d.Sys.Relations[r].Role != relation.Own {
				continue
			}
			for _, w := range d.Vars[r] {
				for _, i := range d.pairs[w] {
					if (first < 0 || i < first) && slices.Contains(d.Vars[r], d.Sys.Defaults[i].Right.Var) {
						first = i
					}
				}
			}
		}
	}
	if first < 0 {
		return nil, nil, first
	}
	def := &d.Sys.Defaults[first]
	for _, v := range def.Frame {
		if size, ok := d.keptSize(v); ok {
			kept = append(kept, must.ExtraRow{Form: relation.Form{Terms: []relation.Term{{Var: v, Coef: 1}}, Const: -size}})
		}
	}
	left, right := def.Left.Var, def.Right.Var
	apart := relation.Form{Terms: []relation.Term{{Var: left, Coef: 1}, {Var: right, Coef: -1}}}
	if d.tied(left) || d.tied(right) || d.placed(left, right) || d.limited(left) && d.limited(right) {
		return nil, kept, first
	}
	return []must.ExtraRow{{Form: apart}}, kept, first
}

// placed reports whether the musts leave the ends of a row nothing but its length: one of
// them follows from the other, not only their sum.
func (d *Design) placed(left, right relation.VarID) bool {
	form := func(v relation.VarID) sparse.Affine {
		return d.Problem.Form(relation.Form{Terms: []relation.Term{{Var: v, Coef: 1}}})
	}
	l, r := form(left), form(right)
	if len(l.Terms) == 0 || len(r.Terms) == 0 {
		return true
	}
	ratio := l.Terms[0].Coef / r.Terms[0].Coef
	return len(l.Plus(-ratio, r).Terms) == 0 && len(l.Plus(1, r).Terms) > 0
}

// tied reports whether a line of the design is an equation about a dimension, or about where
// a field's member lies by it, other than one of a thing that follows it and leaves it open.
func (d *Design) tied(v relation.VarID) bool {
	for _, r := range d.Equations.Of(int32(v)) {
		rel := &d.Sys.Relations[r]
		switch {
		case !d.Active[r]:
		case rel.Role == relation.Own:
			if member, is := d.memberBy(rel); is && member != v && d.tied(member) {
				return true
			}
		case slices.Contains(rel.Follows, v) && !d.decided(v):
		default:
			return true
		}
	}
	return false
}

// memberBy is the dimension of a field's member that a relation gives, if it gives one.
func (d *Design) memberBy(rel *relation.Relation) (relation.VarID, bool) {
	if rel.Left.Op != relation.Ref || !d.Sys.Vars[rel.Left.Var].Member {
		return 0, false
	}
	return rel.Left.Var, true
}

// limited reports whether a line of the design limits a dimension, or that of a field's first
// member which is the same: it is about that, or about no dimension alone.
func (d *Design) limited(v relation.VarID) bool {
	for _, r := range d.Equations.Of(int32(v)) {
		rel := &d.Sys.Relations[r]
		if member, is := d.memberBy(rel); is && member != v && rel.Right.Op == relation.Ref && d.limited(member) {
			return true
		}
	}
	return slices.ContainsFunc(d.Limits.Of(int32(v)), func(i int32) bool {
		r := &d.Sys.Relations[i]
		if !d.Active[i] || r.Role == relation.Own {
			return false
		}
		subject, ok := r.Subject()
		return !ok || subject == v
	})
}

// heldBesideWishes is what of a part would hold by the musts if no wish were about it, such
// as that what a board reaches past its notebook is 0: no wish changes how many there are.
func (d *Design) heldBesideWishes(part plan.Scope) (rows []must.ExtraRow) {
	if d.held == nil {
		d.held = map[relation.VarID]int{}
		for i := range d.Sys.Defaults {
			if def := &d.Sys.Defaults[i]; def.Wished {
				d.held[def.Left.Var] = i
			}
		}
	}
	unknown := func(relation.VarID) (float64, bool) { return 0, false }
	for _, v := range part.Vars {
		i, wished := d.held[v]
		if !wished || d.Problem.Known[v] {
			continue
		}
		r := relation.Relation{Left: d.Sys.Defaults[i].Left, Right: d.Sys.Defaults[i].Right}
		if form, linear := r.Difference(unknown); linear {
			rows = append(rows, must.ExtraRow{Form: form})
		}
	}
	return d.about(part, rows)
}

// keptSize is the size that a board which the musts leave open has by what it
// covers, where what it reaches past that is settled by defaults: each of that is as
// near to 0, and the size then as near to what comes of it, as limits let it. It is
// false for other dimensions.
func (d *Design) keptSize(v relation.VarID) (float64, bool) {
	if d.decided(v) {
		return 0, false
	}
	for _, r := range d.Equations.Of(int32(v)) {
		rel := &d.Sys.Relations[r]
		if !d.Active[r] || rel.Role != relation.Fact || rel.Left.Op != relation.Ref || rel.Left.Var != v {
			continue
		}
		near := func(v relation.VarID, x float64) float64 {
			low, high := d.Problem.Reach(d.Problem.VarForm(v))
			return min(max(x, low), high)
		}
		size := 0.0
		for _, w := range d.Vars[r] {
			switch {
			case w == v:
			case d.Problem.Known[w]:
				size += d.Problem.Value[w]
			default: // what it reaches past an edge
				size += near(w, 0)
			}
		}
		return near(v, size), true
	}
	return 0, false
}
