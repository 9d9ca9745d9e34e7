package solve

import (
	"math"
	"slices"
	"sort"

	"foredge/eval/relation"
	"foredge/eval/solve/level"
	"foredge/eval/solve/must"
	"foredge/eval/solve/plan"
)

// clashes makes an irreducible clash of each conflict of a problem. A conflict
// that shares a line with a clash already found is left out: it shows itself
// once that one is mended.
func (t *telling) clashes(q *must.Problem) []Clash {
	var out []Clash
	taken := map[int]bool{}
	for _, w := range q.Conflicts {
		w, _, hangs := hangsOn(q, w, taken)
		if hangs {
			continue
		}
		c, ok := t.clashOf(q, w)
		if !ok || c.shares(taken) {
			continue
		}
		for _, r := range c.Relations {
			taken[r] = true
		}
		out = append(out, c)
	}
	return out
}

// shares reports whether a line of the clash is among those given.
func (c *Clash) shares(lines map[int]bool) bool {
	return slices.ContainsFunc(c.Relations, func(r int) bool { return lines[r] })
}

// clashOf drops from a conflict every line without which it is still one, and
// measures by how much the last misses.
func (t *telling) clashOf(q *must.Problem, w must.Conflict) (Clash, bool) {
	return t.clashIn(&filter{q: q}, blamable(q, w))
}

// clashIn is the clash among some lines, by a filter.
func (t *telling) clashIn(f *filter, members []int32) (Clash, bool) {
	if len(members) == 0 {
		return Clash{}, false
	}
	members, fail := f.reduce(members)
	if !fail {
		return Clash{}, false
	}
	f, members = f.reducedApart(members)
	c, f, members := t.carry(f, members)
	if len(c.Relations) == 0 {
		c.Low, c.High, c.Asked, c.Miss = math.Inf(-1), math.Inf(1), math.NaN(), math.NaN()
		return c, true
	}
	c.measure(f, members)
	last := c.Relations[len(c.Relations)-1]
	if left := &f.q.Sys.Relations[last].Left; left.Op == relation.Ref && slices.Contains(f.q.Vars[last], left.Var) && f.q.Sys.Vars[left.Var].Whole {
		c.wholeEnds()
	}
	return c, true
}

// blamable lists the lines of a conflict that may stand in a clash: first those
// that are to blame least, then as they stand in the text.
func blamable(q *must.Problem, w must.Conflict) (members []int32) {
	for _, r := range w.Relations {
		if r >= 0 && q.Active[r] && q.Sys.Relations[r].Role != relation.Own {
			members = append(members, r)
		}
	}
	// What holds by default is never to blame, nor what was measured beside that.
	weight := func(r int32) int { return 0 }
	if slices.ContainsFunc(members, func(r int32) bool { return q.Sys.Relations[r].Role == relation.Held }) {
		weight = func(r int32) int {
			switch q.Sys.Relations[r].Role {
			case relation.Held:
				return -2
			case relation.Fact:
				return -1
			}
			return 0
		}
	}
	slices.SortStableFunc(members, func(a, b int32) int {
		if c := weight(a) - weight(b); c != 0 {
			return c
		}
		x, y := q.Sys.Relations[a].At, q.Sys.Relations[b].At
		switch {
		case x.Before(y):
			return -1
		case y.Before(x):
			return 1
		}
		return int(a) - int(b)
	})
	return members
}

// hangsOn reports whether a conflict is one only together with lines that have
// been told of: then no clash need be made of it, and out is the first of its
// lines that fails with those before it. Otherwise it returns what of the conflict
// is one by itself.
func hangsOn(q *must.Problem, w must.Conflict, told map[int]bool) (rest must.Conflict, out int, hangs bool) {
	isTold := func(r int32) bool { return told[int(r)] }
	if !slices.ContainsFunc(w.Relations, isTold) {
		return w, -1, false
	}
	rest = w
	rest.Relations = slices.DeleteFunc(slices.Clone(w.Relations), isTold)
	f := &filter{q: q}
	if f.fails(blamable(q, rest)) {
		return rest, -1, false
	}
	members := blamable(q, w)
	n := sort.Search(len(members), func(n int) bool { return f.fails(members[:n+1]) })
	if n == len(members) {
		return w, -1, false
	}
	return w, int(members[n]), true
}

// measure finds the range that the other members leave for the left side of the
// last relation.
func (c *Clash) measure(f *filter, members []int32) {
	q, last := f.q, int32(c.Relations[len(c.Relations)-1])
	rel := &q.Sys.Relations[last]
	c.Low, c.High, c.Asked, c.Miss = math.Inf(-1), math.Inf(1), math.NaN(), math.NaN()
	t := q.Trial(f.lines(slices.DeleteFunc(slices.Clone(members), func(m int32) bool { return m == last })), slices.Concat(f.also, q.Vars[last]))
	defer t.Close()
	for _, v := range q.Vars[last] {
		if !t.Known[v] {
			t.VarForm(v)
		}
	}
	left, lok := rel.Left.Linear(t.Lookup)
	right, rok := rel.Right.Linear(t.Lookup)
	if lok {
		c.Low, c.High = t.Reach(t.Form(left))
	}
	if !rok {
		return
	}
	low, high := t.Reach(t.Form(right))
	if f.apart && low == high {
		c.measureApart(t, rel, low)
		return
	}
	if !lok {
		if low == high {
			c.Asked = low
		}
		return
	}
	// How far left - right is from what the sign of the relation asks.
	least, most := t.Reach(t.Form(left.Plus(right, -1)))
	switch {
	case least > 0 && rel.Sign != relation.GE:
		c.Miss = least
		c.Asked = asked(c.Low-least, high)
	case most < 0 && rel.Sign != relation.LE:
		c.Miss = -most
		c.Asked = asked(c.High-most, low)
	}
	if high-low <= plan.Tolerance {
		c.Asked = low
	}
}

// measureApart does the same where lines that aren't linear make the clash.
func (c *Clash) measureApart(t *must.Problem, rel *relation.Relation, value float64) {
	left := t.Narrowed(&rel.Left)
	c.Low, c.High, c.Asked = left.Low, left.High, value
	switch {
	case left.Low > value && rel.Sign != relation.GE:
		c.Miss = left.Low - value
	case left.High < value && rel.Sign != relation.LE:
		c.Miss = value - left.High
	}
}

// wholeEnds makes what the others leave of a count whole, and by how much it misses what is
// asked for.
func (c *Clash) wholeEnds() {
	low, high := math.Ceil(c.Low-plan.Tolerance), math.Floor(c.High+plan.Tolerance)
	if low > high || math.IsNaN(c.Miss) {
		return
	}
	if c.Asked < c.Low {
		c.Miss += low - c.Low
	} else {
		c.Miss += c.High - high
	}
	c.Low, c.High = low, high
}

// mostApart is how many lines about what is left open are tried one by one for a clash.
const mostApart = 60

// tellApart tells the clash of lines about what is left open, if [telling.apart] finds one.
func (t *telling) tellApart(open []relation.VarID) bool {
	c, is := t.apart(open)
	if is {
		t.sol.Clashes = append(t.sol.Clashes, c)
	}
	return is
}

// apart is the clash of lines about dimensions that are left open, of which an equation that
// isn't linear can't hold whatever they are.
func (t *telling) apart(open []relation.VarID) (c Clash, is bool) {
	// What wishes and defaults have decided was open when the lines had to hold.
	all, waits := t.Problem.Waiting(open, func(v relation.VarID) bool { return t.Problem.Unknown(v) || t.Stage[v] > level.Must })
	if !waits {
		return c, false
	}
	members := blamable(t.Problem, all)
	if len(members) > mostApart {
		return c, false
	}
	c, is = t.clashIn(&filter{q: t.Problem, apart: true}, members)
	return c, is && !slices.ContainsFunc(t.sol.Clashes, func(o Clash) bool {
		return slices.ContainsFunc(o.Relations, func(r int) bool { return slices.Contains(c.Relations, r) })
	})
}

// asked is what a line asks for whose right side comes nearest to its left at end. Where
// the two move together it is no one value, and infinite.
func asked(value, end float64) float64 {
	if math.Abs(value-end) <= 1e-6 {
		return value
	}
	return math.Inf(1)
}

// reduced leaves of what a block without a solution leans on only what keeps it
// from one.
func (t *telling) reduced(x Tangle) Tangle {
	if len(x.Found) > 0 || len(x.Given) == 0 {
		return x
	}
	var all []int32
	for _, r := range slices.Concat(x.Relations, x.Given) {
		all = append(all, int32(r))
	}
	if c, ok := t.clashOf(t.Problem, must.Conflict{Relations: all}); ok {
		x.Given = slices.DeleteFunc(c.Relations, func(r int) bool { return slices.Contains(x.Relations, r) })
	}
	return x
}

func indices(relations []int32) []int {
	var out []int
	for _, r := range relations {
		out = append(out, int(r))
	}
	return out
}
