package layout_test

import (
	"math"
	"testing"

	"foredge/layout"
	"foredge/layout/geom"
	"foredge/layout/internal/geos"
)

// Letters cut through a board are openings inside their region, whose bridges
// keep their breadth when the kerf is allowed for: the laser takes half of it on
// each side of an opening's edge, which gives the openings as drawn. Held by GEOS.
func TestCutText(t *testing.T) {
	const text = `
panel front {
  thick = 2
  width = 160; height = 100
  region title { head = 20; height = 30; width = 140; cut text "Boog & Qp8" { font = "Go Bold"; fit = fill } }
}
laser bench { kerf = 0.2 }
`
	d, cut := drawn(t, text), lasered(t, text)
	whole, path := shape(t, d, "front.title"), shape(t, cut, "front.title")
	// The drawing for the laser is moved so that the grown edge of the board is on it.
	edge := shape(t, cut, "front.outline").Figure.Bounds().Min
	path.Figure = path.Figure.Move(geom.Pt(-0.1, -0.1).Sub(edge))
	if whole.Op != layout.Cut || !whole.Hole {
		t.Errorf("cut text is %v, a hole: %v", whole.Op, whole.Hole)
	}
	if b := whole.Figure.Bounds(); b.Min.X < 10 || b.Max.X > 150 || b.Min.Y < 20 || b.Max.Y > 50 {
		t.Errorf("the letters reach from %v to %v", b.Min, b.Max)
	}
	var answer struct {
		Pieces, Held, Broader int
		Apart                 float64
	}
	geos.Ask(t, `
whole = area(data['Drawn'])
burnt = area(data['Path']).buffer(0.1, 64, join_style=2, mitre_limit=20)
land = box(0, 0, 160, 100).difference(burnt)
answer = {'Pieces': pieces(land), 'Held': pieces(land.buffer(-0.995, 32)), 'Broader': pieces(land.buffer(-1.05, 32)),
    'Apart': burnt.symmetric_difference(whole).area / whole.area}
`, map[string]any{"Drawn": rings(whole.Figure), "Path": rings(path.Figure)}, &answer)
	if answer.Pieces != 1 || answer.Held != 1 || answer.Broader < 3 || answer.Apart > 2e-3 {
		t.Errorf("with bridges as broad as the board is thick: %+v", answer)
	}
}

// Capitals may be as small as least says and no smaller, and are as large as cap
// says or an error. A single H is as large as its region is high.
func TestLeastCapitals(t *testing.T) {
	const low = "error no-room a has no room for this text with capitals 5 mm high; "
	for high, want := range map[string]string{"5.001": "", "5": "", "4.985": low + "4.98 mm would fit", "4.905": low + "4.9 mm would fit"} {
		for _, option := range []string{"least = 5", "cap = 5", "cap = 5; least = 4"} {
			got := lines(told(t, "panel front { width = 100; height = 100; region a { head = 10; width = 60; height = "+high+`; mark text "H" { `+option+` } } }`))
			if got != want {
				t.Errorf("%s in %s mm: told %q, want %q", option, high, got, want)
			}
		}
	}
}

// What a region's text came out as is there for who looks before cutting.
func TestTexts(t *testing.T) {
	d := drawn(t, `
panel front {
  width = 100; height = 100
  region a { head = 10; height = 20; width = 60; engrave text "notes on tides and birds" { cap <= 9; wrap = yes } }
  region b { head = 40; height = 20; width = 60; mark text "AB" { font = stroke; cap = 5 } }
}`)
	if len(d.Texts) != 2 {
		t.Fatalf("%+v", d.Texts)
	}
	a, b := d.Texts[0], d.Texts[1]
	if a.Region != "a" || a.Lines != 2 || !a.Wrapped || a.Cap >= 9 {
		t.Errorf("%+v", a)
	}
	if b.Panel != "front" || b.Lines != 1 || b.Wrapped || math.Abs(b.Cap-5) > 1e-9 {
		t.Errorf("%+v", b)
	}
	lines, ok := shape(t, d, "front.b").Figure.(geom.Outline)
	if !ok || len(lines) != 6 || lines[0].Closed {
		t.Errorf("AB in single lines: %v", lines)
	}
}
