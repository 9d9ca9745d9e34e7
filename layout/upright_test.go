package layout_test

import (
	"testing"

	"foredge/layout"
)

// Parts that share a cut where both are turned aren't parted so that one of them lies as it is drawn.
func TestSharedBeforeUpright(t *testing.T) {
	const text = "laser l { kerf = 0.2 }\nstock ply { thick = 3; size = 112 by 72; margin = 0; spacing = 0; shared-cuts = yes }\n" +
		"panel a { stock = ply; width = 60; height = 50; copies = 2 }"
	d, dr := mustSolve(t, text), drawn(t, text)
	kerfed, diags := dr.Kerfed()
	out, err := layout.Lay(t.Context(), []layout.Wanted{{Drawing: kerfed}}, layout.Supplies(d, dr), layout.Search{Effort: 0.01})
	if err != nil || len(diags) > 0 || len(out.Sheets) != 1 {
		t.Fatal(err, diags)
	}
	if n := out.Stocks[0].Blocks; n != 1 {
		t.Errorf("%d cuts are shared, want 1", n)
	}
}
