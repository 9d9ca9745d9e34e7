package solve_test

import (
	"math"
	"testing"

	"foredge/eval/solve"
	"foredge/lang/foretest"

	"gonum.org/v1/gonum/stat/distuv"
)

// Two-sided 95 % points of Student's t (any statistical table; JCGM 100:2008,
// table G.2), and 1.960 for the normal distribution.
func TestCoverage95(t *testing.T) {
	for _, c := range []struct{ freedom, k float64 }{
		{1, 12.7062}, {2, 4.3027}, {3, 3.1824}, {4, 2.7764}, {5, 2.5706}, {9, 2.2622},
		{10, 2.2281}, {16, 2.1199}, {20, 2.0860}, {30, 2.0423}, {1e6, 1.9600}, {math.Inf(1), 1.9600},
	} {
		foretest.Near(t, "t 95 %", solve.Coverage95(c.freedom), c.k, 5e-5)
	}
	for _, freedom := range []float64{100, 137.5, 1000} {
		foretest.Near(t, "t 95 %", solve.Coverage95(freedom), distuv.StudentsT{Sigma: 1, Nu: freedom}.Quantile(0.975), 1e-7)
	}
	if solve.Coverage95(math.NaN()) != solve.Coverage95(1) || solve.Coverage95(0.3) != solve.Coverage95(1) {
		t.Error("with nothing known, the factor must be the one for a single degree of freedom")
	}
	if k := solve.Coverage95(16.75); k >= solve.Coverage95(16) || k <= solve.Coverage95(17) {
		t.Errorf("k(16.75) = %g", k)
	}
}
