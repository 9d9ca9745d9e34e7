package level_test

import (
	"math"
	"testing"

	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/eval/solve/solvetest"
	"foredge/lang/foretest"
)

// strip is a notebook of three parts end to end, of which the whole and one part
// were read; weights of 0 leave the wishes about the other two out.
func strip(first, last float64) *solvetest.Shop {
	s := solvetest.NewShop()
	b := s.Bench("log")
	whole, a, m, z := s.V("log.whole"), s.V("log.a"), s.V("log.m"), s.V("log.z")
	s.Own(whole, relation.Add(a, m, z))
	s.Close(b)
	s.Read(b, whole, 0.03, 100.3, 100.1)
	s.Read(b, m, 0.03, 40.02)
	s.Read(b, relation.Add(whole, m), 0.05, 140)
	for i, weight := range []float64{first, last} {
		if weight > 0 {
			s.Prefer([]relation.Expr{a, z}[i], relation.C(10), weight)
			s.System.Wishes[len(s.System.Wishes)-1].Bench = b
		}
	}
	s.Own(s.V("front"), relation.Add(a, relation.C(5)))
	return s
}

// Wishes of a bench share what the readings leave open by their weights. They
// move no reading, not by rounding either, and what is made follows them.
func TestWishesOfABench(t *testing.T) {
	without := strip(0, 0)
	read := without.Solve()
	s := strip(1, 3)
	sol := s.Solve()
	for _, name := range []string{"log.whole", "log.m"} {
		if got, want := s.Value(t, sol, name), without.Value(t, read, name); got != want {
			t.Errorf("%s is %v with wishes, and %v without", name, got, want)
		}
		if id := s.IDs[name]; sol.U[id] != read.U[id] || sol.From[id] != solve.Reading {
			t.Errorf("%s: ± %v, %v", name, sol.U[id], sol.From[id])
		}
	}
	// (a-10)² + 3(z-10)² with a + z = rest: a - 10 is three quarters of what is left.
	rest := s.Value(t, sol, "log.whole") - s.Value(t, sol, "log.m")
	foretest.Near(t, "a", s.Value(t, sol, "log.a"), 10+0.75*(rest-20), 1e-9)
	foretest.Near(t, "z", s.Value(t, sol, "log.z"), 10+0.25*(rest-20), 1e-9)
	foretest.Near(t, "front", s.Value(t, sol, "front"), 15+0.75*(rest-20), 1e-9)
	if from := sol.From[s.IDs["log.a"]]; from != solve.ByWish {
		t.Errorf("a comes from %v", from)
	}
	// It moves with the readings by three quarters as well.
	d := strip(1, 3)
	d.Eq(d.V("free"), relation.Minus(d.V("log.whole"), d.V("log.m")))
	dsol := d.Solve()
	foretest.Near(t, "u of a", dsol.U[d.IDs["log.a"]], 0.75*dsol.U[d.IDs["free"]], 1e-12)
}

// A wish of a bench that can be met decides one part, and the other follows it.
func TestMetWishOfABench(t *testing.T) {
	s := strip(1, 0)
	sol := s.Solve()
	if got := s.Value(t, sol, "log.a"); math.Abs(got-10) > 1e-9 || sol.U[s.IDs["log.a"]] != 0 {
		t.Errorf("a is %v ± %v", got, sol.U[s.IDs["log.a"]])
	}
	id := s.IDs["log.z"]
	if sol.From[id] != solve.Derived || !(sol.U[id] > 0) {
		t.Errorf("z: %v ± %v", sol.From[id], sol.U[id])
	}
}
