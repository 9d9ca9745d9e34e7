package fit

import (
	"math"
	"testing"

	"foredge/lang/foretest"
)

// The probabilities of hexagonal holes by SciPy (Virtanen and others, "SciPy
// 1.0", Nature Methods 17, 2020): a single hole by QUADPACK over the hexagon, the
// two ends of a row by Genz's multivariate normal distribution and QUADPACK.
func TestHexagonAgainstScipy(t *testing.T) {
	const wire = 1.0
	type hexagon struct {
		Flats      float64     `json:"flats"` // of the room
		Apart      float64     `json:"apart"`
		Covariance [][]float64 `json:"covariance"`
	}
	var cases []hexagon
	for _, room := range [][2]float64{{0.31, 0}, {0.08, 0}, {0.6, 0}, {1.3, 0.5}, {0.9, 0.5}} {
		for _, spread := range [][3]float64{{0.06, 0.08, 0}, {0.1, 0.05, 0.7}, {0.02, 0.3, -0.4}, {0.2, 0.01, 0.2}} {
			along, across, r := spread[0], spread[1], spread[2]
			cases = append(cases, hexagon{room[0], room[1], [][]float64{{along * along, r * along * across}, {r * along * across, across * across}}})
		}
	}
	opposed := [4][]float64{{0.05, 0.01, 0}, {-0.09, 0.02, 0.03}, {0.06, 0, 0.05}, {0, 0, 0}}
	for _, causes := range [][4][]float64{causes()["apart"], causes()["shared"], opposed} {
		cov := covarianceOf(causes)
		for i := range cov {
			cov[i] = cov[i][:3]
		}
		for _, room := range [][2]float64{{0.31, 0}, {1.2, 0.5}} {
			cases = append(cases, hexagon{room[0], room[1], cov[:3]})
		}
	}
	var want []float64
	foretest.AskScript(t, "testdata/hexagon.py", cases, &want, "scipy.stats")
	if len(want) != len(cases) {
		t.Fatalf("%d answers to %d cases", len(want), len(cases))
	}
	worst := 0.0
	for i, c := range cases {
		// The room is known, so that its deviation is 0.
		cov := make([][]float64, len(c.Covariance)+1)
		for j := range cov {
			cov[j] = make([]float64, len(cov))
			if j < len(c.Covariance) {
				copy(cov[j], c.Covariance[j])
			}
		}
		got := deviationsOf(cov).clears(hex(c.Flats+wire).Room(wire, wire+2*c.Apart, 0))
		worst = math.Max(worst, math.Abs(got-want[i]))
		if !(math.Abs(got-want[i]) <= 1e-7) {
			t.Errorf("%+v: %.9f, by SciPy %.9f", c, got, want[i])
		}
	}
	t.Logf("largest difference %.2g in %d cases", worst, len(cases))
}
