package layout_test

import (
	"fmt"
	"testing"

	"foredge/lang/diag/diagtest"
	"foredge/layout"
)

// A guide is loose only where the edge of its own row isn't straight from corner to corner.
func TestGuideWhereTheEdgeIsStraight(t *testing.T) {
	const onePlace, firstOfTwo, lastOfTwo = "places = 1", "places = 2; place = 1", "places = 2; place = 2"
	tabs := func(edge, places string) string {
		return "tabs t on " + edge + " { " + places + "; extension = 8 }"
	}
	for _, test := range []struct {
		board string
		loose map[string]bool // edges of rows
	}{
		{"", nil},
		{"corners = radius 4", nil},
		{"arch = 6", map[string]bool{"head": true, "spine": true, "foredge": true}},
		{"corner head-foredge = scoop 6", map[string]bool{"head": true, "foredge": true}},
		{"corner tail-spine = scoop 6", map[string]bool{"tail": true, "spine": true}},
		{tabs("head", firstOfTwo), map[string]bool{"head": true, "foredge": true}},
		{tabs("head", lastOfTwo), map[string]bool{"head": true, "spine": true}},
		{tabs("head", onePlace), map[string]bool{"head": true}},
		{tabs("foredge", firstOfTwo), map[string]bool{"foredge": true, "tail": true}},
		{tabs("foredge", lastOfTwo), map[string]bool{"foredge": true, "head": true}},
	} {
		for _, edge := range []string{"head", "tail", "spine", "foredge"} {
			text := fmt.Sprintf("laser bench { kerf = 0; quiet = caution }\npanel x { width = 80; height = 100; thick = 3; %s\n  row q on %s { count = 2; hole = round 4; pitch = 10; inset = 14; first = 40 } }\n", test.board, edge)
			_, diags := layout.Guides(mustSolve(t, text))
			loose := false
			for _, d := range diags {
				loose = loose || d.Code == "guide-loose"
			}
			if loose != test.loose[edge] || diags.HasErrors() {
				t.Errorf("%q, row on %s: loose is %v, told %s", test.board, edge, loose, diagtest.Text(diags))
			}
		}
	}
}
