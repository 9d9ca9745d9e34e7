package solve

import "gonum.org/v1/gonum/stat/distuv"

// Coverage95 is the factor by which a standard uncertainty with so many
// degrees of freedom is multiplied for an interval that holds the truth with
// 95 % (JCGM 100:2008, G.3): Student's t, and 1.96 for infinitely many. They
// need not be whole; below 1, or where nothing is known of them, it is that for
// 1.
func Coverage95(freedom float64) float64 {
	const p, z = 0.975, 1.959963984540054
	if !(freedom >= 1) {
		freedom = 1
	}
	if freedom < 100 {
		return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: freedom}.Quantile(p)
	}
	// Abramowitz and Stegun, 26.7.5: to eight digits here, at once.
	const (
		g1 = (z*z*z + z) / 4
		g2 = (5*z*z*z*z*z + 16*z*z*z + 3*z) / 96
		g3 = (3*z*z*z*z*z*z*z + 19*z*z*z*z*z + 17*z*z*z - 15*z) / 384
	)
	return z + (g1+(g2+g3/freedom)/freedom)/freedom
}
