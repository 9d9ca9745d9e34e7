package eval_test

import (
	"math"
	"testing"

	"foredge/eval/relation"
)

// The covariance of pairs of dimensions agrees with the uncertainties that the
// solution states, and with those of sums that are dimensions themselves.
func TestCovariance(t *testing.T) {
	s := sound(t, corpus(t, "harbour-log.fore"))
	v := func(name string) relation.Expr {
		id, ok := s.Dimension(name)
		if !ok {
			t.Fatalf("no %s", name)
		}
		return relation.V(id)
	}
	hole, web, pitch := v("log.wire.hole.along"), v("log.wire.web"), v("log.wire.pitch")
	cov := s.Numbers.Covariance(hole, web, pitch, relation.Add(hole, web), v("front.wire.pitch"), v("front.thick"))
	for i, name := range []string{"log.wire.hole.along", "log.wire.web", "log.wire.pitch"} {
		for _, d := range s.Dimensions() {
			if d.Name == name && math.Abs(math.Sqrt(cov[i][i])-d.Uncertainty) > 1e-12 {
				t.Errorf("u(%s) = %g by covariance, %g as stated", name, math.Sqrt(cov[i][i]), d.Uncertainty)
			}
		}
	}
	sum := cov[0][0] + cov[1][1] + 2*cov[0][1]
	for _, got := range []float64{cov[2][2], cov[3][3], cov[2][3], cov[2][4]} {
		if math.Abs(got-sum) > 1e-12 {
			t.Errorf("variance of the pitch: %g, want %g", got, sum)
		}
	}
	if cov[5][5] != 0 || cov[0][5] != 0 {
		t.Error("a thickness that is stated exactly varies")
	}
}
