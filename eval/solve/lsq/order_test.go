package lsq

import (
	"slices"
	"testing"
)

// What shares rows with the fewest comes first, also once others have gone: of a
// star its points before its hub, of three and four columns that all hang
// together the three, and what most rows share last.
func TestOrder(t *testing.T) {
	star := order(7, [][]int32{{0, 1}, {0, 2}, {0, 3}, {0, 4}, {0, 5}, {0, 6}})
	if i := slices.Index(star, 0); i < 5 {
		t.Errorf("the hub comes at place %d of %v", i, star)
	}
	groups := order(7, [][]int32{{0, 1, 2, 3}, {4, 5, 6}})
	if first := slices.Sorted(slices.Values(groups[:3])); !slices.Equal(first, []int32{4, 5, 6}) {
		t.Errorf("the smaller group doesn't come first in %v", groups)
	}
	var rows [][]int32
	for c := int32(1); c < 200; c++ {
		rows = append(rows, []int32{0, c})
	}
	if crowded := order(200, rows); crowded[199] != 0 {
		t.Errorf("what every row shares comes at place %d", slices.Index(crowded, 0))
	}
	for _, o := range [][]int32{star, groups} {
		if all := slices.Sorted(slices.Values(o)); !slices.Equal(all, []int32{0, 1, 2, 3, 4, 5, 6}) {
			t.Errorf("%v has not each column once", o)
		}
	}
}

func TestAppendMerged(t *testing.T) {
	if got := appendMerged([]int32{9}, []int32{1, 3, 5, 8}, []int32{2, 3, 7}, 5, 7); !slices.Equal(got, []int32{9, 1, 2, 3, 8}) {
		t.Errorf("%v", got)
	}
}
