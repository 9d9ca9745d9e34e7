package advice_test

import (
	"fmt"
	"strings"
	"testing"

	"foredge/eval/evaltest"
	"foredge/lang/diag/diagtest"
)

// Cast acrylic is 0.4 mm and a tenth of its thickness thicker or thinner than it
// is called (ISO 7823-1): 3 mm may be 2.3 to 3.7. It matters where an opening's
// size comes from the thickness, and where the wire just suits the board.
func TestThickTolerance(t *testing.T) {
	const cast = "material cast { thick-over = 0.4 + 0.1 * thick; thick-under = 0.4 + 0.1 * thick }\n"
	const nominal = cast + "stock sheet { material = cast; thick = 3 }\n"
	panel := func(more string) string {
		return "panel front { stock = sheet; width = 120; height = 180\n" + more + " }\n"
	}
	for _, c := range []struct {
		name, text string
		want       string
	}{
		{"a slot for the board", nominal + panel("cutout s { shape = slot 30 by thick }"),
			"front.s is 3 mm wide for a board sold as 3 mm, but a sheet of sheet may be 2.3 mm to 3.7 mm thick"},
		{"with too little play", nominal + panel("cutout s { shape = slot 30 by thick + 0.699 }"), "front.s is 3.699 mm wide"},
		{"with enough play", nominal + panel("cutout s { shape = slot 30 by thick + 0.7 }"), ""},
		{"a size of its own", nominal + panel("cutout s { shape = slot 30 by 3 }"), ""},
		{"through a name", nominal + panel("let fit = sheet.thick + 0.1\ncutout s { shape = slot 30 by fit }"), "front.s is 3.1 mm wide"},
		{"a row of slots", nominal + panel("row s on spine { count = 3; pitch = 40; inset = 20; hole = slot 20 by thick }"), "front.s is 3 mm wide"},
		{"a limit", nominal + panel("row s on spine { count = 3; pitch = 40; inset = 20; hole.along = 20; hole.across >= thick; prefer hole.across = 2 }"), "front.s is 3 mm wide"},
		{"of another panel's board", nominal + "stock card { thick = 1 }\npanel lid { stock = card; width = 50; height = 50; cutout s { shape = slot 30 by front.thick } }\n" + panel(""), "lid.s is 3 mm wide"},
		{"measured", cast + "stock sheet { material = cast; accuracy = 0.02; thick = 3.05, 3.1 }\n" + panel("cutout s { shape = slot 30 by thick }"), ""},
		{"of no known tolerance", "stock sheet { thick = 3 }\n" + panel("cutout s { shape = slot 30 by thick }"), ""},
		{"never thinner", strings.Replace(nominal, "; thick-under = 0.4 + 0.1 * thick", "", 1) + panel("cutout s { shape = slot 30 by thick }"),
			"but a sheet of sheet may be up to 3.7 mm thick"},
		{"in inches", "units in\n" + nominal + panel("cutout s { shape = slot 30 by thick }"), "as in thick = 0.12 ± 0.00079;"},
		{"silenced", nominal + panel("quiet = thick-tolerance; cutout s { shape = slot 30 by thick }"), ""},
	} {
		_, ds := evaltest.Solve(c.text, evaltest.Files{})
		if ds.HasErrors() {
			t.Errorf("%s: %s", c.name, diagtest.Text(ds))
			continue
		}
		got := diagtest.Text(ds)
		if c.want == "" && strings.Contains(got, "thick-tolerance") || !strings.Contains(got, c.want) {
			t.Errorf("%s: told %q, want %q", c.name, got, c.want)
		}
	}
}

// A ring that leaves the sheet's tolerance as play is told nothing of; one a
// hair narrower is.
func TestThickToleranceOfWire(t *testing.T) {
	const text = `material cast { thick-over = 0.7; thick-under = 0.7 }
stock sheet { material = cast; thick = 3 }
binding band { form = ring; ring = 16; wire = 1 }
panel front { width = 120; height = 180
  row wire on spine { count = 3; pitch = 40; inset = %v; hole = round 8; binding = band } }`
	told := func(inset float64) string {
		_, ds := evaltest.Solve(fmt.Sprintf(text, inset), evaltest.Files{})
		if ds.HasErrors() {
			t.Fatal(diagtest.Text(ds))
		}
		return diagtest.Text(ds)
	}
	// A board of T turns alone as long as its inset is at most sqrt(D² - T²):
	// 15.7164 for 3 mm, 15.5663 for 3.7.
	for inset, want := range map[float64]string{15.56: "", 15.57: "thick-tolerance", 15.71: "thick-tolerance", 15.72: "wire-close"} {
		got := told(inset)
		if want == "" && got != "" || !strings.Contains(got, want) || want == "wire-close" && strings.Contains(got, "thick-tolerance") {
			t.Errorf("at %v: %q, want %q", inset, got, want)
		}
	}
}
