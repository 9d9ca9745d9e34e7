package fitview

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"foredge/eval"
	"foredge/eval/fit"
	"foredge/lang/parse"
	"foredge/lang/source"
)

func reportOf(t *testing.T, text string) *fit.Report {
	t.Helper()
	tree, ds := parse.File(source.New("t.fore", []byte(text)))
	m, more := eval.Build(tree, nil)
	ds.Add(more)
	s, more := m.Solve()
	if ds.Add(more); ds.HasErrors() {
		t.Fatal(ds[0].Message)
	}
	return fit.Of(s)
}

// What is asked first of all is told first, once for covers that fare alike: 5,
// 12 and 13 make a right triangle, so that the first cover just turns.
func TestTurnsAreToldFirst(t *testing.T) {
	const log = `notebook log { width = 148 exact; height = 210 exact; thick = 6 exact
	  binding loop { ring = 13 exact; wire = 1 exact }
	  row wire on spine { count = 24; pitch = 8 exact; first = 10 exact; hole = rect 4 by 6 exact; inset = 2.5 exact } }
	`
	for _, c := range []struct{ text, want string }{
		{log + "panel front covers log { thick = 3 }\npanel back mirrors front",
			"front and back on log.loop, a ring of 13 mm inside and 1 mm of wire: the wire closes, and the board turns right round to " +
				"lie back to back. With 3 mm of board on both sides and 6 mm of leaves the closed book is 12 mm thick. The wire needs a " +
				"hole of at least 1 by 4.38 mm (it is 4 by 6 mm). It takes boards of at most 3 mm: beyond that, the edge could not pass " +
				"what else is on the wire. With boards of this thickness there is room for 6 mm of leaves."},
		{log + "panel front covers log { thick = 3.2 }\npanel back mirrors front", "the board can't turn right round"},
		{log + "panel front covers log { thick = 4 }\npanel back mirrors front", "the wire can't close round the book"},
		{log + "panel front covers log { thick = 3; row wire { hole = rect 4 by 2.5 } }", "but the hole is too small for the wire"},
		{log + "panel front covers log { thick = 3; row wire { hole = rect 0.9 by 4.3 } }", "it takes no board, however thin"},
		{log + "panel front covers log { thick = 3; row wire { hole = round 4.2 } }", "The wire needs a hole at least 2.66 mm wide (it is 4.2 mm)."},
		{log + "panel front covers log", "front on log.loop, a ring of 13 mm inside and 1 mm of wire: whether it turns right round " +
			"can't be told, because nothing says how thick front is."},
	} {
		var b strings.Builder
		r := reportOf(t, c.text)
		if err := WriteText(&b, r, false); err != nil {
			t.Fatal(err)
		}
		text := b.String()
		for strings.HasPrefix(text, "> ") { // only advice comes before
			_, text, _ = strings.Cut(text, "\n\n")
		}
		first, rest, _ := strings.Cut(text, "\n\n")
		if got := strings.Join(strings.Fields(first), " "); !strings.Contains(got, c.want) || !strings.HasPrefix(rest, "log, a notebook") {
			t.Errorf("%s\ntells %q\nwant  %q", c.text, got, c.want)
		}
		b.Reset()
		if err := WriteJSON(&b, "t.fore", r); err != nil {
			t.Fatal(err)
		}
		var data struct {
			Turns []struct {
				Binding, Missing string
				Turns            bool
			}
		}
		if err := json.Unmarshal([]byte(b.String()), &data); err != nil || len(data.Turns) != len(r.Turns) || data.Turns[0].Binding != "log.loop" {
			t.Errorf("%v: %+v", err, data)
		}
	}
}

// What nothing tells is null in the data, no measure of 0 and no "no".
func TestUnknownTurnsAreNull(t *testing.T) {
	const log = `notebook log { width = 148 exact; height = 210 exact
	  binding loop { ring = 13 exact; pair = 2 exact; wire = 1 exact }
	  row wire on spine { count = 5; pitch = 8 exact; first = 10 exact; hole = rect 4 by 6 exact; inset = 2.5 exact } }
	`
	answers := []string{"closes", "turns", "passes", "limit", "margin", "least-along", "least-across", "largest-inset", "largest-board",
		"largest-leaves", "least-ring"}
	for _, c := range []struct {
		text string
		null []string
	}{
		{log + "panel front covers log", append([]string{"board", "leaves", "usual-ring", "sold", "lead", "step"}, answers...)},
		{log + "panel front covers log { thick = 3 }", []string{"leaves", "usual-ring", "sold", "lead", "step"}},
	} {
		var b strings.Builder
		if err := WriteJSON(&b, "t.fore", reportOf(t, c.text)); err != nil {
			t.Fatal(err)
		}
		var data struct {
			Turns []map[string]any
		}
		if err := json.Unmarshal([]byte(b.String()), &data); err != nil || len(data.Turns) == 0 {
			t.Fatalf("%s\nis told as %s, %v", c.text, b.String(), err)
		}
		for key, value := range data.Turns[0] {
			if want := slices.Contains(c.null, key); want != (value == nil) {
				t.Errorf("%s\n%s is told as %v", c.text, key, value)
			}
		}
	}
}

func TestUnknownPairIsNull(t *testing.T) {
	var b strings.Builder
	r := reportOf(t, `notebook log { width = 148 exact; height = 210 exact
	  row wire on spine { count = 5; pitch = 8 exact; first = 10 exact; hole = rect 4 by 6 exact; inset = 2.5 exact } }`)
	if err := WriteJSON(&b, "t.fore", r); err != nil || !strings.Contains(b.String(), `"pair": null`) {
		t.Errorf("told as %s, %v", b.String(), err)
	}
}
