package raster_test

import (
	"image"
	"image/color"
	"math"
	"slices"
	"testing"

	"foredge/layout/raster"
)

// steps is a picture of all 256 levels.
func steps() *raster.Photo {
	p := &raster.Photo{W: 256, H: 1}
	for i := range 256 {
		p.Grey = append(p.Grey, uint8(i))
	}
	return p
}

// Levels by hand: what becomes of black, a dark, the middle, a light grey and white.
func TestTone(t *testing.T) {
	at := []int{0, 51, 128, 204, 255} // 0, a fifth, half, four fifths, 1
	for name, c := range map[string]struct {
		tone raster.Tone
		want []uint8
	}{
		"none":            {raster.Tone{}, []uint8{0, 51, 128, 204, 255}},
		"gamma of 1":      {raster.Tone{Gamma: 1}, []uint8{0, 51, 128, 204, 255}},
		"gamma of 2":      {raster.Tone{Gamma: 2}, []uint8{0, 114, 181, 228, 255}}, // 255·√0.2 = 114.04, √0.502: 180.7, √0.8: 228.1
		"gamma of a half": {raster.Tone{Gamma: 0.5}, []uint8{0, 10, 64, 163, 255}}, // 255·0.04, 0.252, 0.64
		"brighter":        {raster.Tone{Brightness: 0.2}, []uint8{51, 102, 179, 255, 255}},
		"darker":          {raster.Tone{Brightness: -0.2}, []uint8{0, 0, 77, 153, 204}},
		"more contrast":   {raster.Tone{Contrast: 1}, []uint8{0, 0, 129, 255, 255}},      // twice as far from 127.5
		"less contrast":   {raster.Tone{Contrast: -0.5}, []uint8{64, 89, 128, 166, 191}}, // half as far
		"a linear stock":  {raster.Tone{Greys: []float64{0.1, 0.5, 0.9}}, []uint8{0, 51, 128, 204, 255}},
		// Half engraved it is three quarters as dark as it can be: the middle grey, half as
		// dark, takes a third; a light one of a fifth 0.1333; a dark one of four fifths 0.6.
		"a quick stock":                {raster.Tone{Greys: []float64{0, 0.6, 0.8}}, []uint8{0, 102, 170, 221, 255}},
		"measured from the bare board": {raster.Tone{Greys: []float64{0.2, 0.8, 1}}, []uint8{0, 102, 170, 221, 255}},
	} {
		im := steps().Engrave(256, 1, raster.Levels, c.tone)
		var got []uint8
		for _, i := range at {
			got = append(got, im.Grey[i])
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
		if !slices.IsSorted(im.Grey) {
			t.Errorf("%s: a lighter level comes out darker", name)
		}
	}
}

// A stock on which dots run together is engraved so that it looks as dark as the picture:
// the share of dots through the curve by which it darkens gives the level back.
func TestToneOfAStock(t *testing.T) {
	// As dark as 1 - (1 - s)², where s is engraved: dots that overlap at random.
	darkens := func(s float64) float64 { return 0.05 + 0.8*(1-(1-s)*(1-s)) }
	var greys []float64
	for i := range 21 {
		greys = append(greys, darkens(float64(i)/20))
	}
	for _, level := range []uint8{0, 20, 64, 128, 200, 250, 255} {
		p := &raster.Photo{W: 200, H: 200, Grey: slices.Repeat([]uint8{level}, 200*200)}
		im := p.Engrave(200, 200, raster.Diffusion, raster.Tone{Greys: greys})
		dark := 0
		for _, v := range im.Grey {
			if v == 0 {
				dark++
			}
		}
		got, want := darkens(float64(dark)/(200*200)), 0.05+0.8*(1-float64(level)/255)
		if math.Abs(got-want) > 0.01 {
			t.Errorf("level %d comes out %.3f dark, want %.3f", level, got, want)
		}
	}
}

// What is clear stays the bare board in any tone, and what shines through shines through
// by as much: of the colour of a pixel the tone alone is changed (by hand).
func TestToneOfWhatIsClear(t *testing.T) {
	seen := image.NewNRGBA(image.Rect(0, 0, 5, 1))
	for x, c := range []color.NRGBA{{0, 0, 0, 255}, {0, 0, 0, 0}, {255, 255, 255, 0}, {255, 255, 255, 255}, {255, 255, 255, 51}} {
		seen.SetNRGBA(x, 0, c)
	}
	p := decode(t, encodePNG(t, seen))
	for name, c := range map[string]struct {
		tone raster.Tone
		want []uint8
	}{
		"none":          {raster.Tone{}, []uint8{0, 255, 255, 255, 255}},
		"darker":        {raster.Tone{Brightness: -0.2}, []uint8{0, 255, 255, 204, 245}}, // a fifth of 204 and four of 255
		"less contrast": {raster.Tone{Contrast: -0.4}, []uint8{51, 255, 255, 204, 245}},
		"a stock":       {raster.Tone{Brightness: -0.2, Greys: []float64{0, 1}}, []uint8{0, 255, 255, 204, 245}},
	} {
		if got := p.Engrave(5, 1, raster.Levels, c.tone).Grey; !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
	// A dot over all of them is opaque by 112 of 255, and of the grey (0 + 255 + 51)/2.2 =
	// 139; a fifth darker it is 88, with 143 of the board.
	if got := p.Engrave(1, 1, raster.Levels, raster.Tone{Brightness: -0.2}).Grey[0]; got != 182 {
		t.Errorf("the mean of all is %d, want 88·112/255 + 143 = 182", got)
	}
}
