package layout_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

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
	edge, ok := outline.Figure.(geom.Rect)
	if !ok || outline.Op != layout.Cut || outline.Hole {
		t.Fatalf("the strip is the %v of %s", outline.Op, outline.Figure)
	}
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
		if !geom.Inside(edge, s.Figure) || geom.Distance(edge, s.Figure) < 3 {
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
// shows the holes as far from both as the panel does.
func TestCardOnEdges(t *testing.T) {
	for edge, want := range map[string][2]string{
		"spine":   {"rect 0 0, 17 by 150", "rect 5 10, 4 by 6"},
		"foredge": {"rect 0 0, 17 by 150", "rect 8 10, 4 by 6"},
		"head":    {"rect 0 0, 100 by 17", "rect 10 5, 6 by 4"},
		"tail":    {"rect 0 0, 100 by 17", "rect 10 8, 6 by 4"},
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
	wantFigure(t, dr, "back.wire.outline", "rect 27 0, 19 by 150")
	wantFigure(t, dr, "back.wire.1", "rect 35 10, 4 by 6")
}

// A strip is never wider than its panel, allows for the laser's kerf, and is an
// error where there is no row to try on.
func TestCardLimits(t *testing.T) {
	const narrow = "panel p { width = 12; height = 80; row wire on spine { count = 3; hole = round 4; pitch = 9; inset = 4 } }"
	dr := card(t, "laser bench { kerf = 0.2 }\n"+narrow)
	wantFigure(t, dr, "p.wire.outline", "rect 0 0, 12 by 80")
	cut, diags := dr.ForLaser()
	if len(diags) > 0 {
		t.Error(diagtest.Text(diags))
	}
	wantFigure(t, cut, "p.wire.outline", "rect 0 0, 12.2 by 80.2")
	wantFigure(t, cut, "p.wire.1", fmt.Sprintf("circle 6.1 %v, radius 1.9", 40-9+0.1))
	if _, diags = layout.Card(mustSolve(t, pair(""))); !strings.Contains(lines(diags), "error no-row") {
		t.Errorf("a design without rows: %s", lines(diags))
	}
}
