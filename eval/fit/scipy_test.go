package fit

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"testing"
)

// scipy runs one of the scripts of testdata on in and decodes its answer.
// Without SciPy the test is skipped, unless the environment says CI=true: then
// it fails.
func scipy(t testing.TB, script string, in, out any) {
	t.Helper()
	python := ""
	for _, name := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(name, "-c", "import scipy.stats").Run() == nil {
			python = name
			break
		}
	}
	if python == "" {
		if os.Getenv("CI") == "true" {
			t.Fatal("no Python with SciPy: install python3-scipy")
		}
		t.Skip("no Python with SciPy here: the check of probabilities in hexagons is skipped")
	}
	data, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(python, "testdata/"+script)
	cmd.Stdin = bytes.NewReader(data)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	answer, err := cmd.Output()
	if err != nil {
		t.Fatalf("SciPy: %v\n%s", err, stderr.String())
	}
	if err := json.Unmarshal(answer, out); err != nil {
		t.Fatalf("SciPy's answer: %v", err)
	}
}

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
	scipy(t, "hexagon.py", cases, &want)
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
