package layout_test

import (
	"bytes"
	"image"
	"image/png"
	"strings"
	"testing"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/word"
	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
	"foredge/layout"
)

// greyPicture is a picture of one level, w by h pixels.
func greyPicture(t testing.TB, w, h int, level uint8) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, w, h))
	for i := range img.Pix {
		img.Pix[i] = level
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Pixels show where there are fewer than 100 to the inch, 157.48 on 40 mm (a maker's page
// of guidelines for laser cutting: 100 to 200 are useful), unless they are no larger than
// two lines.
func TestFewPixels(t *testing.T) {
	for name, c := range map[string]struct {
		w, h  int
		apart float64
		want  string
	}{
		"enough":          {158, 118, 0.1, ""},
		"just too few":    {156, 117, 0.1, "gull.svg has 156 by 117 pixels for 40 mm by 30 mm"},
		"as large as two": {80, 60, 0.25, ""},
		"larger than two": {80, 60, 0.249, "each of them shows, 0.5 mm large [few-pixels]"},
		"far too few":     {40, 30, 0.1, "158 across for this size"},
	} {
		m := design.Artwork{Data: greyPicture(t, c.w, c.h, 100), Dots: design.Dots{LineDistance: maybe.Is(c.apart), Shade: word.Levels}}
		_, diags := withArt(t, m, "")
		if got := strings.TrimSpace(diagtest.Text(diags)); (got == "") != (c.want == "") || !strings.Contains(got, c.want) {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// Lines so far apart that each shows make stripes of a picture, which is told in place of its pixels.
func TestCoarseLines(t *testing.T) {
	for apart, want := range map[float64]string{
		0.5:  "",
		0.52: "the lines of gull.svg lie 0.52 mm apart",
		2.54: "2.54 mm apart, so each of them shows: 12 of them are all of the picture [coarse-lines]",
	} {
		m := design.Artwork{Data: greyPicture(t, 158, 118, 100), Dots: design.Dots{LineDistance: maybe.Is(apart), Shade: word.Levels}}
		_, diags := withArt(t, m, "")
		if got := strings.TrimSpace(diagtest.Text(diags)); (got == "") != (want == "") || !strings.Contains(got, want) {
			t.Errorf("%g mm: %q, want %q", apart, got, want)
		}
	}
}

// A stock's strip of greys goes before the dots: where it is half engraved, it is as dark
// as three quarters of what it can be, so a middle grey takes a third. What can't be a
// tone is told, and a drawing has none.
func TestTone(t *testing.T) {
	level := func(strip []float64, tone design.Tone) uint8 {
		d := mustSolve(t, `stock ply { thick = 3 }
panel front { stock = ply; width = 120; height = 160; region crest { spine = 30; head = 50; width = 40; height = 30 } }`)
		d.Panels[0].Stock.Greys = strip
		at := d.Panels[0].Regions[0].At
		d.Panels[0].Regions[0].Marks = []design.Mark{&design.Artwork{At: at, File: "sea.png", FileAt: at, Data: greyPicture(t, 400, 300, 128),
			Dots: design.Dots{Shade: word.Levels, Tone: tone}}}
		dr, diags := layout.Draw(d)
		if diags.HasErrors() {
			t.Fatal(diagtest.Text(diags))
		}
		for _, s := range dr.Parts[0].Shapes {
			if s.Raster != nil {
				return s.Raster.Grey[0]
			}
		}
		t.Fatal("there is no picture")
		return 0
	}
	if got := level(nil, design.Tone{}); got != 128 {
		t.Errorf("as it is: %d", got)
	}
	if got := level([]float64{0, 0.6, 0.8}, design.Tone{}); got != 170 {
		t.Errorf("by the strip: %d, want two thirds of 255", got)
	}
	if got := level(nil, design.Tone{Brightness: maybe.Is(0.2), Contrast: maybe.Is(-0.5), Gamma: maybe.Is(1.0)}); got != 179 {
		t.Errorf("brighter: %d, want 128 + 51", got)
	}
	for what, tone := range map[string]design.Tone{
		"brightness": {Brightness: maybe.Is(1.01)}, "contrast": {Contrast: maybe.Is(-1.01)}, "gamma": {Gamma: maybe.Is(0.09)},
	} {
		_, diags := withArt(t, design.Artwork{Data: greyPicture(t, 400, 300, 9), Dots: design.Dots{Tone: tone}}, "")
		toldOnce(t, what, diags, "tone")
		_, diags = withArt(t, design.Artwork{Dots: design.Dots{Tone: tone}}, `<path d="M60 70H80L60 80Z"/>`)
		toldOnce(t, what+" of a drawing", diags, diag.Code("option-clash"))
	}
}

// A tone that makes one grey of several is told; one picture of one grey isn't.
func TestFlatPicture(t *testing.T) {
	img := image.NewGray(image.Rect(0, 0, 400, 300))
	for i := range img.Pix {
		img.Pix[i] = uint8(i % 200)
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		data []byte
		tone design.Tone
		want bool
	}{
		"no contrast": {b.Bytes(), design.Tone{Contrast: maybe.Is(-1.0)}, true},
		"all dark":    {b.Bytes(), design.Tone{Brightness: maybe.Is(-1.0)}, true},
		"all white":   {b.Bytes(), design.Tone{Brightness: maybe.Is(1.0)}, true},
		"some":        {b.Bytes(), design.Tone{Contrast: maybe.Is(-0.9)}, false},
		"one grey":    {greyPicture(t, 400, 300, 100), design.Tone{Contrast: maybe.Is(-1.0)}, false},
	} {
		_, diags := withArt(t, design.Artwork{Data: c.data, Dots: design.Dots{Tone: c.tone}}, "")
		if got := diagtest.Text(diags); strings.Contains(got, "[flat-picture]") != c.want || strings.Contains(got, "[no-art]") {
			t.Errorf("%s: %q", name, got)
		}
	}
}
