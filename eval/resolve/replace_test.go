package resolve

import "testing"

// Of two names alone on the sides of a line it is about the left one, unless the
// right one is nearer.
func TestOnLeft(t *testing.T) {
	for _, c := range []struct {
		at, left, right string
		want            bool
	}{
		{"", "front", "back", true},
		{"front", "front", "back", true},
		{"front", "back", "front", false},
		{"front", "log", "front.wire", false},
		{"lid", "front", "back", true},
		{"front.title", "front", "front.title", false},
		{"front.title", "front.title", "front", true},
		{"front.title", "front.title.pane", "front.title", true},
		{"front.title", "front.wire", "front", true}, // both are of what stands around
		{"front.title", "front.titles", "front.title", false},
		{"front", "", "front", false}, // a named value
	} {
		if got := OnLeft(c.at, c.left, c.right); got != c.want {
			t.Errorf("in %q, %q beside %q: %v", c.at, c.left, c.right, got)
		}
	}
}
