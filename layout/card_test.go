package layout_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"foredge/eval/design"
	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
	"foredge/layout"
	"foredge/layout/geom"
)

func card(t testing.TB, text string) *layout.Drawing {
	t.Helper()
	dr, diags := layout.Card(mustSolve(t, text))
	if diags.HasErrors() {
		t.Fatalf("this should give a card:\n%s\n%s", text, diagtest.Text(diags))
	}
	return dr
}

// The card of the harbour log is one strip for both panels. It carries every
// hole of the row where the panel has it, and its own edges are the head and
// the spine edge that locate it, on under 15 % of the panel's area.
func TestHarbourCard(t *testing.T) {
	text := foretest.Corpus(t, "harbour-log")
	dr, panel := card(t, text), part(t, drawn(t, text), "front")
	if len(dr.Parts) != 1 {
		t.Fatalf("%d strips for one row and its mirror image", len(dr.Parts))
	}
	strip := dr.Parts[0]
	outline := shape(t, dr, strip.Name+".outline")
	if outline.Op != layout.Cut || outline.Hole {
		t.Fatalf("the strip is the %v of %s", outline.Op, outline.Figure)
	}
	box := outline.Figure.Bounds()
	edge := geom.Rect{Min: box.Min, W: box.Width(), H: box.Height()}
	if edge.Min != panel.Bounds.Min || edge.H != panel.Bounds.Height() {
		t.Errorf("the strip, %v, doesn't lie along the spine from head to tail", edge)
	}
	holes := 0
	for _, s := range strip.Shapes {
		if !s.Hole {
			continue
		}
		holes++
		nearFigure(t, s.ID, s.Figure, panel.Shapes[slices.Index(ids(panel), s.ID)].Figure, 1e-9)
		if !geom.Inside(outline.Figure, s.Figure) || geom.Distance(outline.Figure, s.Figure) < 3 {
			t.Errorf("%s leaves less than 3 mm of card", s.ID)
		}
	}
	if holes != 24 {
		t.Errorf("the card has %d holes", holes)
	}
	if part := geom.Area(edge) / (panel.Bounds.Width() * panel.Bounds.Height()); part >= 0.15 {
		t.Errorf("the card takes %.1f %% of the panel's area", 100*part)
	}
	if !strings.Contains(dr.Title, "harbour-log") && !strings.Contains(dr.Title, "test") {
		t.Errorf("the title is %q", dr.Title)
	}
}

// A strip lies along the edge of its row, from one end of it to the other, and
// shows the holes as far from both as the panel does. The notch is in its head edge,
// towards the foredge: 4 mm wide and 2.5 mm deep.
func TestCardOnEdges(t *testing.T) {
	for edge, want := range map[string][2]string{
		"spine":   {"M0 0L10.5 0L10.5 2.5L14.5 2.5L14.5 0L17 0L17 150L0 150Z", "rect 5 10, 4 by 6"},
		"foredge": {"M0 0L10.5 0L10.5 2.5L14.5 2.5L14.5 0L17 0L17 150L0 150Z", "rect 8 10, 4 by 6"},
		"head":    {"M0 0L93.5 0L93.5 2.5L97.5 2.5L97.5 0L100 0L100 17L0 17Z", "rect 10 5, 6 by 4"},
		"tail":    {"M0 0L93.5 0L93.5 2.5L97.5 2.5L97.5 0L100 0L100 17L0 17Z", "rect 10 8, 6 by 4"},
	} {
		dr := card(t, pair("row wire on "+edge+" { count = 3; hole = rect 6 by 4; first = 10; pitch = 20; inset = 5 }"))
		if len(dr.Parts) != 1 {
			t.Errorf("on %s: %d strips", edge, len(dr.Parts))
			continue
		}
		wantFigure(t, dr, "front.wire.outline", want[0])
		wantFigure(t, dr, "front.wire.1", want[1])
	}
	// Where only the mirrored panel has the row, its strip is the mirror image.
	dr := card(t, pair("row wire on spine { count = 3; hole = rect 6 by 4; first = 10; pitch = 20; inset = 5 }")+
		" { row wire { inset = 7 } }")
	if len(dr.Parts) != 2 {
		t.Fatalf("%d strips for rows with different insets", len(dr.Parts))
	}
	wantFigure(t, dr, "front.wire.1", "rect 5 10, 4 by 6")
	// The second strip starts at 17 + 10 and is 7 + 4 + 8 = 19 wide.
	wantFigure(t, dr, "back.wire.outline", "M27 0L29.5 0L29.5 2.5L33.5 2.5L33.5 0L46 0L46 150L27 150Z")
	wantFigure(t, dr, "back.wire.1", "rect 35 10, 4 by 6")
	// What the other's strip doesn't show has one of its own: other holes or ends of the edge.
	for own, want := range map[string]int{
		"": 1, "width = 101": 1, "thick = 5": 1, "height = 151; row wire { first = 10 }": 2, "row wire { hole = rect 6 by 4 radius 1 }": 2,
		"row wire { neck = 3 }": 2, "row wire { hole = slot 6 by 4 }": 2, "row wire { first = 11 }": 2,
	} {
		text := "panel front { width = 100; height = 150; row wire on spine { count = 3; hole = rect 6 by 4; first = 10; pitch = 20; inset = 5 } }\n" +
			"panel back mirrors front { " + own + " }"
		for name, draw := range map[string]func(*design.Design) (*layout.Drawing, diag.List){"card": layout.Card, "guide": layout.Guides} {
			if dr, _ := draw(mustSolve(t, text)); len(dr.Parts) != want {
				t.Errorf("%s of a back with %q: %d strips, want %d", name, own, len(dr.Parts), want)
			}
		}
	}
}

// A strip is never wider than its panel, allows for the laser's kerf, and is an
// error where there is no row to try on.
func TestCardLimits(t *testing.T) {
	const narrow = "panel p { width = 12; height = 80; row wire on spine { count = 3; hole = round 4; pitch = 9; inset = 4 } }"
	dr := card(t, "laser bench { kerf = 0.2 }\n"+narrow)
	wantFigure(t, dr, "p.wire.outline", "M0 0L12 0L12 2.5L9.5 2.5L9.5 6.5L12 6.5L12 80L0 80Z")
	cut, diags := dr.ForLaser()
	if len(diags) > 0 {
		t.Error(diagtest.Text(diags))
	}
	wantFigure(t, cut, "p.wire.outline", "M0 0L12.2 0L12.2 2.7L9.7 2.7L9.7 6.5L12.2 6.5L12.2 80.2L0 80.2Z")
	wantFigure(t, cut, "p.wire.1", fmt.Sprintf("circle 6.1 %v, radius 1.9", 40-9+0.1))
	if _, diags = layout.Card(mustSolve(t, pair(""))); !strings.Contains(lines(diags), "error no-row") {
		t.Errorf("a design without rows: %s", lines(diags))
	}
}

// Strips that would end beyond the bed, the laser's cut counted, begin a new line.
func TestStripsStayOnTheBed(t *testing.T) {
	onBed := func(bed float64) string {
		text := fmt.Sprintf("laser bench { kerf = 0.2; bed = %v by 200 }\n", bed)
		for i := range 3 {
			text += fmt.Sprintf("panel p%d { width = 12; height = %d; thick = 3; row wire on spine { count = 3; hole = round 4; pitch = 9; inset = 4 } }\n", i, 80+i)
		}
		return text
	}
	for _, c := range []struct {
		bed  float64
		want [3]geom.Point // the left upper corner of each strip, with the laser's cut
	}{
		{56.3, [3]geom.Point{{}, {X: 22}, {X: 44}}},
		{56.1, [3]geom.Point{{}, {X: 22}, {Y: 91}}},
		{20, [3]geom.Point{{}, {Y: 90}, {Y: 181}}},
	} {
		for name, draw := range map[string]func(*design.Design) (*layout.Drawing, diag.List){"card": layout.Card, "guide": layout.Guides} {
			wanted, diags := draw(mustSolve(t, onBed(c.bed)))
			cut, more := wanted.ForLaser()
			if diags.Add(more); diags.HasErrors() || len(cut.Parts) != 3 {
				t.Fatalf("%s: %d strips: %s", name, len(cut.Parts), diagtest.Text(diags))
			}
			for i, part := range cut.Parts {
				box := geom.EmptyBox()
				for _, s := range part.Shapes {
					box = box.Union(s.Figure.Bounds())
				}
				if box.Min.Distance(c.want[i]) > 1e-6 {
					t.Errorf("%s on a bed of %v: strip %d lies at %v, want %v", name, c.bed, i, box.Min, c.want[i])
				}
			}
		}
	}
}

// In whichever of the three wrong ways a card is laid, its notch is somewhere else,
// and it touches no hole: rows at every edge, close to it or far, of the panel and of
// its mirror image, on large panels and small ones, open holes too.
func TestCardShowsHeadAndFace(t *testing.T) {
	tried := 0
	for _, edge := range []string{"spine", "foredge", "head", "tail"} {
		for _, size := range [][2]float64{{140, 210}, {300, 40}, {30, 60}, {16, 24}} {
			for _, inset := range []float64{1, 2, 4, 9} {
				for _, ends := range []float64{1, 3, 8} {
					for _, neck := range []string{"", "; neck = 1"} {
						text := fmt.Sprintf(`laser bench { kerf = 0 }
panel front { width = %g; height = %g; row wire on %s { hole = rect 3 by 4; inset = %g; count = 3; first = %g; last = %g%s } }
panel back mirrors front
`, size[0], size[1], edge, inset, ends, ends, neck)
						d, _ := solved(text)
						if d == nil {
							continue
						}
						for i := range d.Panels {
							one := *d
							one.Panels = d.Panels[i : i+1]
							switch dr, diags := layout.Card(&one); {
							case diags.HasErrors(): // the row has no room on the panel
							case strings.Contains(lines(diags), "no-notch"):
								if inset > 1 || ends > 1 || size[0] > 16 {
									t.Errorf("%s\nno room for a notch", text)
								}
							default:
								tried++
								wantMarked(t, text, dr.Parts[0], one.Panels[0].Mirrored)
							}
						}
					}
				}
			}
		}
	}
	if tried < 250 {
		t.Errorf("only %d cards were tried", tried)
	}
}

// wantMarked looks at the outline of a card: what of the box about it is missing in
// the quarter of head and foredge is missing in no other quarter.
func wantMarked(t *testing.T, text string, strip layout.Part, mirrored bool) {
	t.Helper()
	outline := strip.Shapes[slices.IndexFunc(strip.Shapes, func(s layout.Shape) bool { return strings.HasSuffix(s.ID, ".outline") })].Figure
	for _, s := range strip.Shapes {
		if s.Hole && (!geom.Inside(outline, s.Figure) || geom.Distance(outline, s.Figure) < 0.5) {
			t.Errorf("%s\n%s touches the notch or the edge: %s", text, s.ID, outline)
		}
	}
	box := outline.Bounds()
	corners := func(f func(geom.Point) geom.Point) string {
		var all []string
		for piece := range geom.Paths(outline)[0].Pieces() {
			p := f(piece.From)
			all = append(all, fmt.Sprintf("%.4f %.4f", p.X, p.Y))
		}
		slices.Sort(all)
		return strings.Join(all, ", ")
	}
	flipX := func(p geom.Point) geom.Point { return geom.Pt(box.Min.X+box.Max.X-p.X, p.Y) }
	flipY := func(p geom.Point) geom.Point { return geom.Pt(p.X, box.Min.Y+box.Max.Y-p.Y) }
	right := corners(func(p geom.Point) geom.Point { return p })
	for way, wrong := range map[string]string{"face down": corners(flipX), "face down and upside down": corners(flipY),
		"upside down": corners(func(p geom.Point) geom.Point { return flipX(flipY(p)) })} {
		if wrong == right {
			t.Errorf("%s\nlooks the same %s: %s", text, way, outline)
		}
	}
	// Some corner of the outline lies in the quarter of head and foredge, inside the box.
	found := false
	for piece := range geom.Paths(outline)[0].Pieces() {
		p := piece.From
		if mirrored {
			p = flipX(p)
		}
		atHead := p.Y < box.Center().Y && p.X > box.Center().X
		found = found || atHead && (p.Y > box.Min.Y+1 && p.X < box.Max.X-0.5 && p.Y < box.Center().Y || p.X < box.Max.X-1 && p.Y > box.Min.Y+0.5)
	}
	if !found {
		t.Errorf("%s\nno notch near the corner of head and foredge: %s", text, outline)
	}
}

// A strip that is larger than the bed can't be cut in one piece, and that is an error, as it is of a guide.
func TestCardLargerThanTheBed(t *testing.T) {
	const text = "laser l { bed = 100 by 100; QUIET }\npanel q { width = 90; height = 140; thick = 3; row r on spine { count = 3; pitch = 20; hole = round 4; inset = 4 } }"
	for quiet, want := range map[string]bool{"": true, "quiet = too-large": false} {
		_, diags := layout.Card(mustSolve(t, strings.Replace(text, "QUIET", quiet, 1)))
		if got := strings.Contains(diagtest.Text(diags), "q.r, 16 mm by 140 mm, is larger than the laser's bed"); got != want {
			t.Errorf("%q: told %s", quiet, diagtest.Text(diags))
		}
	}
}
