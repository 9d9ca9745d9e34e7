package solve

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/adjust"
	"foredge/eval/solve/level"
	"foredge/eval/solve/must"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

// A telling puts what the levels have found into a solution.
type telling struct {
	*level.Design
	sol *Solution
}

func emptySolution(n int) *Solution {
	sol := &Solution{
		Values: slices.Repeat([]float64{math.NaN()}, n),
		U:      make([]float64, n),
		From:   make([]Origin, n),
		Cause:  make([]Cause, n),
	}
	for v := range sol.Cause {
		sol.Cause[v].Index = -1
	}
	return sol
}

// bench tells of a notebook that has been adjusted.
func (t *telling) bench(b *adjust.Bench) {
	t.sol.Benches = append(t.sol.Benches, reportOf(b))
	t.sol.Counts = append(t.sol.Counts, countProblems(b.Counts)...)
	for _, u := range b.Undecided {
		t.sol.Tangles = append(t.sol.Tangles, tangleOf(u))
	}
	t.sol.Clashes = append(t.sol.Clashes, t.clashes(b.Problem)...)
}

func countProblems(counts []must.OddCount) []CountProblem {
	var out []CountProblem
	for _, c := range counts {
		out = append(out, CountProblem{Var: c.Var, Value: c.Value, U: c.U, Unbounded: math.IsNaN(c.Value)})
	}
	return out
}

func tangleOf(u must.Undecided) Tangle {
	return Tangle{Vars: u.Vars, Relations: indices(u.Relations), Given: indices(u.Given), Found: u.Found}
}

// rounds is how often a design is looked at again after a line of each clash has
// been left out, and idle how often in turn without anything new to tell. What
// hides behind so many others shows once those are mended.
const (
	rounds = 40
	idle   = 8
)

// musts has the first level solved. Where it can't be, each clash is told and
// its last line left out, so that one mistake doesn't hide the next.
func (t *telling) musts() {
	told := map[int]bool{} // lines
	for round, last := 0, 0; round < rounds && round-last <= idle; round++ {
		t.Design.Musts()
		if len(t.Problem.Conflicts) == 0 {
			t.Most()
			break
		}
		out, news := t.conflicts(told)
		if out == 0 {
			break
		}
		if news {
			last = round
		}
	}
	t.sol.Counts = append(t.sol.Counts, countProblems(t.OddCounts)...)
	t.sol.Counts = append(t.sol.Counts, countProblems(t.Problem.Counts)...)
	for _, u := range t.Problem.Undecided {
		// With one of a clash's lines left out others may leave several solutions.
		if !slices.ContainsFunc(u.Relations, func(r int32) bool { return told[int(r)] }) {
			t.sol.Tangles = append(t.sol.Tangles, t.reduced(tangleOf(u)))
		}
	}
	t.EndMusts()
}

// conflicts tells the clashes of a problem that share no line with those that have
// been told, and leaves a line of each conflict out.
func (t *telling) conflicts(told map[int]bool) (out int, news bool) {
	for _, w := range t.Problem.Conflicts {
		if slices.ContainsFunc(w.Relations, func(r int32) bool { return r >= 0 && !t.Active[r] }) {
			continue // a line it leans on is out; it shows again if it is still there
		}
		w, line, hangs := hangsOn(t.Problem, w, told)
		if !hangs {
			c, ok := t.clashOf(t.Problem, w)
			if !ok {
				c = Clash{Relations: t.lines(w), Low: math.Inf(-1), High: math.Inf(1), Asked: math.NaN(), Miss: math.NaN()}
			}
			if line = t.leftOut(c, w); line < 0 {
				continue
			}
			if !c.shares(told) {
				t.sol.Clashes = append(t.sol.Clashes, c)
				news = true
			}
			for _, r := range c.Relations {
				told[r] = true
			}
		}
		t.Active[line] = false
		out++
	}
	return out, news
}

// leftOut is the relation without which the rest of a clash can hold: its last
// line or, where what was measured can't be covered, the last fact of the
// conflict; -1 if there is none.
func (t *telling) leftOut(c Clash, w must.Conflict) int {
	if n := len(c.Relations); n > 0 {
		return c.Relations[n-1]
	}
	for _, r := range slices.Backward(w.Relations) {
		if r >= 0 && t.Sys.Relations[r].Role == relation.Fact && t.Active[r] {
			return int(r)
		}
	}
	return -1
}

// givenUp tells of wishes that were given up and have not come true by chance.
func (t *telling) givenUp(benches []*level.Design) {
	for _, d := range append(benches, t.Design) {
		for _, g := range d.GivenUp {
			w := &t.Sys.Wishes[g.Wish]
			rel := relation.Relation{Left: w.Left, Right: w.Right}
			if miss := rel.Residual(t.sol.Values); math.Abs(miss) <= plan.Tolerance {
				continue
			}
			if g.Relation < 0 || !t.tellApart(t.Plan.Vars[g.Relation]) {
				t.sol.GivenUp = append(t.sol.GivenUp, g)
			}
		}
	}
}

// lines lists the relations of a conflict that may stand in a clash, all of
// them if there are only such as always hold.
func (t *telling) lines(w must.Conflict) []int {
	lines := slices.DeleteFunc(slices.Clone(w.Relations), func(r int32) bool { return t.Sys.Relations[r].Role.Background() })
	if len(lines) == 0 {
		return indices(w.Relations)
	}
	return indices(lines)
}

// collect puts what is decided into the solution.
func (t *telling) collect() {
	values, grad := t.Result()
	t.sol.Values, t.sol.uncertain = values, uncertain{t.Adj, grad}
	for v := range grad {
		if sparse.Finite(values[v]) && len(grad[v]) > 0 {
			t.sol.U[v] = t.Adj.Uncertainty(grad[v])
		}
	}
}
