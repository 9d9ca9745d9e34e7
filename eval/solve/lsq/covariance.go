package lsq

import (
	"math"
	"slices"

	"foredge/eval/solve/sparse"
)

// A Covariance holds the elements of (R'R)⁻¹ at the filled places of R, worked
// out from the last row up (Takahashi, Fagan and Chin 1973): all that the
// variance of a row needs, without the rest.
type Covariance struct {
	*Factor
	z [][]float64 // row k over filled[k]
}

// Covariance works the covariance out from the factor.
func (f *Factor) Covariance() *Covariance {
	v := &Covariance{Factor: f, z: make([][]float64, f.n)}
	var rows sparse.Slab[float64]
	for k := f.n - 1; k >= 0; k-- {
		fill := f.filled[k]
		row := rows.Take(len(fill))
		v.z[k] = row
		if f.slack[k] {
			continue
		}
		d := f.r[k][0]
		for j := 1; j < len(fill); j++ {
			sum := 0.0
			for l := 1; l < len(fill); l++ {
				sum += f.r[k][l] * v.at(fill[l], fill[j])
			}
			row[j] = -sum / d
		}
		sum := 1 / d
		for l := 1; l < len(fill); l++ {
			sum -= f.r[k][l] * row[l]
		}
		row[0] = sum / d
	}
	return v
}

func (v *Covariance) at(p, q int32) float64 {
	if p > q {
		p, q = q, p
	}
	i, ok := slices.BinarySearch(v.filled[p], q)
	if !ok {
		return math.NaN()
	}
	return v.z[p][i]
}

// Variance is the variance of a form of the columns.
func (v *Covariance) Variance(terms []sparse.Term) float64 {
	sum := 0.0
	for i, a := range terms {
		p := v.pos[a.At]
		ka := a.Coef / v.scale[a.At]
		sum += ka * ka * v.z[p][0]
		for _, b := range terms[:i] {
			sum += 2 * ka * b.Coef / v.scale[b.At] * v.at(p, v.pos[b.At])
		}
	}
	// A place that is not filled, or digits lost in the sum.
	size := 0.0
	for _, a := range terms {
		k := a.Coef / v.scale[a.At]
		size += k * k * v.z[v.pos[a.At]][0]
	}
	if math.IsNaN(sum) || sum < 1e-6*size {
		return v.Factor.Variance(terms)
	}
	return sum
}
