package word

import (
	"slices"
	"strings"
	"testing"
)

// What a word of another trade leads to hangs on what may stand in its place.
func TestElsewhere(t *testing.T) {
	row := []string{"count", "hole", "first", "last", "inset", "web", "pitch", "run"}
	box := []string{"width", "height", "head", "tail", "spine", "foredge", "shape", "clear"}
	over := []string{"over-head", "over-tail", "over-spine", "over-foredge"}
	corners := Strings(Corners()...)
	for _, c := range []struct {
		word  string
		known []string
		want  string // the word that it must name; "" for none
	}{
		{"left", box, "spine"}, {"Right", box, "foredge"}, {"top", box, "head"}, {"bottom", box, "tail"}, {"left", row, ""},
		{"thickness", []string{"width", "thick"}, "thick"}, {"length", box, "height"}, {"margin", row, "inset"}, {"margin", box, "clear"},
		{"diameter", row, "hole = round"}, {"diameter", box, "shape = round"}, {"diameter", []string{"ring"}, "ring"},
		{"circle", box, "round"}, {"hinge", []string{"lattice"}, "lattice"}, {"font-size", []string{"cap"}, "cap = 12"},
		{"qty", []string{"copies"}, "copies"}, {"qty", row, "count"}, {"quantity", []string{"quantity", "copies"}, "copies"},
		{"book", []string{"notebook"}, "notebook"}, {"pitch", row, ""}, {"spacing", row, "pitch"}, {"", row, ""}, {"tern", box, ""},
		{"over-top", over, "called over-head"}, {"over-fore-edge", over, "called over-foredge"}, {"over-left", over, "bound edge"},
		{"top-spine", corners, "called head-spine"}, {"foot-front-edge", corners, "called tail-foredge"}, {"top-left", corners, "head-spine"},
		{"over-top", box, ""}, {"top-hat", box, ""}, {"over-head", over, ""}, {"-", over, ""},
	} {
		got := Elsewhere(c.word, func(w string) bool { return slices.Contains(c.known, w) })
		if c.want == "" && got != "" || !strings.Contains(got, c.want) {
			t.Errorf("%q among %v leads to %q, want %q", c.word, c.known, got, c.want)
		}
	}
	for word, want := range map[string]string{"unit": "units mm", "hinge": "lattice", "Unit": "units in", "tern": "", "left": ""} {
		if got := Anywhere(word); want == "" && got != "" || !strings.Contains(got, want) {
			t.Errorf("%q leads to %q anywhere, want %q", word, got, want)
		}
	}
}

// Each entry has words, all in small letters, and says something of a place or to
// do.
func TestOthers(t *testing.T) {
	for _, o := range others {
		if o.words == "" || o.words != strings.ToLower(o.words) || o.here == "" && o.say == "" {
			t.Errorf("an entry that leads nowhere: %+v", o)
		}
	}
}
