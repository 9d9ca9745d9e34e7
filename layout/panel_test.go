package layout_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"foredge/eval/design"
	"foredge/eval/opening"
	"foredge/eval/word"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
	"foredge/layout"
	"foredge/layout/geom"
)

// pair is a panel of 100 by 150 with a mirrored one beside it, which starts at
// X = 110.
func pair(inside string) string {
	return "panel front { width = 100; height = 150\n" + inside + "\n}\npanel back mirrors front"
}

// A row runs from the head, or from the spine along head and tail; on a
// mirrored panel the spine is at the right. Places by hand: first 10, pitch 20,
// a hole 6 along and 4 across, inset 5.
func TestRowsOnEdges(t *testing.T) {
	for _, c := range []struct {
		edge        string
		front, back [3]string // left upper corners
		w, h        float64
	}{
		{"spine", [3]string{"5 10", "5 30", "5 50"}, [3]string{"201 10", "201 30", "201 50"}, 4, 6},
		{"foredge", [3]string{"91 10", "91 30", "91 50"}, [3]string{"115 10", "115 30", "115 50"}, 4, 6},
		{"head", [3]string{"10 5", "30 5", "50 5"}, [3]string{"194 5", "174 5", "154 5"}, 6, 4},
		{"tail", [3]string{"10 141", "30 141", "50 141"}, [3]string{"194 141", "174 141", "154 141"}, 6, 4},
	} {
		dr := drawn(t, pair("row wire on "+c.edge+" { count = 3; hole = rect 6 by 4; first = 10; pitch = 20; inset = 5 }"))
		for i := range 3 {
			wantFigure(t, dr, fmt.Sprintf("front.wire.%d", i+1), fmt.Sprintf("rect %s, %v by %v", c.front[i], c.w, c.h))
			wantFigure(t, dr, fmt.Sprintf("back.wire.%d", i+1), fmt.Sprintf("rect %s, %v by %v", c.back[i], c.w, c.h))
		}
		mirrorImages(t, dr, "front", "back")
	}
}

// Every form of a hole, along the spine (6 along is 6 high) and along the head.
func TestHoleForms(t *testing.T) {
	for _, c := range []struct{ hole, spine, head string }{
		{"rect 6 by 4", "rect 5 10, 4 by 6", "rect 10 5, 6 by 4"},
		{"rect 6 by 4 radius 1",
			"M6 10L8 10A1 1 0 0 1 9 11L9 15A1 1 0 0 1 8 16L6 16A1 1 0 0 1 5 15L5 11A1 1 0 0 1 6 10Z",
			"M11 5L15 5A1 1 0 0 1 16 6L16 8A1 1 0 0 1 15 9L11 9A1 1 0 0 1 10 8L10 6A1 1 0 0 1 11 5Z"},
		{"rect 6 by 6 radius 3", "circle 8 13, radius 3", "circle 13 8, radius 3"},
		{"round 4", "circle 7 12, radius 2", "circle 12 7, radius 2"},
		// A slot's ends are half circles: along a spine at its upper and lower end.
		{"slot 6 by 4", "M9 12L9 14A2 2 0 0 1 5 14L5 12A2 2 0 0 1 9 12Z", "M12 5L14 5A2 2 0 0 1 14 9L12 9A2 2 0 0 1 12 5Z"},
		{"slot 4 by 6", "M7 10L9 10A2 2 0 0 1 9 14L7 14A2 2 0 0 1 7 10Z", "M14 7L14 9A2 2 0 0 1 10 9L10 7A2 2 0 0 1 14 7Z"},
		{"slot 4 by 4", "circle 7 12, radius 2", "circle 12 7, radius 2"},
	} {
		for edge, want := range map[string]string{"spine": c.spine, "head": c.head} {
			dr := drawn(t, pair("row wire on "+edge+" { count = 2; hole = "+c.hole+"; first = 10; pitch = 20; inset = 5 }"))
			wantFigure(t, dr, "front.wire.1", want)
			mirrorImages(t, dr, "front", "back")
		}
	}
}

// The ease of a cover makes its holes larger all round, by half of it on each
// side, and so the radius of their corners too: by hand, of a hole 6 along and 4
// across with corners of 1 and an ease of 0.4. A sharp corner stays sharp, and so
// does the radius that the cover states itself.
func TestEaseRoundsCorners(t *testing.T) {
	for _, c := range []struct {
		hole, own, form string
		radius          float64
	}{
		{"rect 6 by 4 radius 1 exact", "", "geom.Path", 1.2},
		{"rect 6 by 4 exact", "", "geom.Rect", 0},
		{"rect 6 by 4 radius 1 exact", "hole = rect 6.4 by 4.4 radius 1", "geom.Path", 1},
	} {
		dr := drawn(t, `notebook log { width = 100 exact; height = 150 exact
  row wire on spine { count = 3; hole = `+c.hole+`; first = 10 exact; pitch = 20 exact; inset = 5 exact } }
panel front covers log { ease = 0.4; row wire { `+c.own+` } }`)
		f := shape(t, dr, "front.wire.1").Figure
		box := f.Bounds()
		foretest.Near(t, c.hole+": width", box.Width(), 4.4, 1e-9)
		foretest.Near(t, c.hole+": height", box.Height(), 6.4, 1e-9)
		// The corners of a square round a circle are 4 - π radii squared.
		foretest.Near(t, c.hole+": area", math.Abs(geom.Area(f)), 4.4*6.4-(4-math.Pi)*c.radius*c.radius, 1e-6)
		if got := fmt.Sprintf("%T", f); got != c.form {
			t.Errorf("%s %s: a %s, want a %s", c.hole, c.own, got, c.form)
		}
	}
}

// A row of unequal gaps, listed or one by one, has its holes where the gaps say.
func TestRowOfGaps(t *testing.T) {
	// A pattern for planners (H. J. Reggel, "Organizer", undated): 19, 19, 70, 19, 19 mm between
	// centres, holes of 5.5 mm. Centred on 210 mm, the first centre is at
	// (210 - 146) / 2 = 32 mm.
	dr := drawn(t, "panel front { width = 100; height = 210; row rings on spine { gaps = 19, 19, 70, 19, 19; hole = round 5.5; inset = 4 } }")
	for i, y := range []float64{32, 51, 70, 140, 159, 178} {
		wantFigure(t, dr, fmt.Sprintf("front.rings.%d", i+1), fmt.Sprintf("circle 6.75 %v, radius 2.75", y))
	}
}

// Each form of a corner at each corner, on a panel of 100 by 150 and on its
// mirror image.
func TestCorners(t *testing.T) {
	for _, c := range []struct{ line, front string }{
		{"corners = square", "rect 0 0, 100 by 150"},
		{"corners = radius 0", "rect 0 0, 100 by 150"},
		{"corner head-spine = radius 6", "M6 0L100 0L100 150L0 150L0 6A6 6 0 0 1 6 0Z"},
		{"corner head-foredge = radius 6", "M0 0L94 0A6 6 0 0 1 100 6L100 150L0 150Z"},
		{"corner tail-foredge = radius 6", "M0 0L100 0L100 144A6 6 0 0 1 94 150L0 150Z"},
		{"corner tail-spine = radius 6", "M0 0L100 0L100 150L6 150A6 6 0 0 1 0 144Z"},
		{"corner head-spine = chamfer 4", "M4 0L100 0L100 150L0 150L0 4Z"},
		{"corner tail-foredge = chamfer 4", "M0 0L100 0L100 146L96 150L0 150Z"},
		{"corners = radius 6; corner tail-foredge = chamfer 4; corner head-spine = square",
			"M0 0L94 0A6 6 0 0 1 100 6L100 146L96 150L6 150A6 6 0 0 1 0 144Z"},
		{"corners = radius 50", "M50 0A50 50 0 0 1 100 50L100 100A50 50 0 0 1 50 150A50 50 0 0 1 0 100L0 50A50 50 0 0 1 50 0Z"},
	} {
		dr := drawn(t, pair(c.line))
		wantFigure(t, dr, "front.outline", c.front)
		mirrorImages(t, dr, "front", "back")
	}
}

// Lines from each edge, and what they are made by.
func TestLines(t *testing.T) {
	for _, c := range []struct {
		from, front, back string
	}{
		{"spine", "M22 0L22 150", "M188 0L188 150"},
		{"foredge", "M78 0L78 150", "M132 0L132 150"},
		{"head", "M0 22L100 22", "M210 22L110 22"},
		{"tail", "M0 128L100 128", "M210 128L110 128"},
	} {
		for word, op := range map[string]layout.Op{"": layout.Score, "; op = score": layout.Score, "; op = mark": layout.Mark, "; op = cut": layout.Cut} {
			dr := drawn(t, pair("line fold { from = "+c.from+"; at = 22"+word+" }"))
			wantFigure(t, dr, "front.fold", c.front)
			wantFigure(t, dr, "back.fold", c.back)
			if s := shape(t, dr, "front.fold"); s.Op != op || s.Hole {
				t.Errorf("a line with %q is the %v of a hole: %v", word, s.Op, s.Hole)
			}
		}
	}
}

// Cutouts of each form, whose first size is along the width; 12 from the
// foredge, centred between head and tail.
func TestCutouts(t *testing.T) {
	for shape, want := range map[string][2]string{
		"round 24":                {"circle 76 75, radius 12", "circle 134 75, radius 12"},
		"rect 30 by 20":           {"rect 58 65, 30 by 20", "rect 122 65, 30 by 20"},
		"slot 30 by 20":           {"M68 65L78 65A10 10 0 0 1 78 85L68 85A10 10 0 0 1 68 65Z", ""},
		"rect 20 by 20 radius 10": {"circle 78 75, radius 10", "circle 132 75, radius 10"},
	} {
		dr := drawn(t, pair("cutout thumb { shape = "+shape+"; foredge = 12; head = tail }"))
		wantFigure(t, dr, "front.thumb", want[0])
		if want[1] != "" {
			wantFigure(t, dr, "back.thumb", want[1])
		}
		mirrorImages(t, dr, "front", "back")
	}
}

// Marks of a region: frames as lines, lettering filled or as lines, numbered
// only where a region holds several.
func TestMarks(t *testing.T) {
	dr := drawn(t, pair(`
region one { head = 20; height = 30; spine = 10; width = 60; mark frame }
region two { head = 60; height = 30; spine = 10; width = 60; mark frame { radius = 4 }; engrave text "Tide" }
region three { head = 100; height = 30; spine = 10; width = 60; mark text "Log" }`))
	wantFigure(t, dr, "front.one", "rect 10 20, 60 by 30")
	wantFigure(t, dr, "back.one", "rect 140 20, 60 by 30")
	wantFigure(t, dr, "front.two.1", "M14 60L66 60A4 4 0 0 1 70 64L70 86A4 4 0 0 1 66 90L14 90A4 4 0 0 1 10 86L10 64A4 4 0 0 1 14 60Z")
	for id, op := range map[string]layout.Op{"front.one": layout.Mark, "front.two.1": layout.Mark, "front.two.2": layout.Engrave, "front.three": layout.Mark} {
		if s := shape(t, dr, id); s.Op != op || s.Hole {
			t.Errorf("%s is a %v, want %v", id, s.Op, op)
		}
	}
	// Marks are moved with their region, never reversed.
	front, back := shape(t, dr, "front.two.2").Figure, shape(t, dr, "back.two.2").Figure
	nearFigure(t, "lettering on the mirrored panel", back, front.Move(back.Bounds().Min.Sub(front.Bounds().Min)), 1e-9)
}

// What is drawn of a panel comes in one order: rows, cutouts, lines, outline,
// regions.
func TestOrderOfShapes(t *testing.T) {
	dr := drawn(t, `panel front { width = 100; height = 150
  region frame { head = 60; height = 20; width = 20; mark frame }
  line fold { from = spine; at = 22 }
  cutout thumb { shape = round 24; foredge = 12; head = tail }
  row wire on spine { count = 2; hole = round 4; pitch = 20; inset = 5 }
}`)
	want := []string{"front.wire.1", "front.wire.2", "front.thumb", "front.fold", "front.outline", "front.frame"}
	if got := ids(dr.Parts[0]); !slices.Equal(got, want) {
		t.Errorf("shapes %q, want %q", got, want)
	}
}

// Hexagonal holes of 6 mm across their flats: by hand, two of the flats run along
// the row, whichever edge that lies on, and a neck as wide as a flat leaves the
// other five sides standing. A cut of 0.2 mm takes 0.1 mm off each side.
func TestHexagons(t *testing.T) {
	across := 6.0
	along := across * 2 / math.Sqrt(3)
	flat := along / 2
	for _, edge := range word.Edges() {
		for _, necked := range []bool{false, true} {
			d := mustSolve(t, "laser bench { kerf = 0.2 }\npanel front { width = 100; height = 150\nrow wire on "+edge.String()+" { count = 3; hole = rect 4 by 4; first = 20; pitch = 20; inset = 5 } }")
			r := &d.Panels[0].Rows[0]
			r.Opening = opening.Opening{Form: opening.Hex, Along: along, Across: across}
			if necked {
				r.Neck = &design.Neck{Edge: edge, Wide: flat, At: r.At}
			}
			dr, diags := layout.Draw(d)
			if diags.HasErrors() {
				t.Fatal(diagtest.Text(diags))
			}
			if necked {
				got, want := geom.Area(shape(t, dr, "front.outline").Figure), 100*150-3*(r.Opening.Area()+5*flat)
				if math.Abs(got-want) > 1e-9 {
					t.Errorf("on the %s, open: the outline has %.6f mm², want %.6f", edge, got, want)
				}
				continue
			}
			w, h := along, across
			if !edge.Level() {
				w, h = h, w
			}
			if b := shape(t, dr, "front.wire.2").Figure.Bounds(); math.Abs(b.Width()-w) > 1e-9 || math.Abs(b.Height()-h) > 1e-9 {
				t.Errorf("on the %s: the hole is %g by %g, want %g by %g", edge, b.Width(), b.Height(), w, h)
			}
			cut, diags := dr.ForLaser()
			if diags.HasErrors() {
				t.Fatal(diagtest.Text(diags))
			}
			// A regular hexagon has √3/2 times the square of its flats' distance.
			got, want := geom.Area(shape(t, cut, "front.wire.2").Figure), math.Sqrt(3)/2*5.8*5.8
			if math.Abs(got-want) > 1e-9 {
				t.Errorf("on the %s: %.6f mm² are cut round, want %.6f", edge, got, want)
			}
		}
	}
}
