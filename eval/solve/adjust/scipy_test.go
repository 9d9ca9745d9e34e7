package adjust_test

import (
	"math"
	"testing"

	"foredge/eval/relation"
	"foredge/eval/solve/solvetest"
	"foredge/lang/foretest"
)

type adjustment struct {
	X, U            []float64
	Seconds, Spread float64
}

// adjustBySciPy adjusts the readings of a system of one bench whose relations
// and readings are all linear.
func adjustBySciPy(t testing.TB, s *solvetest.Shop) adjustment {
	in := map[string]any{"n": len(s.Vars), "am": len(s.Relations), "dm": len(s.Readings)}
	var ai, aj, di, dj []int
	var av, c, dv, y, u []float64
	for i := range s.Relations {
		f, _ := s.Relations[i].Difference(relation.Nothing)
		for _, x := range f.Terms {
			ai, aj, av = append(ai, i), append(aj, int(x.Var)), append(av, x.Coef)
		}
		c = append(c, -f.Const)
	}
	for i, r := range s.Readings {
		f, _ := r.Left.Linear(relation.Nothing)
		for _, x := range f.Terms {
			di, dj, dv = append(di, i), append(dj, int(x.Var)), append(dv, x.Coef)
		}
		y, u = append(y, r.Value-f.Const), append(u, r.U)
	}
	for k, v := range map[string]any{"ai": ai, "aj": aj, "av": av, "c": c, "di": di, "dj": dj, "dv": dv, "y": y, "u": u} {
		in[k] = v
	}
	var out adjustment
	foretest.AskScript(t, "testdata/readings.py", in, &out, "scipy.optimize")
	return out
}

// A thousand chained readings: the same values to 1e-6 mm and the same
// uncertainties as SciPy's sparse solver finds.
func TestReadingsAgainstSciPy(t *testing.T) {
	s := solvetest.ChainOfReadings(1000)
	want, sol := adjustBySciPy(t, s), s.Solve()
	for v := range s.Vars {
		foretest.Near(t, s.Vars[v].Name, sol.Values[v], want.X[v], 1e-6)
		foretest.Near(t, "u("+s.Vars[v].Name+")", sol.U[v], want.U[v], 1e-7)
	}
}

// The time for a thousand chained readings as a share of SciPy's, in the same
// run: x-values against its values alone, x-both against its values with their
// uncertainties, which a solve always works out.
func BenchmarkReadingsBesideSciPy(b *testing.B) {
	s := solvetest.ChainOfReadings(1000)
	want := adjustBySciPy(b, s)
	for b.Loop() {
		if sol := s.Solve(); math.Abs(sol.Values[1000]-want.X[1000]) > 1e-6 {
			b.Fatal(sol.Values[1000], want.X[1000])
		}
	}
	each := b.Elapsed().Seconds() / float64(b.N)
	b.ReportMetric(want.Seconds/each, "x-values")
	b.ReportMetric((want.Seconds+want.Spread)/each, "x-both")
}
