package geom

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
)

// A search looks at few of many boxes, in whatever order they come: of 10,000, not
// many more than those of the nodes that a place lies in, 8 at each of 5 levels,
// and of their neighbours.
func TestIndexLooksAtFew(t *testing.T) {
	const side, most = 100, 200
	box := func(x, y float64) Box { return Box{Min: Pt(x, y), Max: Pt(x+0.5, y+0.5)} }
	square := func(i int) Box { return box(float64(i%side), float64(i/side)) }
	for _, c := range []struct {
		name string
		at   func(i int) Box
	}{
		{"a square", square},
		{"a row", func(i int) Box { return box(float64(i), 0) }},
		{"a column", func(i int) Box { return box(0, float64(i)) }},
		{"a square and one box far away", func(i int) Box {
			if i == 0 {
				return box(1e7, 1e7)
			}
			return square(i)
		}},
	} {
		boxes := make([]Box, side*side)
		for i := range boxes {
			boxes[i] = c.at(i)
		}
		r := rand.New(rand.NewPCG(3, 5))
		r.Shuffle(len(boxes), func(i, j int) { boxes[i], boxes[j] = boxes[j], boxes[i] })
		ix := NewIndex(boxes)
		looks := 0
		const searches = 100
		for range searches {
			want := r.IntN(len(boxes))
			var found []int
			ix.Visit(func(b Box) bool { looks++; return b.Distance(boxes[want]) < 0.1 }, func(i int) { found = append(found, i) })
			if !slices.Equal(found, []int{want}) {
				t.Fatalf("%s: found %v, want %d", c.name, found, want)
			}
		}
		if mean := looks / searches; mean > most {
			t.Errorf("%s: a search looks at %d boxes, want %d at most", c.name, mean, most)
		}
	}
}

// What hangs together is what uniting all near pairs comes to, and a stack gives all boxes
// that hold a place from the top.
func TestConnectedAndStack(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 3))
	for round := range 200 {
		boxes := make([]Box, r.IntN(120))
		for i := range boxes {
			at := Pt(20*r.Float64(), 20*r.Float64())
			if round%2 == 0 {
				at = Pt(float64(r.IntN(12)), float64(r.IntN(12)))
			}
			boxes[i] = Box{at, at.Add(Pt(float64(r.IntN(3))/2, float64(r.IntN(3))/2))}
			if r.IntN(20) == 0 {
				boxes[i] = EmptyBox()
			}
		}
		first := make([]int, len(boxes)) // the first box of each one's group
		for i := range boxes {
			first[i] = i
			for j := range i {
				if boxes[i].Distance(boxes[j]) > 0.25 || first[i] == first[j] {
					continue
				}
				least, other := min(first[i], first[j]), max(first[i], first[j])
				for k := range i + 1 {
					if first[k] == other {
						first[k] = least
					}
				}
			}
		}
		var want [][]int
		for i := range boxes {
			var group []int
			for k := range boxes {
				if first[k] == i {
					group = append(group, k)
				}
			}
			if group != nil {
				want = append(want, group)
			}
		}
		if got := Connected(boxes, 0.25); !reflect.DeepEqual(got, want) {
			t.Fatalf("round %d: %v, by pairs %v", round, got, want)
		}
		stack := NewStack(boxes)
		for range 20 {
			x := Pt(float64(r.IntN(24))/2, float64(r.IntN(24))/2)
			var want, got []int
			for i := len(boxes) - 1; i >= 0; i-- {
				if boxes[i].Holds(Box{x, x}) {
					want = append(want, i)
				}
			}
			for d := stack.Over(x); ; {
				i, ok := d.Next()
				if !ok {
					break
				}
				got = append(got, i)
			}
			if !slices.Equal(got, want) {
				t.Fatalf("round %d: %v from the top, want %v", round, got, want)
			}
		}
	}
}
