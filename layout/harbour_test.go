package layout_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"foredge/eval/evaltest"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
	"foredge/layout"
	"foredge/layout/geom"
)

// The harbour log: 24 holes on each panel, each of the measured size and 0.3
// more, about the centres that the readings give.
func TestHarbourHoles(t *testing.T) {
	d := mustSolve(t, foretest.Corpus(t, "harbour-log"))
	dr, diags := layout.Draw(d)
	if len(diags) > 0 {
		t.Fatal(diagtest.Text(diags))
	}
	// The centres from the notebook's dimensions, not from the panel's.
	of := map[string]float64{}
	for _, x := range evaltest.Sound(t, foretest.Corpus(t, "harbour-log")).Dimensions() {
		of[x.Name] = x.Value
	}
	wide, high := of["log.wire.hole.across"]+0.3, of["log.wire.hole.along"]+0.3
	in := of["log.wire.inset"] + of["log.wire.hole.across"]/2
	for _, name := range []string{"front", "back"} {
		p := part(t, dr, name)
		n := 0
		for _, s := range p.Shapes {
			if !s.Hole {
				continue
			}
			n++
			c := geom.Pt(in, of["log.wire.first"]+of["log.wire.hole.along"]/2+float64(n-1)*of["log.wire.pitch"])
			if name == "back" {
				c.X = of["log.width"] - c.X
			}
			if want := fmt.Sprintf("%s.wire.%d", name, n); s.ID != want || s.Op != layout.Cut {
				t.Errorf("hole %d of %s is the %v %s, want the cut %s", n, name, s.Op, s.ID, want)
			}
			nearFigure(t, s.ID, s.Figure, geom.CenterRect(c.Add(p.Bounds.Min), wide, high), 1e-6)
		}
		if n != 24 {
			t.Errorf("%s has %d holes", name, n)
		}
	}
	if math.Abs(wide-4.35) > 1e-9 || math.Abs(high-4.32) > 0.01 {
		t.Errorf("holes of %v by %v: 4.05 and 4.02 were measured, and 0.3 more is asked for", wide, high)
	}
}

// The back is a mirror image of the front, hole by hole and outline too.
func TestHarbourMirror(t *testing.T) {
	dr := drawn(t, foretest.Corpus(t, "harbour-log"))
	mirrorImages(t, dr, "front", "back")
	// 148.2 was measured once and stays; 210.1, 210.0, 210.1 are moved a little
	// towards what the row says.
	wantFigure(t, dr, "front.outline", "M0 0L142.2 0A6 6 0 0 1 148.2 6L148.2 204.0623A6 6 0 0 1 142.2 210.0623L0 210.0623Z")
}

// mirrorImages checks that a part is the mirror image of another: every hole and
// the outline, to 1e-9 mm.
func mirrorImages(t testing.TB, dr *layout.Drawing, front, back string) {
	t.Helper()
	a, b := part(t, dr, front), part(t, dr, back)
	if d := math.Abs(a.Bounds.Width() - b.Bounds.Width()); d > 1e-9 {
		t.Fatalf("%s and %s differ in width by %g", front, back, d)
	}
	mirror := geom.Shift(geom.Pt(-a.Bounds.Min.X, 0)).
		Then(geom.MirrorX(a.Bounds.Width() / 2)).Then(geom.Shift(geom.Pt(b.Bounds.Min.X, 0)))
	n := 0
	for _, s := range a.Shapes {
		if s.Op != layout.Cut {
			continue
		}
		n++
		nearFigure(t, back+" as the mirror image of "+s.ID, shape(t, dr, back+s.ID[len(front):]).Figure, mirror.Apply(s.Figure), 1e-9)
	}
	if n == 0 {
		t.Errorf("%s has no cuts to compare", front)
	}
}

// The title lies in its region: 25 from the spine, 20 from the foredge, 40 from
// the head and 24 high.
func TestHarbourTitle(t *testing.T) {
	dr := drawn(t, foretest.Corpus(t, "harbour-log"))
	title := shape(t, dr, "front.title")
	region := geom.Rect{Min: geom.Pt(25, 40), W: 148.2 - 25 - 20, H: 24}
	letters, ok := title.Figure.(geom.Outline)
	if !ok || title.Op != layout.Engrave {
		t.Fatalf("the title is %v %T", title.Op, title.Figure)
	}
	// H a r b o u r L o g, of which a, b, o, o and g have a counter, g perhaps two.
	if len(letters) < 10+5 {
		t.Errorf("the title has %d paths", len(letters))
	}
	b, in := letters.Bounds(), region.Bounds()
	if b.Min.X < in.Min.X-1e-6 || b.Min.Y < in.Min.Y-1e-6 || b.Max.X > in.Max.X+1e-6 || b.Max.Y > in.Max.Y+1e-6 {
		t.Errorf("the title takes up %v, its region is %v", b, in)
	}
	if !geom.Inside(region, letters) {
		t.Error("the title leaves its region")
	}
	// As large as the region allows: it touches one pair of sides at least.
	if in.Width()-b.Width() > 1 && in.Height()-b.Height() > 1 {
		t.Errorf("the title is %.2f by %.2f in a region of %.2f by %.2f", b.Width(), b.Height(), in.Width(), in.Height())
	}
	if slices.Contains(ids(part(t, dr, "back")), "back.title") {
		t.Error("the back has a title, which it does without")
	}
}

// Parts stand side by side, 10 mm apart, heads level, in the file's order.
func TestPartsSideBySide(t *testing.T) {
	dr := drawn(t, `
panel first { width = 30; height = 50 }
panel second { width = 40; height = 20 }
gap joint { width = 5 }
panel left { width = 10; height = 60 }
case case { lay = left, joint, right; turn-in = 8 }
panel right { width = 20; height = 60; thick = 2 }
panel last { width = 70; height = 10 }
`)
	var got []string
	for _, p := range dr.Parts {
		got = append(got, fmt.Sprintf("%s %v-%v %v", p.Name, p.Bounds.Min.X, p.Bounds.Max.X, p.Bounds.Max.Y))
		if p.Bounds.Min.Y != 0 {
			t.Errorf("%s starts at %v, not level with the others", p.Name, p.Bounds.Min.Y)
		}
	}
	want := []string{"first 0-30 50", "second 40-80 20", "left 90-100 60", "right 105-125 60",
		"case.covering 135-186 76", "last 196-266 10"}
	if !slices.Equal(got, want) {
		t.Errorf("parts %q\nwant  %q", got, want)
	}
	if dr.Size != geom.Pt(266, 76) {
		t.Errorf("the drawing's size is %v", dr.Size)
	}
}
