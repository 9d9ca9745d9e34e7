package layout

import (
	"math"

	"foredge/eval/design"
	"foredge/eval/word"
	"foredge/lang/unit"
	"foredge/layout/advise"
	"foredge/layout/geom"
	"foredge/layout/raster"
)

// usualLineDistance is the distance of engraved lines where none is stated, in
// mm: 254 lines to the inch, common practice.
const usualLineDistance = 0.1

// dots draws a picture of dots.
func (dr *draft) dots(p *design.Panel, m *design.Artwork, r *design.Region, box geom.Rect, id string) []Shape {
	if m.Inlay != nil || m.Op != 0 && m.Op != word.Engrave {
		dr.notes.Errorf("art-dots", m.At, "%s is a picture of dots, and those can only be engraved", m.File).
			WithHelp("write engrave art, or trace it into paths in a drawing program")
		return nil
	}
	switch {
	case len(m.Parts) > 0:
		dr.notes.Errorf("option-clash", m.Parts[0].At, "colours and layers with operations of their own are of drawings, and %s is a picture of dots", m.File).
			WithHelp("take them out, or trace the picture into paths in a drawing program")
		return nil
	case m.Font != nil:
		dr.notes.Errorf("option-clash", m.At, "a font is for the texts of a drawing, and %s is a picture of dots", m.File).
			WithHelp("take it out")
		return nil
	}
	quarters := m.Turn / 90
	if quarters != math.Round(quarters) {
		dr.notes.Errorf("art-dots", m.At, "%s is a picture of dots, and those can only be turned by quarter turns, not by %.4g degrees", m.File, m.Turn).
			WithHelp("turn it in an image editor")
		return nil
	}
	tone, ok := dr.tone(p, m)
	if !ok {
		return nil
	}
	decode := raster.Decode
	if dr.kept != nil {
		decode = dr.kept.photos.Decode
	}
	photo, err := decode(m.File, m.Data)
	if err != nil {
		dr.notes.Fail("art", m.FileAt, err, "save it again as PNG")
		return nil
	}
	turns := int(math.Mod(quarters, 4))
	if m.Mirror == word.Along { // upside down is left and right changed, half turned
		turns += 2
	}
	photo = photo.Turned(turns, m.Mirror != 0)
	w, h, sized := photo.Width, photo.Height, true
	if w <= 0 {
		w, h, sized = float64(photo.W), float64(photo.H), false
	}
	k, ok := dr.sizeArt(m, r, box, w, h, sized)
	if !ok {
		return nil
	}
	apart := m.Dots.LineDistance.Or(usualLineDistance)
	w, h = w*k, h*k
	// The picture keeps its size, so that whole lines lie a little nearer or farther
	// apart than was asked for.
	wide, high := math.Round(w/apart), math.Round(h/apart)
	switch {
	case min(w, h) < apart*(1-1e-6):
		dr.notes.Errorf("no-room", m.At, "%s comes out at %s by %s, less than one line of %s", m.File, dr.length(w), dr.length(h), dr.fineLength(apart)).
			WithHelp("make the region larger, or the line-distance smaller")
		return nil
	case wide*high > raster.MaxDots:
		dr.notes.Errorf("too-many-dots", m.At, "lines %s apart make %.0f by %.0f dots of %s, more than %d million", dr.fineLength(apart), wide, high, m.File, raster.MaxDots/1_000_000).
			WithHelp("make the line-distance larger: %s is usual", dr.length(usualLineDistance))
		return nil
	}
	advise.Lines(&dr.notes, p.Quiet, m, h, apart)
	advise.Pixels(&dr.notes, p.Quiet, m, photo.W, photo.H, w, h, apart)
	im := photo.Engrave(int(wide), int(high), shadeOf(m.Dots.Shade), tone)
	switch {
	case im.Flat:
		dr.notes.Warn(p.Quiet, "flat-picture", m.At, "brightness, contrast and gamma make one grey of all of %s", m.File).
			WithHelp("bring them nearer to 0 %% and 1%s", advise.Silence("flat-picture", "panel"))
	case im.Blank():
		dr.notes.Warnf("no-art", m.FileAt, "nothing of %s is dark enough to be engraved", m.File).
			WithHelp("what is white or transparent is left out; make it darker in an image editor")
	}
	at := geom.CenterRect(alignArt(m.Align, box, w, h), w, h)
	if !dr.count(1, m.At) {
		return nil
	}
	return []Shape{{ID: id, Op: Engrave, Figure: at, Raster: im, At: m.At}}
}

// tone is the tone of a picture on a panel; what can't be is reported.
func (dr *draft) tone(p *design.Panel, m *design.Artwork) (raster.Tone, bool) {
	stated := m.Dots.Tone
	t := raster.Tone{Brightness: stated.Brightness.Or(0), Contrast: stated.Contrast.Or(0), Gamma: stated.Gamma.Or(1)}
	if p.Stock != nil {
		t.Greys = p.Stock.Greys
	}
	good := true
	within := func(name string, v, least, most float64, text func(float64) string, help string) {
		if !(least <= v && v <= most) {
			dr.notes.Errorf("tone", m.At, "a %s of %s can't be: it goes from %s to %s", name, text(v), text(least), text(most)).WithHelp("%s", help)
			good = false
		}
	}
	percent := func(v float64) string { return unit.FormatNumber(100*v, 2) + " %" }
	within("brightness", t.Brightness, -1, 1, percent, "as in brightness = 10 %, which makes all of the picture lighter by a tenth")
	within("contrast", t.Contrast, -1, 10, percent, "as in contrast = 20 %, which makes differences from the middle grey a fifth larger")
	within("gamma", t.Gamma, 0.1, 10, func(v float64) string { return unit.FormatNumber(v, 5) }, "as in gamma = 1.4, which makes middle greys lighter")
	return t, good
}

func shadeOf(s word.Shade) raster.Shade {
	switch s {
	case word.Ordered:
		return raster.Ordered
	case word.Levels:
		return raster.Levels
	}
	return raster.Diffusion
}
