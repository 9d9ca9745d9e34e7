package solve_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"foredge/eval/relation"
	"foredge/eval/solve/solvetest"
)

// Limits of a row's count, pitch and run clash where the least run that count and pitch
// make is above the greatest one, or the other way round: each dimension stands once in
// `run = (count - 1) * pitch`, so nothing else can make them clash, and these ends are the
// whole truth (Moore, Kearfott and Cloud, Introduction to Interval Analysis, 2009, theorem
// 5.1). Then those lines are named, none too many, and how far the last one is off.
func TestLimitsClashThroughAProduct(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 9))
	clashes, open := 0, 0
	for range 400 {
		s := solvetest.NewShop()
		for _, v := range []string{"count", "pitch", "run", "first", "last", "height"} {
			s.Id(v)
		}
		s.Own(s.V("run"), relation.Mul(relation.Minus(s.V("count"), relation.C(1)), s.V("pitch")))
		s.Own(relation.Add(s.V("first"), s.V("run"), s.V("last")), s.V("height"))
		s.Is("height", 200)
		low := map[string]float64{"count": 1, "pitch": 0, "run": 0}
		high := map[string]float64{"count": math.Inf(1), "pitch": math.Inf(1), "run": 200}
		s.Ge(s.V("count"), relation.C(1))
		for _, v := range []string{"count", "pitch", "run"} {
			scale := map[string]float64{"count": 20, "pitch": 15, "run": 90}[v]
			x := 1 + math.Floor(scale*rng.Float64())
			if rng.IntN(4) > 0 {
				s.Ge(s.V(v), relation.C(x))
				low[v] = max(low[v], x)
			}
			if y := x + 1 + math.Floor(scale/2*rng.Float64()); rng.IntN(4) > 0 {
				s.Le(s.V(v), relation.C(y))
				high[v] = min(high[v], y)
			}
		}
		least, most := (low["count"]-1)*low["pitch"], (high["count"]-1)*high["pitch"]
		if high["count"] == 1 {
			most = 0
		}
		impossible := least > high["run"] || most < low["run"]
		sol := s.Solve()
		if impossible != (len(sol.Clashes) > 0) {
			t.Fatalf("clash %v, want %v: from %v to %v\n%s", len(sol.Clashes) > 0, impossible, low, high, solvetest.Wrongs(s, sol))
		}
		if !impossible {
			open++
			continue
		}
		clashes++
		lines := sol.Clashes[0].Relations
		for _, without := range lines {
			m := solvetest.NewShop()
			m.System = s.System
			m.Relations = slices.Clone(s.Relations)
			for r := range m.Relations {
				if m.Relations[r].Role != relation.Own && (r == without || !slices.Contains(lines, r)) {
					m.Relations[r] = relation.Relation{Left: relation.C(0), Right: relation.C(0)}
				}
			}
			if sol := m.Solve(); len(sol.Clashes) > 0 {
				t.Fatalf("lines %v clash without %d too", lines, without)
			}
		}
		c := sol.Clashes[0]
		last := s.Relations[c.Relations[len(c.Relations)-1]]
		if last.Left.Var == s.IDs["run"] {
			want := least - high["run"]
			if last.Sign == relation.GE {
				want = low["run"] - most
			}
			if !(math.Abs(c.Miss-want) < 1e-9) {
				t.Errorf("misses by %g, want %g: %s", c.Miss, want, fmt.Sprint(low, high))
			}
		}
	}
	if clashes < 60 || open < 60 {
		t.Errorf("%d clashes, %d open", clashes, open)
	}
	t.Logf("%d clashes, %d open", clashes, open)
}
