package caliper

import (
	"math"
	"testing"
)

// The worked numbers of the Guide to the Expression of Uncertainty in Measurement
// (JCGM 100:2008): example 4.4.3, twenty observations of a temperature (table 1),
// with the mean 100.145, the deviation 1.489 and that of the mean 0.333; example
// 4.4.5, 100 ± 4 with nothing else known, u = 2.3; F.2.2.1, a digital step of 1,
// u = 0.29.
func TestGuide(t *testing.T) {
	observed := []float64{96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07,
		100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72}
	m := Tool{}.Mean(observed)
	close(t, "mean of 4.4.3", m.Value, 100.145, 5e-4)
	close(t, "deviation of 4.4.3", m.Scatter, 1.489, 5e-4)
	close(t, "u of 4.4.3", Tool{}.Uncertainty(m.Scatter, len(observed)), 0.333, 5e-4)
	close(t, "u of 4.4.5", Tool{Accuracy: 4}.Uncertainty(0, 1), 2.3, 0.05)
	close(t, "u of F.2.2.1", Tool{Resolution: 1}.Uncertainty(0, 1), 0.29, 0.005)
	// All three together, by hand: 3²/3 + 6²/12 + 4²/16 = 7.
	close(t, "u of all", Tool{Accuracy: 3, Resolution: 6}.Uncertainty(4, 16), math.Sqrt(7), 1e-12)
}

// Flats of 3 mm together read a hole of 5 mm as its chord, 4 mm.
func TestFlats(t *testing.T) {
	jaws := Tool{Flat: 3}
	close(t, "diameter", jaws.Widen(4), 5, 1e-12)
	close(t, "diameter without flats", Tool{}.Widen(4), 4, 0)
	m := jaws.Mean([]float64{4, 4})
	close(t, "mean", m.Value, 5, 1e-12)
	close(t, "mean as read", m.Read, 4, 1e-12)
	// 5 and 13 mm, read as 4 and sqrt(160): the scatter is that of the diameters.
	m = jaws.Mean([]float64{4, math.Sqrt(160)})
	close(t, "mean of two", m.Value, 9, 1e-12)
	close(t, "scatter of two", m.Scatter, math.Sqrt(32), 1e-12)
}

// A single reading has no scatter, and one that needed no correction no value
// as read.
func TestSingle(t *testing.T) {
	if m := (Tool{Accuracy: 0.03}).Mean([]float64{12.5}); m != (Mean{Value: 12.5}) {
		t.Errorf("%+v", m)
	}
}

func close(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.6f, want %.6f within %g", what, got, want, within)
	}
}
