package layout_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"foredge/lang/diag/diagtest"
	"foredge/layout"
	"foredge/layout/geom"
	"foredge/layout/internal/geos"
)

// An opening with a neck is part of the outline, arcs and all; no shape of its
// own is left.
func TestNotchesByHand(t *testing.T) {
	for _, c := range []struct{ name, inside, want string }{
		{"a thumb cut as wide as it opens", "cutout thumb { shape = slot 12 by 24; open = foredge; foredge = 0; head = 50 }",
			"M0 0L100 0L100 50L94 50A6 6 0 0 0 88 56L88 68A6 6 0 0 0 94 74L100 74L100 150L0 150Z"},
		{"a square notch", "cutout thumb { shape = rect 20 by 8; open = tail; tail = 0; spine = 30 }",
			"M0 0L100 0L100 150L50 150L50 142L30 142L30 150L0 150Z"},
		{"a U", "cutout thumb { shape = round 20; open = head; head = 0; spine = 30 }",
			"M0 0L30 0L30 10A10 10 0 0 0 50 10L50 0L100 0L100 150L0 150Z"},
		{"a square hole behind a neck", "row disc on spine { count = 1; hole = rect 6 by 4; inset = 2; first = 20; neck = 2 }",
			"M0 0L100 0L100 150L0 150L0 24L2 24L2 26L6 26L6 20L2 20L2 22L0 22Z"},
		{"a round hole behind a neck of 6 in 10", "row disc on spine { count = 1; hole = round 10; inset = 3; first = 20; neck = 6 }",
			"M0 0L100 0L100 150L0 150L0 28L4 28A5 5 0 1 0 4 22L0 22Z"},
	} {
		dr := drawn(t, "panel front { width = 100; height = 150\n"+c.inside+"\n}")
		if got := strings.Join(ids(part(t, dr, "front")), " "); got != "front.outline" {
			t.Errorf("%s: the shapes are %s", c.name, got)
		}
		fig := shape(t, dr, "front.outline").Figure
		got := text(fig)
		if c.name == "a round hole behind a neck of 6 in 10" {
			// One arc of the circle, in however many pieces: by its area. The neck
			// reaches 5 - 4 = 1 mm into the circle's box.
			h := math.Asin(0.6)
			want := 100*150 - math.Pi*25 - 6*3 - (6*1 - (25*h - 3*4))
			if a := geom.Area(fig); math.Abs(a-want) > 1e-9 {
				t.Errorf("%s: area %.9f, want %.9f", c.name, a, want)
			}
			continue
		}
		if got != c.want {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, got, c.want)
		}
	}
}

// A notchedHole is an opening with its neck.
type notchedHole struct {
	X, Y, W, H, R float64    // its box, and the radius of its corners
	Neck          [4]float64 // the box of its neck
}

// A notchedBoard is a board with round corners, the openings in it and the outline
// that the file has.
type notchedBoard struct {
	W, H, R float64
	Holes   []notchedHole
	Got     [][2]float64
	Kerf    float64
}

// notchedBoards are boards with notches of every form in all edges.
func notchedBoards(t *testing.T) []notchedBoard {
	var boards []notchedBoard
	for _, form := range []struct {
		hole string
		a, h float64 // along, across
		r    float64
	}{{"round 7", 7, 7, 3.5}, {"slot 9 by 5", 9, 5, 2.5}, {"slot 5 by 9", 5, 9, 2.5}, {"rect 6 by 8", 6, 8, 0}, {"rect 6 by 8 radius 2", 6, 8, 2}} {
		for _, neck := range []float64{1, 3.3, form.a} {
			for _, kerf := range []float64{0, 0.2} {
				var text strings.Builder
				fmt.Fprintf(&text, "laser bench { kerf = %g }\npanel front { width = 100; height = 80; corners = radius 9\n", kerf)
				b := notchedBoard{W: 100, H: 80, R: 9, Kerf: kerf}
				for _, edge := range []string{"spine", "foredge", "head", "tail"} {
					fmt.Fprintf(&text, "row %s-discs on %s { count = 3; pitch = 14; first = 15; hole = %s; inset = 2.5; neck = %g }\n", edge, edge, form.hole, neck)
					for i := range 3 {
						mid, near, far := 15+form.a/2+14*float64(i), 2.5, 2.5+form.h
						o := notchedHole{R: form.r, W: form.a, H: form.h}
						// Boxes: along the edge from lo to hi, away from it from v0 to v1.
						box := func(lo, hi, v0, v1 float64) [4]float64 {
							switch edge {
							case "spine":
								return [4]float64{v0, lo, v1, hi}
							case "foredge":
								return [4]float64{100 - v1, lo, 100 - v0, hi}
							case "head":
								return [4]float64{lo, v0, hi, v1}
							}
							return [4]float64{lo, 80 - v1, hi, 80 - v0}
						}
						at := box(mid-form.a/2, mid+form.a/2, near, far)
						o.X, o.Y, o.W, o.H = at[0], at[1], at[2]-at[0], at[3]-at[1]
						o.Neck = box(mid-neck/2, mid+neck/2, -1, (near+far)/2)
						b.Holes = append(b.Holes, o)
					}
				}
				text.WriteString("}")
				for _, p := range geom.Paths(shape(t, lasered(t, text.String()), "front.outline").Figure) {
					for _, q := range p.Flatten(1e-4) {
						b.Got = append(b.Got, [2]float64{q.X, q.Y})
					}
				}
				boards = append(boards, b)
			}
		}
	}
	return boards
}

// notchScript tells how far each outline is off on average.
const notchScript = `
from shapely.affinity import translate
def rounded(x0, y0, x1, y1, r):
    if r == 0: return box(x0, y0, x1, y1)
    e = 1e-9 # a full circle has no core
    return box(x0+r-e, y0+r-e, x1-r+e, y1-r+e).buffer(r-e, 256)
answer = []
for b in data:
    want = rounded(0, 0, b["W"], b["H"], b["R"])
    for o in b["Holes"]:
        want = want.difference(rounded(o["X"], o["Y"], o["X"]+o["W"], o["Y"]+o["H"], o["R"])).difference(box(*o["Neck"]))
    if b["Kerf"]:
        want = want.buffer(b["Kerf"]/2, 64, join_style=2, mitre_limit=10)
    got = Polygon(b["Got"])
    assert got.is_valid
    # The file is moved so that nothing lies left of or above its corner.
    got = translate(got, want.bounds[0]-got.bounds[0], want.bounds[1]-got.bounds[1])
    answer.append(got.symmetric_difference(want).area / want.length)
`

// Notches on every edge of a board with round corners, of every form, against the
// difference of polygons that GEOS makes, as wanted and as cut with kerf 0.2.
func TestNotchesAgainstGEOS(t *testing.T) {
	var off []float64
	geos.Ask(t, notchScript, notchedBoards(t), &off)
	for i, d := range off {
		if !(d < 2e-4) {
			t.Errorf("board %d: %.6f mm off on average along its edge", i, d)
		}
	}
	if len(off) != 30 {
		t.Errorf("%d boards were compared", len(off))
	}
}

// What keeps an opening from being open is said, and a mirrored panel is the
// mirror image.
func TestNotchTroubles(t *testing.T) {
	for _, c := range []struct{ name, inside, want string }{
		{"wider than the hole", "row disc on spine { count = 3; pitch = 20; hole = round 6; inset = 2; neck = 7 }", "the neck of hole 1 of disc is 7 mm wide, but the opening only 6 mm"},
		{"narrower than the cut", "row disc on spine { count = 3; pitch = 20; hole = round 6; inset = 2; neck = 0.2 }", "no wider than the laser's cut"},
		{"in a corner", "corners = radius 20\nrow disc on spine { count = 2; hole = round 6; first = 10; last = first; inset = 7; neck = 3 }", "meets the edge of front at a corner"},
		{"through a hole", "row disc on spine { count = 2; hole = round 6; first = 10; last = first; inset = 7; neck = 3 }\nrow wire on spine { count = 2; hole = round 2; first = 12; last = first; inset = 1 }", "overlap"},
		{"sound", "row disc on spine { count = 3; pitch = 20; hole = round 6; inset = 2; neck = 3 }", ""},
	} {
		ds := told(t, "laser bench { kerf = 0.2 }\n"+pair(c.inside))
		got := diagtest.Text(ds)
		if c.want == "" && len(ds) > 0 || !strings.Contains(got, c.want) {
			t.Errorf("%s: told\n%s\nwant %q", c.name, got, c.want)
		}
	}
	dr := drawn(t, pair("row disc on spine { count = 3; pitch = 20; hole = round 6; inset = 2; first = 9; neck = 3 }"))
	a, b := geom.Paths(shape(t, dr, "front.outline").Figure)[0], geom.Paths(shape(t, dr, "back.outline").Figure)[0]
	if d := math.Abs(geom.Area(a) - geom.Area(b)); d > 1e-9 {
		t.Errorf("mirrored, the area differs by %g", d)
	}
	if box := b.Bounds(); box.Max.X != 210 || box.Min.X != 110 {
		t.Errorf("the mirrored board lies from %v to %v", box.Min.X, box.Max.X)
	}
}

// A hole that lies on a measured one has its neck, opened by the same ease; and
// the proof card has the slots of the board.
func TestNotchesOfANotebook(t *testing.T) {
	const text = `notebook pad { accuracy = 0.05; width = 100; height = 150
  row disc on spine { count = 3; pitch = 40; first = last; hole = rect 6 by 4; inset = 2; neck = 3 } }
panel front covers pad { ease = 0.4 }`
	// Hole 1 about 35 from the head: 6.4 by 4.4, 1.8 from the edge, its neck 3.4.
	want := func(w, h float64) float64 { return w*h - 3*(6.4*4.4+3.4*1.8) }
	dr := drawn(t, text)
	if got := geom.Area(shape(t, dr, "front.outline").Figure); math.Abs(got-want(100, 150)) > 1e-9 {
		t.Errorf("the board has %v mm², want %v", got, want(100, 150))
	}
	card, diags := layout.Card(mustSolve(t, text))
	if diags.HasErrors() || len(card.Parts) != 1 {
		t.Fatalf("%d parts\n%s", len(card.Parts), diagtest.Text(diags))
	}
	const mark = 4 * 2.5 // the notch that shows the card's head and face
	fig := card.Parts[0].Shapes[len(card.Parts[0].Shapes)-1].Figure
	if got, w := geom.Area(fig), fig.Bounds().Width(); len(card.Parts[0].Shapes) != 1 || math.Abs(got-want(w, 150)+mark) > 1e-9 {
		t.Errorf("the card has %v mm², want %v, in %d shapes", got, want(w, 150)-mark, len(card.Parts[0].Shapes))
	}
}
