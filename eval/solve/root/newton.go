package root

import (
	"math"
	"slices"

	"foredge/eval/solve/sparse"

	"gonum.org/v1/gonum/mat"
)

// Newton improves z by the method of Gauss and Newton, each step halved until it
// helps, and reports whether it came to a point where the equations hold. norm
// is by how much they fail at a point, as the length of all their residuals;
// linearised gives their derivatives there, one row each, and the residuals.
// Where it came to a point at which the derivatives say nothing of some direction it
// ends, and singular is true.
func Newton(z []float64, norm func(z []float64) float64, linearised func(z []float64) (*mat.Dense, []float64)) (held, singular bool) {
	held = improve(z, norm, func(z []float64) (*mat.VecDense, bool) {
		derivatives, residuals := linearised(z)
		var qr mat.QR
		qr.Factorize(derivatives)
		var step mat.VecDense
		if err := qr.SolveVecTo(&step, false, mat.NewVecDense(len(residuals), residuals)); err != nil {
			singular = true
			return nil, false
		}
		return &step, true
	})
	return held && !singular, singular
}

// NewtonShortest does the same with the shortest of the steps that come as near, where
// the derivatives say nothing of some direction (Ben-Israel, J. Math. Anal. Appl. 15
// (1966) 243).
func NewtonShortest(z []float64, norm func(z []float64) float64, linearised func(z []float64) (*mat.Dense, []float64)) bool {
	return improve(z, norm, func(z []float64) (*mat.VecDense, bool) {
		derivatives, residuals := linearised(z)
		svd, rank := decompose(derivatives, mat.SVDThin)
		if rank == 0 {
			return nil, false
		}
		var step mat.VecDense
		svd.SolveVecTo(&step, mat.NewVecDense(len(residuals), residuals), rank)
		return &step, true
	})
}

// Unsaid are the directions of which derivatives say nothing, one row for each equation:
// an orthonormal basis of their null space.
func Unsaid(derivatives *mat.Dense) [][]float64 {
	_, n := derivatives.Dims()
	svd, rank := decompose(derivatives, mat.SVDFull)
	if svd == nil || rank == n {
		return nil
	}
	var v mat.Dense
	svd.VTo(&v)
	var out [][]float64
	for j := rank; j < n; j++ {
		out = append(out, mat.Col(nil, j, &v))
	}
	return out
}

// negligible is how small a singular value is beside the largest that is 0 but for
// rounding.
const negligible = 1e-10

// decompose is the singular value decomposition of derivatives, with how many values
// aren't 0; nil and 0 where they aren't numbers.
func decompose(derivatives *mat.Dense, kind mat.SVDKind) (svd *mat.SVD, rank int) {
	if slices.ContainsFunc(derivatives.RawMatrix().Data, func(x float64) bool { return !sparse.Finite(x) }) {
		return nil, 0
	}
	svd = &mat.SVD{}
	if !svd.Factorize(derivatives, kind) {
		return nil, 0
	}
	values := svd.Values(nil)
	for _, s := range values {
		if s > negligible*values[0] {
			rank++
		}
	}
	return svd, rank
}

// improve improves z by steps against the residuals, each halved until it helps, until none is
// left or the next can't be found. It reports whether the equations hold then.
func improve(z []float64, norm func(z []float64) float64, next func(z []float64) (*mat.VecDense, bool)) bool {
	now := norm(z)
	for range 60 {
		if !sparse.Finite(now) {
			return false
		}
		step, ok := next(z)
		if !ok {
			break
		}
		k, moved := 1.0, 0.0
		for ; k > 1e-6; k /= 2 {
			trial := slices.Clone(z)
			moved = 0
			for i := range trial {
				trial[i] -= k * step.AtVec(i)
				moved = max(moved, math.Abs(k*step.AtVec(i))/max(1, math.Abs(z[i])))
			}
			if next := norm(trial); next < now || moved < 1e-13 {
				copy(z, trial)
				now = next
				break
			}
		}
		if k <= 1e-6 || moved < 1e-13 {
			break
		}
	}
	return norm(z) <= 1e-8
}

// Start spreads the starts over the range, on a scale of ratios where it is
// wide (van der Corput numbers in the bases of the first primes).
func Start(start, axis int, low, high float64) float64 {
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
	case low > -Far:
		return low + math.Pow(10, 4*u-1)
	case high < Far:
		return high - math.Pow(10, 4*u-1)
	case start%2 == 0:
		return math.Pow(10, 4*u-1)
	}
	return -math.Pow(10, 4*u-1)
}
