package geom

import (
	"math/rand/v2"
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
