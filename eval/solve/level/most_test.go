package level_test

import (
	"testing"

	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/eval/solve/solvetest"
	"foredge/lang/foretest"
)

// patternRow is a row with a known pitch on an edge of known length, its ends
// at least margin from the centres of the outer holes, as many holes as fit.
func patternRow(length, pitch, hole, margin float64) (*solvetest.Shop, *solve.Solution) {
	s := solvetest.NewShop()
	s.Row("front.wire", "front.height")
	s.Vars[s.Id("front.wire.count")].Most = true
	s.Is("front.height", length)
	s.Is("front.wire.pitch", pitch)
	s.Is("front.wire.hole.along", hole)
	s.Ge(s.V("front.wire.first"), relation.C(margin-hole/2))
	s.Standard(s.V("front.wire.first"), s.V("front.wire.last"))
	return s, s.Solve()
}

// The table of hole counts and margins: margin = (L - (n - 1) p)/2, worked out
// here again; see the table of punch patterns on sheet edges in the reference.
func TestMostHoles(t *testing.T) {
	for _, edge := range []float64{297, 210, 148, 250, 257, 279.4, 215.9} {
		for _, pitch := range []float64{25.4 / 3, 12.7, 6.35, 6.2865, 14.2875} {
			n := int(edge / pitch)
			margin := (edge - float64(n-1)*pitch) / 2
			for _, c := range []struct {
				margin float64
				want   int
			}{{margin - 1e-3, n}, {margin + 1e-3, n - 1}} {
				s, sol := patternRow(edge, pitch, 2, c.margin)
				if !sol.OK() {
					t.Fatalf("%g/%g: %s", edge, pitch, solvetest.Wrongs(s, sol))
				}
				foretest.Near(t, "count", s.Value(t, sol, "front.wire.count"), float64(c.want), 0)
				want := (edge-float64(c.want-1)*pitch)/2 - 1
				foretest.Near(t, "first", s.Value(t, sol, "front.wire.first"), want, 1e-9)
				foretest.Near(t, "last", s.Value(t, sol, "front.wire.last"), want, 1e-9)
			}
		}
	}
}

// Only the two that end the row centre it, not what else is alike by default.
func TestCentredByItsEnds(t *testing.T) {
	s := solvetest.NewShop()
	s.Row("front.wire", "front.height")
	s.Standard(s.V("front.height"), s.V("front.width"))
	s.Vars[s.Id("front.wire.count")].Most = true
	s.Is("front.height", 100)
	s.Is("front.wire.pitch", 10)
	s.Is("front.wire.hole.along", 2)
	s.Ge(s.V("front.wire.first"), relation.C(12))
	s.Standard(s.V("front.wire.first"), s.V("front.wire.last"))
	sol := s.Solve()
	// Centred: 12 + 2 + 10 (n - 1) + 12 <= 100, so n = 8 and 14 are left at each end.
	foretest.Near(t, "count", s.Value(t, sol, "front.wire.count"), 8, 0)
	foretest.Near(t, "first", s.Value(t, sol, "front.wire.first"), 14, 1e-9)
}

// The row of testdata/corpus/twin-loop.fore; 6.4667 was worked out by hand.
func TestPunchingPattern(t *testing.T) {
	s := solvetest.NewShop()
	s.Row("front.wire", "front.height")
	s.Vars[s.Id("front.wire.count")].Most = true
	s.Is("front.height", 8*25.4)
	s.Is("front.wire.pitch", 25.4/3)
	s.Is("front.wire.hole.along", 4)
	s.Ge(s.V("front.wire.first"), relation.C(3*25.4/16))
	s.Standard(s.V("front.wire.first"), s.V("front.wire.last"))
	sol := s.Solve()
	foretest.Near(t, "count", s.Value(t, sol, "front.wire.count"), 23, 0)
	foretest.Near(t, "first", s.Value(t, sol, "front.wire.first"), (203.2-22*25.4/3-4)/2, 1e-9)
	foretest.Near(t, "first by hand", s.Value(t, sol, "front.wire.first"), 6.4667, 5e-5)
}

func TestMostWithLeastWeb(t *testing.T) {
	build := func() *solvetest.Shop {
		s := solvetest.NewShop()
		s.Row("front.wire", "front.height")
		s.Vars[s.Id("front.wire.count")].Most = true
		s.Is("front.height", 210)
		s.Is("front.wire.hole.along", 4)
		s.Standard(s.V("front.wire.first"), s.V("front.wire.last"))
		return s
	}
	s := build()
	sol := s.Solve()
	if len(sol.Counts) != 1 || !sol.Counts[0].Unbounded {
		t.Error(solvetest.Wrongs(s, sol))
	}
	s = build()
	s.Ge(s.V("front.wire.web"), relation.C(3))
	s.Ge(s.V("front.wire.first"), relation.C(5))
	sol = s.Solve()
	// 4n + 3(n-1) <= 200: n = 29
	foretest.Near(t, "count", s.Value(t, sol, "front.wire.count"), 29, 0)
	s = build()
	s.Is("front.wire.web", 3)
	s.Is("front.wire.first", 5.25) // tied: not centred
	sol = s.Solve()
	foretest.Near(t, "count", s.Value(t, sol, "front.wire.count"), 29, 0)
	foretest.Near(t, "last", s.Value(t, sol, "front.wire.last"), 210-5.25-7*28-4, 1e-9)
	s = build()
	s.Ge(s.V("front.wire.web"), relation.C(300))
	s.Ge(s.V("front.wire.first"), relation.C(120))
	sol = s.Solve()
	if len(sol.Counts)+len(sol.Clashes) == 0 {
		t.Error(solvetest.Wrongs(s, sol))
	}
}

// A default that sets one end to something else than the other end does not
// centre the row: as many holes are taken as fit, and the end comes as near to
// it as they leave room.
func TestMostIsNotCentredByOneEnd(t *testing.T) {
	s := solvetest.NewShop()
	s.Row("front.wire", "front.height")
	s.Vars[s.Id("front.wire.count")].Most = true
	s.Is("front.height", 210)
	s.Is("front.wire.pitch", 10)
	s.Is("front.wire.hole.along", 2)
	s.Own(s.V("front.margin"), relation.C(30))
	s.Ge(s.V("front.wire.first"), relation.C(5))
	s.Standard(s.V("front.wire.first"), s.V("front.margin"))
	sol := s.Solve()
	// 5 + 2 + 10(n-1) <= 210: n = 21, and 8 are left for both ends.
	foretest.Near(t, "count", s.Value(t, sol, "front.wire.count"), 21, 0)
	foretest.Near(t, "first", s.Value(t, sol, "front.wire.first"), 8, 1e-9)
}
