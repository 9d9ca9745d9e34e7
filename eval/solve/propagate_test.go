package solve

import (
	"math"
	"testing"

	"foredge/eval/relation"
)

// Every uncertainty is what comes of moving the readings one by one and
// solving again: u² = the sum of (change per reading times its uncertainty)²
// (JCGM 100:2008, 5.1). Nothing of the propagation itself is used for that.
func TestUncertaintyByMovingReadings(t *testing.T) {
	build := func() *shop {
		s, _ := harbour(4.45, true)
		s.prefer(s.v("front.box"), relation.Mul(relation.C(0.5), s.v("log.width")), 2)
		s.prefer(s.v("front.box"), s.v("log.wire.run"), 1)
		s.le(s.v("front.shelf"), relation.Less(s.v("front.width"), relation.C(40)))
		s.prefer(s.v("front.shelf"), relation.C(300), 1)
		s.own(relation.Add(s.v("front.head"), relation.C(24), s.v("front.tail")), s.v("front.height"))
		s.standard(s.v("front.head"), s.v("front.tail"))
		s.eq(relation.Mul(s.v("front.ratio"), s.v("front.width")), s.v("front.height"))
		s.eq(relation.Mul(s.v("front.side"), s.v("front.side")), relation.Mul(s.v("front.width"), s.v("front.height")))
		return s
	}
	s := build()
	base := s.solve()
	if !base.OK() {
		t.Fatal(wrongs(s, base))
	}
	sum := make([]float64, len(s.Vars))
	for i := range s.Readings {
		h := s.Readings[i].U / 10
		var at [2][]float64
		for k, sign := range []float64{-1, 1} {
			m := build()
			m.Readings[i].Value += sign * h
			at[k] = m.solve().Values
		}
		for v := range sum {
			d := (at[1][v] - at[0][v]) / (2 * h) * s.Readings[i].U
			sum[v] += d * d
		}
	}
	moved := 0
	for v := range s.Vars {
		near(t, "u("+s.Vars[v].Name+")", base.U[v], math.Sqrt(sum[v]), 1e-6)
		if base.U[v] > 1e-4 {
			moved++
		}
	}
	if moved < 20 {
		t.Errorf("only %d dimensions are uncertain", moved)
	}
}
