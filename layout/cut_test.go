package layout_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"foredge/lang/diag/diagtest"
	"foredge/layout"
	"foredge/layout/geom"
)

// Kerf as published by those who cut for others; authors unknown, undated. "Want" is what the maker states, "draw" what the guide
// says the file has to hold.
func TestKerfAsPublished(t *testing.T) {
	for _, c := range []struct {
		source       string
		kerf         float64
		hole         string // in the middle of a larger panel; "" for the panel itself
		w, h         float64
		drawW, drawH float64
	}{
		{"a cutting service, Kerf Width: part", 0.2, "", 2, 4, 2.2, 4.2},
		{"a cutting service, Kerf Width: opening", 0.2, "rect 2 by 4", 2, 4, 1.8, 3.8},
		{"a cutting service, How Much Material Does the Laser Burn Away: a part of 40 comes out at 39.8, draw 40.2", 0.2, "", 40, 40, 40.2, 40.2},
		{"a design studio, Laser Drawings: hole", 0.2, "round 10", 10, 10, 9.8, 9.8},
		{"a design studio, Laser Drawings: part", 0.2, "", 20, 10, 20.2, 10.2},
	} {
		t.Run(c.source, func(t *testing.T) {
			text := fmt.Sprintf("laser bench { kerf = %v }\npanel p { width = %v; height = %v }", c.kerf, c.w, c.h)
			id := "p.outline"
			if c.hole != "" {
				text = fmt.Sprintf("laser bench { kerf = %v }\npanel p { width = 50; height = 50; cutout o { shape = %s } }", c.kerf, c.hole)
				id = "p.o"
			}
			b := shape(t, lasered(t, text), id).Figure.Bounds()
			if math.Abs(b.Width()-c.drawW) > 1e-9 || math.Abs(b.Height()-c.drawH) > 1e-9 {
				t.Errorf("drawn %v by %v, want %v by %v", b.Width(), b.Height(), c.drawW, c.drawH)
			}
		})
	}
}

// Kerf moves no centre and leaves what is not cut through as it is.
func TestKerfKeepsPlaces(t *testing.T) {
	const inside = `row wire on spine { count = 5; hole = rect 4 by 4; pitch = 9; inset = 5 }
  row pins on tail { count = 3; hole = slot 8 by 3; pitch = 20; inset = 5 }
  corners = radius 6
  cutout thumb { shape = round 20; foredge = 10; head = tail }
  line fold { from = spine; at = 22 }
  region frame { head = 60; height = 20; width = 20; mark frame }`
	want, got := drawn(t, pair(inside)), lasered(t, "laser bench { kerf = 0.3 }\n"+pair(inside))
	by := geom.Pt(0.15, 0.15) // outlines have grown by that, and nothing lies left of the corner
	for _, p := range want.Parts {
		for _, s := range p.Shapes {
			cut := shape(t, got, s.ID)
			a, b := s.Figure.Bounds(), cut.Figure.Bounds()
			if d := a.Center().Add(by).Distance(b.Center()); d > 1e-9 {
				t.Errorf("%s has moved by %g", s.ID, d)
			}
			grown := 0.0
			switch {
			case s.Hole:
				grown = -0.3
			case s.Op == layout.Cut:
				grown = 0.3
			}
			if math.Abs(b.Width()-a.Width()-grown) > 1e-9 || math.Abs(b.Height()-a.Height()-grown) > 1e-9 {
				t.Errorf("%s has grown by %v and %v, want %v", s.ID, b.Width()-a.Width(), b.Height()-a.Height(), grown)
			}
		}
	}
	// Arcs stay arcs: a corner of radius 6 is one of 6.15, a slot of 3 has ends of 1.35.
	wantFigure(t, got, "front.outline", "M6.15 0L94.15 0A6.15 6.15 0 0 1 100.3 6.15L100.3 144.15A6.15 6.15 0 0 1 94.15 150.3"+
		"L6.15 150.3A6.15 6.15 0 0 1 0 144.15L0 6.15A6.15 6.15 0 0 1 6.15 0Z")
	wantFigure(t, got, "front.thumb", "circle 80.15 75.15, radius 9.85")
	if got.Parts[0].Kerf != 0.3 || want.Parts[0].Kerf != 0 {
		t.Errorf("kerf %v is said to be allowed for, and %v before", got.Parts[0].Kerf, want.Parts[0].Kerf)
	}
	if got.Size != want.Size.Add(geom.Pt(0.3, 0.3)) {
		t.Errorf("the size is %v, was %v", got.Size, want.Size)
	}
}

// The stock's own kerf wins over the laser's.
func TestKerfOfStock(t *testing.T) {
	dr := lasered(t, `
laser bench { kerf = 0.2 }
stock birch { thick = 3; kerf = 0.1 }
stock card { thick = 1 }
panel a { width = 20; height = 10; stock = birch }
panel b { width = 20; height = 10; stock = card }`)
	for id, wide := range map[string]float64{"a.outline": 20.1, "b.outline": 20.2} {
		if got := shape(t, dr, id).Figure.Bounds().Width(); math.Abs(got-wide) > 1e-9 {
			t.Errorf("%s is %v wide, want %v", id, got, wide)
		}
	}
}

// The machine moves 1.002 mm for 1 mm, so the drawing is divided by that, kerf
// and all.
func TestAxisScale(t *testing.T) {
	dr := lasered(t, "laser bench { kerf = 0.2; scale-x = 1.002; scale-y = 0.998 }\n"+
		pair("cutout slit { shape = rect 20 by 10 }\ncutout eye { shape = round 30; head = 20 }"))
	front, slit := shape(t, dr, "front.outline").Figure.Bounds(), shape(t, dr, "front.slit").Figure.Bounds()
	for what, c := range map[string][2]float64{
		"width":          {front.Width(), 100.2 / 1.002},
		"height":         {front.Height(), 150.2 / 0.998},
		"slit's width":   {slit.Width(), 19.8 / 1.002},
		"slit's height":  {slit.Height(), 9.8 / 0.998},
		"slit's place":   {slit.Min.X, (50 - 9.9 + 0.1) / 1.002},
		"second's place": {shape(t, dr, "back.outline").Figure.Bounds().Min.X, 110 / 1.002},
		"drawing's size": {dr.Size.X, 210.2 / 1.002},
		"drawing's high": {dr.Size.Y, 150.2 / 0.998},
	} {
		if math.Abs(c[0]-c[1]) > 1e-9 {
			t.Errorf("the %s is %v, want %v", what, c[0], c[1])
		}
	}
	// A round hole is drawn as the ellipse that the machine makes round again:
	// every point of it, taken where the machine goes, lies on the circle.
	center := geom.Pt(50.1, 20+15+0.1)
	for _, p := range geom.Paths(shape(t, dr, "front.eye").Figure) {
		for s := range p.Pieces() {
			for k := 0.0; k < 1; k += 0.125 {
				at := s.At(k)
				if d := geom.Pt(at.X*1.002, at.Y*0.998).Distance(center) - 14.9; math.Abs(d) > 1e-3 {
					t.Fatalf("a round hole is off by %.5f mm where the machine cuts it", d)
				}
			}
		}
	}
	if dr.ScaleX != 1 || dr.ScaleY != 1 {
		t.Errorf("what is left to scale is %v, %v", dr.ScaleX, dr.ScaleY)
	}
}

// Where nothing says the kerf, the file is drawn without and a note says so,
// once; a kerf of 0 is an answer.
func TestNoKerf(t *testing.T) {
	notes := func(text string) (n int) {
		for _, d := range told(t, text) {
			if d.Code != "no-kerf" {
				t.Errorf("unlooked-for: %s", diagtest.Text(told(t, text)))
			}
			n++
		}
		return n
	}
	two := pair("row wire on spine { count = 2; hole = round 4; pitch = 20; inset = 5 }")
	if n := notes(two); n != 1 {
		t.Errorf("%d notes", n)
	}
	if n := notes("laser bench { kerf = 0 }\n" + two); n != 0 {
		t.Errorf("%d notes where the kerf is stated", n)
	}
	if got, want := lasered(t, two), drawn(t, two); text(got.Parts[1].Shapes[0].Figure) != text(want.Parts[1].Shapes[0].Figure) || got.Size != want.Size {
		t.Error("a drawing without kerf is not as wanted")
	}
}

// An opening that the cut would eat is an error, told once for a row.
func TestKerfEatsHoles(t *testing.T) {
	ds := told(t, "laser bench { kerf = 0.4 }\n"+pair("row pins on spine { count = 9; hole = round 0.4; pitch = 10; inset = 5 }\ncutout slit { shape = rect 20 by 0.3 }"))
	var got []string
	for _, d := range ds {
		got = append(got, d.Message)
	}
	all := strings.Join(got, "\n")
	for _, want := range []string{"hole 1 of pins of front is narrower", "slit of front is narrower"} {
		if strings.Count(all, want) != 1 {
			t.Errorf("%q is not told once:\n%s", want, all)
		}
	}
	if !ds.HasErrors() {
		t.Error("no error")
	}
}
