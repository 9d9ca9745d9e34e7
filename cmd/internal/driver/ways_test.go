package driver_test

import (
	"context"
	"path/filepath"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/export"
	"foredge/export/dxf"
	"foredge/export/exporttest"
	"foredge/export/svg"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
)

const fewTags = `laser bench { bed = 300 by 200; kerf = 0.2; quiet = caution, small-part; heat-spread = 8 }
stock ply { thick = 3; bridge = 0.6; bridge-below = 50 STOCK }
panel tag { width = 40; height = 20; COPIES
  cutout eye { shape = round 4; head = 8; spine = 4 } }
panel board { width = 90; height = 60; COPIES }
`

// Bridges of small parts are in both formats, whether a design is cut as it is drawn, on
// sheets, part by part or together with others that share their cuts; DXF has what SVG has.
func TestBridgesInEveryFile(t *testing.T) {
	for _, c := range []struct {
		stock, copies string
		each          bool
		tags, shared  int
	}{
		{"", "", false, 1, 0},
		{"; margin = 4", "", false, 1, 0},
		{"", "copies = 3", false, 3, 0},
		{"", "copies = 3", true, 1, 0},
		{"; shared-cuts = yes", "copies = 4", false, 4, 1},
	} {
		text := strings.NewReplacer("STOCK", c.stock, "COPIES", c.copies).Replace(fewTags)
		path := filepath.Join(t.TempDir(), "tags.fore")
		foretest.Write(t, path, text)
		r := driver.NewSession(nil).Build(context.Background(), path, driver.Options{Naming: driver.Naming{Each: c.each}, Encoders: []export.Encoder{svg.Encoder{}, dxf.Encoder{}}})
		if !r.OK() {
			t.Fatal(r.Err, diagtest.Text(r.Diagnostics))
		}
		tags, shared := 0, 0
		for _, f := range r.Files {
			foretest.Write(t, f.Path, string(f.Data))
			if filepath.Ext(f.Path) != ".svg" {
				continue
			}
			drawn := exporttest.ReadSVG(t, f.Data)
			for _, s := range drawn.Shapes {
				switch {
				case strings.HasPrefix(s.ID, "cut.tag") && strings.HasSuffix(s.ID, "outline"):
					if tags++; len(s.Contours) != 2 || s.Contours[0].Closed {
						t.Errorf("%s of %s is run in %d", s.ID, f.Path, len(s.Contours))
					}
				case strings.HasSuffix(s.ID, "outline"):
					if len(s.Contours) != 1 || !s.Contours[0].Closed {
						t.Errorf("%s of %s is run in %d", s.ID, f.Path, len(s.Contours))
					}
					if strings.HasPrefix(s.ID, "cut.shared") {
						shared++
					}
				}
			}
		}
		for _, f := range r.Files {
			if other := strings.TrimSuffix(f.Path, ".dxf"); other != f.Path {
				exporttest.Compare(t, exporttest.ReadSVG(t, []byte(foretest.Read(t, other+".svg"))), exporttest.ReadDXF(t, f.Path)[0])
			}
		}
		if tags != c.tags || shared != c.shared {
			t.Errorf("%s%s: %d tags and %d blocks", c.stock, c.copies, tags, shared)
		}
	}
}
