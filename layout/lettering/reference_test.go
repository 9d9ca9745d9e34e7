package lettering

import (
	"math"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout/geom"

	"github.com/go-fonts/latin-modern/lmroman10regular"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gobolditalic"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/gomedium"
	"golang.org/x/image/font/gofont/gomediumitalic"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/gomonobold"
	"golang.org/x/image/font/gofont/gomonobolditalic"
	"golang.org/x/image/font/gofont/gomonoitalic"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/gofont/gosmallcaps"
	"golang.org/x/image/font/gofont/gosmallcapsitalic"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// data are the font files by the names under which we offer them.
func data() map[string][]byte {
	return map[string][]byte{
		"Go Regular": goregular.TTF, "Go Italic": goitalic.TTF, "Go Bold": gobold.TTF, "Go Bold Italic": gobolditalic.TTF,
		"Go Medium": gomedium.TTF, "Go Medium Italic": gomediumitalic.TTF,
		"Go Mono": gomono.TTF, "Go Mono Italic": gomonoitalic.TTF, "Go Mono Bold": gomonobold.TTF, "Go Mono Bold Italic": gomonobolditalic.TTF,
		"Go Smallcaps": gosmallcaps.TTF, "Go Smallcaps Italic": gosmallcapsitalic.TTF,
	}
}

// Another reader of fonts, golang.org/x/image/font/sfnt, gives glyphs of the
// same area and bounds, the same advances and the same kerning. Latin Modern, an
// OpenType font with cubic outlines, stands for a maker's own: it has kerning,
// which the Go fonts have not.
func TestAgainstSFNT(t *testing.T) {
	check := func(name string, f *Font, bytes []byte) (kerned int) {
		ref, err := sfnt.Parse(bytes)
		if err != nil {
			t.Fatal(err)
		}
		var buf sfnt.Buffer
		// At this size one unit of the answer is a 64th of a font unit.
		ppem := fixed.I(int(ref.UnitsPerEm()))
		mm := 10 / refGlyph(t, ref, &buf, 'H', ppem).Bounds().Height()
		for _, r := range sample {
			if !f.Has(r) {
				t.Errorf("%s has no %c", name, r)
				continue
			}
			want := geom.Scale(mm).Outline(refGlyph(t, ref, &buf, r, ppem))
			got, err := f.Text(string(r), 10)
			if err != nil {
				t.Fatal(err)
			}
			// The reference rounds points that a font implies to whole font units.
			wantArea := math.Abs(geom.Area(want))
			if geom.NewBoundary(want).Simple() {
				foretest.Near(t, name+" area of "+string(r), geom.Area(got.Outline), wantArea, 1e-3*wantArea+0.05*mm*geom.Length(want))
			}
			b, c := got.Ink, want.Bounds()
			foretest.Near(t, name+" bounds of "+string(r), b.Min.Distance(c.Min)+b.Max.Distance(c.Max), 0, 0.01)
			foretest.Near(t, name+" advance of "+string(r), got.Advance, mm*refAdvance(t, ref, &buf, r, ppem), 0.01)
		}
		for _, s := range []string{"AVATAR", "Harbour Log", "To Wa. Ty", "LTV 1174", "wood & paper"} {
			want := 0.0
			var last sfnt.GlyphIndex
			for i, r := range s {
				g, err := ref.GlyphIndex(&buf, r)
				if err != nil {
					t.Fatal(err)
				}
				if i > 0 {
					if k, err := ref.Kern(&buf, last, g, ppem, font.HintingNone); err == nil && k != 0 {
						want += float64(k) / 64
						kerned++
					}
				}
				want += refAdvance(t, ref, &buf, r, ppem)
				last = g
			}
			got, err := f.Text(s, 10)
			if err != nil {
				t.Fatal(err)
			}
			foretest.Near(t, name+" "+s, got.Advance, mm*want, 0.01)
		}
		return kerned
	}
	for name, bytes := range data() {
		check(name, load(t, name), bytes)
	}
	own, err := Parse("lmroman10-regular.otf", lmroman10regular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	if kerned := check(own.Name(), own, lmroman10regular.TTF); kerned < 8 {
		t.Errorf("only %d kerned pairs", kerned)
	}
	// fi is one sign in this font: no i is drawn beside the f.
	fi, err := own.Text("fi", 10)
	if err != nil {
		t.Fatal(err)
	}
	f, _ := own.Text("f", 10)
	i, _ := own.Text("i", 10)
	if len(fi.Outline) != 1 || fi.Advance >= f.Advance+i.Advance {
		t.Errorf("fi: %d paths, %g wide", len(fi.Outline), fi.Advance)
	}
}

func refAdvance(t *testing.T, ref *sfnt.Font, buf *sfnt.Buffer, r rune, ppem fixed.Int26_6) float64 {
	g, err := ref.GlyphIndex(buf, r)
	if err != nil {
		t.Fatal(err)
	}
	a, err := ref.GlyphAdvance(buf, g, ppem, font.HintingNone)
	if err != nil {
		t.Fatal(err)
	}
	return float64(a) / 64
}

func refGlyph(t *testing.T, ref *sfnt.Font, buf *sfnt.Buffer, r rune, ppem fixed.Int26_6) geom.Outline {
	g, err := ref.GlyphIndex(buf, r)
	if err != nil {
		t.Fatal(err)
	}
	segments, err := ref.LoadGlyph(buf, g, ppem, nil)
	if err != nil {
		t.Fatal(err)
	}
	var o geom.Outline
	var b *geom.Builder
	at := func(p fixed.Point26_6) geom.Point { return geom.Pt(float64(p.X)/64, float64(p.Y)/64) }
	for _, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			if b != nil {
				o = append(o, b.Close())
			}
			b = geom.NewPath(at(s.Args[0]))
		case sfnt.SegmentOpLineTo:
			b.Line(at(s.Args[0]))
		case sfnt.SegmentOpQuadTo:
			from, c, to := b.At(), at(s.Args[0]), at(s.Args[1])
			b.Cubic(geom.Pt((from.X+2*c.X)/3, (from.Y+2*c.Y)/3), geom.Pt((to.X+2*c.X)/3, (to.Y+2*c.Y)/3), to)
		case sfnt.SegmentOpCubeTo:
			b.Cubic(at(s.Args[0]), at(s.Args[1]), at(s.Args[2]))
		}
	}
	if b != nil {
		o = append(o, b.Close())
	}
	return o
}
