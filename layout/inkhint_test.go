package layout_test

import (
	"strings"
	"testing"
)

// What is told of ink on ink advises one region for lines that cross where that helps: not for
// what is laid in, on which nothing may lie, nor for the members of a field, which have theirs.
func TestOneRegionIsAdvisedWhereItHelps(t *testing.T) {
	const head = "stock ply { thick = 4 }\nstock veneer { thick = 1 }\npanel front { stock = ply; width = 120; height = 200\n"
	for _, c := range []struct {
		name, marks string
		want        bool
	}{
		{"two frames", "region a { width = 80; height = 40; mark frame }\nregion b { width = 60; height = 60; mark frame }", true},
		{"a frame through letters", "region a { width = 80; height = 40; mark frame }\nregion b { width = 60; height = 100; engrave text \"I\" { fit = fill } }", true},
		{"letters on letters", "region a { width = 80; height = 40; engrave text \"H\" }\nregion b { width = 80; height = 40; engrave text \"H\" }", false},
		{"a line on an inlay", "region a { width = 80; height = 40; mark text \"I\" { font = stroke; cap = 6 } }\nregion b { width = 80; height = 80; inlay text \"I\" { stock = veneer; fit = fill } }", false},
		{"a field", "field f { across = 2; gap-across = 0; region each { width = 40; height = 40; mark frame } }", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			found := told(t, head+c.marks+"\n}\n")
			inks := 0
			for _, d := range found {
				if d.Code != "ink" {
					continue
				}
				inks++
				if got := strings.Contains(d.Help, "may stand in one region"); got != c.want {
					t.Errorf("one region is advised: %v, want %v: %s", got, c.want, d.Help)
				}
			}
			if inks != 1 {
				t.Errorf("told %d times:\n%s", inks, lines(found))
			}
		})
	}
}
