package export_test

import (
	"bytes"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"foredge/export/exporttest"
	"foredge/export/svg"
	"foredge/layout"
	"foredge/layout/art"
	"foredge/layout/geom"
)

// Artwork that is read and written again looks as librsvg draws the file
// itself, at 10 pixels a mm, but for one pixel along edges.
func TestArtworkLooksAlike(t *testing.T) {
	files, err := filepath.Glob("../layout/art/testdata/good/*.svg")
	if err != nil {
		t.Fatal(err)
	}
	if len(files) < 60 {
		t.Errorf("only %d drawings", len(files))
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".svg")
		t.Run(name, func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			p, err := art.Parse(name+".svg", data)
			if err != nil {
				t.Fatal(err)
			}
			ours := filepath.Join(t.TempDir(), "ours.svg")
			if err := os.WriteFile(ours, drawn(t, p), 0o666); err != nil {
				t.Fatal(err)
			}
			const perMM = 10
			w, h := int(p.Size.X*perMM+0.5), int(p.Size.Y*perMM+0.5)
			want, got := exporttest.Plain(t, file, w, h), exporttest.Plain(t, ours, w, h)
			alike(t, want, got)
		})
	}
}

// drawn is a picture as an SVG file of ours: all in black, lines as wide as in
// the original.
func drawn(t *testing.T, p *art.Picture) []byte {
	t.Helper()
	part := layout.Part{Name: "page", Shapes: []layout.Shape{{ID: "fill", Op: layout.Engrave, Figure: p.Outline()}}}
	width := 0.0
	for i, l := range p.Lines {
		if width != 0 && l.Width-width > 1e-9 {
			t.Fatal("one drawing of these must have one width of lines")
		}
		width = l.Width
		part.Shapes = append(part.Shapes, layout.Shape{ID: fmt.Sprint("line.", i+1), Op: layout.Mark, Figure: l.Path})
	}
	d := &layout.Drawing{Size: p.Size, Parts: []layout.Part{part}}
	for i := range d.Colors {
		d.Colors[i] = "#000000"
	}
	data := exporttest.Encode(t, svg.Encoder{}, d)
	exporttest.ReadSVG(t, data)
	return bytes.ReplaceAll(data, []byte(`stroke-width="0.1"`), []byte(`stroke-width="`+strconv.FormatFloat(width, 'g', -1, 64)+`"`))
}

// alike compares two pictures by distance: a pixel may differ only if the other
// picture has its grey in one of the eight pixels around, and so the other way.
func alike(t *testing.T, want, got image.Image) {
	t.Helper()
	if want.Bounds() != got.Bounds() {
		t.Fatalf("librsvg's picture is %v, ours %v", want.Bounds(), got.Bounds())
	}
	ink := 0
	for _, pair := range [2][2]image.Image{{want, got}, {got, want}} {
		n, first := 0, image.Point{}
		b := want.Bounds()
		for y := b.Min.Y; y < b.Max.Y; y++ {
			for x := b.Min.X; x < b.Max.X; x++ {
				if grey(pair[0], x, y) < 128 {
					ink++
				}
				if !near(pair[0], pair[1], x, y) {
					if n++; n == 1 {
						first = image.Pt(x, y)
					}
				}
			}
		}
		if n > 0 {
			t.Errorf("%d pixels differ by more than one pixel's shift, the first at %v", n, first)
		}
	}
	if ink == 0 {
		t.Error("nothing is drawn")
	}
}

func near(a, b image.Image, x, y int) bool {
	const allowed = 40 // of 255
	g := grey(a, x, y)
	if d := g - grey(b, x, y); -allowed <= d && d <= allowed {
		return true
	}
	for dy := -1; dy <= 1; dy++ {
		for dx := -1; dx <= 1; dx++ {
			if !image.Pt(x+dx, y+dy).In(b.Bounds()) {
				continue
			}
			if d := g - grey(b, x+dx, y+dy); -allowed <= d && d <= allowed {
				return true
			}
		}
	}
	return false
}

func grey(img image.Image, x, y int) int {
	r, g, b, _ := img.At(x, y).RGBA()
	return int(r+g+b) / 3 >> 8
}

// Circles stay circles of arcs and straight edges straight, wherever nothing
// squeezes them: the areas are exact.
func TestArtworkAreas(t *testing.T) {
	const pi = 3.141592653589793
	for _, c := range []struct {
		body string
		want float64 // by hand, mm²
	}{
		{`<circle cx="9" cy="9" r="5"/>`, 25 * pi},
		{`<circle cx="9" cy="9" r="5" transform="rotate(30 9 9)"/>`, 25 * pi},
		{`<circle cx="3" cy="3" r="2" transform="scale(-1.5 1.5) translate(-9 0)"/>`, 9 * pi},
		{`<rect x="2" y="2" width="9" height="7" rx="2"/>`, 63 - (4-pi)*4},
		{`<path fill-rule="evenodd" d="M1 1H9V9H1ZM3 3H7V7H3Z"/>`, 48},
		{`<path d="M1 1H9V9H1ZM3 3V7H7V3Z"/>`, 48},
		{`<rect width="8" height="8"/><rect x="4" y="4" width="8" height="8"/>`, 112},
		{`<rect width="8" height="8"/><circle cx="4" cy="4" r="2" fill="white"/>`, 64 - 4*pi},
		{`<circle cx="0" cy="10" r="4"/>`, 8 * pi}, // half of it lies on the page
		// A symbol is cut off at its viewport unless it says otherwise (SVG 1.1,
		// 14.3.3); librsvg 2.54 has it the other way round, so areas must do.
		{`<symbol id="s" viewBox="0 0 10 10"><circle cx="10" cy="5" r="4"/></symbol><use href="#s" width="10" height="10"/>`, 8 * pi},
		{`<symbol id="s" viewBox="0 0 10 10" overflow="visible"><circle cx="10" cy="5" r="4"/></symbol><use href="#s" width="10" height="10"/>`, 16 * pi},
	} {
		p, err := art.Parse("a.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">`+c.body+`</svg>`))
		if err != nil {
			t.Errorf("%s: %v", c.body, err)
			continue
		}
		if got := geom.Area(p.Outline()); got < c.want-1e-4 || got > c.want+1e-4 {
			t.Errorf("%s: area %.6f, want %.6f", c.body, got, c.want)
		}
		for _, f := range p.Fill {
			for piece := range f.Pieces() {
				if piece.Kind == geom.CubicTo {
					t.Errorf("%s: an arc has become a curve", c.body)
				}
			}
		}
	}
}
