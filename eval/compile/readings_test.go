package compile_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"foredge/eval/evaltest"
	"foredge/eval/relation"
)

// readingOf compiles a notebook of one line and gives its reading.
func readingOf(t *testing.T, units, notebook, row string) relation.Reading {
	t.Helper()
	s, _ := evaltest.Build("units "+units+"\nnotebook n { "+notebook+"\n row r on spine { "+row+" } }\n", evaltest.Files{})
	if len(s.System.Readings) != 1 {
		t.Fatalf("%s, %s: %d readings", notebook, row, len(s.System.Readings))
	}
	return s.System.Readings[0]
}

// A caliper whose inside jaws have flats of the width w together reads a round
// hole of diameter D low by D - sqrt(D² - w²) (derived; that the error exists
// and oversizes parts: a tool shop's article on measuring, title and author
// unknown).
func TestJawsReadLow(t *testing.T) {
	table := map[float64][]float64{ // error for w = 0.2, 0.3, 0.5, 0.7, 1.0
		3: {0.0067, 0.0150, 0.0420, 0.0828, 0.1716},
		4: {0.0050, 0.0113, 0.0314, 0.0617, 0.1270},
		5: {0.0040, 0.0090, 0.0251, 0.0492, 0.1010},
		6: {0.0033, 0.0075, 0.0209, 0.0410, 0.0839},
		8: {0.0025, 0.0056, 0.0156, 0.0307, 0.0627},
	}
	for d, errs := range table {
		for i, w := range []float64{0.2, 0.3, 0.5, 0.7, 1.0} {
			read := d - errs[i]
			r := readingOf(t, "mm", fmt.Sprintf("accuracy = 0.03; jaw-flat = %g", w), fmt.Sprintf("hole = round %.4f", read))
			if math.Abs(r.Value-d) > 6e-5 || math.Abs(r.Read-read) > 1e-9 || r.Flat != w {
				t.Errorf("read %.4f with flats of %g: %.5f, want %g", read, w, r.Value, d)
			}
		}
	}
	for _, row := range []string{"hole = slot 4 by 4 exact; first = 4", "hole = round 4 exact; first = 5"} {
		if r := readingOf(t, "mm", "accuracy = 0.03; jaw-flat = 0.3", row); r.Flat != 0 || r.Read != 0 {
			t.Errorf("%s: corrected, and it is no reading of a round hole", row)
		}
	}
}

// What a reading is worth: u² = g²/3 + d²/12 + s²/n (JCGM 100:2008, 4.3.7,
// F.2.2.1, 4.2.3).
func TestWorthOfReadings(t *testing.T) {
	for _, c := range []struct {
		units, notebook, row string
		u                    float64 // mm
	}{
		{"mm", "accuracy = 0.03", "first = 5.62", 0.03 / math.Sqrt(3)},
		{"mm", "accuracy = 0.03; resolution = 0.01", "first = 5.62", math.Sqrt(0.0003 + 0.0001/12)},
		{"mm", "accuracy = 0.03; resolution = 0.01", "first = 5.60, 5.62, 5.64", math.Sqrt(0.0003 + 0.0001/12 + 0.0004/3)},
		{"mm", "accuracy = 0.03; resolution = 0.01", "first = 5.62 ± 0.05", 0.05 / math.Sqrt(3)},
		// EA-4/02, example S10: ± 0.05 mm and a step of 0.05 mm.
		{"mm", "accuracy = 0.05; resolution = 0.05", "first = 150.10", 0.0323},
		// A sixteenth of an inch rule is good to a thirty-second.
		{"in", "accuracy = 0.001", "first = 5 3/16", 25.4 / 32 / math.Sqrt(3)},
		{"in", "", "first = 5 3/16", 25.4 / 32 / math.Sqrt(3)},
		{"in", "accuracy = 0.1", "first = (5 3/16)", 2.54 / math.Sqrt(3)},
		{"in", "accuracy = 0.001", "first = 5 3/16 ± 1/64", 25.4 / 64 / math.Sqrt(3)},
		{"in", "accuracy = 0.001", "first = 5.1875", 0.0254 / math.Sqrt(3)},
		{"mm", "accuracy = 0.03", "first = 5 3/16 in", 25.4 / 32 / math.Sqrt(3)},
		{"in", "accuracy = 0.001", "first = 7 3/8, 7 7/16", math.Hypot(25.4/16/math.Sqrt(3), 25.4/16/2)},
		{"in", "accuracy = 0.001", "10 * pitch = 2 1/2", 25.4 / 4 / math.Sqrt(3)},
	} {
		r := readingOf(t, c.units, c.notebook, c.row)
		within := 1e-9
		if strings.Contains(c.row, "150.10") {
			within = 5e-5 // as printed
		}
		if math.Abs(r.U-c.u) > within {
			t.Errorf("%s; %s: u = %.6f mm, want %.6f", c.notebook, c.row, r.U, c.u)
		}
	}
}
