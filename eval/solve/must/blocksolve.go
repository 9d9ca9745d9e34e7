package must

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/root"

	"gonum.org/v1/gonum/mat"
)

// A block is non-linear equations that decide some parameters of the space.
type block struct {
	relations []int32
	params    []int32
	vars      []relation.VarID // unknowns of the relations
	// parts are sets of its equations that give as many parameters, once those of the
	// sets before them are given.
	parts [][]int32
}

func (b *block) add(other *block) {
	b.relations = append(b.relations, other.relations...)
	b.params = append(b.params, other.params...)
	b.vars = append(b.vars, other.vars...)
}

func (b *block) sort() {
	slices.Sort(b.params)
	slices.Sort(b.vars)
	b.params, b.vars = slices.Compact(b.params), slices.Compact(b.vars)
}

// at gives the block's dimensions for given parameters.
func (q *Problem) at(b *block, z []float64) []float64 {
	out := make([]float64, len(b.vars))
	for i, v := range b.vars {
		f := q.VarForm(v)
		out[i] = f.Const
		for _, t := range f.Terms {
			if j, ok := slices.BinarySearch(b.params, t.At); ok {
				out[i] += t.Coef * z[j]
			}
		}
	}
	return out
}

// varOf is the dimension of a form of the space, -1 if it is none's.
func (q *Problem) varOf(id int32) relation.VarID {
	if q.owner == nil || len(q.owner) < len(q.Space.Forms) {
		q.owner = make([]relation.VarID, len(q.Space.Forms))
		for i := range q.owner {
			q.owner[i] = -1
		}
		for _, v := range q.scope.Vars {
			if f := q.FormOf[v]; f >= 0 {
				q.owner[f] = v
			}
		}
	}
	return q.owner[id]
}

// bounds gives the range of each parameter of a block that the sign rules of
// dimensions with that parameter alone leave.
func (q *Problem) bounds(b *block) (low, high []float64) {
	low, high = make([]float64, len(b.params)), make([]float64, len(b.params))
	for i, p := range b.params {
		low[i], high[i] = -root.Far, root.Far
		if !q.signs {
			continue
		}
		for _, id := range q.Space.Uses[p] {
			f := q.Space.Forms[id]
			v := q.varOf(id)
			if v < 0 || q.Sys.Vars[v].Signed || len(f.Terms) != 1 || f.Terms[0].At != p {
				continue
			}
			at := -f.Const / f.Terms[0].Coef
			if f.Terms[0].Coef > 0 {
				low[i] = max(low[i], at)
			} else {
				high[i] = min(high[i], at)
			}
		}
	}
	return low, high
}

// solveBlock gives all solutions it finds, as parameters; nil if the block
// holds on a whole stretch, and a slice without any if there is none.
func (q *Problem) solveBlock(b *block) [][]float64 {
	low, high := q.bounds(b)
	put := func(z []float64) {
		for i, x := range q.at(b, z) {
			q.Value[b.vars[i]] = x
		}
	}
	defer func() {
		for _, v := range b.vars {
			if !q.Known[v] {
				q.Value[v] = math.NaN()
			}
		}
	}()
	if len(b.params) == 1 && len(b.relations) == 1 {
		q.Spend(perScan*(1+len(b.vars)), b.vars[0])
		return q.solveSingle(b, put, low[0], high[0])
	}
	if len(b.relations) < len(b.params) || len(b.params) == 0 {
		return [][]float64{}
	}
	out := [][]float64{}
	var stuck [][]float64 // starts from which the equations say too little
	for start := range 48 {
		first := make([]float64, len(b.params))
		for i := range first {
			first[i] = root.Start(start, i, low[i], high[i])
		}
		z := slices.Clone(first)
		held, singular := root.Newton(z, q.norm(b, put), q.linearisedAt(b, put, 0))
		if held {
			out = q.another(b, put, out, z)
		} else if singular {
			stuck = append(stuck, first)
		}
	}
	if !slices.ContainsFunc(out, func(z []float64) bool { return q.allows(b, z) }) {
		for _, z := range stuck {
			if root.NewtonShortest(z, q.norm(b, put), q.linearisedAt(b, put, bothSides)) {
				if out = q.another(b, put, out, z); q.loose(b, put, z) {
					return nil
				}
			}
		}
	}
	if slices.ContainsFunc(out, func(z []float64) bool { return q.loose(b, put, z) }) {
		return nil
	}
	slices.SortFunc(out, slices.Compare)
	return out
}

// another adds a solution to others of a block, unless it is one of them or breaks a sign rule.
func (q *Problem) another(b *block, put func([]float64), out [][]float64, z []float64) [][]float64 {
	if !q.signsHold(b, put, z) || slices.ContainsFunc(out, func(other []float64) bool { return samePoint(other, z) }) {
		return out
	}
	return append(out, z)
}

// perScan is what it takes to work out one dimension at all places of a scan.
const perScan = 1000

// solveSingle is solveBlock for one equation with one parameter.
func (q *Problem) solveSingle(b *block, put func([]float64), low, high float64) [][]float64 {
	rel := &q.Sys.Relations[b.relations[0]]
	z := make([]float64, 1)
	roots, any := root.Scan(func(x float64) float64 {
		z[0] = x
		put(z)
		return rel.Residual(q.Value)
	}, low, high)
	if any {
		return nil
	}
	out := [][]float64{}
	for _, x := range roots {
		out = append(out, []float64{x})
	}
	return out
}

// samePoint reports whether two solutions are the same but for rounding.
func samePoint(a, b []float64) bool {
	for i := range a {
		if math.Abs(a[i]-b[i]) > 1e-5*max(1, math.Abs(b[i])) {
			return false
		}
	}
	return true
}

// norm is by how much a block doesn't hold at given parameters.
func (q *Problem) norm(b *block, put func([]float64)) func([]float64) float64 {
	return func(z []float64) float64 {
		put(z)
		sum := 0.0
		for _, r := range b.relations {
			sum = math.Hypot(sum, q.Sys.Relations[r].Residual(q.Value))
		}
		return sum
	}
}

// linearisedAt is linearised at given parameters. The derivatives are to both sides of kinks
// that are about as near as rounding, 0 for those to one side.
func (q *Problem) linearisedAt(b *block, put func([]float64), rounding float64) func([]float64) (*mat.Dense, []float64) {
	return func(z []float64) (*mat.Dense, []float64) {
		q.Spend(len(b.relations)*len(b.params)*(10+len(b.params))/10, b.vars[0])
		put(z)
		return q.linearised(b, rounding)
	}
}

// bothSides is how near a kink is to which an equation slopes to both sides, in mm: where two
// are the most and both have to be less, a step against one alone leads nowhere.
const bothSides = 1e-3

// linearised gives the derivatives of the block's equations by its parameters
// at the values of today, one row for each, and their residuals.
func (q *Problem) linearised(b *block, rounding float64) (derivatives *mat.Dense, residuals []float64) {
	derivatives, residuals = mat.NewDense(len(b.relations), len(b.params), nil), make([]float64, len(b.relations))
	for i, r := range b.relations {
		rel := &q.Sys.Relations[r]
		v, terms := rel.RoundedGradient(q.Value, rounding)
		if rounding > 0 {
			v = rel.Residual(q.Value)
		}
		residuals[i] = v
		for _, t := range terms {
			if q.Known[t.Var] {
				continue
			}
			for _, p := range q.VarForm(t.Var).Terms {
				if j, ok := slices.BinarySearch(b.params, p.At); ok {
					derivatives.Set(i, j, derivatives.At(i, j)+t.Coef*p.Coef)
				}
			}
		}
	}
	return derivatives, residuals
}
