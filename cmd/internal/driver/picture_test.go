package driver_test

import (
	"os"
	"path/filepath"
	"testing"

	"foredge/export/exporttest"
	"foredge/export/svg"
)

// The picture beside each example is what librsvg draws of its SVG file, so that
// it can't go stale. With -update the pictures are made anew; look at them then.
func TestPictures(t *testing.T) {
	pictures := map[string]bool{}
	for _, design := range designFiles(t) {
		if filepath.Base(filepath.Dir(design)) != "examples" {
			continue
		}
		name := design[:len(design)-len(".fore")] + ".png"
		pictures[name] = true
		t.Run(filepath.Base(name), func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "cut.svg")
			if err := os.WriteFile(path, build(t, design, svg.Encoder{}).Files[0].Data, 0o666); err != nil {
				t.Fatal(err)
			}
			exporttest.HoldPicture(t, name, exporttest.Picture(t, path, 900, 600))
		})
	}
	// No picture is left of an example that is gone.
	stored, err := filepath.Glob("../../../examples/*.png")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range stored {
		// That of a job shows a sheet: cmd/internal/job has it.
		if file := filepath.Base(name[:len(name)-len(".png")] + ".fore"); !pictures[name] && !noPanels[file] {
			t.Errorf("%s is the picture of no example", name)
		}
	}
}
