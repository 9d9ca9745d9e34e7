package sparse

import (
	"math"
	"slices"
)

// A Term is Coef times the parameter (or column) At.
type Term struct {
	At   int32
	Coef float64
}

// An Affine is Const + the sum of its Terms, which are in order of At, none 0.
// Grad says how Const moves with quantities outside the parameters: its
// first-order dependence, from which the uncertainty of every value is worked
// out.
type Affine struct {
	Terms []Term
	Const float64
	Grad  []Term
}

// Value is the value at given values of the parameters.
func (a Affine) Value(x []float64) float64 {
	v := a.Const
	for _, t := range a.Terms {
		v += t.Coef * x[t.At]
	}
	return v
}

// Coef is the coefficient of a parameter, 0 if it isn't there.
func (a Affine) Coef(at int32) float64 {
	if i, ok := Find(a.Terms, at); ok {
		return a.Terms[i].Coef
	}
	return 0
}

// Plus is a + k*b.
func (a Affine) Plus(k float64, b Affine) Affine {
	return Affine{Combine(a.Terms, k, b.Terms, Vanish), a.Const + k*b.Const, Combine(a.Grad, k, b.Grad, 0)}
}

// Scale is a times k.
func (a Affine) Scale(k float64) Affine {
	if k == 1 {
		return a
	}
	return Affine{Scaled(a.Terms, k), a.Const * k, Scaled(a.Grad, k)}
}

// Vanish is how small the sum of two coefficients may be beside them before it
// counts as 0: far above the rounding that a long elimination gathers, far
// below any ratio of sizes that a design holds.
const Vanish = 1e-11

// Combine gives a + k*b, both in order of at; what cancels to within drop of
// its parts is left out.
func Combine(a []Term, k float64, b []Term, drop float64) []Term {
	if k == 0 || len(b) == 0 {
		return a
	}
	return AppendCombined(make([]Term, 0, len(a)+len(b)), a, k, b, drop)
}

// AppendCombined appends a + k*b to out, as Combine gives it.
func AppendCombined(out, a []Term, k float64, b []Term, drop float64) []Term {
	i, j := 0, 0
	for i < len(a) && j < len(b) {
		switch {
		case a[i].At < b[j].At:
			out = append(out, a[i])
			i++
		case a[i].At > b[j].At:
			out = AppendTerm(out, b[j].At, k*b[j].Coef)
			j++
		default:
			kb := k * b[j].Coef
			sum := a[i].Coef + kb
			if !(math.Abs(sum) <= drop*(math.Abs(a[i].Coef)+math.Abs(kb))) {
				out = append(out, Term{a[i].At, sum})
			}
			i++
			j++
		}
	}
	out = append(out, a[i:]...)
	for ; j < len(b); j++ {
		out = AppendTerm(out, b[j].At, k*b[j].Coef)
	}
	return out
}

// AppendTerm appends a term, but none that came out 0, as a product may that is too
// small to be written.
func AppendTerm(out []Term, at int32, coef float64) []Term {
	if coef == 0 {
		return out
	}
	return append(out, Term{at, coef})
}

// Scaled is terms times k, nil if that is nothing.
func Scaled(terms []Term, k float64) []Term {
	if len(terms) == 0 || k == 0 {
		return nil
	}
	out := make([]Term, 0, len(terms))
	for _, t := range terms {
		out = AppendTerm(out, t.At, t.Coef*k)
	}
	return out
}

// Find looks for the term of a parameter: where it stands, or would.
func Find(terms []Term, at int32) (int, bool) {
	return slices.BinarySearchFunc(terms, at, func(t Term, at int32) int { return int(t.At) - int(at) })
}

// Largest is the largest coefficient by amount.
func Largest(terms []Term) float64 {
	m := 0.0
	for _, t := range terms {
		m = max(m, math.Abs(t.Coef))
	}
	return m
}

// Finite reports whether x is neither infinite nor NaN.
func Finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
