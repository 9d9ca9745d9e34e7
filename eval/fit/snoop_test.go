package fit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"foredge/eval/relation"
)

// randomBench is a notebook with a row of which more is read than is needed,
// each with a promise of its own.
func randomBench(rng *rand.Rand) string {
	between := func(a, b float64) float64 { return a + (b-a)*rng.Float64() }
	n := 2 + rng.IntN(30)
	hole, web := between(2, 6), between(2, 8)
	first, last := between(3, 15), between(3, 15)
	run := float64(n-1) * (hole + web)
	read := map[string]float64{"first": first, "last": last, "web": web, "run": run, "pitch": hole + web,
		"first + run": first + run, "run + hole.along": run + hole, "hole.along + last": hole + last}
	if n > 11 {
		read["10 * pitch"] = 10 * (hole + web)
	}
	names := make([]string, 0, len(read))
	for name := range read {
		names = append(names, name)
	}
	slices.Sort(names)
	rng.Shuffle(len(names), func(i, j int) { names[i], names[j] = names[j], names[i] })
	names = names[:4+rng.IntN(len(names)-3)]
	var b strings.Builder
	promise := func() string { return fmt.Sprintf(" ± %.3f\n", between(0.01, 0.06)) }
	fmt.Fprintf(&b, "notebook n {\n width = 148 exact\n height = %.6f%s", first+hole+run+last, promise())
	fmt.Fprintf(&b, " row w on spine {\n count = %d\n hole = rect %.6f by 4%s", n, hole, promise())
	for _, name := range names {
		fmt.Fprintf(&b, " %s = %.6f%s", name, read[name], promise())
	}
	return b.String() + " }\n}\n"
}

// On 1,000 simulated benches, one reading of each wrong by ten standard
// uncertainties: where the geometry lets it be told from the others it is named
// in at least 95 %.
func TestBlunderIsNamed(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(5, 5))
	named, all := 0, 0
	for range 1000 {
		text := randomBench(rng)
		w := &workshop{m: modelOf(t, text), rng: rng}
		s, _ := w.m.Solve()
		report := s.Numbers.Benches[0].Readings
		blunder := rng.IntN(len(report))
		r := report[blunder].Redundancy
		if r == 0 || 10*math.Sqrt(r*(1-likeness(w.m.System, s.Numbers.Covariance, blunder))/2) < 3 {
			continue // nothing could tell it apart
		}
		for i := range w.m.System.Readings {
			r := &w.m.System.Readings[i]
			r.Value = r.Left.Eval(s.Numbers.Values) + r.U*rng.NormFloat64()
			if i == blunder {
				r.Value += 10 * r.U
			}
		}
		all++
		s, _ = w.m.Solve()
		readings, suspects := (&analysis{solution: s, measured: s.Measured()[0]}).readings()
		for _, k := range suspects {
			if readings[k].At == w.m.System.Readings[blunder].At {
				named++
			}
		}
	}
	if all < 200 || float64(named) < 0.95*float64(all) {
		t.Errorf("%d of %d blunders are named", named, all)
	}
	t.Logf("%d of %d blunders are named", named, all)
}

// likeness is the largest correlation of the test of one reading with that of
// another.
func likeness(sys *relation.System, covariance func(...relation.Expr) [][]float64, k int) float64 {
	lefts := make([]relation.Expr, len(sys.Readings))
	for i, r := range sys.Readings {
		lefts[i] = r.Left
	}
	cov := covariance(lefts...)
	deviation := func(i, j int) float64 { // the covariance of two deviations
		c := -cov[i][j]
		if i == j {
			c += sys.Readings[i].U * sys.Readings[i].U
		}
		return c
	}
	most := 0.0
	for j := range lefts {
		if j == k || deviation(j, j) < 1e-9*sys.Readings[j].U*sys.Readings[j].U {
			continue
		}
		most = math.Max(most, math.Abs(deviation(k, j))/math.Sqrt(deviation(k, k)*deviation(j, j)))
	}
	return math.Min(1, most)
}

// With normal errors and no mistake among them, the global test finds fault
// with 5 % of the benches, and nothing but chance is in it.
func TestFalseAlarms(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(6, 6))
	alarms, all := 0, 0
	for range 300 {
		w := &workshop{m: modelOf(t, randomBench(rng)), rng: rng}
		s, _ := w.m.Solve()
		truth := s.Numbers.Values
		for range 20 {
			for i := range w.m.System.Readings {
				r := &w.m.System.Readings[i]
				r.Value = r.Left.Eval(truth) + r.U*rng.NormFloat64()
			}
			s, _ := w.m.Solve()
			b := s.Numbers.Benches[0]
			if b.Freedom == 0 {
				t.Fatal("nothing is checked")
			}
			all++
			if b.ChiSquare > b.Limit95 {
				alarms++
			}
		}
	}
	if share := float64(alarms) / float64(all); math.Abs(share-0.05) > 0.015 {
		t.Errorf("%d of %d benches are doubted: %.2f %%", alarms, all, 100*share)
	}
	t.Logf("%d of %d", alarms, all)
}
