package png_test

import (
	"bytes"
	"image"
	stdpng "image/png"
	"math"
	"testing"

	"foredge/export/exporttest"
	"foredge/export/png"
	"foredge/layout"
	"foredge/layout/geom"
	"foredge/layout/kerf"
	"foredge/layout/lettering"
)

// picture encodes a drawing, twice as the helper does, and decodes it with the
// standard library.
func picture(t testing.TB, d *layout.Drawing) image.Image {
	t.Helper()
	img, err := stdpng.Decode(bytes.NewReader(exporttest.Encode(t, png.Encoder{}, d)))
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// blank reports whether a pixel is white.
func blank(img image.Image, x, y int) bool {
	r, g, b, _ := img.At(x, y).RGBA()
	return r > 0xf000 && g > 0xf000 && b > 0xf000
}

// Every line has ink along its whole length, every engraved figure is filled
// but for its counters, and everything else is white.
func TestPicture(t *testing.T) {
	for name, d := range map[string]*layout.Drawing{"figures": exporttest.Figures(), "harbour log": exporttest.HarbourLog(1)} {
		t.Run(name, func(t *testing.T) { testPicture(t, d) })
	}
}

// Letters cut through round a circle, with bridges, moved by the kerf: many
// short arcs. None of their lines is missing.
func TestPictureOfLetters(t *testing.T) {
	f, err := lettering.Load("Go Bold")
	if err != nil {
		t.Fatal(err)
	}
	for _, width := range []float64{1, 1.5, 2} {
		b, err := lettering.Fit(f, "Quagga 906", 110, 110, lettering.Style{Cap: 9, Curve: lettering.Circle})
		if err != nil {
			t.Fatal(err)
		}
		o, err := b.Stencil(width, 0.15)
		if err != nil {
			t.Fatal(err)
		}
		letters, err := kerf.Offset(o, -0.075)
		if err != nil {
			t.Fatal(err)
		}
		d := exporttest.Figures()
		d.Size = geom.Pt(110, 110)
		d.Parts = []layout.Part{{Name: "a", Bounds: letters.Bounds(), Shapes: []layout.Shape{{ID: "a.title", Op: layout.Cut, Hole: true, Figure: letters}}}}
		img := picture(t, d)
		dots := float64(img.Bounds().Dx()) / (d.Size.X + 8)
		for i, p := range geom.Paths(letters) {
			points, dry := p.Flatten(0.05), 0
			for _, at := range points {
				if blank(img, int((at.X+4)*dots), int((at.Y+4)*dots)) {
					dry++
				}
			}
			if dry*10 > len(points) {
				t.Errorf("bridges of %g mm: of path %d %d points in %d have no ink", width, i, dry, len(points))
			}
		}
	}
}

func testPicture(t *testing.T, d *layout.Drawing) {
	const margin = 4
	img := picture(t, d)
	dots := float64(img.Bounds().Dx()) / (d.Size.X + 2*margin)
	if dots < 1 {
		t.Fatalf("%.2f pixels a millimetre", dots)
	}
	pixel := func(p geom.Point) (int, int) {
		return int((p.X + margin) * dots), int((p.Y + margin) * dots)
	}
	var lines, fills []*geom.Boundary
	inked, dry := 0, 0
	for _, p := range d.Parts {
		for _, s := range p.Shapes {
			if s.Op == layout.Guide || s.Figure == nil {
				continue
			}
			b := geom.NewBoundary(s.Figure)
			if s.Op == layout.Engrave {
				fills = append(fills, b)
				continue
			}
			lines = append(lines, b)
			for _, path := range geom.Paths(s.Figure) {
				for _, at := range path.Flatten(0.05) {
					x, y := pixel(at)
					inked++
					if blank(img, x, y) {
						dry++
					}
				}
			}
		}
	}
	if inked == 0 || float64(dry) > 0.01*float64(inked) {
		t.Errorf("%d of %d points on lines have no ink", dry, inked)
	}
	wrong, seen := 0, 0
	for y := 2; y < img.Bounds().Dy(); y += 47 {
		for x := 2; x < img.Bounds().Dx(); x += 47 {
			at := geom.Pt((float64(x)+0.5)/dots-margin, (float64(y)+0.5)/dots-margin)
			near, inside := math.Inf(1), false
			for _, b := range lines {
				if b.Box.Distance(geom.Box{Min: at, Max: at}) < 0.6 {
					near = min(near, b.Distance(at))
				}
			}
			for _, b := range fills {
				if b.Box.Distance(geom.Box{Min: at, Max: at}) > 1 {
					continue
				}
				near = min(near, b.Distance(at)+0.2)
				inside = inside || b.Contains(at)
			}
			if near < 0.6 {
				continue // on a line, or on a fill's edge
			}
			seen++
			if blank(img, x, y) == inside {
				wrong++
			}
		}
	}
	if seen < 100 || wrong > 0 {
		t.Errorf("%d of %d places are inked that should be white, or the other way round", wrong, seen)
	}
}

// A picture of something very large stays small enough to open.
func TestLargePicture(t *testing.T) {
	d := &layout.Drawing{Size: geom.Pt(9000, 100), Colors: layout.DefaultPalette(), Parts: []layout.Part{{Name: "a",
		Shapes: []layout.Shape{{ID: "a.outline", Op: layout.Cut, Figure: geom.Rect{W: 9000, H: 100}}}}}}
	if w := picture(t, d).Bounds().Dx(); w > 6001 {
		t.Errorf("%d pixels wide", w)
	}
}

// So does one of something very long and thin.
func TestThinPicture(t *testing.T) {
	d := &layout.Drawing{Size: geom.Pt(1e7, 1), Colors: layout.DefaultPalette(), Parts: []layout.Part{{Name: "a",
		Shapes: []layout.Shape{{ID: "a.outline", Op: layout.Cut, Figure: geom.Rect{W: 1e7, H: 1}}}}}}
	if b := picture(t, d).Bounds(); b.Dy() < 1 || b.Dx() > 6001 {
		t.Errorf("the picture is %v", b)
	}
}

func BenchmarkEncode(b *testing.B) {
	exporttest.BenchmarkEncoder(b, png.Encoder{}, exporttest.HarbourLog(1))
}
