package shelf

import (
	"slices"
	"testing"

	"foredge/lang/parse"
	"foredge/lang/source"
)

func TestParts(t *testing.T) {
	names := Names()
	if !slices.Contains(names, "bindings") || !slices.IsSorted(names) {
		t.Errorf("the shelf has %v", names)
	}
	for _, n := range names {
		text, ok := Text(n)
		if !ok {
			t.Errorf("no text of %s", n)
		}
		if _, ds := parse.File(source.New(n, text)); len(ds) > 0 {
			t.Errorf("%s: %s", ds[0].Span, ds[0].Message)
		}
	}
	if _, ok := Text("../shelf"); ok {
		t.Error("a name can lead out of the shelf")
	}
}
