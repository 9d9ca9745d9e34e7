package layout

import (
	"testing"

	"foredge/lang/diag"
	"foredge/lang/source"
)

// Of two neighbours of one opening each is told, and of two holes of a row, which one
// line gives, the first.
func TestEachNeighbourIsTold(t *testing.T) {
	f := source.New("front.fore", []byte("left right middle"))
	left, right, middle := source.Span{File: f, End: 4}, source.Span{File: f, Start: 5, End: 10}, source.Span{File: f, Start: 11, End: 17}
	var all diag.List
	for _, other := range []source.Span{left, left, right} {
		all.Warnf("thin-web", middle, "only 1 mm is left").WithHelp("move them apart").Note(other, "the other is here")
	}
	all.Warnf("thin-web", middle, "only 1 mm is left").WithHelp("move them apart")
	if got := firstOfEach(all); len(got) != 3 {
		t.Errorf("%d are told, want those of two neighbours and the one without", len(got))
	}
}
