package root

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// Functions whose zeros are known in closed form.
func TestScan(t *testing.T) {
	for _, test := range []struct {
		name      string
		f         func(x float64) float64
		low, high float64
		want      []float64
		any       bool
	}{
		{"line", func(x float64) float64 { return 2*x - 7 }, 0, Far, []float64{3.5}, false},
		{"two", func(x float64) float64 { return x*x - 11*x + 24 }, 0, Far, []float64{3, 8}, false},
		{"both signs", func(x float64) float64 { return x*x - 2 }, -Far, Far, []float64{-math.Sqrt2, math.Sqrt2}, false},
		{"touches", func(x float64) float64 { return (x - 12.3) * (x - 12.3) }, 0, Far, []float64{12.3}, false},
		// Between two points of the grid, so that only the dip shows them.
		{"close together", func(x float64) float64 { return (x - 400.01) * (x - 400.02) }, 0, Far, []float64{400.01, 400.02}, false},
		{"close together, below", func(x float64) float64 { return -(x - 400.01) * (x - 400.02) }, 0, Far, []float64{400.01, 400.02}, false},
		{"none", func(x float64) float64 { return x*x + 4 }, -Far, Far, nil, false},
		{"a jump is none", func(x float64) float64 { return math.Copysign(1, x-5) }, 0, Far, nil, false},
		{"a pole is none", func(x float64) float64 { return 1 / (x - 5) }, 0, Far, nil, false},
		{"not everywhere", func(x float64) float64 { return math.Sqrt(x) - 3 }, -Far, Far, []float64{9}, false},
		{"a stretch", func(x float64) float64 { return max(x, 5) - 5 }, 0, Far, nil, true},
		{"out of range", func(x float64) float64 { return x - 9 }, 0, 8, nil, false},
	} {
		found, any := Scan(test.f, test.low, test.high)
		if any != test.any || len(found) != len(test.want) {
			t.Errorf("%s: %v, %t", test.name, found, any)
			continue
		}
		for i, x := range found {
			if math.Abs(x-test.want[i]) > 1e-6 {
				t.Errorf("%s: %.12g, want %.12g", test.name, x, test.want[i])
			}
		}
	}
}

// x² + y² = 25 and x·y = 12, from starts all over the plane: every point that is
// reported solves them, and all four solutions are found.
func TestNewton(t *testing.T) {
	residuals := func(z []float64) []float64 { return []float64{z[0]*z[0] + z[1]*z[1] - 25, z[0]*z[1] - 12} }
	norm := func(z []float64) float64 { r := residuals(z); return math.Hypot(r[0], r[1]) }
	linearised := func(z []float64) (*mat.Dense, []float64) {
		return mat.NewDense(2, 2, []float64{2 * z[0], 2 * z[1], z[1], z[0]}), residuals(z)
	}
	found := map[[2]float64]bool{}
	for start := range 48 {
		z := []float64{Start(start, 0, -Far, Far), Start(start, 1, -Far, Far)}
		if held, _ := Newton(z, norm, linearised); held {
			found[[2]float64{math.Round(z[0]*1e6) / 1e6, math.Round(z[1]*1e6) / 1e6}] = true
		}
	}
	for _, want := range [][2]float64{{3, 4}, {4, 3}, {-3, -4}, {-4, -3}} {
		if !found[want] {
			t.Errorf("%v was not found", want)
		}
	}
	if len(found) != 4 {
		t.Errorf("found %v", found)
	}
	// x² + 1 = 0 has no solution.
	none, _ := Newton([]float64{3}, func(z []float64) float64 { return z[0]*z[0] + 1 }, func(z []float64) (*mat.Dense, []float64) {
		return mat.NewDense(1, 1, []float64{2 * z[0]}), []float64{z[0]*z[0] + 1}
	})
	if none {
		t.Error("a zero was reported where there is none")
	}
}

// x·y = 12 said twice: from all over, the point that is found is on the hyperbola, and the
// derivatives there leave its tangent unsaid. The best steps don't lead to x·y = 12 and x·y = 13
// at once.
func TestNewtonShortest(t *testing.T) {
	same := func(second float64) (norm func(z []float64) float64, linearised func(z []float64) (*mat.Dense, []float64)) {
		residuals := func(z []float64) []float64 { return []float64{z[0]*z[1] - 12, 2*z[0]*z[1] - 2*second} }
		return func(z []float64) float64 { r := residuals(z); return math.Hypot(r[0], r[1]) },
			func(z []float64) (*mat.Dense, []float64) {
				return mat.NewDense(2, 2, []float64{z[1], z[0], 2 * z[1], 2 * z[0]}), residuals(z)
			}
	}
	for start := range 48 {
		first := []float64{Start(start, 0, 0, Far), Start(start, 1, 0, Far)}
		norm, linearised := same(12)
		z := slices.Clone(first)
		if held, singular := Newton(z, norm, linearised); held || !singular {
			t.Errorf("from %v: %t, %t, though the second equation says nothing", first, held, singular)
		}
		z = slices.Clone(first)
		if !NewtonShortest(z, norm, linearised) || math.Abs(z[0]*z[1]-12) > 1e-8 {
			t.Errorf("from %v: %v is not on the hyperbola", first, z)
			continue
		}
		there, _ := linearised(z)
		if free := Unsaid(there); len(free) != 1 || math.Abs(free[0][0]*z[1]+free[0][1]*z[0]) > 1e-9*math.Hypot(z[0], z[1]) {
			t.Errorf("at %v: %v is not the tangent", z, free)
		}
		norm, linearised = same(13)
		if z = slices.Clone(first); NewtonShortest(z, norm, linearised) {
			t.Errorf("from %v: %v was reported as a solution where there is none", first, z)
		}
	}
	if free := Unsaid(mat.NewDense(2, 2, []float64{1, 2, 3, 4})); len(free) != 0 {
		t.Errorf("%v is unsaid of a regular matrix", free)
	}
	if free := Unsaid(mat.NewDense(1, 2, []float64{math.NaN(), 1})); len(free) != 0 {
		t.Errorf("%v is unsaid of no numbers", free)
	}
}

// Starts cover the range that they are asked for: evenly where it is narrow, in
// ratios from 0.1 to 1000 from its one end, or from 0 to both sides.
func TestStart(t *testing.T) {
	const half = 0 // the first start of the first axis is 1/2
	for _, c := range []struct {
		name      string
		low, high float64
		want      float64
	}{
		{"even", 20, 40, 30},
		{"hardly even", 0, 9999, 4999.5},
		{"in ratios", 0, 1e4, 10}, // √(0.1 * 1000)
		{"up from an end", 20, Far, 30},
		{"down from an end", -Far, 20, 10},
		{"up from 0", -Far, Far, 10},
	} {
		if got := Start(half, 0, c.low, c.high); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	// The next is 1/4, the one after it 3/4; each second goes down from 0.
	for start, want := range []float64{10, -1, 100} {
		if got := Start(start, 0, -Far, Far); math.Abs(got-want) > 1e-9 {
			t.Errorf("start %d from 0: %v, want %v", start, got, want)
		}
	}
}
