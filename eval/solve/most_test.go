package solve

import (
	"testing"

	"foredge/eval/relation"
)

// patternRow is a row with a known pitch on an edge of known length, its ends
// at least margin from the centres of the outer holes, as many holes as fit.
func patternRow(length, pitch, hole, margin float64) (*shop, *Solution) {
	s := newShop()
	s.row("front.wire", "front.height")
	s.Vars[s.id("front.wire.count")].Most = true
	s.is("front.height", length)
	s.is("front.wire.pitch", pitch)
	s.is("front.wire.hole.along", hole)
	s.ge(s.v("front.wire.first"), relation.C(margin-hole/2))
	s.standard(s.v("front.wire.first"), s.v("front.wire.last"))
	return s, s.solve()
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
					t.Fatalf("%g/%g: %s", edge, pitch, wrongs(s, sol))
				}
				near(t, "count", s.value(t, sol, "front.wire.count"), float64(c.want), 0)
				want := (edge-float64(c.want-1)*pitch)/2 - 1
				near(t, "first", s.value(t, sol, "front.wire.first"), want, 1e-9)
				near(t, "last", s.value(t, sol, "front.wire.last"), want, 1e-9)
			}
		}
	}
}

// The row of testdata/corpus/twin-loop.fore; 6.4667 was worked out by hand.
func TestPunchingPattern(t *testing.T) {
	s := newShop()
	s.row("front.wire", "front.height")
	s.Vars[s.id("front.wire.count")].Most = true
	s.is("front.height", 8*25.4)
	s.is("front.wire.pitch", 25.4/3)
	s.is("front.wire.hole.along", 4)
	s.ge(s.v("front.wire.first"), relation.C(3*25.4/16))
	s.standard(s.v("front.wire.first"), s.v("front.wire.last"))
	sol := s.solve()
	near(t, "count", s.value(t, sol, "front.wire.count"), 23, 0)
	near(t, "first", s.value(t, sol, "front.wire.first"), (203.2-22*25.4/3-4)/2, 1e-9)
	near(t, "first by hand", s.value(t, sol, "front.wire.first"), 6.4667, 5e-5)
}

func TestMostWithLeastWeb(t *testing.T) {
	build := func() *shop {
		s := newShop()
		s.row("front.wire", "front.height")
		s.Vars[s.id("front.wire.count")].Most = true
		s.is("front.height", 210)
		s.is("front.wire.hole.along", 4)
		s.standard(s.v("front.wire.first"), s.v("front.wire.last"))
		return s
	}
	s := build()
	sol := s.solve()
	if len(sol.Counts) != 1 || !sol.Counts[0].Unbounded {
		t.Error(wrongs(s, sol))
	}
	s = build()
	s.ge(s.v("front.wire.web"), relation.C(3))
	s.ge(s.v("front.wire.first"), relation.C(5))
	sol = s.solve()
	// 4n + 3(n-1) <= 200: n = 29
	near(t, "count", s.value(t, sol, "front.wire.count"), 29, 0)
	s = build()
	s.is("front.wire.web", 3)
	s.is("front.wire.first", 5.25) // tied: not centred
	sol = s.solve()
	near(t, "count", s.value(t, sol, "front.wire.count"), 29, 0)
	near(t, "last", s.value(t, sol, "front.wire.last"), 210-5.25-7*28-4, 1e-9)
	s = build()
	s.ge(s.v("front.wire.web"), relation.C(300))
	s.ge(s.v("front.wire.first"), relation.C(120))
	sol = s.solve()
	if len(sol.Counts)+len(sol.Clashes) == 0 {
		t.Error(wrongs(s, sol))
	}
}
