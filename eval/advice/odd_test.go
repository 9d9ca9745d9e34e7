package advice_test

import (
	"fmt"
	"strings"
	"testing"

	"foredge/eval/evaltest"
	"foredge/lang/diag/diagtest"
)

// told is what is said of a design without errors.
func told(t *testing.T, text string) string {
	t.Helper()
	_, ds := evaltest.Solve(text, evaltest.Files{})
	if ds.HasErrors() {
		t.Fatal(diagtest.Text(ds))
	}
	return diagtest.Text(ds)
}

// A case is a design just on a threshold and one a little past it.
type threshold struct {
	name, good, bad string
	want            string // of the bad one
}

func tryThresholds(t *testing.T, all []threshold) {
	t.Helper()
	for _, c := range all {
		code, _, _ := strings.Cut(c.want, ":")
		if got := told(t, c.good); strings.Contains(got, "["+code+"]") {
			t.Errorf("%s: too early:\n%s", c.name, got)
		}
		got := told(t, c.bad)
		if _, says, _ := strings.Cut(c.want, ": "); strings.Count(got, "["+code+"]") != 1 || !strings.Contains(got, says) {
			t.Errorf("%s: want one %s, told\n%s", c.name, c.want, got)
		}
	}
}

// Kerfs: 5.2/least, a laser maker's table "Kerfs and Laser Thickness" (0.003 in), and
// 5.2/most, a cutting service's page "What Is Laser Kerf" (0.45 mm), authors unknown,
// undated. All that they publish is silent, and ten times and a tenth of a usual one isn't.
func TestOddKerf(t *testing.T) {
	laser := func(kerf string) string {
		return "laser bench { kerf = " + kerf + " }\npanel a { width = 100; height = 90 }"
	}
	stock := func(kerf string) string {
		return "stock s { thick = 3; kerf = " + kerf + " }\npanel a { stock = s; width = 100; height = 90 }"
	}
	for _, published := range []string{"0.076", "0.45", "0"} {
		if got := told(t, laser(published)+"\n"+stock(published)[:strings.Index(stock(published), "\n")]); got != "" {
			t.Errorf("%s mm: %s", published, got)
		}
	}
	tryThresholds(t, []threshold{
		{"wide", laser("0.5"), laser("0.501"), "odd-kerf: a cut 0.501 mm wide is none that a laser makes"},
		{"narrow", laser("0.05"), laser("0.0499"), "odd-kerf: a cut 0.0499 mm wide"},
		{"ten times", laser("0.18"), laser("1.8"), "odd-kerf: a cut 1.8 mm wide"},
		{"a tenth", laser("0.18"), laser("0.018"), "odd-kerf: a cut 0.018 mm wide"},
		{"of a stock", stock("0.5"), stock("0.6"), "odd-kerf: a cut 0.6 mm wide"},
		{"silenced", laser("1.8; quiet = odd-kerf"), laser("1.8; quiet = thin-web"), "odd-kerf: 1.8"},
		{"told once", laser("0.18"), "units in\n" + laser("0.18") + "\nstock s { thick = 3; kerf = 0.1 }\npanel b { stock = s; width = 9; height = 9 }", "odd-kerf: a cut 0.18 in wide"},
	})
}

// Speeds for a minute, where a second is meant: the limits are common practice, no source.
// 1200 and 18000 mm a minute, as cutting and engraving are set (from memory), are told, and
// their sixtieth isn't.
func TestOddSpeed(t *testing.T) {
	laser := func(lines string) string {
		return "laser bench { kerf = 0.2; " + lines + " }\npanel a { width = 100; height = 90 }"
	}
	stock := func(lines string) string {
		return "laser bench { kerf = 0.2 }\nstock s { thick = 3; " + lines + " }\npanel a { stock = s; width = 100; height = 90 }"
	}
	tryThresholds(t, []threshold{
		{"cut", laser("cut-speed = 400"), laser("cut-speed = 400.1"), "odd-speed: cut-speed = 400.1 mm a second is more than a laser of a workshop runs"},
		{"a minute", laser("cut-speed = 20"), laser("cut-speed = 1200"), "odd-speed: one for a minute is divided by 60, as in cut-speed = 20 mm;"},
		{"score", laser("score-speed = 400"), laser("score-speed = 401"), "odd-speed: score-speed = 401 mm"},
		{"mark", laser("mark-speed = 1000"), laser("mark-speed = 1001"), "odd-speed: mark-speed = 1001 mm"},
		{"engrave", laser("engrave-speed = 300"), laser("engrave-speed = 18000"), "odd-speed: as in engrave-speed = 300 mm;"},
		{"travel", laser("travel-speed = 2500"), laser("travel-speed = 2501"), "odd-speed: travel-speed = 2501 mm"},
		{"round a corner", laser("corner-speed = 400"), laser("corner-speed = 600"), "odd-speed: corner-speed = 600 mm"},
		{"a stop at corners", laser("corner-speed = 0"), laser("corner-speed = 0.05"), "odd-speed: corner-speed = 0.05 mm a second is less than a laser of a workshop runs"},
		{"all of one slip", laser("cut-speed = 20; engrave-speed = 300"), laser("cut-speed = 1200; engrave-speed = 18000"), "odd-speed: so is this engrave-speed, 18000 mm a second"},
		{"of a stock", stock("cut-speed = 20"), stock("cut-speed = 1200"), "odd-speed: quiet = odd-speed in the stock silences this"},
		{"silenced", laser("cut-speed = 1200; quiet = odd-speed"), laser("cut-speed = 1200; quiet = thin-web"), "odd-speed: 1200"},
		{"in inches", "units in\nlaser bench { kerf = 0.008; cut-speed = 20 mm }\npanel a { width = 4; height = 4 }",
			"units in\nlaser bench { kerf = 0.008; cut-speed = 20 }\npanel a { width = 4; height = 4 }", "odd-speed: cut-speed = 20 in a second"},
	})
	// What is too low is no slip of the same kind as what is too high.
	got := told(t, laser("mark-speed = 1001; travel-speed = 0.02; score-speed = 401; corner-speed = 0.03"))
	for _, want := range []string{"mark-speed = 1001 mm a second is more than", "so is this score-speed, 401 mm", "travel-speed = 0.02 mm a second is less than", "so is this corner-speed, 0.03 mm"} {
		if !strings.Contains(got, want) {
			t.Errorf("want %q, told\n%s", want, got)
		}
	}
	// A unit that makes a kerf too narrow makes no speed too high; one that makes it too
	// wide may make all too high that is.
	for _, c := range []struct {
		lines string
		want  bool
	}{
		{"kerf = 0.008; cut-speed = 401", true}, {"kerf = 5; cut-speed = 401", false},
		{"kerf = 5; cut-speed = 0.09", true}, {"kerf = 0.008; cut-speed = 0.09", false},
		{"kerf = 0.6; cut-speed = 401", true}, {"kerf = 0.04; cut-speed = 0.09", true}, // no unit makes these
	} {
		got := told(t, "laser bench { "+c.lines+" }\npanel a { width = 100; height = 90 }")
		if strings.Contains(got, "[odd-speed]") != c.want || !strings.Contains(got, "[odd-kerf]") {
			t.Errorf("%s: told\n%s", c.lines, got)
		}
	}
	kerfs := told(t, "laser bench { kerf = 0.6 }\nstock s { thick = 3; kerf = 0.04 }\nstock t { thick = 3; kerf = 0.03 }\npanel a { stock = s; width = 100; height = 90 }")
	if strings.Count(kerfs, "[odd-kerf]") != 2 || !strings.Contains(kerfs, "so is this kerf, 0.03 mm") || !strings.Contains(kerfs, "0.6 mm wide") || !strings.Contains(kerfs, "0.04 mm wide") {
		t.Errorf("of kerfs too wide and too narrow: told\n%s", kerfs)
	}
	both := told(t, "laser bench { kerf = 0.2; cut-speed = 401 }\nstock s { thick = 3; kerf = 0.04 }\npanel a { stock = s; width = 100; height = 90 }")
	if !strings.Contains(both, "[odd-speed]") || !strings.Contains(both, "[odd-kerf]") {
		t.Errorf("told\n%s", both)
	}
}

// 5.4/thickest: a page on what lasers cut, "Material Compatibility", author unknown,
// undated: with 130 W 18 mm of acrylic, which is silent, and less of all else.
func TestThickBoard(t *testing.T) {
	stock := func(thick string) string {
		return "stock s { thick = " + thick + " }\npanel a { stock = s; width = 100; height = 90 }\npanel b { stock = s; width = 100; height = 90 }"
	}
	tryThresholds(t, []threshold{
		{"of a stock", stock("20"), stock("20.01"), "thick-board: a is 20.01 mm thick: no laser"},
		{"of a panel", "panel a { width = 100; height = 90; thick = 9.4 }", "panel a { width = 100; height = 90; thick = 94 }", "thick-board: a is 94 mm thick"},
		{"beside a kerf too wide", "laser bench { kerf = 5 }\npanel a { width = 100; height = 90; thick = 94 }",
			"laser bench { kerf = 0.01 }\npanel a { width = 100; height = 90; thick = 94 }", "thick-board: a is 94 mm thick"},
	})
}

// A notebook that is bound by a wire and thicker than any coil that is sold goes round,
// or a large one that is thicker than half its width: a decimal point is off. 50 mm is the
// largest coil of a supplier's page, "What Gauge Are Plastic Binding Coils?", and 51 mm the
// largest comb of an encyclopedia's article on comb binding.
func TestThickNotebook(t *testing.T) {
	book := func(size, thick, more string) string {
		return "notebook log { accuracy = 0.05; " + size + "; thick = " + thick + "\n" + more + " }\npanel front covers log { }"
	}
	const wire = "row wire on spine { count = 24; hole = round 4; pitch = 8.47; first = 7; inset = 4 }"
	const a5, cube = "width = 148; height = 210", "width = 90; height = 90"
	tryThresholds(t, []threshold{
		{"with a wire", book(a5, "51", wire), book(a5, "51.1", wire), "wrong-scale: thick was taken as 51.1 mm, and all would fit as 5.11 mm"},
		{"94 for 9.4", book(a5, "9.4", ""), book(a5, "94", ""), "wrong-scale: thick was taken as 94 mm, and all would fit as 9.4 mm"},
		{"a sewn book", book(a5, "74", ""), book(a5, "74.1", ""), "wrong-scale: thick was taken as 74.1 mm"},
		{"a block of notes", book(cube, "90", ""), book(cube, "91", ""), "wrong-scale: "},
	})
}

// Two wires side by side are the least that a twin loop can be; how surely both were
// measured counts.
func TestNarrowPair(t *testing.T) {
	loop := func(pair, wire string) string {
		return fmt.Sprintf("panel front { width = 100; height = 200; thick = 2\n row wire on spine { count = 20; pitch = 8; inset = 3; hole = rect 4 by 4\n binding clip { form = loop; ring = 12; wire = %s; pair = %s } } }", wire, pair)
	}
	measured := func(pair string) string {
		return "notebook log { accuracy = 0.03; width = 100; height = 200; thick = 2\n" +
			"row wire on spine { count = 20; pitch = 8; first = 22; inset = 3; hole = rect 4 by 4 }\nbinding clip { form = loop; ring = 12; wire = 1; pair = " + pair + " } }\npanel front covers log { thick = 1 }"
	}
	tryThresholds(t, []threshold{
		{"stated", loop("2", "1"), loop("1.99", "1"), "narrow-pair: both wires of front.wire.clip reach 1.99 mm along the edge, and side by side two of 1 mm need 2 mm"},
		{"measured", measured("1.93"), measured("1.9"), "narrow-pair: both wires of log.clip reach 1.9 mm"},
	})
}

// A wire that is thicker than its holes doesn't go through whatever the board.
func TestTightWithoutBoard(t *testing.T) {
	with := func(hole, wire string) string {
		return "panel front { width = 100; height = 200\n row pins on spine { count = 3; pitch = 40; inset = 4; hole = " + hole + "\n binding own { " + wire + " } } }"
	}
	tryThresholds(t, []threshold{
		{"round", with("round 2", "ring = 20; wire = 2"), with("round 2", "ring = 20; wire = 2.01"), "wire-tight: 2.01 mm of wire through the thinnest board needs more"},
		{"a pair", with("rect 3 by 4", "form = loop; ring = 20; wire = 1; pair = 3"), with("rect 2.99 by 4", "form = loop; ring = 20; wire = 1; pair = 3"),
			"wire-tight: 3 mm of paired wires, each 1 mm thick, through the thinnest board needs more"},
	})
}
