package solve

import (
	"math"
	"slices"

	"foredge/eval/relation"

	"gonum.org/v1/gonum/mat"
)

// A block is non-linear equations that decide some parameters of the space.
type block struct {
	relations []int32
	params    []int32
	vars      []relation.VarID // unknowns of the relations
}

// blocks solves each block of non-linear equations that has as many equations
// as unknowns. It reports whether anything came of it.
func (q *problem) blocks() bool {
	progress := false
	for _, b := range q.splitPending() {
		found := q.solveBlock(b)
		if found == nil {
			continue // it holds on a whole stretch
		}
		for _, r := range b.relations {
			q.dead[r] = true
		}
		progress = true
		if len(found) > 1 {
			found = q.allowedOnes(b, found)
		}
		if len(found) != 1 {
			t := q.tangle(b.vars, b.relations)
			for _, z := range found {
				t.Found = append(t.Found, q.at(b, z))
			}
			slices.SortFunc(t.Found, slices.Compare)
			q.tangles = append(q.tangles, t)
			continue
		}
		q.settleBlock(b, found[0])
	}
	return progress
}

// tangle is a block of dimensions that some relations do not decide, with what
// those lean on.
func (q *problem) tangle(vars []relation.VarID, relations []int32) Tangle {
	t := Tangle{Vars: vars}
	for _, r := range relations {
		t.Relations = append(t.Relations, int(r))
	}
	for _, r := range q.behind(relations, nil) {
		if !slices.Contains(relations, r) {
			t.Given = append(t.Given, int(r))
		}
	}
	return t
}

// allowedOnes are the solutions of a block with which no limit and no sign rule
// is broken that speaks of nothing but known dimensions and what the block
// decides. If none is allowed it is the first, so that the limit is told that
// can't hold.
func (q *problem) allowedOnes(b *block, found [][]float64) [][]float64 {
	var kept [][]float64
	for _, z := range found {
		if q.allows(b, z) {
			kept = append(kept, z)
		}
	}
	if len(kept) == 0 {
		return found[:1]
	}
	return kept
}

func (q *problem) allows(b *block, z []float64) bool {
	decided := q.decides(b, z, nil)
	for _, d := range decided {
		q.value[d.v] = d.f.c
	}
	defer func() {
		for _, d := range decided {
			q.value[d.v] = math.NaN()
		}
	}()
	for _, d := range decided {
		if q.signs && !q.sys.Vars[d.v].Signed && d.f.c < -tolerance {
			return false
		}
		for _, r := range q.limits.of(int32(d.v)) {
			miss := q.sys.Relations[r].Residual(q.value) // none where something isn't known
			if q.active[r] && (q.sys.Relations[r].Sign == relation.GE && miss < -tolerance ||
				q.sys.Relations[r].Sign == relation.LE && miss > tolerance) {
				return false
			}
		}
	}
	return true
}

// A decision is a dimension that a solved block decides.
type decision struct {
	v relation.VarID
	f affine // without terms
}

// decides lists the dimensions that depend on nothing but the block's
// parameters, at given ones that move with the benches as grads say.
func (q *problem) decides(b *block, z []float64, grads [][]term) []decision {
	var out []decision
	for i := range b.params {
		for _, id := range q.space.uses[b.params[i]] {
			v := q.varOf(id)
			if v < 0 || q.known[v] || slices.ContainsFunc(out, func(d decision) bool { return d.v == v }) {
				continue
			}
			f := q.space.forms[id]
			sum := affine{c: f.c, g: f.g}
			inside := true
			for _, t := range f.terms {
				j, ok := slices.BinarySearch(b.params, t.at)
				if !ok {
					inside = false
					break
				}
				sum.c += t.c * z[j]
				if grads != nil {
					sum.g = combine(sum.g, t.c, grads[j], 0)
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

// at gives the block's dimensions for given parameters.
func (q *problem) at(b *block, z []float64) []float64 {
	out := make([]float64, len(b.vars))
	for i, v := range b.vars {
		f := q.varForm(v)
		out[i] = f.c
		for _, t := range f.terms {
			if j, ok := slices.BinarySearch(b.params, t.at); ok {
				out[i] += t.c * z[j]
			}
		}
	}
	return out
}

// splitPending finds the blocks: after a greatest matching of equations with
// parameters, what can't be reached from an unmatched parameter is decided
// (Dulmage and Mendelsohn 1958), and falls into connected parts.
func (q *problem) splitPending() []*block {
	var items []*block
	index := map[int32]int{}
	var params []int32
	var holders [][]int
	for _, r := range q.pending {
		if !q.isEquation(r) {
			continue
		}
		b := &block{relations: []int32{r}}
		hidden := false
		for _, v := range q.vars[r] {
			if q.known[v] {
				continue
			}
			hidden = hidden || q.sys.Relations[r].Hides(v)
			b.vars = append(b.vars, v)
			for _, t := range q.varForm(v).terms {
				b.params = append(b.params, t.at)
			}
		}
		if hidden {
			continue
		}
		slices.Sort(b.params)
		b.params = slices.Compact(b.params)
		for _, p := range b.params {
			if _, ok := index[p]; !ok {
				index[p] = len(params)
				params = append(params, p)
				holders = append(holders, nil)
			}
			holders[index[p]] = append(holders[index[p]], len(items))
		}
		items = append(items, b)
	}
	if len(items) == 0 {
		return nil
	}
	ofParam := make([]int, len(params))
	ofItem := make([]int, len(items))
	for i := range ofParam {
		ofParam[i] = -1
	}
	for i := range ofItem {
		ofItem[i] = -1
	}
	var seen []bool
	var try func(i int) bool
	try = func(i int) bool {
		for _, p := range items[i].params {
			k := index[p]
			if seen[k] {
				continue
			}
			seen[k] = true
			if ofParam[k] < 0 || try(ofParam[k]) {
				ofParam[k], ofItem[i] = i, k
				return true
			}
		}
		return false
	}
	for i := range items {
		seen = make([]bool, len(params))
		try(i)
	}
	loose := make([]bool, len(items))
	reached := make([]bool, len(params))
	var todo []int
	for k, i := range ofParam {
		if i < 0 {
			reached[k] = true
			todo = append(todo, k)
		}
	}
	for len(todo) > 0 {
		k := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, i := range holders[k] {
			loose[i] = true
			if m := ofItem[i]; m >= 0 && !reached[m] {
				reached[m] = true
				todo = append(todo, m)
			}
		}
	}
	// Equations whose own parameters are all decided, joined where they share.
	group := make([]int, len(items))
	for i := range group {
		group[i] = i
	}
	var root func(int) int
	root = func(i int) int {
		if group[i] != i {
			group[i] = root(group[i])
		}
		return group[i]
	}
	first := map[int32]int{}
	for i, b := range items {
		if loose[i] {
			continue
		}
		for _, p := range b.params {
			if j, ok := first[p]; ok {
				group[max(root(i), root(j))] = min(root(i), root(j))
			} else {
				first[p] = i
			}
		}
	}
	var out []*block
	for i := range items {
		if loose[i] || root(i) != i {
			continue
		}
		b := &block{}
		for j := range items {
			if !loose[j] && root(j) == i {
				b.relations = append(b.relations, items[j].relations...)
				b.params = append(b.params, items[j].params...)
				b.vars = append(b.vars, items[j].vars...)
			}
		}
		slices.Sort(b.params)
		b.params = slices.Compact(b.params)
		slices.Sort(b.vars)
		b.vars = slices.Compact(b.vars)
		out = append(out, b)
	}
	return out
}

// bounds gives the range of each parameter of a block that the sign rules of
// dimensions with that parameter alone leave.
func (q *problem) bounds(b *block) (low, high []float64) {
	low, high = make([]float64, len(b.params)), make([]float64, len(b.params))
	for i, p := range b.params {
		low[i], high[i] = -far, far
		if !q.signs {
			continue
		}
		for _, id := range q.space.uses[p] {
			f := q.space.forms[id]
			v := q.varOf(id)
			if v < 0 || q.sys.Vars[v].Signed || len(f.terms) != 1 || f.terms[0].at != p {
				continue
			}
			at := -f.c / f.terms[0].c
			if f.terms[0].c > 0 {
				low[i] = max(low[i], at)
			} else {
				high[i] = min(high[i], at)
			}
		}
	}
	return low, high
}

// varOf is the dimension of a form of the space, -1 if it is none's.
func (q *problem) varOf(id int32) relation.VarID {
	if q.owner == nil || len(q.owner) < len(q.space.forms) {
		q.owner = make([]relation.VarID, len(q.space.forms))
		for i := range q.owner {
			q.owner[i] = -1
		}
		for _, v := range q.scope.vars {
			if f := q.formOf[v]; f >= 0 {
				q.owner[f] = v
			}
		}
	}
	return q.owner[id]
}

// solveBlock gives all solutions it finds, as parameters; nil if the block
// holds on a whole stretch, and a slice without any if there is none.
func (q *problem) solveBlock(b *block) [][]float64 {
	q.owner = nil
	low, high := q.bounds(b)
	put := func(z []float64) {
		for i, x := range q.at(b, z) {
			q.value[b.vars[i]] = x
		}
	}
	defer func() {
		for _, v := range b.vars {
			if !q.known[v] {
				q.value[v] = math.NaN()
			}
		}
	}()
	if len(b.params) == 1 && len(b.relations) == 1 {
		rel := &q.sys.Relations[b.relations[0]]
		z := make([]float64, 1)
		roots, any := scan(func(x float64) float64 {
			z[0] = x
			put(z)
			return rel.Residual(q.value)
		}, low[0], high[0])
		if any {
			return nil
		}
		out := [][]float64{}
		for _, x := range roots {
			out = append(out, []float64{x})
		}
		return out
	}
	out := [][]float64{}
	for start := range 48 {
		z := make([]float64, len(b.params))
		for i := range z {
			z[i] = startAt(start, i, low[i], high[i])
		}
		if !q.newton(b, z, put) {
			continue
		}
		put(z)
		if q.signs && slices.ContainsFunc(b.vars, func(v relation.VarID) bool {
			return !q.sys.Vars[v].Signed && q.value[v] < -tolerance
		}) {
			continue
		}
		if !slices.ContainsFunc(out, func(o []float64) bool {
			for i := range o {
				if math.Abs(o[i]-z[i]) > 1e-5*max(1, math.Abs(z[i])) {
					return false
				}
			}
			return true
		}) {
			out = append(out, z)
		}
	}
	slices.SortFunc(out, slices.Compare)
	return out
}

// startAt spreads the starts over the range, on a scale of ratios where it is
// wide (van der Corput numbers in the bases of the first primes).
func startAt(start, axis int, low, high float64) float64 {
	primes := [...]int{2, 3, 5, 7, 11, 13, 17, 19, 23, 29}
	base := primes[axis%len(primes)]
	u, f := 0.0, 1/float64(base)
	for n := start + 1 + axis/len(primes); n > 0; n /= base {
		u += f * float64(n%base)
		f /= float64(base)
	}
	switch {
	case high-low < 1e4:
		return low + u*(high-low)
	case low > -far:
		return low + math.Pow(10, 4*u-1)
	case high < far:
		return high - math.Pow(10, 4*u-1)
	case start%2 == 0:
		return math.Pow(10, 4*u-1)
	}
	return -math.Pow(10, 4*u-1)
}

// newton improves z until the block holds; it reports whether it does.
func (q *problem) newton(b *block, z []float64, put func([]float64)) bool {
	m, n := len(b.relations), len(b.params)
	if m < n || n == 0 {
		return false
	}
	norm := func() float64 {
		sum := 0.0
		for _, r := range b.relations {
			sum = math.Hypot(sum, q.sys.Relations[r].Residual(q.value))
		}
		return sum
	}
	put(z)
	now := norm()
	for range 60 {
		if !finite(now) {
			return false
		}
		jac := mat.NewDense(m, n, nil)
		res := mat.NewVecDense(m, nil)
		for i, r := range b.relations {
			v, terms := q.sys.Relations[r].Gradient(q.value)
			res.SetVec(i, -v)
			for _, t := range terms {
				if q.known[t.Var] {
					continue
				}
				for _, p := range q.varForm(t.Var).terms {
					if j, ok := slices.BinarySearch(b.params, p.at); ok {
						jac.Set(i, j, jac.At(i, j)+t.Coef*p.c)
					}
				}
			}
		}
		var qr mat.QR
		qr.Factorize(jac)
		var step mat.VecDense
		if err := qr.SolveVecTo(&step, false, res); err != nil {
			return false
		}
		k, moved := 1.0, 0.0
		for ; k > 1e-6; k /= 2 {
			trial := slices.Clone(z)
			moved = 0
			for i := range trial {
				trial[i] += k * step.AtVec(i)
				moved = max(moved, math.Abs(k*step.AtVec(i))/max(1, math.Abs(z[i])))
			}
			put(trial)
			if next := norm(); next < now || moved < 1e-13 {
				copy(z, trial)
				now = next
				break
			}
		}
		if k <= 1e-6 || moved < 1e-13 {
			break
		}
	}
	put(z)
	return norm() <= 1e-8
}

// settleBlock makes known what the parameters found decide.
func (q *problem) settleBlock(b *block, z []float64) {
	behind := slices.Clone(b.relations)
	for i, x := range q.at(b, z) {
		q.value[b.vars[i]] = x
	}
	grads := q.blockGradient(b)
	for _, v := range b.vars {
		q.value[v] = math.NaN()
	}
	results := q.decides(b, z, grads)
	if q.step != nil {
		for _, r := range results {
			if c := q.formOf[r.v]; c >= 0 && int(c) < len(q.step.rowOf) {
				for _, row := range q.step.rowsGiving(c) {
					behind = append(behind, q.stepRows[row])
				}
			}
		}
	}
	slices.Sort(behind)
	q.solved = append(q.solved, slices.Compact(behind))
	for _, r := range results {
		q.settle(r.v, r.f.c, r.f.g, giver{kind: byBlock, at: int32(len(q.solved) - 1)})
	}
}

// blockGradient is how each parameter of a solved block moves with the
// benches: by the implicit function, -J⁺ times how the equations move.
func (q *problem) blockGradient(b *block) [][]term {
	m, n := len(b.relations), len(b.params)
	grads := make([][]term, n)
	jac := mat.NewDense(m, n, nil)
	moved := make([][]term, m)
	index := map[int32]int{}
	var list []int32
	for i, r := range b.relations {
		moved[i] = q.moved(r)
		_, terms := q.sys.Relations[r].Gradient(q.value)
		for _, t := range terms {
			if q.known[t.Var] {
				continue
			}
			f := q.varForm(t.Var)
			moved[i] = combine(moved[i], t.Coef, f.g, 0)
			for _, p := range f.terms {
				if j, ok := slices.BinarySearch(b.params, p.at); ok {
					jac.Set(i, j, jac.At(i, j)+t.Coef*p.c)
				}
			}
		}
		for _, t := range moved[i] {
			if _, ok := index[t.at]; !ok {
				index[t.at] = len(list)
				list = append(list, t.at)
			}
		}
	}
	if len(list) == 0 {
		return grads
	}
	right := mat.NewDense(m, len(list), nil)
	for i := range moved {
		for _, t := range moved[i] {
			right.Set(i, index[t.at], -t.c)
		}
	}
	var qr mat.QR
	qr.Factorize(jac)
	var x mat.Dense
	if err := qr.SolveTo(&x, false, right); err != nil {
		return grads
	}
	for j := range n {
		for k, at := range list {
			if v := x.At(j, k); v != 0 && finite(v) {
				grads[j] = append(grads[j], term{at, v})
			}
		}
		slices.SortFunc(grads[j], func(a, b term) int { return int(a.at) - int(b.at) })
	}
	return grads
}
