package layout_test

import (
	"context"
	"strings"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout"
)

const holes = `units mm
laser bench { kerf = 0.2; LINE }
panel front { width = 148; height = 210; thick = 3
  row wire on spine { count = 23; hole = rect 4 by 4; pitch = 8.5; first = 9.5; inset = 5 }
}
`

// cutsNear counts the cuts that come right after one within a distance.
func cutsNear(d *layout.Drawing, within float64) (n int) {
	runs := d.Sequence.Plan.Runs
	for k := 1; k < len(runs); k++ {
		a, b := d.Sequence.Items[runs[k-1].Item].Figure.Bounds(), d.Sequence.Items[runs[k].Item].Figure.Bounds()
		if a.Height() < 10 && b.Height() < 10 && a.Center().Distance(b.Center())-4 < within {
			n++
		}
	}
	return n
}

// Holes of a row lie 4.5 mm apart: with heat spread over 6 mm none comes right after its
// neighbour.
func TestHeatSpread(t *testing.T) {
	at := func(line string) *layout.Drawing { return sequenced(t, strings.Replace(holes, "LINE", line, 1), nil) }
	if n := cutsNear(at("line-width = 0.1"), 6); n < 20 {
		t.Errorf("without heat spread %d neighbours come after one another", n)
	}
	if n := cutsNear(at("heat-spread = 6"), 6); n > 0 {
		t.Errorf("with heat spread %d neighbours come after one another", n)
	}
}

// More effort takes more steps: of a board with many letters the way becomes shorter.
func TestOrderEffort(t *testing.T) {
	d := sequenced(t, foretest.Corpus(t, "twin-loop"), nil)
	more := d.Sequenced(context.Background(), 40)
	if was, is := d.Sequence.Plan.Travel, more.Sequence.Plan.Travel; is >= was {
		t.Errorf("%.1f mm, and with forty times the effort %.1f mm", was, is)
	}
	if again := d.Sequenced(context.Background(), 40); again.Sequence.Plan.Travel != more.Sequence.Plan.Travel {
		t.Error("a second search finds another way")
	}
}

// The same where boards lie on a sheet, which runs as their laser does.
func TestHeatSpreadOnSheets(t *testing.T) {
	near := func(line string) int {
		text := strings.NewReplacer("LINE", line+"; bed = 400 by 300", "thick = 3\n", "thick = 3; copies = 2\n").Replace(holes)
		d, dr := mustSolve(t, text), drawn(t, text)
		cut, _ := dr.Kerfed()
		out, err := layout.Lay(t.Context(), []layout.Wanted{{Drawing: cut}}, layout.Supplies(d, dr), layout.Search{Effort: 0.01})
		if err != nil || len(out.Sheets) != 1 {
			t.Fatal(err)
		}
		return cutsNear(out.Sheets[0].Outer.Sequenced(context.Background(), 1), 6)
	}
	if n := near("line-width = 0.1"); n < 40 {
		t.Errorf("without heat spread %d neighbours come after one another", n)
	}
	if n := near("heat-spread = 6"); n > 0 {
		t.Errorf("with heat spread %d neighbours come after one another", n)
	}
}
