package art_test

import (
	"math"
	"strings"
	"testing"

	"foredge/layout/art"
	"foredge/layout/geom"
)

// Where what is filled lies on the page and how large it is, by hand, in mm: what
// transforms move, what viewports cut off, and which colours take away.
func TestSeen(t *testing.T) {
	box := func(x0, y0, x1, y1 float64) geom.Box { return geom.Box{Min: geom.Pt(x0, y0), Max: geom.Pt(x1, y1)} }
	const bar = `<rect x="1" y="2" width="4" height="5"`
	for _, c := range []struct {
		body string
		box  geom.Box
		area float64
	}{
		// SVG 1.1, 7.6: skewX(45) moves each point to the right by its y, skewY(45)
		// down by its x.
		{bar + ` transform="skewX(45)"/>`, box(3, 2, 12, 7), 20},
		{bar + ` transform="skewY(45)"/>`, box(1, 3, 5, 12), 20},
		// Of several the last is done first: to (2x + y, x + y), to (x + y, x + 2y).
		{bar + ` transform="skewX(45) skewY(45)"/>`, box(4, 3, 17, 12), 20},
		{bar + ` transform="skewY(45),skewX(45)"/>`, box(3, 5, 12, 19), 20},
		{bar + ` transform="skewX(45) translate(1 2)"/>`, box(6, 4, 15, 9), 20},
		{bar + ` transform="skewY(45) translate(1 2)"/>`, box(2, 6, 6, 15), 20},
		{bar + ` transform="translate(3)"/>`, box(4, 2, 8, 7), 20},
		{bar + ` transform="translate(3 1)"/>`, box(4, 3, 8, 8), 20},
		{bar + ` transform="scale(2)"/>`, box(2, 4, 10, 14), 80},
		{bar + ` transform="scale(2 1)"/>`, box(2, 2, 10, 7), 40},
		{bar + ` transform="rotate(90 5 7)"/>`, box(5, 3, 10, 7), 20},
		{bar + ` transform="matrix(0 1 1 0 6 -1)"/>`, box(8, 0, 13, 4), 20},
		// An ellipse holds π times its radii.
		{`<ellipse cx="9" cy="6" rx="6" ry="3"/>`, box(3, 3, 15, 9), 18 * math.Pi},
		{`<path d="M3 6A6 3 0 0 1 15 6Z"/>`, box(3, 3, 15, 6), 9 * math.Pi},
		{`<path d="M9 0A3 6 90 0 1 9 6Z"/>`, box(9, 0, 15, 6), 9 * math.Pi},
		// A parabola's segment holds 4/3 of the triangle on its chord with its apex
		// (Archimedes), here 25 mm², and rises half as high as the control point.
		{`<path d="M2 10Q7 0 12 10Z"/>`, box(2, 5, 12, 10), 100. / 3},
		{`<path d="M2 10Q2 0 12 10Z"/>`, box(2, 5, 12, 10), 100. / 3},
		// What is small is seen too.
		{`<rect x="3" y="4" width="0.5" height="0.25"/>`, box(3, 4, 3.5, 4.25), 0.125},
		// Blanks round a number count for nothing (SVG 1.1, 4.2; XML 1.0, 3.3.3).
		{`<rect x=" 1" y="2 " width=" 4 " height="&#9;5&#10;"/>`, box(1, 2, 5, 7), 20},
		{`<rect x="1" y="2" width=" 4px " height="5"/>`, box(1, 2, 5, 7), 20},
		// What lies wholly outside its viewport isn't seen at all.
		{bar + `/><svg x="8" y="8" width="4" height="4"><rect x="5" width="2" height="2"/></svg>`, box(1, 2, 5, 7), 20},
		{bar + `/><svg x="8" y="8" width="4" height="4"><rect x="3" width="2" height="2"/></svg>`, box(1, 2, 12, 10), 22},
		{bar + `/><rect x="20" y="3" width="2" height="2"/>`, box(1, 2, 5, 7), 20},
		// White takes away, however it is written (CSS Color 4, 5.2 for #rgba); what is
		// clear leaves all as it is.
		{bar + `/><rect x="1" y="2" width="2" height="5" fill="#fff"/>`, box(3, 2, 5, 7), 10},
		{bar + `/><rect x="1" y="2" width="2" height="5" fill="#FFFFFF"/>`, box(3, 2, 5, 7), 10},
		{bar + `/><rect x="1" y="2" width="2" height="5" fill="#fff8"/>`, box(3, 2, 5, 7), 10},
		{bar + `/><rect x="1" y="2" width="2" height="5" fill="#ffffff80"/>`, box(3, 2, 5, 7), 10},
		{bar + `/><rect x="1" y="2" width="2" height="5" fill="#fff0"/>`, box(1, 2, 5, 7), 20},
		{bar + `/><rect x="1" y="2" width="2" height="5" fill="#ffffff00"/>`, box(1, 2, 5, 7), 20},
		{bar + `/><rect x="0" y="2" width="2" height="5" fill="#ffe8"/>`, box(0, 2, 5, 7), 25},
		{bar + `/><rect x="0" y="2" width="2" height="5" fill="#fffffeff"/>`, box(0, 2, 5, 7), 25},
	} {
		p, err := art.Parse("a.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">`+c.body+`</svg>`))
		if err != nil {
			t.Errorf("%s: %v", c.body, err)
			continue
		}
		o := p.Outline()
		b := o.Bounds()
		if area := geom.Area(o); max(b.Min.Distance(c.box.Min), b.Max.Distance(c.box.Max), math.Abs(area-c.area)) > 1e-4 {
			t.Errorf("%s: %.6f mm² in %v, want %g in %v", c.body, area, b, c.area, c.box)
		}
	}
}

// What is seen of lines that leave the page of 20 by 20 mm, by hand: they end at
// its edge, and what comes in again is a line of its own.
func TestLinesSeen(t *testing.T) {
	for data, want := range map[string]string{
		"M5 5H9V8H5Z":          "M5 5L9 5L9 8L5 8Z",
		"M-5 5H5":              "M0 5L5 5",
		"M-5 5H25":             "M0 5L20 5",
		"M5 5H25V10H5":         "M5 5L20 5, M20 10L5 10",
		"M15 5H25V10H15Z":      "M20 10L15 10L15 5L20 5", // the start lies in the middle of it
		"M-5 5H5V-5H-5Z":       "M0 5L5 5L5 0",
		"M25 5H30":             "",
		"M-1 10L10 -1":         "M0 9L9 0",
		"M16 18a4 4 0 1 1 8 0": "M16 18A4 4 0 0 1 20 14",
	} {
		p, err := art.Parse("a.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20"><path fill="none" stroke="black" d="`+data+`"/></svg>`))
		if err != nil {
			t.Errorf("%s: %v", data, err)
			continue
		}
		var got []string
		for _, l := range p.Lines {
			got = append(got, l.Path.String())
		}
		if g := strings.Join(got, ", "); g != want {
			t.Errorf("%s: %s, want %s", data, g, want)
		}
	}
}

// How large a page is, in mm: a size that isn't stated follows the viewBox, or
// the other size in its proportions (CSS Images 3, 5.1; a pixel is a 96th of an inch).
func TestPageSize(t *testing.T) {
	for size, want := range map[string]geom.Point{
		`width="30mm" height="20mm"`:                      geom.Pt(30, 20),
		`width="30mm" viewBox="0 0 60 20"`:                geom.Pt(30, 10),
		`height="30mm" viewBox="0 0 60 20"`:               geom.Pt(90, 30),
		`width="50%" height="30mm" viewBox="0 0 60 20"`:   geom.Pt(90, 30),
		`width="auto" height="1in" viewBox="5 5 10 20"`:   geom.Pt(12.7, 25.4),
		`viewBox="0 0 96 48"`:                             geom.Pt(25.4, 12.7),
		`width="3cm" height="2cm" viewBox="0 0 96 48"`:    geom.Pt(30, 20),
		`width="100%" height="100%" viewBox="0 0 192 96"`: geom.Pt(50.8, 25.4),
		`height="30mm"`:                                   {},
		``:                                                {},
	} {
		p, err := art.Parse("a.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" `+size+`><path d="M1 1H3V3Z"/></svg>`))
		if err != nil {
			t.Errorf("%s: %v", size, err)
			continue
		}
		if p.Size.Distance(want) > 1e-9 {
			t.Errorf("%s: a page of %v, want %v", size, p.Size, want)
		}
	}
}
