package solve

import (
	"gonum.org/v1/gonum/stat/distuv"
)

// Coverage95 is the factor by which a standard uncertainty with so many
// degrees of freedom is multiplied for an interval that holds the truth with
// 95 % (JCGM 100:2008, G.3): Student's t, and 1.96 for infinitely many. They
// need not be whole; below 1, or where nothing is known of them, it is that for
// 1.
func Coverage95(freedom float64) float64 {
	const p = 0.975
	if freedom > 1e9 {
		return distuv.UnitNormal.Quantile(p)
	}
	if !(freedom >= 1) {
		freedom = 1
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: freedom}.Quantile(p)
}
