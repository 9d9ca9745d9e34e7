package driver_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foredge/export/svg"
	"foredge/lang/foretest"
)

// What repeats is written once: each of these designs has fewer lines than it makes
// things, of which each would take a line or more if it were written out. Kinds is
// how many of what it draws there are, chosen by its orders.
func TestFewerLinesThanThings(t *testing.T) {
	for name, kinds := range map[string]int{"bird-books": 1, "watch-house": 1} {
		path := filepath.Join(foretest.Root(t), "examples", name+".fore")
		text, err := os.ReadFile(path)
		foretest.Must(t, err)
		lines := 0
		for line := range strings.Lines(string(text)) {
			if code, _, _ := strings.Cut(line, "#"); strings.TrimSpace(code) != "" {
				lines++
			}
		}
		things := 0
		for _, p := range build(t, path, svg.Encoder{}).Solution.Design().Panels {
			things += 1 + len(p.Rows) + len(p.Regions) + len(p.Cutouts) + len(p.Lines) + len(p.Lattices)
		}
		if lines >= kinds*things {
			t.Errorf("%s has %d lines for %d things", name, lines, kinds*things)
		}
		t.Logf("%s: %d lines, %d things", name, lines, kinds*things)
	}
}
