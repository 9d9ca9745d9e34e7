package must

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/graph"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"

	"gonum.org/v1/gonum/mat"
)

// blocks solves each block of non-linear equations that has as many equations
// as unknowns. It reports whether anything came of it. Blocks with several solutions wait
// until nothing else comes of any, so that wishes that speak of more can choose among them.
func (q *Problem) blocks() bool {
	q.owner = nil
	progress := false
	var several []choice
	for _, b := range q.splitPending() {
		if q.oneByOne(b) {
			progress = true // what is left of it has other unknowns now
			continue
		}
		found := q.solveBlock(b)
		if found == nil {
			continue // it holds on a whole stretch
		}
		if len(found) > 1 {
			found = q.chosenBefore(b, q.allowedOnes(b, found))
		}
		if len(found) > 1 {
			several = append(several, choice{b, found})
			continue
		}
		q.decide(b, found)
		progress = true
	}
	if progress || len(several) == 0 {
		return progress
	}
	for _, c := range q.choose(several) {
		q.decide(c.block, c.found)
	}
	return true
}

// oneByOne solves the parts of a block one after another, as long as each has one
// solution: together they would take far more work. It reports whether any had.
func (q *Problem) oneByOne(b *block) (progress bool) {
	for _, relations := range b.parts {
		part := &block{}
		for _, r := range relations {
			single, _ := q.single(r)
			part.add(single)
		}
		part.sort()
		if len(part.params) != len(part.relations) {
			continue // those before it have decided more than its own forms say yet, or less
		}
		found := q.solveBlock(part)
		if found == nil {
			continue // it holds on a whole stretch
		}
		if len(found) > 1 {
			found = q.chosenBefore(part, q.allowedOnes(part, found))
		}
		if len(found) != 1 {
			break
		}
		q.decide(part, found)
		progress = true
	}
	return progress
}

// decide takes over what came out of a block: its solution or, where there isn't
// just one, that it has none or several.
func (q *Problem) decide(b *block, found [][]float64) {
	for _, r := range b.relations {
		q.dead[r] = true
	}
	if len(found) == 1 {
		q.settleBlock(b, found[0])
		return
	}
	t := q.undecide(b.vars, b.relations)
	for _, z := range found {
		t.Found = append(t.Found, q.at(b, z))
	}
	slices.SortFunc(t.Found, slices.Compare)
	q.Undecided = append(q.Undecided, t)
}

// allowedOnes are the solutions of a block with which no limit and no sign rule
// is broken that speaks of nothing but known dimensions and what the block
// decides. If none is allowed it is the first, so that the limit is told that
// can't hold. Of benches what is below 0 is told later on, so that it is only passed over
// where another is allowed.
func (q *Problem) allowedOnes(b *block, found [][]float64) [][]float64 {
	var kept, above [][]float64
	for _, z := range found {
		if q.allows(b, z) {
			kept = append(kept, z)
			if q.signs || !q.below0(b, z) {
				above = append(above, z)
			}
		}
	}
	switch {
	case len(kept) == 0:
		return found[:1]
	case len(above) == 0:
		return kept
	}
	return above
}

// below0 reports whether a solution of a block has a dimension below 0 that can't be.
func (q *Problem) below0(b *block, z []float64) bool {
	decided, back := q.suppose(b, z)
	defer back()
	return slices.ContainsFunc(decided, func(d decision) bool { return !q.Sys.Vars[d.v].Signed && d.f.Const < -plan.Tolerance })
}

func (q *Problem) allows(b *block, z []float64) bool {
	if q.signs && q.below0(b, z) {
		return false
	}
	decided, back := q.suppose(b, z)
	defer back()
	for _, d := range decided {
		for _, r := range q.Limits.Of(int32(d.v)) {
			miss := q.Sys.Relations[r].Residual(q.Value) // none where something isn't known
			if q.Active[r] && (q.Sys.Relations[r].Sign == relation.GE && miss < -plan.Tolerance ||
				q.Sys.Relations[r].Sign == relation.LE && miss > plan.Tolerance) {
				return false
			}
		}
	}
	return true
}

// suppose gives what a solution of a block decides its values, until it is taken back.
func (q *Problem) suppose(b *block, z []float64) (decided []decision, back func()) {
	decided = q.decides(b, z, nil)
	for _, d := range decided {
		q.Value[d.v] = d.f.Const
	}
	return decided, func() {
		for _, d := range decided {
			q.Value[d.v] = math.NaN()
		}
	}
}

// A decision is a dimension that a solved block decides.
type decision struct {
	v relation.VarID
	f sparse.Affine // without terms
}

// decides lists the dimensions that depend on nothing but the block's
// parameters, at given ones that move with the benches as grads say.
func (q *Problem) decides(b *block, z []float64, grads [][]sparse.Term) []decision {
	var out []decision
	for i := range b.params {
		for _, id := range q.Space.Uses[b.params[i]] {
			v := q.varOf(id)
			if v < 0 || q.Known[v] || slices.ContainsFunc(out, func(d decision) bool { return d.v == v }) {
				continue
			}
			f := q.Space.Forms[id]
			sum := sparse.Affine{Const: f.Const, Grad: f.Grad}
			inside := true
			for _, t := range f.Terms {
				j, ok := slices.BinarySearch(b.params, t.At)
				if !ok {
					inside = false
					break
				}
				sum.Const += t.Coef * z[j]
				if grads != nil {
					sum.Grad = sparse.Combine(sum.Grad, t.Coef, grads[j], 0)
				}
			}
			if inside {
				out = append(out, decision{v, sum})
			}
		}
	}
	slices.SortFunc(out, func(a, b decision) int { return int(a.v) - int(b.v) })
	return out
}

// splitPending finds the blocks: the pending equations that decide all their
// parameters, together with the others, put together where they share some. A block
// of as many equations as parameters comes with its parts.
func (q *Problem) splitPending() []*block {
	singles := q.pendingSingles()
	if len(singles) == 0 {
		return nil
	}
	if len(singles) == 1 { // as most often
		if len(singles[0].params) > 1 {
			return nil
		}
		return singles
	}
	mentions, params := numbered(singles)
	match := graph.Match(mentions, params)
	decided := match.Decided()
	together := graph.NewGroups(len(singles))
	first := slices.Repeat([]int32{-1}, params) // of the equations with a parameter
	for i := range singles {
		if !decided[i] {
			continue
		}
		for _, p := range mentions[i] {
			if first[p] >= 0 {
				together.Join(int32(i), first[p])
			} else {
				first[p] = int32(i)
			}
		}
	}
	var out []*block
	at := make([]*block, len(singles)) // by its first equation
	parted := false
	for i, single := range singles {
		if !decided[i] {
			continue
		}
		root := together.Root(int32(i))
		if at[root] == nil {
			at[root] = single
			out = append(out, single)
		} else {
			at[root].add(single)
			parted = true
		}
	}
	if !parted {
		return out
	}
	for _, b := range out {
		b.sort()
	}
	for _, part := range match.Blocks() {
		if !decided[part[0]] {
			continue
		}
		b := at[together.Root(part[0])]
		if len(b.params) != len(b.relations) || len(part) == len(b.relations) {
			continue
		}
		var relations []int32
		for _, i := range part {
			relations = append(relations, singles[i].relations[0])
		}
		b.parts = append(b.parts, relations)
	}
	return out
}

// numbered gives the parameters of some blocks numbers from 0 on. It lists those of
// each block, and says how many there are.
func numbered(blocks []*block) (mentions [][]int32, n int) {
	var all []int32
	for _, b := range blocks {
		all = append(all, b.params...)
	}
	list := slices.Clone(all)
	slices.Sort(list)
	list = slices.Compact(list)
	mentions = make([][]int32, len(blocks))
	for i, b := range blocks {
		mentions[i], all = all[:len(b.params):len(b.params)], all[len(b.params):]
		for k, p := range mentions[i] {
			at, _ := slices.BinarySearch(list, p)
			mentions[i][k] = int32(at)
		}
	}
	return mentions, len(list)
}

// pendingSingles makes a block of each pending equation that can be solved for
// every dimension it leaves open.
func (q *Problem) pendingSingles() []*block {
	singles := make([]*block, 0, len(q.Pending))
	for _, r := range q.Pending {
		if !q.IsEquation(r) {
			continue
		}
		if b, ok := q.single(r); ok {
			b.sort()
			singles = append(singles, b)
		}
	}
	return singles
}

// single makes a block of an equation; ok is false where it can't be solved for
// every dimension it leaves open.
func (q *Problem) single(r int32) (b *block, ok bool) {
	vars := q.Vars[r]
	b, ok = &block{relations: []int32{r}, params: make([]int32, 0, len(vars)), vars: make([]relation.VarID, 0, len(vars))}, true
	for _, v := range vars {
		if q.Known[v] {
			continue
		}
		ok = ok && !q.Sys.Relations[r].Hides(v)
		b.vars = append(b.vars, v)
		for _, t := range q.VarForm(v).Terms {
			b.params = append(b.params, t.At)
		}
	}
	return b, ok
}

// settleBlock makes known what the parameters found decide.
func (q *Problem) settleBlock(b *block, z []float64) {
	behind := slices.Clone(b.relations)
	for i, x := range q.at(b, z) {
		q.Value[b.vars[i]] = x
	}
	grads := q.blockGradient(b)
	for _, v := range b.vars {
		q.Value[v] = math.NaN()
	}
	results := q.decides(b, z, grads)
	if q.step != nil {
		round := q.listing().round
		for _, r := range results {
			if c := q.FormOf[r.v]; c >= 0 && int(c) < len(q.step.RowOf) {
				for _, row := range q.step.Giving(c, round) {
					behind = append(behind, q.stepRows[row])
				}
			}
		}
	}
	slices.Sort(behind)
	q.solved = append(q.solved, slices.Compact(behind))
	for _, r := range results {
		q.settle(r.v, r.f.Const, r.f.Grad, giver{kind: byBlock, at: int32(len(q.solved) - 1)})
	}
}

// blockGradient is how each parameter of a solved block moves with the
// benches: by the implicit function, -J⁺ times how the equations move.
func (q *Problem) blockGradient(b *block) [][]sparse.Term {
	grads := make([][]sparse.Term, len(b.params))
	moved := make([][]sparse.Term, len(b.relations))
	column := map[int32]int{}
	var list []int32
	for i, r := range b.relations {
		moved[i] = q.moved(r)
		_, terms := q.Sys.Relations[r].Gradient(q.Value)
		for _, t := range terms {
			if !q.Known[t.Var] {
				moved[i] = sparse.Combine(moved[i], t.Coef, q.VarForm(t.Var).Grad, 0)
			}
		}
		for _, t := range moved[i] {
			if _, ok := column[t.At]; !ok {
				column[t.At] = len(list)
				list = append(list, t.At)
			}
		}
	}
	if len(list) == 0 {
		return grads
	}
	right := mat.NewDense(len(b.relations), len(list), nil)
	for i := range moved {
		for _, t := range moved[i] {
			right.Set(i, column[t.At], -t.Coef)
		}
	}
	derivatives, _ := q.linearised(b, 0)
	var qr mat.QR
	qr.Factorize(derivatives)
	var x mat.Dense
	if err := qr.SolveTo(&x, false, right); err != nil {
		return grads
	}
	for j := range grads {
		for k, at := range list {
			if v := x.At(j, k); v != 0 && sparse.Finite(v) {
				grads[j] = append(grads[j], sparse.Term{At: at, Coef: v})
			}
		}
		slices.SortFunc(grads[j], func(a, b sparse.Term) int { return int(a.At) - int(b.At) })
	}
	return grads
}
