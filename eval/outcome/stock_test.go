package outcome_test

import (
	"testing"

	"foredge/eval/evaltest"
)

// A stock under a `when` says what it is, as another of its name may be there for
// the next order.
func TestChosenStocksSayWhatTheyAre(t *testing.T) {
	for line, want := range map[string]string{
		"stock board { material = birch-ply; thick = 3 }":            "board",
		"stock board when 1 = 1 { material = birch-ply; thick = 3 }": "board (birch-ply, 3 mm)",
		"stock board when 1 = 1 { thick = 1/8 in }":                  "board (3.175 mm)",
		"stock board when 1 = 1 { size = 600 by 300 }":               "board",
		// What says nothing of its own is what it is like.
		"stock oak { thick = 3 }; stock board like oak when 1 = 1":                            "oak",
		"stock oak { thick = 3 }; stock plate like oak; stock board like plate { }":           "oak",
		"stock oak when 1 = 1 { thick = 3 }; stock board like oak":                            "oak (3 mm)",
		"stock oak { thick = 3 }; stock board like oak when 1 = 1 { spacing = 4 }":            "board (3 mm)",
		"stock oak { thick = 3 }; stock board like oak; board.size = 600 by 300":              "board",
		"stock oak { thick = 3 }; stock board like oak; board.thick = 4":                      "board",
		"stock oak { thick = 3 }; stock board like oak; oak.size = 600 by 300":                "board",
		"stock oak { thick = 3 }; stock plate like oak { price = 4 }; stock board like plate": "plate",
	} {
		d := evaltest.Sound(t, "use materials\n"+line+"\npanel front { width = 100; height = 90; stock = board }").Design()
		if got := d.Panels[0].Stock.Name; got != want {
			t.Errorf("%s is called %q, want %q", line, got, want)
		}
	}
}
