package word

import (
	"slices"
	"testing"
)

// round checks that each word of a list finds its own choice, that no two are
// alike, and that what isn't a word finds nothing.
func round[C Choice](t *testing.T, name string, among []C, words ...string) {
	t.Helper()
	if got := Strings(among...); !slices.Equal(got, words) {
		t.Errorf("%s are %q, want %q", name, got, words)
	}
	for i, c := range among {
		if found, ok := Find(words[i], among...); !ok || found != c || c == 0 {
			t.Errorf("%s: %q finds choice %d (%v), want %d", name, words[i], found, ok, c)
		}
	}
	var none C
	if none.String() != "" {
		t.Errorf("%s: what isn't chosen is called %q", name, none)
	}
	for _, w := range []string{"", " ", "other"} {
		if c, ok := Find(w, among...); ok || c != 0 {
			t.Errorf("%s: %q finds %v", name, w, c)
		}
	}
}

func TestWords(t *testing.T) {
	round(t, "edges", Edges(), "head", "tail", "spine", "foredge")
	round(t, "corners", Corners(), "head-spine", "head-foredge", "tail-spine", "tail-foredge")
	round(t, "forms of corners", []CornerForm{Square, Radius, Chamfer, Scoop}, "square", "radius", "chamfer", "scoop")
	round(t, "sides", Sides(), "outside", "inside")
	round(t, "operations", Operations(), "engrave", "mark", "score", "cut")
	round(t, "operations of lines", OfLines(), "score", "mark", "cut")
	round(t, "fits", Fits(), "shrink", "fill")
	round(t, "ways to align text", OfText(), "left", "centre", "right", "spread")
	round(t, "ways to align art", OfArt(), "left", "centre", "right", "head", "tail")
	round(t, "curves", Curves(), "arc", "circle")
	round(t, "answers", Answers(), "yes", "no")
	round(t, "mirrors", Mirrors(), "across", "along")
	round(t, "shades", Shades(), "diffusion", "ordered", "levels")
	round(t, "recesses", Recesses(), "engrave", "through")
	round(t, "grains", Grains(), "width", "height")
	round(t, "bindings", Bindings(), "loop", "coil", "ring")
	round(t, "line fonts", LineFonts(), "stroke", "stroke-script")
}

// What lies along an edge is counted from the spine or from the head.
func TestEdges(t *testing.T) {
	for edge, want := range map[Edge]struct {
		level      bool
		start, end Edge
	}{
		Head: {true, Spine, Foredge}, Tail: {true, Spine, Foredge},
		Spine: {false, Head, Tail}, Foredge: {false, Head, Tail},
	} {
		start, end := edge.Ends()
		if edge.Level() != want.level || start != want.start || end != want.end {
			t.Errorf("%v runs level: %v, from %v to %v; want %+v", edge, edge.Level(), start, end, want)
		}
	}
}

func TestSingleLine(t *testing.T) {
	for name, want := range map[string]bool{"stroke": true, "Stroke": true, "stroke-script": true, "Go Bold": false, "strok": false} {
		if got := SingleLine(name); got != want {
			t.Errorf("letters of %q are single lines: %v", name, got)
		}
	}
}
