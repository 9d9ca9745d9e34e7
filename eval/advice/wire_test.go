package advice_test

import (
	"strings"
	"testing"

	"foredge/eval/evaltest"
	"foredge/lang/diag/diagtest"
)

// A wire is warned of just past what it bears, once for panels of one size, and
// not where that is silenced. The limits are worked out in package wire's tests; a
// ring of radius 5 comes 1 mm nearer at the faces of a 6 mm board than in its
// middle (3, 4 and 5 make a right triangle).
func TestWires(t *testing.T) {
	const design = `binding ring { ring = RING; wire = 1 mm }
panel front { width = 100; height = 200; thick = THICK; MORE
  row pins on spine { count = 3; pitch = 40; inset = INSET; binding = ring; hole = HOLE } }
`
	panel := func(ring, thick, inset, hole, more string) string {
		return strings.NewReplacer("RING", ring, "THICK", thick, "INSET", inset, "HOLE", hole, "MORE", more).Replace(design)
	}
	for _, c := range []struct {
		name, text string
		code       string // "" if there is nothing to tell
		told       []string
	}{
		{"all is well", panel("10", "6", "4", "rect 1 by 2", ""), "", nil},
		{"the hole is too small", panel("10", "6", "4", "rect 1 by 1.99", ""), "wire-tight",
			[]string{"1 mm along and 1.99 mm across", "1 mm of wire through 6 mm of board needs more", "make them at least 1 mm along and 2 mm across", "in the panel silences this"}},
		{"a round hole", panel("10", "6", "4", "round 1.99", ""), "wire-tight", []string{"round, 1.99 mm wide", "make them at least 2 mm wide"}},
		{"the hole, silenced", panel("10", "6", "4", "rect 1 by 1.99", "quiet = wire-tight"), "", nil},
		{"the edge reaches too far in", panel("10", "6", "9", "rect 1 by 2", ""), "wire-close",
			[]string{"ring can't close round this book", "the ring is 10 mm inside", "6 mm thick (one board of 6 mm, leaves not counted)", "a ring of at least"}},
		{"that, silenced", panel("10", "6", "9", "rect 1 by 2", "quiet = wire-close"), "", nil},
		{"two of one size", panel("10", "6", "4", "rect 1 by 1.99", "") + "panel back mirrors front\n", "wire-", nil},
		{"nothing says how thick", strings.Replace(panel("10", "6", "9", "rect 1 by 2", ""), "thick = 6; ", "", 1), "", nil},
		{"in inches", "units in\n" + panel("10 mm", "6 mm", "4 mm", "rect 1 mm by 1.9 mm", ""), "wire-tight", []string{"make them at least 0.04 in along and 0.079 in across"}},
	} {
		_, ds := evaltest.Solve(c.text, evaltest.Files{})
		if c.code == "" {
			if len(ds) > 0 {
				t.Errorf("%s: %s", c.name, diagtest.Text(ds))
			}
			continue
		}
		if len(ds) != 1 || ds.HasErrors() || !strings.HasPrefix(string(ds[0].Code), c.code) {
			t.Errorf("%s: want one %s, got\n%s", c.name, c.code, diagtest.Text(ds))
			continue
		}
		for _, want := range c.told {
			if !strings.Contains(ds[0].Message+"\n"+ds[0].Help, want) {
				t.Errorf("%s: nothing says %q:\n%s", c.name, want, diagtest.Text(ds))
			}
		}
	}
}

// Two covers on a ring turn round each other: half way the edges of both must
// pass, with the leaves between them.
func TestTurning(t *testing.T) {
	const design = `notebook log { width = 148 exact; height = 210 exact; thick = LEAVES exact
  binding ring { ring = 16 exact; wire = 1 exact }
  row pins on spine { count = 3; pitch = 40 exact; first = 40 exact; inset = 5 exact; hole = round 5 exact } }
panel front covers log { thick = 3 }
panel back mirrors front
`
	told := func(leaves string) string {
		_, ds := evaltest.Solve(strings.Replace(design, "LEAVES", leaves, 1), evaltest.Files{})
		return diagtest.Text(ds)
	}
	if got := told("4"); got != "" {
		t.Errorf("with 4 mm of leaves: %s", got)
	}
	got := told("8")
	for _, want := range []string{"wire-turn", "front can't turn right round on log.ring", "8 mm of leaves and two boards of 3 mm", "its edge and theirs need 5 mm + 5 mm",
		"a ring of at least", "or boards of at most"} {
		if !strings.Contains(got, want) {
			t.Errorf("with 8 mm of leaves nothing says %q:\n%s", want, got)
		}
	}
	if strings.Count(got, "[wire-turn]") != 1 {
		t.Errorf("told more than once:\n%s", got)
	}
}
