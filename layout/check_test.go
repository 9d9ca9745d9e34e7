package layout_test

import (
	"fmt"
	"strings"
	"testing"

	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
	"foredge/layout"
)

// What can't be cut as it stands is told, and what can is not. It is long because
// it is one table.
func TestChecks(t *testing.T) {
	const row = "row wire on spine { count = 10; hole = round 4; pitch = 8; inset = 5 }\n" // 5 to 9 from the spine
	for _, c := range []struct {
		name, text string
		want       string // severity, code and a part of the message; "" for nothing
	}{
		{"on a bed of its size", "laser bench { bed = 210 by 150; kerf = 0 }\npanel a { width = 210; height = 150 }", ""},
		{"on a bed if turned", "laser bench { bed = 150 by 210; kerf = 0 }\npanel a { width = 210; height = 150 }", ""},
		{"larger than the bed", "laser bench { bed = 200 by 300; kerf = 0 }\npanel a { width = 210; height = 210 }",
			"error too-large a, 210 mm by 210 mm, is larger than the laser's bed of 200 mm by 300 mm"},
		{"larger than the sheet", "laser bench { kerf = 0 }\nstock grey { size = 200 by 100; thick = 2 }\npanel a { stock = grey; width = 210; height = 90 }",
			"error too-large a, 210 mm by 90 mm, is larger than a sheet of grey, which is 200 mm by 100 mm"},
		{"covering larger than the bed", "laser bench { bed = 200 by 200; kerf = 0 }\npanel a { width = 190; height = 190; thick = 2 }\ncase case { lay = a; turn-in = 15 }",
			"error too-large case.covering, 220 mm by 220 mm, is larger than the laser's bed"},

		{"holes apart", pair("row wire on spine { count = 5; hole = rect 4 by 4; pitch = 5; inset = 5 }"), ""},
		{"holes touch", pair("row wire on spine { count = 5; hole = rect 4 by 4; pitch = 4; inset = 5 }"),
			"warning touching hole 1 of wire and hole 2 of wire of front touch"},
		{"rows overlap", pair(row + "row pins on spine { count = 2; hole = round 4; pitch = 8; inset = 6 }"),
			"error overlap hole 5 of wire and hole 1 of pins of front overlap"},
		{"hole touches the edge", pair("row wire on spine { count = 2; hole = round 4; pitch = 20; inset = 0 }"),
			"warning touching hole 1 of wire touches the edge of front"},
		{"cutout past the edge", pair("cutout thumb { shape = round 200; spine = 10 }"), ""}, // no room: the solver's own error
		{"cutout in a hole", pair(row + "cutout eye { shape = rect 20 by 20; spine = 8; head = tail }"), "error overlap"},
		{"hole cut off by a corner", pair("corners = radius 30\nrow wire on spine { count = 12; hole = round 6; pitch = 12; inset = 1 }"),
			"error outside hole 1 of wire doesn't lie inside front"},

		{"clear kept", pair(row + "region title { spine = 12; width = 50; height = 20; clear = 3 }"), ""},
		{"clear of a hole", pair(row + "region title { spine = 11.9; width = 50; height = 20; clear = 3 }"),
			"error clear title is 2.9 mm from hole"},
		{"clear of the edge", pair("region title { spine = 30; foredge = 2; height = 20; clear = 3 }"),
			"error clear title is 2 mm from the edge of front"},
		{"clear of a cutout for itself", pair(row + "cutout eye { shape = round 20; spine = 11; clear = 3 }"),
			"error clear eye is 2.5602 mm from hole"},
		{"a cutout needs no distance from itself", pair("cutout eye { shape = round 20; clear = 3 }"), ""},
		{"region on a hole", pair(row + "region title { spine = 8; width = 50; height = 20 }"), "error overlap title lies on hole"},
		{"region beside holes", pair(row + "region title { spine = 9; width = 50; height = 20 }"), ""},

		{"corners too large", pair("corners = radius 51"), "error corner-large two corners of front need 102 mm of a side that is only 100 mm long"},
		{"radius of a hole too large", pair("row wire on spine { count = 2; hole = rect 4 by 6 radius 2.1; pitch = 20; inset = 5 }"),
			"error corner-large a hole of 4 mm by 6 mm can't have corners of radius 2.1 mm"},
		{"radius of a cutout too large", pair("cutout eye { shape = rect 20 by 30 radius 11 }"),
			"error corner-large a cutout of 20 mm by 30 mm can't have corners of radius 11 mm"},
		{"radius of a frame too large", pair("region r { width = 20; height = 30; mark frame { radius = 11 } }"),
			"error corner-large a frame of 20 mm by 30 mm can't have corners of radius 11 mm"},
		{"holes of no size", pair("row wire on spine { count = 2; hole.along = 4; hole.across <= 0; pitch = 20; inset = 5 }"),
			"error nothing-left the holes of wire come out at 4 mm by 0 mm"},
		{"a cutout of no size", pair("cutout eye { width = 10; height = 10 - 10 }"), "error nothing-left eye comes out at 10 mm by 0 mm"},
		{"a panel of no size", "panel a { width = 250; height = 0.001 / 3 }", "error nothing-left a is 250 mm by 0.0003 mm"},
		{"a frame of no size", pair("region r { width = 20; height = 0; mark frame }"), "error no-room r is 20 mm by 0 mm"},
		{"holes as wide as the kerf", "laser bench { kerf = 0.4 }\n" + pair("row pins on spine { count = 2; hole = round 0.4001; pitch = 20; inset = 5 }"),
			"error kerf hole 1 of pins of front is narrower than the laser's cut of 0.4 mm"},
		{"line beside the panel", pair("line fold { from = spine; at = 101 }"), "error outside fold lies 101 mm from the spine of front"},
		{"called as the edge", pair("line outline { from = spine; at = 10 }"), "error taken-name outline is what the cut file calls the edge of front"},
		{"nothing to cut", "panel front when 1 = 2 { width = 100; height = 100 }", "note nothing no panel is left"},
		{"frame over a rounded corner", pair("corners = radius 30\nregion r { spine = 0; head = 0; width = 50; height = 50; mark frame }"),
			"error outside the mark in r runs over a corner of front"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, early := solved(c.text)
			if d == nil {
				if c.want == "" && early.HasErrors() {
					return
				}
				t.Fatal(diagtest.Text(early))
			}
			before := fmt.Sprintf("%+v", *d)
			dr, got := layout.Draw(d)
			if !got.HasErrors() {
				_, more := dr.ForLaser()
				got.Add(more)
			}
			said := lines(got)
			if strings.Contains(said, "\n") {
				t.Errorf("told more than once:\n%s", said)
			}
			if c.want == "" && said != "" || c.want != "" && !strings.Contains(said, c.want) {
				t.Errorf("said:\n%s\nwant %q", said, c.want)
			}
			for _, x := range got {
				if x.Severity == diag.Error && (x.Help == "" || x.Span.IsZero()) {
					t.Errorf("%q has no place or no hint", x.Message)
				}
			}
			// Drawing changes nothing in the design, so that it says the same again.
			if after := fmt.Sprintf("%+v", *d); after != before {
				t.Errorf("drawing has changed the design:\n%s\n%s", before, after)
			}
		})
	}
}

// lines writes what was told, the note about kerf left out.
func lines(ds diag.List) string {
	var all []string
	for _, d := range ds {
		if d.Code != "no-kerf" {
			all = append(all, fmt.Sprintf("%v %v %s", d.Severity, d.Code, d.Message))
		}
	}
	return strings.Join(all, "\n")
}
