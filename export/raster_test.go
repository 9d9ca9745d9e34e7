package export_test

import (
	"bytes"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foredge/export/dxf"
	"foredge/export/exporttest"
	encodepng "foredge/export/png"
	"foredge/export/svg"
	"foredge/layout"
	"foredge/layout/geom"
	"foredge/layout/raster"
)

// pictured is a board of 40 by 30 mm with a picture at (5, 5), 20 by 10 mm: of
// dots, or in levels of grey. It grows darker to the right.
func pictured(shade raster.Shade) *layout.Drawing {
	p := &raster.Photo{W: 40, H: 20}
	for range p.H {
		for x := range p.W {
			p.Grey = append(p.Grey, uint8(255-x*6))
		}
	}
	im := p.Engrave(40, 20, shade, raster.Tone{})
	return &layout.Drawing{Title: "sea", Size: geom.Pt(40, 30), Colors: layout.DefaultPalette(), Parts: []layout.Part{{Name: "front", Shapes: []layout.Shape{
		{ID: "front.sea", Op: layout.Engrave, Figure: geom.Rect{Min: geom.Pt(5, 5), W: 20, H: 10}, Raster: im},
		{ID: "front.outline", Op: layout.Cut, Figure: geom.Rect{W: 40, H: 30}},
	}}}}
}

// An SVG file carries a picture in itself: it is valid, and librsvg draws each
// dot where it belongs.
func TestPictureInSVG(t *testing.T) {
	for _, shade := range []raster.Shade{raster.Diffusion, raster.Levels} {
		d := pictured(shade)
		data := exporttest.Encode(t, svg.Encoder{}, d)
		f := exporttest.ReadSVG(t, data)
		if b := f.Shape(t, "engrave.front.sea").Box(); b != (geom.Box{Min: geom.Pt(5, 5), Max: geom.Pt(25, 15)}) {
			t.Errorf("the picture lies at %v", b)
		}
		if strings.Contains(string(data), "http://www.w3.org/1999/xlink") != true || strings.Contains(string(data), `href="data:image/png;base64,`) != true {
			t.Error("the picture is not carried in the file")
		}
		path := filepath.Join(t.TempDir(), "sea.svg")
		if err := os.WriteFile(path, data, 0o666); err != nil {
			t.Fatal(err)
		}
		exporttest.ValidateSVG(t, path)
		sameDots(t, exporttest.Plain(t, path, 400, 300), d.Parts[0].Shapes[0].Raster, 10, 0)
	}
}

// sameDots looks into the middle of each dot of a picture at (5, 5).
func sameDots(t *testing.T, img image.Image, im *raster.Image, perMM, margin float64) {
	t.Helper()
	const apart = 0.5
	wrong := 0
	for y := range im.H {
		for x := range im.W {
			px := int((margin + 5 + (float64(x)+0.5)*apart) * perMM)
			py := int((margin + 5 + (float64(y)+0.5)*apart) * perMM)
			// librsvg blends a little between dots.
			if d := grey(img, px, py) - int(im.Grey[y*im.W+x]); d < -8 || d > 8 {
				wrong++
			}
		}
	}
	if wrong > 0 {
		t.Errorf("%d of %d dots are wrong", wrong, len(im.Grey))
	}
}

// In DXF each dark run of a row is a line on the engraving's layer; levels of
// grey become dots first. ezdxf audits the files and reads the lines.
func TestPictureInDXF(t *testing.T) {
	for _, version := range []dxf.Version{dxf.AC1015, dxf.R12} {
		for _, shade := range []raster.Shade{raster.Diffusion, raster.Levels} {
			d := pictured(shade)
			path := exporttest.Write(t, dxf.Encoder{Version: version}, d, "sea")
			exporttest.AuditDXF(t, path)
			f := exporttest.ReadDXF(t, path)[0].UpsideDown(30)
			im := d.Parts[0].Shapes[0].Raster
			runs := slices.Collect(im.Runs())
			n := 0
			for _, m := range f.Shapes {
				if m.Op != "engrave" {
					continue
				}
				if n >= len(runs) {
					t.Fatal("there are more lines than runs")
				}
				r, s := runs[n], m.Contours[0].Segments[0]
				from := geom.Pt(5+0.5*float64(r.From), 5+0.5*(float64(r.Row)+0.5))
				end := geom.Pt(5+0.5*float64(r.To), from.Y)
				if m.Kind != "LINE" || max(s.From.Distance(from), s.End.Distance(end)) > 1e-4 {
					t.Fatalf("run %d is a %s from %v to %v, want %v to %v", n, m.Kind, s.From, s.End, from, end)
				}
				n++
			}
			if n != len(runs) || n < 20 {
				t.Errorf("%d lines for %d runs", n, len(runs))
			}
		}
	}
}

// A picture to look at shows the dots where they are engraved.
func TestPictureInPNG(t *testing.T) {
	d := pictured(raster.Diffusion)
	img, err := png.Decode(bytes.NewReader(exporttest.Encode(t, encodepng.Encoder{}, d)))
	if err != nil {
		t.Fatal(err)
	}
	perMM := float64(img.Bounds().Dx()) / 48
	if perMM != math.Round(perMM) {
		t.Fatalf("%v pixels a mm", perMM)
	}
	sameDots(t, img, d.Parts[0].Shapes[0].Raster, perMM, 4)
}

// A picture needs an upright rectangle to stand in.
func TestPictureRefused(t *testing.T) {
	d := pictured(raster.Diffusion)
	d.Parts[0].Shapes[0].Figure = geom.Circle{Center: geom.Pt(9, 9), R: 2}
	if err := (svg.Encoder{}).Encode(&bytes.Buffer{}, d); err == nil {
		t.Error("a round picture passes")
	}
}
