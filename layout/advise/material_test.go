package advise_test

import (
	"strings"
	"testing"

	"foredge/eval/design"
	"foredge/eval/maybe"
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
	for want, s := range map[string]*design.Stock{
		"(odd is allowed here (a trial), but must not be cut: it bites)":                {Allow: "a trial", Material: design.Material{Name: "odd", Never: "it bites"}},
		"(odd is allowed here (by our list), though lists differ, and gives off steam)": {Allow: "by our list", Material: design.Material{Name: "odd", Ask: "lists differ", GivesOff: "steam"}},
		"(odd must not be cut: it bites)":                                               {Material: design.Material{Name: "odd", Never: "it bites"}},
		"(odd is to be asked about: lists differ)":                                      {Material: design.Material{Name: "odd", Ask: "lists differ"}},
		"(odd gives off steam, and burns at once)":                                      {Material: design.Material{Name: "odd", GivesOff: "steam", Burns: "at once"}},
		"(nobody has said what odd gives off)":                                          {Material: design.Material{Name: "odd"}},
		"(nobody has said what grey is made of)":                                        {Name: "grey"},
	} {
		again := *s // another of its wood, of which the same is said once
		again.At.Start = 9
		one := &design.Design{Panels: []design.Panel{{Stock: s}, {Stock: &again}}}
		if n := advise.Caution(one, false); !strings.Contains(n.Message, want) {
			t.Errorf("cautioned %s, want %s", n.Message, want)
		}
	}
	none := &design.Design{Panels: []design.Panel{{Name: "a"}, {Name: "b"}}}
	if n := advise.Caution(none, false); !strings.Contains(n.Message, "(nobody has said what a and b are made of)") {
		t.Errorf("cautioned %s", n.Message)
	}
	bound := &design.Design{Cases: []design.Case{{Name: "k", TurnIn: maybe.Is(15.0), Lining: maybe.Is(2.0), LiningStock: &design.Stock{Material: design.Material{Name: "card", GivesOff: "smoke"}}}}}
	if n := advise.Caution(bound, false); !strings.Contains(n.Message, "(card gives off smoke; nobody has said what k.covering is made of)") {
		t.Errorf("cautioned %s", n.Message)
	}
	paper := &design.Stock{Material: design.Material{Name: "paper", GivesOff: "smoke"}}
	for want, c := range map[string]design.Case{
		"(paper gives off smoke; nobody has said what k.spine is made of)":               {CoveringStock: paper},
		"(paper gives off smoke; nobody has said what k.spine and k.corner are made of)": {CoveringStock: paper, Bound: maybe.Is(design.Bound{CornerReach: maybe.Is(9.0)})},
		"(paper gives off smoke; nobody has said what k.side is made of)":                {SpineStock: paper, Bound: maybe.Is(design.Bound{CornerReach: maybe.Is(9.0)})},
	} {
		c.Name, c.TurnIn = "k", maybe.Is(15.0)
		if !c.Bound.Present() {
			c.Bound = maybe.Is(design.Bound{})
		}
		if n := advise.Caution(&design.Design{Cases: []design.Case{c}}, false); !strings.Contains(n.Message, want) {
			t.Errorf("cautioned %s, want %s", n.Message, want)
		}
	}
	none.Panels = append(none.Panels, design.Panel{Name: "c"}, design.Panel{Name: "d"}, design.Panel{Name: "e"})
	if n := advise.Caution(none, false); !strings.Contains(n.Message, "(nobody has said what a, b and 3 more are made of)") {
		t.Errorf("cautioned %s", n.Message)
	}
	if n := advise.Caution(d, true); n == nil || strings.Contains(n.Message, "steam") {
		t.Errorf("of a card: %+v", n)
	}
	d.Laser.Quiet = design.Quiet{"caution"}
	if n := advise.Caution(d, false); n != nil {
		t.Errorf("not silenced: %+v", n)
	}
}

// The whole has what the line of the caution names, and more: goggles, air assist and
// dust; each of its lines goes on a ticket, and none looks like that which names files.
func TestSafety(t *testing.T) {
	lines := advise.Safety()
	all := strings.Join(lines, "\n")
	for _, word := range []string{"law of your country", "rules of your workshop", "Light.", "goggles for its wavelength", "Fire.", "extinguisher", "Air assist",
		"Acrylic", "Corrugated board", "acetal", "Fumes.", "Exhaust", "Dust.", "Sand", "mask"} {
		if !strings.Contains(all, word) {
			t.Errorf("nothing of %s", word)
		}
	}
	for _, l := range lines {
		if len(l) > 100 || strings.HasPrefix(l, "To make") {
			t.Errorf("%q can't be a line of a ticket", l)
		}
	}
}
