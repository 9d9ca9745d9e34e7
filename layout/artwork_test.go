package layout_test

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"math"
	"strings"
	"testing"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/word"
	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
	"foredge/layout"
	"foredge/layout/geom"
)

// withArt draws a mark of artwork in a region of 40 by 30 mm, whose left upper
// corner lies at (30, 50), 30 from the spine.
func withArt(t testing.TB, m design.Artwork, svg string) ([]layout.Shape, diag.List) {
	t.Helper()
	d := mustSolve(t, `panel front { width = 120; height = 160; region crest { spine = 30; head = 50; width = 40; height = 30 } }`)
	m.File, m.At = "gull.svg", d.Panels[0].Regions[0].At
	m.FileAt = m.At
	if m.Data == nil {
		m.Data = []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">` + svg + `</svg>`)
	}
	d.Panels[0].Regions[0].Marks = []design.Mark{&m}
	dr, diags := layout.Draw(d)
	var shapes []layout.Shape
	for _, s := range dr.Parts[0].Shapes {
		if strings.HasPrefix(s.ID, "front.crest") {
			shapes = append(shapes, s)
		}
	}
	return shapes, diags
}

// Where the corners of a triangle come to lie, by hand: its right angle first,
// then the end of its long leg, then that of its short one. In the file it is
// 20 wide and 10 high, with the right angle at the left, above.
func TestArtworkPlaces(t *testing.T) {
	const triangle = `<path d="M60 70H80L60 80Z"/>`
	for name, c := range map[string]struct {
		mark design.Artwork
		want [3]geom.Point
	}{
		"as it is":     {design.Artwork{}, [3]geom.Point{{X: 40, Y: 60}, {X: 60, Y: 60}, {X: 40, Y: 70}}},
		"fill":         {design.Artwork{Fit: word.Fill}, [3]geom.Point{{X: 30, Y: 55}, {X: 70, Y: 55}, {X: 30, Y: 75}}},
		"width":        {design.Artwork{Width: maybe.Is(10.0)}, [3]geom.Point{{X: 45, Y: 62.5}, {X: 55, Y: 62.5}, {X: 45, Y: 67.5}}},
		"as wide":      {design.Artwork{Width: maybe.Is(40.0)}, [3]geom.Point{{X: 30, Y: 55}, {X: 70, Y: 55}, {X: 30, Y: 75}}},
		"left":         {design.Artwork{Align: word.AtLeft}, [3]geom.Point{{X: 30, Y: 60}, {X: 50, Y: 60}, {X: 30, Y: 70}}},
		"right":        {design.Artwork{Align: word.AtRight}, [3]geom.Point{{X: 50, Y: 60}, {X: 70, Y: 60}, {X: 50, Y: 70}}},
		"head":         {design.Artwork{Align: word.AtHead}, [3]geom.Point{{X: 40, Y: 50}, {X: 60, Y: 50}, {X: 40, Y: 60}}},
		"tail":         {design.Artwork{Align: word.AtTail}, [3]geom.Point{{X: 40, Y: 70}, {X: 60, Y: 70}, {X: 40, Y: 80}}},
		"across":       {design.Artwork{Mirror: word.Across}, [3]geom.Point{{X: 60, Y: 60}, {X: 40, Y: 60}, {X: 60, Y: 70}}},
		"along":        {design.Artwork{Mirror: word.Along}, [3]geom.Point{{X: 40, Y: 70}, {X: 60, Y: 70}, {X: 40, Y: 60}}},
		"turned":       {design.Artwork{Turn: 90}, [3]geom.Point{{X: 55, Y: 55}, {X: 55, Y: 75}, {X: 45, Y: 55}}},
		"turned, fill": {design.Artwork{Turn: 90, Fit: word.Fill}, [3]geom.Point{{X: 57.5, Y: 50}, {X: 57.5, Y: 80}, {X: 42.5, Y: 50}}},
		"mirrored, then turned": {design.Artwork{Mirror: word.Across, Turn: 90},
			[3]geom.Point{{X: 55, Y: 75}, {X: 55, Y: 55}, {X: 45, Y: 75}}},
	} {
		shapes, diags := withArt(t, c.mark, triangle)
		if diags.HasErrors() || len(shapes) != 1 {
			t.Errorf("%s: %d shapes; %s", name, len(shapes), diagtest.Text(diags))
			continue
		}
		o := shapes[0].Figure.(geom.Outline)
		for _, want := range c.want {
			near := math.Inf(1)
			for _, s := range o[0].Segments {
				near = min(near, s.End.Distance(want))
			}
			if near > 1e-6 {
				t.Errorf("%s: no corner lies at %v: %v", name, want, o[0])
			}
		}
		if len(o[0].Segments) != 3 || !o[0].Clockwise() {
			t.Errorf("%s: %v", name, o[0])
		}
	}
	// What is larger than its region shrinks into it.
	shapes, _ := withArt(t, design.Artwork{}, `<rect width="100" height="10"/>`)
	if b := shapes[0].Figure.Bounds(); math.Abs(b.Width()-40) > 1e-6 || math.Abs(b.Height()-4) > 1e-6 {
		t.Errorf("shrunk to %v", b)
	}
}

// What is filled and what is a line go to the operations that were asked for.
func TestArtworkOperations(t *testing.T) {
	const both = `<rect width="9" height="9"/><path d="M20 1H30V9Z" fill="none" stroke="black"/><path d="M0 20H9" stroke="black"/>`
	for as, want := range map[word.Operation]string{
		0:          "engrave front.crest, mark front.crest.line.1, mark front.crest.line.2",
		word.Mark:  "mark front.crest, mark front.crest.line.1, mark front.crest.line.2",
		word.Score: "score front.crest, score front.crest.line.1, score front.crest.line.2",
		word.Cut:   "cut front.crest, cut front.crest.line.1",
	} {
		shapes, diags := withArt(t, design.Artwork{Op: as}, both)
		var got []string
		for _, s := range shapes {
			got = append(got, fmt.Sprint(s.Op, " ", s.ID))
			if s.Hole != (as == word.Cut) {
				t.Errorf("%s: Hole is %v", s.ID, s.Hole)
			}
		}
		if g := strings.Join(got, ", "); g != want || diags.HasErrors() {
			t.Errorf("%v: %s\nwant %s\n%s", as, g, want, diagtest.Text(diags))
		}
	}
}

// Artwork that is cut is cut to size: openings shrink by half of the kerf on
// each side, what lies in them grows. A ring of 10 and 6 mm with a kerf of 0.2.
func TestCutArtworkAllowsForKerf(t *testing.T) {
	d := mustSolve(t, `laser bench { kerf = 0.2 }
panel front { width = 120; height = 160; region crest { spine = 30; head = 50; width = 40; height = 30 } }`)
	m := design.Artwork{File: "ring.svg", Op: word.Cut, At: d.Panels[0].Regions[0].At,
		Data: []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="30mm" height="30mm" viewBox="0 0 30 30"><path d="M5 15a10 10 0 0 1 20 0a10 10 0 0 1 -20 0ZM9 15a6 6 0 0 0 12 0a6 6 0 0 0 -12 0Z"/></svg>`)}
	d.Panels[0].Regions[0].Marks = []design.Mark{&m}
	dr, _ := layout.Draw(d)
	out, diags := dr.ForLaser()
	if diags.HasErrors() {
		t.Fatal(diagtest.Text(diags))
	}
	for _, s := range out.Parts[0].Shapes {
		if s.ID == "front.crest" {
			if got, want := geom.Area(s.Figure), math.Pi*(9.9*9.9-6.1*6.1); math.Abs(got-want) > 1e-6 {
				t.Errorf("the area is %.6f, want %.6f", got, want)
			}
			return
		}
	}
	t.Error("nothing is cut")
}

// A picture of 20 by 10 pixels, white but for its left upper quarter.
func quarterPicture(t testing.TB) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 20, 10))
	for i := range img.Pix {
		if img.Pix[i] = 255; i%20 < 10 && i/20 < 5 {
			img.Pix[i] = 0
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestPicturePlaces(t *testing.T) {
	data := quarterPicture(t)
	for name, c := range map[string]struct {
		mark design.Artwork
		want geom.Box
		w, h int
		dark geom.Point // the middle of the dark quarter
	}{
		// Without a density the picture fills its region.
		"as it is": {design.Artwork{}, geom.Box{Min: geom.Pt(30, 55), Max: geom.Pt(70, 75)}, 400, 200, geom.Pt(40, 60)},
		"width":    {design.Artwork{Width: maybe.Is(10.0), Dots: design.Dots{LineDistance: maybe.Is(0.5)}}, geom.Box{Min: geom.Pt(45, 62.5), Max: geom.Pt(55, 67.5)}, 20, 10, geom.Pt(47.5, 63.75)},
		"turned":   {design.Artwork{Turn: 90, Dots: design.Dots{LineDistance: maybe.Is(0.25)}, Align: word.AtLeft}, geom.Box{Min: geom.Pt(30, 50), Max: geom.Pt(45, 80)}, 60, 120, geom.Pt(41.25, 57.5)},
		"turned back": {design.Artwork{Turn: -90, Dots: design.Dots{LineDistance: maybe.Is(0.25)}, Align: word.AtRight}, geom.Box{Min: geom.Pt(55, 50), Max: geom.Pt(70, 80)}, 60, 120,
			geom.Pt(58.75, 72.5)},
		"across": {design.Artwork{Mirror: word.Across, Dots: design.Dots{LineDistance: maybe.Is(0.2)}}, geom.Box{Min: geom.Pt(30, 55), Max: geom.Pt(70, 75)}, 200, 100, geom.Pt(60, 60)},
		"along":  {design.Artwork{Mirror: word.Along, Dots: design.Dots{LineDistance: maybe.Is(0.2), Shade: word.Levels}}, geom.Box{Min: geom.Pt(30, 55), Max: geom.Pt(70, 75)}, 200, 100, geom.Pt(40, 70)},
		// Whole lines: 29 are nearest to 20 mm at 0.7, and fill them all the same.
		"lines": {design.Artwork{Dots: design.Dots{LineDistance: maybe.Is(0.7)}, Align: word.AtHead}, geom.Box{Min: geom.Pt(30, 50), Max: geom.Pt(70, 70)}, 57, 29, geom.Pt(40, 55)},
	} {
		c.mark.Data = data
		shapes, diags := withArt(t, c.mark, "")
		if diags.HasErrors() || len(shapes) != 1 || shapes[0].Raster == nil {
			t.Errorf("%s: %d shapes; %s", name, len(shapes), diagtest.Text(diags))
			continue
		}
		b, im := shapes[0].Figure.Bounds(), shapes[0].Raster
		if max(b.Min.Distance(c.want.Min), b.Max.Distance(c.want.Max)) > 1e-6 || im.W != c.w || im.H != c.h {
			t.Errorf("%s: %v of %d by %d dots, want %v of %d by %d", name, b, im.W, im.H, c.want, c.w, c.h)
			continue
		}
		// The quarter round its middle is dark, the picture's other end white.
		at := func(p geom.Point) uint8 {
			return im.Grey[int((p.Y-b.Min.Y)/b.Height()*float64(im.H))*im.W+int((p.X-b.Min.X)/b.Width()*float64(im.W))]
		}
		if at(c.dark) != 0 || at(b.Center().Mul(2).Sub(c.dark)) != 255 {
			t.Errorf("%s: the dark quarter isn't at %v", name, c.dark)
		}
	}
}

func BenchmarkArtwork(b *testing.B) {
	var svg strings.Builder
	for i := range 300 {
		fmt.Fprintf(&svg, `<path d="M%d %dc4 -8 12 -8 16 0s-8 12 -16 0z" fill-rule="evenodd"/>`, i%20*5, i/20*6)
	}
	for b.Loop() {
		withArt(b, design.Artwork{Fit: word.Fill}, svg.String())
	}
}

// A picture with nothing dark in it is told, as a drawing with nothing in it is;
// one of another format is named.
func TestPicturesOfNothing(t *testing.T) {
	white := image.NewGray(image.Rect(0, 0, 200, 150))
	for i := range white.Pix {
		white.Pix[i] = 255
	}
	for name, c := range map[string]struct {
		dark uint8
		want string
	}{"white": {255, "no-art"}, "one dark dot": {0, ""}} {
		white.Pix[0] = c.dark
		var b bytes.Buffer
		if err := png.Encode(&b, white); err != nil {
			t.Fatal(err)
		}
		_, diags := withArt(t, design.Artwork{Data: b.Bytes(), Dots: design.Dots{Shade: word.Levels}}, "")
		if got := strings.TrimSpace(diagtest.Text(diags)); (got == "") != (c.want == "") || !strings.Contains(got, c.want) {
			t.Errorf("%s: %q", name, got)
		}
	}
	if _, diags := withArt(t, design.Artwork{Data: []byte("GIF89a")}, ""); !strings.Contains(diagtest.Text(diags), "is a GIF file") {
		t.Errorf("%s", diagtest.Text(diags))
	}
}
