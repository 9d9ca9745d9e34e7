package driver_test

import (
	"path/filepath"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/eval"
	"foredge/lang/foretest"
	"foredge/lang/parse"
)

// What repeats is written once: each of these designs has fewer lines than it makes
// things, of which each would take a line or more if it were written out. Products
// are sizes, pairs of covers, panes; of what orders choose there are all.
func TestFewerLinesThanThings(t *testing.T) {
	for name, products := range map[string]int{"bird-books": 8, "shop-range": 3 * 4 * 2, "watch-house": 6 * 4} {
		path := filepath.Join(foretest.Root(t), "examples", name+".fore")
		reader, file, err := driver.NewSession(nil).Open(path)
		foretest.Must(t, err)
		lines := 0
		for line := range strings.Lines(file.Text()) {
			if code, _, _ := strings.Cut(line, "#"); strings.TrimSpace(code) != "" {
				lines++
			}
		}
		tree, _ := parse.File(file)
		p := eval.Prepare(tree, reader, nil)
		orders, things := 1, 0
		if p.Orders != nil {
			orders = len(p.Orders.Rows)
		}
		made := map[string]bool{}
		for i := range orders {
			m, diags := p.Build(i)
			s, more := m.Solve()
			if diags.Add(more); !s.Sound {
				t.Fatalf("%s, order %d: %v", name, i+1, diags)
			}
			kind := ""
			for _, panel := range s.Design().Panels {
				things += 1 + len(panel.Rows) + len(panel.Regions) + len(panel.Cutouts) + len(panel.Lines) + len(panel.Lattices)
			}
			if p.Orders != nil {
				for _, cell := range p.Orders.Rows[i].Cells[1:] { // all but the name
					kind += cell.Text + " "
				}
			}
			made[kind] = true
		}
		if p.Orders != nil && len(made) != products {
			t.Errorf("%s makes %d products, want %d", name, len(made), products)
		}
		if lines >= things {
			t.Errorf("%s has %d lines for %d things", name, lines, things)
		}
		t.Logf("%s: %d lines, %d products, %d things", name, lines, products, things)
	}
}
