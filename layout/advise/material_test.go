package advise_test

import (
	"strings"
	"testing"

	"foredge/eval/design"
	"foredge/lang/diag/codes"
	"foredge/layout/advise"
)

// A caution is short, names what the materials give off, each once, and can be
// silenced. A card is cut from no material of the design's.
func TestCaution(t *testing.T) {
	d := &design.Design{}
	for _, name := range []string{"mine", "mine", "other"} {
		d.Panels = append(d.Panels, design.Panel{Stock: &design.Stock{Material: design.Material{Name: name, GivesOff: "steam"}}})
		d.Panels[len(d.Panels)-1].Stock.At.Start = len(d.Panels)
	}
	n := advise.Caution(d, false)
	if n == nil || !strings.Contains(n.Message, "(mine gives off steam; other gives off steam)") || len(n.Message) > 200 || n.Severity.String() != "note" || n.Code != "caution" {
		t.Fatalf("cautioned %+v", n)
	}
	if n.Help != "" || !n.Span.IsZero() || strings.Contains(n.Message, "\n") {
		t.Errorf("the caution takes more than a line: %+v", n)
	}
	more, _ := codes.Find(n.Code)
	for _, word := range []string{"exhaust", "extinguisher"} {
		if !strings.Contains(n.Message, word) {
			t.Errorf("nothing of %s: %s", word, n.Message)
		}
	}
	for _, word := range []string{"exhaust", "extinguisher", "rules", "maker"} {
		if !strings.Contains(more.Do, word) {
			t.Errorf("nothing of %s: %s", word, more.Do)
		}
	}
	if n := advise.Caution(d, true); n == nil || strings.Contains(n.Message, "steam") {
		t.Errorf("of a card: %+v", n)
	}
	d.Laser.Quiet = design.Quiet{"caution"}
	if n := advise.Caution(d, false); n != nil {
		t.Errorf("not silenced: %+v", n)
	}
}
