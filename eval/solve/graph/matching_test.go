package graph

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// Small random graphs against exhaustion: the size of the largest matching, and
// which equations decide all their unknowns. By Hall's theorem (J. London Math.
// Soc. 10 (1935) 26) an equation does if it is in a set of equations with as
// many unknowns in all as the set has that can be matched.
func TestMatchingByExhaustion(t *testing.T) {
	for seed := range uint64(500) {
		r := rand.New(rand.NewPCG(seed, 41))
		equations, unknowns := 1+r.IntN(6), 1+r.IntN(6)
		mentions := make([][]int32, equations)
		for e := range mentions {
			for u := range int32(unknowns) {
				if r.IntN(3) == 0 {
					mentions[e] = append(mentions[e], u)
				}
			}
		}
		m := Match(mentions, unknowns)
		size := 0
		for e, u := range m.Unknown {
			if u < 0 {
				continue
			}
			size++
			if !slices.Contains(mentions[e], u) || m.equation[u] != int32(e) {
				t.Fatalf("graph %d: equation %d is given %d", seed, e, u)
			}
		}
		if want := largest(mentions, 0, 0); size != want {
			t.Errorf("graph %d: %d are matched of %d", seed, size, want)
		}
		decided := m.Decided()
		for e := range mentions {
			want := false
			for set := range 1 << equations {
				var all []int32
				var of [][]int32
				for i := range mentions {
					if set>>i&1 == 1 {
						of = append(of, mentions[i])
						all = append(all, mentions[i]...)
					}
				}
				slices.Sort(all)
				want = want || set>>e&1 == 1 && largest(of, 0, 0) == len(slices.Compact(all))
			}
			if decided[e] != want {
				t.Errorf("graph %d: equation %d of %v is decided: %t", seed, e, mentions, decided[e])
			}
		}
		checkBlocks(t, seed, m)
	}
}

// largest is the size of the largest matching from equation e on, without the
// unknowns that are taken.
func largest(mentions [][]int32, e, taken int) int {
	if e == len(mentions) {
		return 0
	}
	best := largest(mentions, e+1, taken)
	for _, u := range mentions[e] {
		if taken>>u&1 == 0 {
			best = max(best, 1+largest(mentions, e+1, taken|1<<u))
		}
	}
	return best
}

// checkBlocks solves block after block: each finds all its unknowns in itself
// and in those before it.
func checkBlocks(t *testing.T, seed uint64, m *Matching) {
	known := map[int32]bool{}
	for _, block := range m.Blocks() {
		for _, e := range block {
			if known[m.Unknown[e]] {
				t.Errorf("graph %d: unknown %d is found twice", seed, m.Unknown[e])
			}
			known[m.Unknown[e]] = true
		}
		for _, e := range block {
			for _, u := range m.mentions[e] {
				if !known[u] {
					t.Errorf("graph %d: block %v takes unknown %d before it is found", seed, block, u)
				}
			}
		}
	}
}

func TestBlocksOfALoop(t *testing.T) {
	// a and b together, c from b; d is given by none.
	m := Match([][]int32{{1, 2}, {0, 1}, {0, 1}, {2, 3, 4}}, 5)
	if got := m.Blocks(); len(got) != 2 || !slices.Equal(got[0], []int32{1, 2}) || !slices.Equal(got[1], []int32{0}) {
		t.Errorf("blocks %v", got)
	}
}

func TestGroups(t *testing.T) {
	g := NewGroups(7)
	for _, pair := range [][2]int32{{5, 6}, {1, 3}, {6, 3}} {
		g.Join(pair[0], pair[1])
	}
	for i, want := range []int32{0, 1, 2, 1, 4, 1, 1} {
		if got := g.Root(int32(i)); got != want {
			t.Errorf("%d is in the group of %d, want %d", i, got, want)
		}
	}
}
