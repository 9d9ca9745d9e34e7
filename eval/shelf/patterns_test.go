package shelf_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"foredge/eval/evaltest"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
)

// What the tables of hole counts and margins show when laid side by side, and
// why David Spiel ("Coil Binders: Punching for Plastic Coil", Printing Impressions,
// February 2005) finds 44 round holes on 11 in ugly.
func TestMargins(t *testing.T) {
	end := func(thing string, sheet float64, count int) float64 {
		return try(t, thing, fmt.Sprintf("@120x%g spine; count = %d", sheet, count)).get(t, "end")[0]
	}
	want := numbers(t, "3.4/same-margin")[0]
	foretest.Near(t, "3:1 on A4", end("twin-loop-3", 297, 34), want, 1e-9)
	foretest.Near(t, "2:1 on A4", end("twin-loop-2", 297, 23), want, 1e-9)
	foretest.Near(t, "32 holes on letter", end("twin-loop-3", 279.4, 32), 25.4/3, 1e-9)

	left := numbers(t, "3.4/paper-left")
	for i, thing := range []string{"coil-4", "coil-2475"} {
		s := try(t, thing, "@120x279.4 spine; count = 44")
		foretest.Near(t, "paper left by "+thing, s.get(t, "first")[0], left[i], 0.005)
	}
}

// Where a count cannot be, the shelf's choice clashes with the sheet instead of
// being bent: 23 rings at 9/16 in on A4, and 23 holes at 2:1 on 11 in, as two of
// the sources have it, leave no paper.
func TestConflictingCounts(t *testing.T) {
	for thing, height := range map[string]string{"comb-a4-another-article": "297", "twin-loop-2-letter-third-page": "279.4"} {
		_, ds := evaltest.Solve("use bindings\npanel p { width = 210; height = "+height+"\nrow r on spine like "+thing+" }", evaltest.Files{})
		if !ds.HasErrors() || !strings.Contains(diagtest.Text(ds), "count") {
			t.Errorf("%s on %s mm: told\n%s", thing, height, diagtest.Text(ds))
		}
	}
}

// What is left between holes, against the sheet: a cutting service's page "What Is
// Laser Kerf" (author unknown, undated) wants at least the sheet's thickness, so 4:1 fails in 2 mm and 3:1 passes to
// 4.4 mm.
func TestLeastWebs(t *testing.T) {
	limits := numbers(t, "3.5/too-thin")
	for _, c := range []struct {
		thing string
		thick float64
		holds bool
	}{
		{"coil-4", limits[0], false}, {"coil-2475", limits[0], false}, {"coil-4", 1.9, true},
		{"twin-loop-3", limits[1], true}, {"twin-loop-3", 4.5, false}, {"twin-loop-2", 6, true},
	} {
		s := evaltest.Sound(t, fmt.Sprintf(`use bindings
use materials
stock sheet { material = greyboard; thick = %g }
panel p { width = 148; height = 210; row r on spine like %s { count = 16 } }`, c.thick, c.thing))
		least := number(s.Design().Panels[0].Stock.LeastWeb)
		foretest.Near(t, "least web", least, c.thick, 1e-9)
		if web := evaltest.Dimension(t, s, "p.r.web").Value; (web >= least) != c.holds {
			t.Errorf("%s in %g mm leaves %g of %g", c.thing, c.thick, web, least)
		}
	}
}

// Coils of 6 to 16 mm go through round holes at four to the inch (Anna C.
// Massey, "Plastic Spiral Binding: Problems Solved", 2007): their thread, from a supplier's table, is thinner than
// the hole.
func TestCoilsThroughHoles(t *testing.T) {
	hole := try(t, "coil-4", "").get(t, "hole.along")[0]
	limits := numbers(t, "3/coil-sizes")
	found := 0
	for _, size := range []float64{6, 8, 9, 12, 13, 16} {
		s := try(t, fmt.Sprintf("coil-%g-mm", size), "")
		if wire := s.get(t, "wire")[0]; !(wire < hole) {
			t.Errorf("a coil of %g has a thread of %g, the hole is %g", size, wire, hole)
		}
		if size == limits[0] || size == limits[1] {
			found++
		}
	}
	if found != 2 {
		t.Errorf("the ledger's limits are %v", limits)
	}
}

// A row of unequal gaps in a notebook: the pattern says what it was punched to,
// one gap was read; the cover's row lies on the same centres, and on a mirrored
// panel too.
func TestSixRings(t *testing.T) {
	s := evaltest.Sound(t, `use bindings
use papers
notebook planner like a5 {
  accuracy = 0.05
  row rings on spine like six-ring-70 { gap 3 = 70.0, 70.1; first = last; inset = 2.6, 2.7 }
}
panel front covers planner { ease = 0.3 }
panel back mirrors front`)
	foretest.Near(t, "gap 3", evaltest.Dimension(t, s, "planner.rings.gap.3").Value, 70.05, 1e-9)
	foretest.Near(t, "gap 2", evaltest.Dimension(t, s, "planner.rings.gap.2").Value, 19.05, 1e-9)
	foretest.Near(t, "inset", evaltest.Dimension(t, s, "planner.rings.inset").Value, 2.65, 1e-9)
	for _, panel := range []string{"front", "back"} {
		foretest.Near(t, panel+" gap 3", evaltest.Dimension(t, s, panel+".rings.gap.3").Value, 70.05, 1e-9)
		foretest.Near(t, panel+" run", evaltest.Dimension(t, s, panel+".rings.run").Value, 4*19.05+70.05, 1e-9)
		foretest.Near(t, panel+" hole", evaltest.Dimension(t, s, panel+".rings.hole.along").Value, 5.8, 1e-9)
	}
	d := s.Design()
	if a, b := d.Panels[0].Rows[0].Centers, d.Panels[1].Rows[0].Centers; len(a) != 6 || fmt.Sprint(a) != fmt.Sprint(b) {
		t.Errorf("the rows lie at %v and %v", a, b)
	}
	// The same read gap by gap, run and all: 4 gaps of 3/4 in are known, so the
	// whole misclosure of 0.1 is shared between the gap and the run.
	s = evaltest.Sound(t, `use bindings
notebook planner { accuracy = 0.05; width = 148; height = 210
  row rings on spine like six-ring-70 { gap 3 = 70; run = 146.3; first = last; inset = 2.6 } }`)
	foretest.Near(t, "gap 3 beside the run", evaltest.Dimension(t, s, "planner.rings.gap.3").Value, 70.05, 1e-9)
}

// In a notebook a pattern's inset is not taken over: nobody knows it until it is
// measured.
func TestInsetIsMeasured(t *testing.T) {
	_, ds := evaltest.Solve(`use bindings
notebook log { accuracy = 0.05; width = 148; height = 210
  row wire on spine like twin-loop-3 { count = 24; first = last } }
panel front covers log`, evaltest.Files{})
	if !ds.HasErrors() || !strings.Contains(diagtest.Text(ds), "inset") {
		t.Errorf("told\n%s", diagtest.Text(ds))
	}
}

// The groups of nine rings: three threes, 2 in between them.
func TestNineRings(t *testing.T) {
	at := try(t, "nine-ring", "@215.9x279.4 spine").get(t, "positions")
	for i := 3; i < len(at); i++ {
		foretest.Near(t, fmt.Sprintf("ring %d", i+1), at[i]-at[i-3], 3.5*25.4, 1e-9)
	}
	if len(at) != 9 || math.Abs(at[8]-at[0]-8.5*25.4) > 1e-9 {
		t.Errorf("the rings lie at %v", at)
	}
}
