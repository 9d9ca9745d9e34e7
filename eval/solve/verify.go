package solve

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/level"
	"foredge/eval/solve/must"
	"foredge/eval/solve/sparse"
)

// verify holds every relation against the values found. It is there so that
// no value goes out that breaks a line without a word.
func (t *telling) verify() {
	for r := range t.Sys.Relations {
		t.verifyLine(r)
	}
}

// verifyPinned does the same with those about what limits alone have settled since.
func (t *telling) verifyPinned(since []level.Pinning) {
	if len(since) == 0 {
		return
	}
	pinned := map[relation.VarID]bool{}
	for _, p := range since {
		pinned[p.At] = true
	}
	for r := range t.Sys.Relations {
		if slices.ContainsFunc(t.Plan.Vars[r], func(v relation.VarID) bool { return pinned[v] }) {
			t.verifyLine(r)
		}
	}
}

// verifyLine tells a relation that the values found break, unless what has been told says why.
func (t *telling) verifyLine(r int) {
	rel := &t.Sys.Relations[r]
	if !t.Active[r] && rel.Bench == 0 || t.Broken[r] {
		return
	}
	miss, terms := t.Forms[r].Const, t.Forms[r].Terms
	if !t.Linear[r] {
		miss, terms = rel.Gradient(t.sol.Values)
	}
	scale := 0.0
	for _, term := range terms {
		part := term.Coef * t.sol.Values[term.Var]
		if t.Linear[r] {
			miss += part
		}
		if sparse.Finite(part) { // the root of 0 has no finite slope
			scale = max(scale, math.Abs(part))
		}
	}
	if !sparse.Finite(miss) {
		return // not known, or reported where it could not be computed
	}
	allowed := 2*t.Problem.Allowed(int32(r)) + 1e-9*scale
	if rel.Sign == relation.GE && miss >= -allowed || rel.Sign == relation.LE && miss <= allowed ||
		rel.Sign == relation.EQ && math.Abs(miss) <= allowed {
		return
	}
	if slices.ContainsFunc(t.sol.Tangles, func(x Tangle) bool { return slices.Contains(x.Relations, r) }) {
		return
	}
	c, ok := Clash{}, false
	if rel.Bench == 0 {
		c, ok = t.clashOf(t.Problem, must.Conflict{Relations: t.Problem.Support([]int32{int32(r)}, nil)})
	} else if slices.ContainsFunc(t.sol.Clashes, func(c Clash) bool { return t.tells(c, r) }) {
		return
	} else {
		c, ok = t.broken(r)
	}
	if !ok {
		left, right := rel.Left.Eval(t.sol.Values), rel.Right.Eval(t.sol.Values)
		c = Clash{Relations: []int{r}, Low: left, High: left, Asked: right, Miss: math.Abs(miss), Chosen: rel.Bench == 0}
	}
	t.sol.Clashes = append(t.sol.Clashes, c)
}

// tells reports whether a clash says already why a line of a notebook doesn't hold: it is
// among those of the clash, or always holds there and so is what they break.
func (t *telling) tells(c Clash, r int) bool {
	rel := &t.Sys.Relations[r]
	return slices.ContainsFunc(c.Relations, func(other int) bool {
		return other == r || rel.Role == relation.Own && t.Sys.Relations[other].Bench == rel.Bench
	})
}

// broken is the clash of a line of a notebook with what was read.
func (t *telling) broken(r int) (Clash, bool) {
	f := &filter{q: t.Problem}
	if _, fails := f.try([]int32{int32(r)}); !fails {
		return Clash{}, false
	}
	c, f, members := t.carry(f, []int32{int32(r)})
	if len(c.Relations) == 0 {
		return Clash{}, false
	}
	c.measure(f, members)
	return c, true
}
