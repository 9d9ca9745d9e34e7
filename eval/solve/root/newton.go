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
func Newton(z []float64, norm func(z []float64) float64, linearised func(z []float64) (*mat.Dense, []float64)) bool {
	now := norm(z)
	for range 60 {
		if !sparse.Finite(now) {
			return false
		}
		derivatives, residuals := linearised(z)
		for i := range residuals {
			residuals[i] = -residuals[i]
		}
		var qr mat.QR
		qr.Factorize(derivatives)
		var step mat.VecDense
		if err := qr.SolveVecTo(&step, false, mat.NewVecDense(len(residuals), residuals)); err != nil {
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
