package caliper

import (
	"math"
	"math/rand/v2"
	"testing"

	"foredge/lang/foretest"
)

// The points of the range of n normal values: at 95 % the critical range factors
// of ISO 5725-6:1994, table 1, as printed to one digit (from memory); at 95, 99
// and 99.9 % the rows for no end of degrees of freedom of H. L. Harter's tables of
// the studentised range, "Tables of range and studentized range", Annals of
// Mathematical Statistics 31, 1960 (from memory, to the digits given).
func TestRangeAsPublished(t *testing.T) {
	iso := []float64{2.8, 3.3, 3.6, 3.9, 4.0, 4.2, 4.3, 4.4, 4.5} // n from 2 on
	for i, f := range iso {
		n := i + 2
		if low, high := BeyondRange(f+0.05, n), BeyondRange(f-0.05, n); low > 0.05 || high < 0.05 {
			t.Errorf("n = %d: %.4f to %.4f are beyond %.1f ± 0.05, want 0.05 between", n, low, high, f)
		}
	}
	for _, c := range []struct {
		n      int
		chance float64
		w      float64
	}{
		{2, 0.05, 2.772}, {3, 0.05, 3.314}, {4, 0.05, 3.633}, {5, 0.05, 3.858}, {10, 0.05, 4.474},
		{2, 0.01, 3.643}, {3, 0.01, 4.120}, {4, 0.01, 4.403}, {5, 0.01, 4.603}, {10, 0.01, 5.157},
		{2, 0.001, 4.654}, {3, 0.001, 5.063}, {4, 0.001, 5.309}, {5, 0.001, 5.484},
	} {
		if low, high := BeyondRange(c.w+6e-4, c.n), BeyondRange(c.w-6e-4, c.n); low > c.chance || high < c.chance {
			t.Errorf("n = %d: %.6f to %.6f are beyond %.3f, want %g between", c.n, low, high, c.w, c.chance)
		}
	}
}

// The same by SciPy's studentized_range with no end of degrees of freedom
// (Virtanen and others, "SciPy 1.0", Nature Methods 17, 2020).
func TestRangeAgainstSciPy(t *testing.T) {
	type ask struct {
		N int     `json:"n"`
		W float64 `json:"w"`
	}
	var cases []ask
	for _, n := range []int{2, 3, 4, 7, 20, 50} {
		for _, w := range []float64{0.5, 2, 3.3, 4.5, 5.5, 6.5} {
			cases = append(cases, ask{n, w})
		}
	}
	var want []float64
	foretest.AskScript(t, "testdata/range.py", cases, &want, "scipy.stats")
	for i, c := range cases {
		if got := BeyondRange(c.W, c.N); math.Abs(got-want[i]) > 1e-7+1e-6*want[i] {
			t.Errorf("n = %d, w = %g: %.10g, by SciPy %.10g", c.N, c.W, got, want[i])
		}
	}
}

// A simulation, and lists as long as a file may hold.
func TestRangeSimulated(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 2))
	const draws = 40000
	for _, c := range []struct {
		n int
		w float64
	}{{3, 3}, {6, 4.2}, {30, 5}} {
		beyond := 0
		for range draws {
			low, high := math.Inf(1), math.Inf(-1)
			for range c.n {
				x := rng.NormFloat64()
				low, high = min(low, x), max(high, x)
			}
			if high-low > c.w {
				beyond++
			}
		}
		p := BeyondRange(c.w, c.n)
		close(t, "share beyond", float64(beyond)/draws, p, 4*math.Sqrt(p*(1-p)/draws))
	}
	for _, n := range []int{1000, 100000} {
		if p := BeyondRange(2*math.Sqrt(2*math.Log(float64(n))), n); !(p > 0.01 && p < 0.9) {
			t.Errorf("%d values: %g", n, p)
		}
	}
}

// Finer steps change nothing: 1 - 3 ∫ φ(x) (Φ(x+w) - Φ(x))² dx by Simpson's rule in
// 100,000 steps.
func TestRangeSteps(t *testing.T) {
	for _, w := range []float64{0.3, 2, 4, 6, 8} {
		const steps, from, to = 100000, -20.0, 20.0
		sum := 0.0
		for i := 1; i < steps; i++ {
			x := from + float64(i)*(to-from)/steps
			within := (math.Erf((x+w)/math.Sqrt2) - math.Erf(x/math.Sqrt2)) / 2
			sum += float64(2+2*(i%2)) * math.Exp(-x*x/2) / math.Sqrt(2*math.Pi) * within * within
		}
		close(t, "chance", BeyondRange(w, 3), 1-3*sum*(to-from)/steps/3, 1e-10)
	}
}

func TestRepeats(t *testing.T) {
	tool := Tool{Accuracy: 0.05}
	for _, c := range []struct {
		reads []float64
		step  float64
		kept  bool
		odd   []int
	}{
		{[]float64{3.4, 4.1, 3.4}, 0.1, false, []int{1}},
		{[]float64{3.4, 3.6, 3.4}, 0.1, true, []int{1}},
		{[]float64{3.4, 3.5}, 0, true, []int{0, 1}},
		{[]float64{3.4, 3.51}, 0.01, true, []int{0, 1}},
		{[]float64{3.4, 3.52}, 0.01, false, []int{0, 1}},
		{[]float64{3, 3, 4, 4}, 0.01, false, []int{0, 1, 2, 3}},
		{[]float64{3, 3.4, 4}, 0.01, false, []int{2}},
	} {
		got := tool.Repeats(c.reads, c.step)
		same := len(got.Odd) == len(c.odd)
		for i := range c.odd {
			same = same && got.Odd[i] == c.odd[i]
		}
		if got.Kept != c.kept || !same || got.Kept != (got.Chance == 1) {
			t.Errorf("%v: %+v", c.reads, got)
		}
	}
}
