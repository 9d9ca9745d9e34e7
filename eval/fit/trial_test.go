package fit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"foredge/lang/foretest"
)

// The whole way on simulated benches: everything is read anew with normal
// errors, the cover is designed from that, cut with a kerf that is off, and laid
// on the true notebook. The holes clear as often as the report says that they
// will.
func TestProbabilityOnBenches(t *testing.T) {
	t.Parallel()
	const n, ease = 16, 0.10
	benches := foretest.Sample(2500, 150)
	const first, hole, pitch, inset, deep, wire = 10.0, 4.0, 8.4667, 5.0, 4.1, 3.96
	text := fmt.Sprintf(`notebook n { accuracy = 0.05; width = 120 exact; height = 200 exact
  row r on spine { count = %d; hole = rect %g by %g; first = %g; inset = %g; run = %g; wire = %g ± 0.03 } }
panel p covers n { ease = %g }
laser bench { kerf = 0.18 ± 0.04 }
`, n, hole, deep, first, inset, (n-1)*pitch, wire, ease)
	m := modelOf(t, text)
	rng := rand.New(rand.NewPCG(12, 12))
	truth := make([]float64, len(m.System.Readings))
	for i, r := range m.System.Readings {
		truth[i] = r.Value
	}
	clear, said := 0, 0.0
	for range benches {
		for i := range m.System.Readings {
			r := &m.System.Readings[i]
			r.Value = truth[i] + r.U*rng.NormFloat64()
		}
		s, _ := m.Solve()
		a := &analysis{solution: s, measured: s.Measured()[0]}
		row, _ := a.row(&a.measured.Rows[0], nil)
		said += row.Covers[0].Probability.Or(0)
		value := func(name string) float64 {
			id, ok := s.Dimension(name)
			if !ok {
				t.Fatalf("no %s", name)
			}
			return s.Numbers.Values[id]
		}
		kerf := 0.04 / math.Sqrt(3) * rng.NormFloat64()
		fits := func(off, opening float64) bool { return math.Abs(off) <= (opening+kerf-wire)/2 }
		ok := fits(value("p.r.inset")+value("p.r.hole.across")/2-inset-deep/2, value("p.r.hole.across"))
		for k := range n {
			at := value("p.r.first") + value("p.r.hole.along")/2 + float64(k)*value("p.r.pitch")
			ok = ok && fits(at-first-hole/2-float64(k)*pitch, value("p.r.hole.along"))
		}
		if ok {
			clear++
		}
	}
	p := said / float64(benches)
	if p < 0.5 || p > 0.98 {
		t.Fatalf("the bench is no trial: %.3f", p)
	}
	got := float64(clear) / float64(benches)
	if err := math.Sqrt(p * (1 - p) / float64(benches)); math.Abs(got-p) > 4*err {
		t.Errorf("%.4f of the covers clear, and %.4f were said to: %.1f standard errors", got, p, (got-p)/err)
	}
	t.Logf("%.4f clear, said %.4f", got, p)
}
