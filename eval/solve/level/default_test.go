package level_test

import (
	"fmt"
	"slices"
	"testing"

	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/eval/solve/solvetest"
	"foredge/lang/foretest"
)

// box adds a box of a height in a board, centred by a default.
func box(s *solvetest.Shop, name string, height float64) *relation.Default {
	s.Own(relation.Add(s.V(name+".head"), s.V(name+".height"), s.V(name+".tail")), s.V("board"))
	s.Is(name+".height", height)
	d := s.Standard(s.V(name+".head"), s.V(name+".tail"))
	d.Rank, d.Frame = 0, []relation.VarID{s.Id("board")}
	return d
}

// Defaults of one rank are met together, in whatever order they stand: two boxes
// 25 apart on a board of 190 are off their middles by 15 each (by hand: a.head =
// 85 - 15, b.head = 80 + 15).
func TestDefaultsTogether(t *testing.T) {
	for _, turned := range []bool{false, true} {
		for _, limit := range []bool{false, true} {
			s := solvetest.NewShop()
			s.Is("board", 190)
			box(s, "a", 20)
			box(s, "b", 30)
			if limit {
				s.Ge(s.V("b.head"), relation.Add(s.V("a.head"), relation.C(25)))
			} else {
				s.Eq(s.V("b.head"), relation.Add(s.V("a.head"), relation.C(25)))
			}
			if turned {
				slices.Reverse(s.Defaults)
			}
			sol := s.Solve()
			if !sol.OK() {
				t.Fatal(solvetest.Wrongs(s, sol))
			}
			what := fmt.Sprintf("turned %v, limit %v: ", turned, limit)
			foretest.Near(t, what+"a.head", s.Value(t, sol, "a.head"), 70, 1e-9)
			foretest.Near(t, what+"b.head", s.Value(t, sol, "b.head"), 95, 1e-9)
		}
	}
}

// A lower rank is met first, however it stands.
func TestDefaultRanks(t *testing.T) {
	for first := range 2 {
		s := solvetest.NewShop()
		s.Is("board", 190)
		box(s, "a", 20).Rank = first
		box(s, "b", 30).Rank = 1 - first
		s.Eq(s.V("b.head"), relation.Add(s.V("a.head"), relation.C(25)))
		want := []float64{85, 55}[first]
		foretest.Near(t, "a.head", s.Value(t, s.Solve(), "a.head"), want, 1e-9)
	}
}

// What a default takes as given is never moved by it: the box follows.
func TestDefaultTakesAsGiven(t *testing.T) {
	s := solvetest.NewShop()
	s.Is("board", 190)
	box(s, "a", 20)
	box(s, "b", 30).Given = []relation.VarID{s.Id("a.head")}
	s.Eq(s.V("b.head"), relation.Add(s.V("a.head"), relation.C(25)))
	sol := s.Solve()
	foretest.Near(t, "a.head", s.Value(t, sol, "a.head"), 85, 1e-9)
	foretest.Near(t, "b.head", s.Value(t, sol, "b.head"), 110, 1e-9)

	// left = right gives left a value, and never right.
	s = solvetest.NewShop()
	s.Is("row.ease", 0.6)
	s.Standard(s.V("row.ease"), s.V("ease")).Given = []relation.VarID{s.Id("ease")}
	sol = s.Solve()
	if len(sol.Free) != 1 || sol.Free[0].Settle != s.IDs["ease"] {
		t.Error(solvetest.Wrongs(s, sol))
	}
}

// A board without a size doesn't get one by what is placed on it: neither by one
// box, nor by two that together would, nor by a box held off its middle.
func TestDefaultsNeverSize(t *testing.T) {
	for what, build := range map[string]func(s *solvetest.Shop){
		"one": func(s *solvetest.Shop) {
			box(s, "a", 20)
			s.Is("a.head", 3)
		},
		"two": func(s *solvetest.Shop) {
			box(s, "a", 20)
			box(s, "b", 30)
			s.Eq(s.V("b.head"), relation.Mul(relation.C(2), s.V("a.head")))
		},
		"a limit": func(s *solvetest.Shop) {
			box(s, "a", 20)
			s.Ge(s.V("a.head"), relation.C(70))
			s.Ge(s.V("board"), relation.C(100))
			s.Le(s.V("board"), relation.C(120))
		},
	} {
		s := solvetest.NewShop()
		s.Id("board")
		build(s)
		sol := s.Solve()
		if len(sol.Free) == 0 || !slices.ContainsFunc(sol.Free, func(g solve.FreeGroup) bool { return slices.Contains(g.Vars, s.IDs["board"]) }) {
			t.Errorf("%s: the board is %g high: %s", what, sol.Values[s.IDs["board"]], solvetest.Wrongs(s, sol))
		}
	}
}
