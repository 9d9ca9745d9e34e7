package layout_test

import (
	"math"
	"strings"
	"testing"

	"foredge/lang/diag/diagtest"
	"foredge/layout"
	"foredge/layout/geom"
)

const twoFaced = `
laser bench { kerf = 0.3; bed = 400 by 300 }
stock board { thick = 3 }
panel front {
  stock = board; width = 150; height = 210; corner head-foredge = radius 6
  row wire on spine { count = 20; hole = rect 4 by 4; pitch = 8; inset = 4 }
  region title { spine = 20; width = 60; head = 30; height = 20; engrave text "Outside" }
  region owner { face = inside; spine = 20; width = 60; head = 100; height = 20; mark frame; engrave text "Inside" }
}
panel back mirrors front { without title }
panel plain { stock = board; width = 100; height = 100 }
panel strip { stock = board; width = 20; height = 120 }
panel tag { stock = board; width = 34; height = 8 }
`

// Marks of the inside are drawn as the board lies when it was turned about an
// axis from head to tail: what was 20 to 80 mm from a spine at the left is as far
// from a spine at the right. The turned board lies where the jig's corner is, 20
// mm from both edges of the page, and lettering is not reversed.
func TestInside(t *testing.T) {
	d, diags := solved(twoFaced)
	if d == nil {
		t.Fatal(diagtest.Text(diags))
	}
	faces, diags := layout.Inside(d)
	if diags.HasErrors() || len(faces) != 2 {
		t.Fatalf("%d faces: %s", len(faces), diagtest.Text(diags))
	}
	outer, _ := layout.Draw(d)
	for _, p := range outer.Parts {
		for _, s := range p.Shapes {
			if strings.Contains(s.ID, "owner") {
				t.Errorf("%s is drawn on the outside", s.ID)
			}
		}
	}
	for i, want := range []geom.Box{
		{Min: geom.Pt(20+150-80, 20+100), Max: geom.Pt(20+150-20, 20+120)}, // front: its spine lies at the right now
		{Min: geom.Pt(20+20, 20+100), Max: geom.Pt(20+80, 20+120)},         // back: at the left
	} {
		cut, diags := faces[i].Drawing.ForLaser()
		if len(diags) > 0 {
			t.Error(diagtest.Text(diags))
		}
		if cut.Size.Distance(geom.Pt(150.2+40, 210.2+40)) > 1e-9 {
			t.Errorf("the page of %s is %v", faces[i].Panel, cut.Size)
		}
		board := geom.EmptyBox()
		for _, s := range cut.Parts[0].Shapes {
			switch b := s.Figure.Bounds(); {
			case s.Op == layout.Guide:
				board = board.Union(b)
			case s.Op == layout.Cut || s.Op == layout.Score:
				t.Errorf("%s is cut", s.ID)
			case strings.HasSuffix(s.ID, ".1") && (b.Min.Distance(want.Min) > 1e-6 || b.Max.Distance(want.Max) > 1e-6):
				t.Errorf("the frame of %s lies from %v to %v, want %v", faces[i].Panel, b.Min, b.Max, want)
			case !want.Grow(1e-6).Holds(b):
				t.Errorf("%s leaves its region", s.ID)
			}
		}
		if board.Min.Distance(geom.Pt(20, 20)) > 1e-6 || board.Max.Distance(geom.Pt(170, 230)) > 1e-6 {
			t.Errorf("the board of %s lies from %v to %v", faces[i].Panel, board.Min, board.Max)
		}
	}
}

// What would go through the board can't be on its inside.
func TestInsideIsNotCut(t *testing.T) {
	d, diags := solved(`panel p { width = 100; height = 100; thick = 1
  region r { face = inside; width = 80; height = 30; cut text "HO" } }`)
	if d == nil {
		t.Fatal(diagtest.Text(diags))
	}
	if _, diags := layout.Inside(d); !diags.HasErrors() {
		t.Error("letters that are cut were put on the inside")
	}
}

// A jig's opening, once the laser has taken its kerf, is 0.2 mm wider and higher
// than the board, from a corner 20 mm from the page's edges, with a notch for a finger
// in two sides, smaller in those shorter than 36 mm.
func TestJig(t *testing.T) {
	d, diags := solved(twoFaced)
	if d == nil {
		t.Fatal(diagtest.Text(diags))
	}
	faces, diags := layout.Jig(d)
	if diags.HasErrors() || len(faces) != 5 {
		t.Fatalf("%d jigs: %s", len(faces), diagtest.Text(diags))
	}
	for i, c := range []struct{ size, finger geom.Point }{ // how far the notches reach at the right and the foot
		{geom.Pt(150, 210), geom.Pt(9, 9)}, {geom.Pt(150, 210), geom.Pt(9, 9)}, {geom.Pt(100, 100), geom.Pt(9, 9)},
		{geom.Pt(20, 120), geom.Pt(9, 5)}, {geom.Pt(34, 8), geom.Pt(2, 8.5)},
	} {
		size, finger := c.size, c.finger
		cut, diags := faces[i].Drawing.ForLaser()
		if len(diags) > 0 {
			t.Error(diagtest.Text(diags))
		}
		for _, s := range cut.Parts[0].Shapes {
			b := s.Figure.Bounds()
			if s.Hole {
				b = b.Grow(0.15) // what the laser takes beside its path
				if b.Min.Distance(geom.Pt(20, 20)) > 1e-6 || b.Max.Distance(geom.Pt(20.2, 20.2).Add(finger).Add(size)) > 1e-6 {
					t.Errorf("%s lies from %v to %v", s.ID, b.Min, b.Max)
				}
				if a := math.Abs(geom.Area(s.Figure)); math.Abs(a-wantOpening(size, finger, 0.15)) > 0.05 {
					t.Errorf("%s has %.3f mm², want %.3f", s.ID, a, wantOpening(size, finger, 0.15))
				}
			} else if b.Min.X < 0 || b.Min.Y < 0 || b.Max.X > cut.Size.X || b.Max.Y > cut.Size.Y {
				t.Errorf("%s leaves the page", s.ID)
			}
		}
	}
}

// wantOpening is the area of an opening drawn narrower by half a kerf: its
// rectangle, and two discs as far as they lie beyond its sides, their rims nearer
// by as much. Slivers where rims meet sides are below 0.05 mm².
func wantOpening(size, finger geom.Point, by float64) float64 {
	area := (size.X + 0.2 - 2*by) * (size.Y + 0.2 - 2*by)
	for _, r := range []float64{finger.X - by, finger.Y - by} {
		area += r*r*math.Acos(-by/r) + by*math.Sqrt(r*r-by*by)
	}
	return area
}
