package sparse

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// Three ways to add up rows give the same, with whole numbers exactly.
func TestSumsAgree(t *testing.T) {
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 59))
		gatherer := NewGatherer(3) // grows
		var sum Sum
		var combined []Term
		for range 1 + r.IntN(6) {
			var row []Term
			for at := range int32(8) {
				if r.IntN(3) == 0 {
					row = append(row, Term{at, float64(1 + r.IntN(3))})
				}
			}
			k := float64(r.IntN(5) - 2)
			combined = Combine(combined, k, row, Vanish)
			gatherer.Add(k, row)
			if k != 0 {
				sum.Add(k, row)
			}
		}
		if got := gatherer.Take(Vanish); !slices.Equal(got, combined) {
			t.Errorf("rows %d: gathered %v, combined %v", seed, got, combined)
		}
		if got := sum.Take(); !slices.Equal(got, combined) {
			t.Errorf("rows %d: summed %v, combined %v", seed, got, combined)
		}
		if got := gatherer.Take(Vanish); len(got) > 0 {
			t.Errorf("rows %d: %v is left in the gatherer", seed, got)
		}
	}
}

func TestWhatCancelsIsLeftOut(t *testing.T) {
	a, b := []Term{{0, 1}, {1, 0.1}}, []Term{{1, 0.1 + 1e-14}, {2, 2}}
	if got := Combine(a, -1, b, Vanish); !slices.Equal(got, []Term{{0, 1}, {2, -2}}) {
		t.Errorf("got %v", got)
	}
}

// Lists keep their order, and one that grows leaves the others alone.
func TestLists(t *testing.T) {
	l := NewLister[string](3)
	for _, k := range []int32{2, 0, 2} {
		l.Expect(k)
	}
	l.Put(2, "first")
	l.Put(0, "alone")
	l.Put(2, "second")
	lists := l.Done()
	apart := lists.Apart()
	apart[0] = append(apart[0], "more")
	if !slices.Equal(lists.Of(2), []string{"first", "second"}) || len(lists.Of(1)) > 0 || !slices.Equal(apart[0], []string{"alone", "more"}) {
		t.Errorf("lists %v, apart %v", lists, apart)
	}
}

func TestSlabHandsOutZerosApart(t *testing.T) {
	var s Slab[int]
	a := s.Copy([]int{1, 2, 3})
	b := s.Take(2)
	a = append(a, 4)
	if !slices.Equal(a, []int{1, 2, 3, 4}) || !slices.Equal(b, []int{0, 0}) {
		t.Errorf("%v and %v", a, b)
	}
}
