package solve

import (
	"foredge/eval/relation"
	"foredge/eval/solve/sparse"
)

// Covariance is how the values of expressions vary together, in the squared
// unit of their values, by first-order propagation through all that was solved
// (JCGM 100:2008, 5.2): row i, column j for the i-th and j-th. A dimension
// that is exact or open counts as exact.
func (s *Solution) Covariance(exprs ...relation.Expr) [][]float64 {
	grads := make([][]sparse.Term, len(exprs))
	for i, e := range exprs {
		grads[i] = s.moves(e)
	}
	variance := func(g []sparse.Term) float64 {
		u := s.uncertain.adj.Uncertainty(g)
		return u * u
	}
	out := make([][]float64, len(exprs))
	for i := range out {
		out[i] = make([]float64, len(exprs))
		out[i][i] = variance(grads[i])
		for j := range i {
			c := (variance(sparse.Combine(grads[i], 1, grads[j], 0)) - variance(sparse.Combine(grads[i], -1, grads[j], 0))) / 4
			out[i][j], out[j][i] = c, c
		}
	}
	return out
}

// moves is how the value of an expression moves with the parameters of the benches.
func (s *Solution) moves(e relation.Expr) (grad []sparse.Term) {
	_, terms := e.Gradient(s.Values)
	for _, t := range terms {
		grad = sparse.Combine(grad, t.Coef, s.uncertain.grad[t.Var], 0)
	}
	return grad
}

// CovarianceWith is the covariance of an expression with any other, to fewer digits
// than [Solution.Covariance] gives it, but for many others in less time.
func (s *Solution) CovarianceWith(e relation.Expr) func(relation.Expr) float64 {
	together := s.uncertain.adj.Covarying(s.moves(e))
	return func(other relation.Expr) float64 {
		sum := 0.0
		for _, t := range s.moves(other) {
			sum += t.Coef * together[t.At]
		}
		return sum
	}
}
