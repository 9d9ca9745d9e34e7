package groups

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// Against groups found the slow way: by painting all of the one in the colour of
// the other.
func TestGroups(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 3))
	for range 200 {
		n := 1 + r.IntN(30)
		g, colour := New(n-1), make([]int, n)
		if added := g.Add(); added != n-1 {
			t.Fatalf("%d was added to %d", added, n-1)
		}
		for i := range colour {
			colour[i] = i
		}
		for range r.IntN(2 * n) {
			a, b := r.IntN(n), r.IntN(n)
			from, to := max(colour[a], colour[b]), min(colour[a], colour[b])
			if g.Unite(a, b) != (from != to) {
				t.Fatalf("that %d and %d were two is wrong", a, b)
			}
			for i, c := range colour {
				if c == from {
					colour[i] = to
				}
			}
		}
		var want [][]int
		for c := range n {
			var list []int
			for i := range colour {
				if colour[i] == c {
					list = append(list, i)
				}
				if i == c && g.Find(i) != colour[i] || g.Same(i, c) != (colour[i] == colour[c]) {
					t.Fatalf("%d and %d: %v", i, c, colour)
				}
			}
			if list != nil {
				want = append(want, list)
			}
		}
		if got := g.Lists(); fmt.Sprint(got) != fmt.Sprint(want) {
			t.Fatalf("%v, want %v", got, want)
		}
	}
}
