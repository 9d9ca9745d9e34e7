package shelf_test

import (
	"slices"
	"testing"

	"foredge/eval/shelf"
	"foredge/lang/foretest"
)

// The sizes of loops and coils are those that designs get of them, all of them, from
// the smallest to the largest.
func TestSizes(t *testing.T) {
	listed := map[string]bool{}
	for _, form := range []string{"loop", "coil"} {
		sizes := shelf.Sizes(form)
		if len(sizes) < 10 || !slices.IsSortedFunc(sizes, func(a, b shelf.Size) int { return int(1000 * (a.Ring - b.Ring)) }) {
			t.Errorf("the sizes of a %s are %v", form, sizes)
		}
		for _, s := range sizes {
			listed[s.Name] = true
			foretest.Near(t, s.Name, try(t, s.Name, "").get(t, "ring")[0], s.Ring, 1e-9)
		}
	}
	for _, name := range shelf.Declared("wires", "binding") {
		if !listed[name] {
			t.Errorf("%s is no size that is listed", name)
		}
	}
	if rings := shelf.Sizes("ring"); len(rings) > 0 {
		t.Errorf("rings are sold by other numbers, and not %v", rings)
	}
}
