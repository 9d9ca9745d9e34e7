package must

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/plan"
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
	out := [][]float64{}
	for start := range 48 {
		z := make([]float64, len(b.params))
		for i := range z {
			z[i] = root.Start(start, i, low[i], high[i])
		}
		if !q.solveFrom(b, z, put) {
			continue
		}
		put(z)
		if q.signs && slices.ContainsFunc(b.vars, func(v relation.VarID) bool {
			return !q.Sys.Vars[v].Signed && q.Value[v] < -plan.Tolerance
		}) {
			continue
		}
		if !slices.ContainsFunc(out, func(other []float64) bool { return samePoint(other, z) }) {
			out = append(out, z)
		}
	}
	slices.SortFunc(out, slices.Compare)
	return out
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

// solveFrom improves z until the block holds; it reports whether it does.
func (q *Problem) solveFrom(b *block, z []float64, put func([]float64)) bool {
	if len(b.relations) < len(b.params) || len(b.params) == 0 {
		return false
	}
	norm := func(z []float64) float64 {
		put(z)
		sum := 0.0
		for _, r := range b.relations {
			sum = math.Hypot(sum, q.Sys.Relations[r].Residual(q.Value))
		}
		return sum
	}
	return root.Newton(z, norm, func(z []float64) (*mat.Dense, []float64) {
		q.Spend(len(b.relations)*len(b.params)*(10+len(b.params))/10, b.vars[0])
		put(z)
		return q.linearised(b)
	})
}

// linearised gives the derivatives of the block's equations by its parameters
// at the values of today, one row for each, and their residuals.
func (q *Problem) linearised(b *block) (derivatives *mat.Dense, residuals []float64) {
	derivatives, residuals = mat.NewDense(len(b.relations), len(b.params), nil), make([]float64, len(b.relations))
	for i, r := range b.relations {
		v, terms := q.Sys.Relations[r].Gradient(q.Value)
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
