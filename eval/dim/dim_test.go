package dim_test

import (
	"slices"
	"testing"

	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/eval/word"
	"foredge/lang/unit"
)

// Each dimension has a name of its own and is that of some kind of thing.
func TestNames(t *testing.T) {
	seen := map[string]dim.Name{}
	for n := dim.None + 1; n < dim.Number; n++ {
		name := n.String()
		if name == "" {
			t.Errorf("dimension %d, after %v, has no name", n, n-1)
			continue
		}
		if other, taken := seen[name]; taken {
			t.Errorf("dimensions %d and %d are both called %s", other, n, name)
		}
		seen[name] = n
		if !slices.ContainsFunc(kind.Names(), func(k string) bool { return has(kind.Find(k), n) }) {
			t.Errorf("no kind of thing has the dimension %s", name)
		}
	}
	if dim.None.String() != "" {
		t.Errorf("no dimension is called %q", dim.None)
	}
}

func has(k *kind.Kind, n dim.Name) bool {
	if n == dim.Gap {
		return k.Indexed == n.String()
	}
	found, ok := k.Dim(n.String())
	return ok && found == n
}

// The kinds of those that are no lengths, and those that may be below 0.
func TestKinds(t *testing.T) {
	kinds := map[dim.Name]unit.Kind{dim.Count: unit.Count, dim.Links: unit.Count, dim.Rows: unit.Count,
		dim.Across: unit.Count, dim.Down: unit.Count, dim.Turn: unit.Angle}
	signed := []dim.Name{dim.Ease, dim.OverHead, dim.OverTail, dim.OverSpine, dim.OverForedge, dim.Link}
	for n := dim.None + 1; n < dim.Number; n++ {
		want, ok := kinds[n]
		if !ok {
			want = unit.Length
		}
		if n.Kind() != want {
			t.Errorf("%v is %v, want %v", n, n.Kind(), want)
		}
		if n.Signed() != slices.Contains(signed, n) {
			t.Errorf("%v may be below 0: %v", n, n.Signed())
		}
	}
}

func TestOfEdges(t *testing.T) {
	for edge, want := range map[word.Edge][3]dim.Name{
		word.Head: {dim.Width, dim.Head, dim.OverHead}, word.Tail: {dim.Width, dim.Tail, dim.OverTail},
		word.Spine: {dim.Height, dim.Spine, dim.OverSpine}, word.Foredge: {dim.Height, dim.Foredge, dim.OverForedge},
	} {
		if got := [3]dim.Name{dim.Length(edge), dim.From(edge), dim.Over(edge)}; got != want {
			t.Errorf("%v: %v, want %v", edge, got, want)
		}
	}
}
