package driver_test

import (
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"foredge/export/exporttest"
	"foredge/export/svg"
	"foredge/lang/foretest"
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
			got := exporttest.Picture(t, path, 900, 600)
			if foretest.Update() {
				writePicture(t, name, got)
			}
			samePicture(t, readPicture(t, name), got)
		})
	}
	// No picture is left of an example that is gone.
	stored, err := filepath.Glob("../../../examples/*.png")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range stored {
		if !pictures[name] {
			t.Errorf("%s is the picture of no example", name)
		}
	}
}

func writePicture(t *testing.T, name string, img image.Image) {
	t.Helper()
	f, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(f, img); err != nil {
		t.Fatal(err)
	}
}

func readPicture(t *testing.T, name string) image.Image {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return img
}

// samePicture allows each pixel to differ as much as the rounding of another
// release of librsvg may.
func samePicture(t *testing.T, stored, got image.Image) {
	t.Helper()
	const allowed = 24 // of 255, in any channel
	if stored.Bounds() != got.Bounds() {
		t.Fatalf("the picture is %v, the design gives %v: run this test with -update and look at it", stored.Bounds(), got.Bounds())
	}
	n, first := 0, image.Point{}
	b := got.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			r1, g1, b1, _ := stored.At(x, y).RGBA()
			r2, g2, b2, _ := got.At(x, y).RGBA()
			if differ(r1, r2) > allowed || differ(g1, g2) > allowed || differ(b1, b2) > allowed {
				if n++; n == 1 {
					first = image.Pt(x, y)
				}
			}
		}
	}
	if n > 0 {
		t.Errorf("%d pixels differ, the first at %v: if the design has changed, run this test with -update and look at the picture", n, first)
	}
}

// differ is the difference of two channels of 16 bits, as of 8.
func differ(a, b uint32) uint32 { return max(a, b)>>8 - min(a, b)>>8 }
