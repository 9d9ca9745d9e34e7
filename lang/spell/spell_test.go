package spell

import (
	"slices"
	"testing"
)

func TestNearest(t *testing.T) {
	dimensions := []string{"width", "height", "thick", "ease", "over-head", "over-tail", "over-spine", "over-foredge", "corners", "pitch", "web", "run", "first", "last", "inset", "count", "hole"}
	units := []string{"mm", "cm", "m", "in", "pt", "deg"}
	kinds := []string{"notebook", "panel", "row", "gap", "case", "region", "cutout", "lattice", "line", "pattern", "stock", "laser", "orders"}
	for _, c := range []struct {
		name string
		from []string
		want string
	}{
		{"widht", dimensions, "width"}, // two letters swapped
		{"hight", dimensions, "height"},
		{"heigth", dimensions, "height"},
		{"pich", dimensions, "pitch"},
		{"overhead", dimensions, "over-head"},
		{"OVER-HEAD", dimensions, "over-head"},
		{"over-hed", dimensions, "over-head"},
		{"over-foreedge", dimensions, "over-foredge"},
		{"weB", dimensions, "web"},
		{"wed", dimensions, "web"},
		{"colour", dimensions, ""},
		{"x", dimensions, ""},
		{"", dimensions, ""},
		{"---", dimensions, ""},
		{"width", dimensions, ""}, // it is what was written
		{"pannel", kinds, "panel"},
		{"pane", kinds, "panel"},
		{"regoin", kinds, "region"},
		{"raw", kinds, "row"},
		{"latice", kinds, "lattice"},
		{"caes", kinds, "case"},
		{"book", kinds, ""},
		{"mn", units, "mm"},
		{"MM", units, "mm"},
		{"mms", units, "mm"},
		{"dge", units, "deg"},
		{"furlong", units, ""},
		{"größe", []string{"grösse", "größen"}, "größen"},
		{"bord", []string{"board", "border"}, "board"},
		{"abc", []string{"abd", "abe"}, "abd"}, // equally near: by alphabet
		{"abc", nil, ""},
	} {
		if got := Nearest(c.name, c.from); got != c.want {
			t.Errorf("Nearest(%q) = %q, want %q", c.name, got, c.want)
		}
		turned := slices.Clone(c.from)
		slices.Reverse(turned)
		if got := Nearest(c.name, turned); got != c.want {
			t.Errorf("Nearest(%q) = %q in another order, want %q", c.name, got, c.want)
		}
	}
}

// The distance of kitten and sitting is the usual example in print for
// Levenshtein's distance; that of ca and abc is 3 where a swapped pair is not
// edited again (optimal string alignment), against 2 without that rule.
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"kitten", "sitting", 3},
		{"saturday", "sunday", 3},
		{"ca", "abc", 3},
		{"ab", "ba", 1},
		{"", "abc", 3},
		{"abc", "abc", 0},
	} {
		if got := distance([]rune(c.a), []rune(c.b), 9); got != c.want {
			t.Errorf("distance(%q, %q) = %d, want %d", c.a, c.b, got, c.want)
		}
		if got := distance([]rune(c.b), []rune(c.a), 9); got != c.want {
			t.Errorf("distance(%q, %q) = %d, want %d", c.b, c.a, got, c.want)
		}
	}
	if got := distance([]rune("a"), []rune("abcdef"), 2); got != 3 {
		t.Errorf("far words are %d apart, want one more than the limit", got)
	}
}
