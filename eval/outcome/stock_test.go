package outcome_test

import (
	"fmt"
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

// A stock that is like another is cut from its wood, unless it says something else of the sheets
// or of how many there are.
func TestWoodOfStocks(t *testing.T) {
	for line, want := range map[string]string{
		"stock board { thick = 3 }": "board 0 0",
		"stock oak { thick = 3; quantity = 2; offcuts = 90 by 80 }; stock board like oak { spacing = 4 }":                                          "oak 2 1",
		"stock oak { thick = 3; quantity = 2 }; stock o like oak { bridge = 1; bridge-below = 40 }; stock board like o { margin = 2; kerf = 0.1 }": "oak 2 0",
		"stock oak { thick = 3; quantity = 2 }; stock board like oak { margin = 2; thick = 4 }":                                                    "board 0 0",
		"stock oak { thick = 3; quantity = 2 }; stock board like oak { margin = 2 }; board.thick = 4":                                              "board 0 0",
		"stock oak { thick = 3; quantity = 2 }; stock board like oak { margin = 2 }; oak.size = 600 by 300":                                        "board 0 0",
		"stock oak { thick = 3; quantity = 2 }; stock board like oak { margin = 2 }; oak.spacing = 7":                                              "oak 2 0",
		"stock oak { thick = 3; quantity = 2; offcuts = 90 by 80 }; stock board like oak { quantity = 5 }":                                         "board 5 0",
		"stock oak { thick = 3; quantity = 2 }; stock o like oak { price = 3 }; stock board like o { margin = 1 }":                                 "o 0 0",
		"stock oak { let t = 3; thick = t; quantity = 2 }; stock board like oak { let t = 6 }":                                                     "board 0 0",
		"stock oak { thick = 3; quantity = 2 }; stock board like oak { thick = 6 / 2; spacing = 4 }":                                               "oak 2 0",
		"stock oak { thick = 3; size = 609.6 by 279.4; quantity = 2 }; stock board like oak { size = 24 in by 11 in }":                             "oak 2 0",
		"stock oak { thick = 3; size = 609.6 by 279.4; quantity = 2 }; stock board like oak { size = 24 in by 279 }":                               "board 0 0",
		"stock oak { thick = 3 }; oak.quantity = 2; stock board like oak { margin = 2 }":                                                           "oak 2 0",
		"stock oak { thick = 3; quantity = 2 }; stock board like oak { margin = 2 }; board.quantity = 1":                                           "board 1 0",
		"stock oak when 1 = 2 { thick = 3; quantity = 2 }; stock board like oak { margin = 1 }":                                                    "oak (3 mm) 2 0",
		"stock oak when 1 = 2 { thick = 3; quantity = 2 }; stock board like oak { thick = 4 }":                                                     "board 0 0",
		"stock oak when 1 = 1 { thick = 3; quantity = 2 }; stock board like oak { margin = 1 }":                                                    "oak (3 mm) 2 0",
	} {
		d := evaltest.Sound(t, line+"\npanel front { width = 100; height = 90; stock = board }").Design()
		k := d.Panels[0].Stock
		if got := fmt.Sprintf("%s %d %d", k.Wood, k.Quantity.Or(0), len(k.Offcuts)); got != want {
			t.Errorf("%s is %s, want %s", line, got, want)
		}
	}
}
