package export_test

import (
	"bytes"
	"testing"

	"foredge/eval/maybe"
	"foredge/export"
	"foredge/export/exporttest"
)

// How wide lines are drawn changes an SVG file at the three widths of its groups
// of lines and nowhere else, and no file of another format.
func TestLineWidthIsOfSVGOnly(t *testing.T) {
	for _, e := range export.Encoders(export.Options{}) {
		d := exporttest.Figures()
		usual := exporttest.Encode(t, e, d)
		d.LineWidth = maybe.Is(0.0254)
		got := exporttest.Encode(t, e, d)
		want := usual
		if e.Name() == "svg" {
			if n := bytes.Count(usual, []byte(`stroke-width="0.1"`)); n != 3 {
				t.Errorf("%d groups of lines are 0.1 mm wide, want 3", n)
			}
			want = bytes.ReplaceAll(usual, []byte(`stroke-width="0.1"`), []byte(`stroke-width="0.0254"`))
		}
		if !bytes.Equal(got, want) {
			t.Errorf("%s: the width of lines changes more than it should", e.Name())
		}
	}
}
