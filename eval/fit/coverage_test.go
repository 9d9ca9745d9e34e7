package fit

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"foredge/eval"
	"foredge/lang/foretest"
)

// A workshop simulates readings of a notebook whose truth is known.
type workshop struct {
	m     *eval.Model
	truth []float64 // of every reading
	rng   *rand.Rand
}

// newWorkshop takes the reconciled values of a design for the truth.
func newWorkshop(t testing.TB, text string, seed uint64) *workshop {
	w := &workshop{m: modelOf(t, text), rng: rand.New(rand.NewPCG(seed, 1))}
	s, _ := w.m.Solve()
	for _, r := range w.m.System.Readings {
		w.truth = append(w.truth, r.Left.Eval(s.Numbers.Values))
	}
	return w
}

// read reads everything anew: each tool is off by tool(), in units of its
// standard uncertainty and all its repeats alike, and some readings are
// repeated with a scatter that may be smaller or larger than that.
func (w *workshop) read(tool func() float64) {
	for i := range w.m.System.Readings {
		r := &w.m.System.Readings[i]
		systematic := r.Accuracy / math.Sqrt(3)
		off := w.truth[i] + tool()*systematic
		r.Repeats, r.Scatter, r.Value = []int{1, 1, 1, 2, 3, 5, 10}[w.rng.IntN(7)], 0, off
		if r.Repeats > 1 {
			sigma := []float64{0.2, 1, 3}[w.rng.IntN(3)] * systematic
			n, sum, squares := float64(r.Repeats), 0.0, 0.0
			for range r.Repeats {
				x := sigma * w.rng.NormFloat64()
				sum += x
				squares += x * x
			}
			r.Value += sum / n
			r.Scatter = math.Sqrt(math.Max(0, squares-sum*sum/n) / (n - 1))
		}
		r.U = math.Sqrt(systematic*systematic + r.Scatter*r.Scatter/float64(r.Repeats))
	}
}

// held counts how many of the stated 95 % intervals hold the truth.
func (w *workshop) held(t testing.TB) (held, all int) {
	s, _ := w.m.Solve()
	for _, m := range s.Measured() {
		a := newAnalysis(s, m)
		for _, r := range m.Report.Readings {
			o := a.reading(r)
			if !(o.AdjustedU95 > 0) {
				t.Fatalf("%s has no uncertainty", o.Name)
			}
			if math.Abs(o.Adjusted-w.truth[r.Index]) <= o.AdjustedU95 {
				held++
			}
			all++
		}
	}
	return held, all
}

// notebookOf is a design without its panels.
func notebookOf(design string) string { return design[:strings.Index(design, "panel ")] }

// Over 10,000 simulated benches the stated 95 % intervals hold the truth 94 to
// 96 % of the time where the tools' errors are normal, and at least 95 % where
// they are evenly spread within what the tools promise. A short run tries fewer
// and allows for chance.
func TestCoverage(t *testing.T) {
	t.Parallel()
	benches, chance := foretest.Sample(10_000, 400), 0.0
	if testing.Short() {
		chance = 0.01
	}
	w := newWorkshop(t, notebookOf(harbour), 1)
	bounded := func() float64 { return math.Sqrt(3) * (2*w.rng.Float64() - 1) }
	for _, c := range []struct {
		name      string
		tool      func() float64
		low, high float64
	}{{"normal", w.rng.NormFloat64, 0.94, 0.96}, {"bounded", bounded, 0.95, 1}} {
		held, all := 0, 0
		for range benches {
			w.read(c.tool)
			h, n := w.held(t)
			held, all = held+h, all+n
		}
		if share := float64(held) / float64(all); share < c.low-chance || share > c.high+chance {
			t.Errorf("%s errors: the intervals hold the truth in %.2f %%", c.name, 100*share)
		} else {
			t.Logf("%s errors: %.2f %% of %d", c.name, 100*share, all)
		}
	}
}
