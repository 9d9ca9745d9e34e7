package layout_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout"
)

// leastOf lays what is cut from the stock s at once, and gives how many sheets nothing can do without.
func leastOf(t *testing.T, text string) layout.Use {
	t.Helper()
	out, err := layout.Lay(t.Context(), []layout.Wanted{{Drawing: drawn(t, text)}}, layout.Supplies(mustSolve(t, text), drawn(t, text)), layout.Search{Effort: -1})
	foretest.Must(t, err)
	return out.Stocks[0]
}

// What is gone of a board, by a corner, an arch or an opening, may be another's place: no bound is above a plan that
// has one there.
func TestBoundsOfBoardsWithRoom(t *testing.T) {
	for _, c := range []struct {
		name, stock, panels string
		least               int
	}{
		{"a corner off", "size = 210 by 205.2; spacing = 2", `panel a { width = 100; height = 195; corner head-foredge = chamfer 60 }
panel b { width = 25; height = 25 }
panel c { width = 97.6; height = 195 }`, 1},
		{"an arch", "size = 210 by 130; spacing = 2", `panel a { width = 100; height = 119.8; arch = 49 }
panel b { width = 25; height = 25 }
panel c { width = 97.6; height = 119.8 }`, 1},
		{"an opening", "size = 210 by 300; spacing = 2", `panel a { width = 199; height = 289; cutout win { width = 160; height = 250 } }
panel b { width = 100; height = 100; copies = 2 }`, 1},
		{"an opening of what lies alone", "size = 200 by 290", `panel a { width = 199; height = 289; cutout win { width = 160; height = 250 } }
panel b { width = 100; height = 100; copies = 2 }`, 1},
		// Where nothing finds room there, they count by their sides.
		{"round corners", "size = 600 by 400", `panel a { width = 410; height = 250; corners = radius 6; copies = 3 }`, 3},
		{"round corners, alone", "size = 600 by 400", `panel a { width = 595; height = 320; corners = radius 6; copies = 5 }`, 5},
		{"openings too small for any", "size = 600 by 400", `panel a { width = 410; height = 250; cutout win { width = 300; height = 200 }; copies = 3 }`, 3},
	} {
		text := "laser l { bed = 600 by 400; kerf = 0.2 }\nstock s { thick = 3; " + c.stock + "; price = 7 }\n" + strings.NewReplacer("a {", "a { stock = s;", "b {", "b { stock = s;", "c {", "c { stock = s;").Replace(c.panels)
		if u := leastOf(t, text); u.LeastSheets != c.least || u.LeastCost.Or(0) > 7*float64(c.least) || u.LeastCost.Or(0) < 7*float64(c.least)-7 {
			t.Errorf("%s: at least %d sheets, for %v, want %d", c.name, u.LeastSheets, u.LeastCost, c.least)
		}
	}
}

// A sheet is divided into cells, of which each is filled by a rectangle, by a board with a corner off and
// what lies in that corner, or by a frame and what lies in its opening: no bound is above that one sheet.
func TestBoundsHoldAgainstPlansByOutline(t *testing.T) {
	r := rand.New(rand.NewPCG(16, 16))
	for range 150 {
		const kerf = 0.2
		spacing, margin := []float64{0.5, 2, 10}[r.IntN(3)], float64(r.IntN(2)*6)
		wide, high, cols, rows := 200+float64(r.IntN(100)), 150+float64(r.IntN(100)), 1+r.IntN(3), 1+r.IntN(2)
		cell := func(all float64, n int) float64 { return (all-2*margin-float64(n-1)*spacing)/float64(n) - kerf - 1e-3 }
		w, h := cell(wide, cols), cell(high, rows)
		var b strings.Builder
		fmt.Fprintf(&b, "laser l { bed = 600 by 400; kerf = %g }\nstock s { thick = 3; size = %g by %g; margin = %g; spacing = %g }\n", kerf, wide, high, margin, spacing)
		for i := range cols * rows {
			switch cut, sides := min(w, h)*(0.2+0.5*r.Float64()), ""; r.IntN(3) {
			case 0:
				fmt.Fprintf(&b, "panel p%d { stock = s; width = %.4f; height = %.4f }\n", i, w, h)
			case 1:
				// A square in the corner that is cut off at 45 degrees stands half of that off from each side.
				sides = fmt.Sprintf("corner head-foredge = chamfer %.4f", cut)
				fmt.Fprintf(&b, "panel p%d { stock = s; width = %.4f; height = %.4f; %s }\n", i, w, h, sides)
				if small := cut/2 - spacing - 2*kerf; small > 3 {
					fmt.Fprintf(&b, "panel q%d { stock = s; width = %.4f; height = %.4f }\n", i, small, small)
				}
			case 2:
				fmt.Fprintf(&b, "panel p%d { stock = s; width = %.4f; height = %.4f; cutout win { width = %.4f; height = %.4f } }\n", i, w, h, w-10, h-10)
				if iw, ih := w-10-2*spacing-2*kerf, h-10-2*spacing-2*kerf; min(iw, ih) > 3 {
					fmt.Fprintf(&b, "panel q%d { stock = s; width = %.4f; height = %.4f }\n", i, iw, ih)
				}
			}
		}
		if u := leastOf(t, b.String()); u.LeastSheets > 1 || u.LeastArea > wide*high+1e-6 {
			t.Fatalf("at least %d sheets of %g mm²:\n%s", u.LeastSheets, u.LeastArea, b.String())
		}
	}
}
