package art_test

import (
	"math"
	"slices"
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
		// White through which more than half is seen takes nothing away, nor in a group of
		// such an opacity what lies outside of it; in the group it does. Two that let
		// through 60 % each let through 36 %.
		{bar + `/><rect x="1" y="2" width="2" height="5" fill="rgba(255,255,255,.02)"/>`, box(1, 2, 5, 7), 20},
		{bar + `/><rect x="1" y="2" width="2" height="5" fill="#fff" opacity=".49"/>`, box(1, 2, 5, 7), 20},
		{bar + `/><rect x="1" y="2" width="2" height="5" fill="#fff" opacity=".5"/>`, box(3, 2, 5, 7), 10},
		{bar + `/><rect x="1" y="2" width="2" height="5" fill="#fff6"/><rect x="1" y="2" width="2" height="5" fill="#fff6"/>`, box(3, 2, 5, 7), 10},
		{bar + `/><g opacity=".3"><rect x="1" y="2" width="2" height="5" fill="#fff"/></g>`, box(1, 2, 5, 7), 20},
		{`<g opacity=".3">` + bar + `/><rect x="1" y="2" width="2" height="5" fill="#fff"/></g>`, box(3, 2, 5, 7), 10},
		{`<g opacity=".3">` + bar + `/><g opacity=".9"><rect x="1" y="2" width="2" height="5" fill="#fff"/></g></g>`, box(3, 2, 5, 7), 10},
		{bar + ` opacity=".2"/><rect x="1" y="2" width="2" height="5" fill="#fff" opacity=".3"/>`, box(1, 2, 5, 7), 20},
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

// What a maker is told of a drawing of 20 by 20 mm, and of what not.
func TestNotes(t *testing.T) {
	const block = `<rect x="2" y="2" width="16" height="16"/>`
	const frame = `<path fill-rule="evenodd" d="M2 2H18V18H2ZM4 4H16V16H4Z"/>`
	for body, want := range map[string][]art.NoteKind{
		block: nil,
		// White that lets too much through, on ink or on a line.
		block + `<circle cx="10" cy="10" r="4" fill="#fff" opacity=".1"/>`:                                {art.Faint},
		block + `<circle cx="10" cy="10" r="4" fill="#fff" opacity=".6"/>`:                                nil,
		`<path d="M2 10H18" stroke="#000"/><circle cx="10" cy="10" r="4" fill="#fff" fill-opacity=".1"/>`: {art.Faint},
		`<path d="M2 10H18" stroke="#000"/><circle cx="10" cy="16" r="4" fill="#fff" fill-opacity=".1"/>`: nil,
		`<g opacity=".1">` + block + `<circle cx="10" cy="10" r="4" fill="#fff"/></g>`:                    nil,
		// White lines by ink, not by boxes.
		block + `<path d="M5 5H15" stroke="#fff"/>`:                                                   nil,
		frame + `<path d="M6 6H14" stroke="#fff"/>`:                                                   {art.Vanished},
		frame + `<path d="M3 6H14" stroke="#fff"/>`:                                                   nil,
		`<path d="M2 18L18 2" stroke="#000"/><path d="M3 3H6" stroke="#fff"/>`:                        {art.Vanished},
		`<path d="M2 18L18 2" stroke="#000"/><path d="M3 3L18 18" stroke="#fff"/>`:                    nil,
		`<rect x="9" y="9" width="2" height="2"/><path d="M3 10H18" stroke="#fff" stroke-width="4"/>`: nil,
		// What lies beyond the page, but for what is white, hidden or rounding.
		`<circle cx="17" cy="10" r="5"/>`:                                                                          {art.Beyond},
		block + `<circle cx="40" cy="10" r="5"/>`:                                                                  {art.Beyond},
		`<path d="M5 5H25" stroke="#000"/>`:                                                                        {art.Beyond},
		`<path d="M5 5H20.05" stroke="#000"/>`:                                                                     nil,
		block + `<rect x="-5" width="50" height="3" fill="#fff"/>`:                                                 nil,
		`<svg width="10" height="10"><circle cx="9" cy="5" r="30"/></svg>`:                                         nil,
		`<clipPath id="c"><circle cx="10" cy="10" r="5"/></clipPath><path clip-path="url(#c)" d="M0 0H40V30H0Z"/>`: nil,
		block + `<circle cx="40" cy="10" r="5" visibility="hidden"/>`:                                              nil,
		// A nearly white ground, by itself too, as far as it is seen.
		`<rect width="20" height="20" fill="#fefefe"/>`:                                                                        {art.Ground},
		`<rect width="20" height="20" fill="#fefefe" stroke="#fefefe"/>`:                                                       {art.Ground, art.Beyond},
		`<rect width="20" height="20" fill="#eee"/>`:                                                                           nil,
		`<rect width="18" height="18" fill="#fefefe"/>`:                                                                        nil,
		`<path d="M10 0L20 10L10 20L0 10Z" fill="#fefefe"/>`:                                                                   nil,
		block + `<rect x="-15" width="30" height="20" fill="#fefefe"/>`:                                                        {art.Solid, art.Beyond},
		`<clipPath id="c"><path d="M5 5H9V9H5Z"/></clipPath><rect clip-path="url(#c)" width="20" height="20" fill="#fefefe"/>`: nil,
	} {
		p, err := art.Parse("a.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">`+body+`</svg>`))
		if err != nil {
			t.Errorf("%s: %v", body, err)
			continue
		}
		var got []art.NoteKind
		for _, n := range p.Notes {
			got = append(got, n.Kind)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: told %v, want %v", body, got, want)
		}
	}
}

// A rem is the font size of the root element, 16 pixels where it states none (CSS Values
// and Units 4, 6.1.1.4); of the root's own font size it is the latter.
func TestRootSize(t *testing.T) {
	const px = 25.4 / 96
	for root, want := range map[string]float64{
		``:                         20 * 16 * px,
		`font-size="10"`:           20 * 10 * px,
		`font-size="2rem"`:         20 * 32 * px,
		`style="font: 12px serif"`: 20 * 12 * px,
		`font-size="50%"`:          20 * 8 * px,
	} {
		p, err := art.Parse("a.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="2000" height="2000" `+root+`><g font-size="3"><rect width="20rem" height="4"/></g></svg>`))
		if err != nil {
			t.Errorf("%s: %v", root, err)
			continue
		}
		if got := p.Outline().Bounds().Width(); math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %g mm wide, want %g", root, got, want)
		}
	}
}
