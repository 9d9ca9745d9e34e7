package exporttest

import (
	"image"
	"image/png"
	"os"
	"testing"

	"foredge/lang/foretest"
)

// HoldPicture holds a picture against the stored one, which is made anew with -update.
func HoldPicture(t testing.TB, name string, got image.Image) {
	t.Helper()
	if foretest.Update() {
		writePicture(t, name, got)
	}
	samePicture(t, readPicture(t, name), got)
}

func writePicture(t testing.TB, name string, img image.Image) {
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

func readPicture(t testing.TB, name string) image.Image {
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
func samePicture(t testing.TB, stored, got image.Image) {
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
