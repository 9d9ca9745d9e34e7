package shelf_test

import (
	"testing"

	"foredge/lang/foretest"
)

// What the sources say is cut may be cut, and says what it gives off; none of it has a
// kerf, as no source gave one. The usual veneer lies within the range of Britannica's
// article on wood.
func TestMayBeCut(t *testing.T) {
	for _, f := range factsOf(t, "TestMayBeCut") {
		if f.thing == "" {
			continue
		}
		s := sheet(t, f.thing, 2)
		if s.Material.Never != "" || s.Material.GivesOff == "" || s.UsualKerf.Present() {
			t.Errorf("%s: %s is %+v", f.fact, f.thing, s)
		}
	}
	usual := try(t, "veneer-usual", "").get(t, "value")[0]
	if within := numbers(t, "5/veneer-range"); usual < within[0] || usual > within[1] {
		t.Errorf("veneer is %g mm, the range %v", usual, within)
	}
	// A web across the flutes, and of cork, is twice as wide as elsewhere.
	for _, name := range []string{"corrugated", "cork"} {
		foretest.Near(t, name, number(sheet(t, name, 3).LeastWeb), 6, 1e-9)
	}
	foretest.Near(t, "oak", number(sheet(t, "oak", 1.5).LeastWeb), 2, 1e-9)
}
