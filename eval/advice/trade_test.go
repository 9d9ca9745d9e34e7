package advice_test

import (
	"fmt"
	"strings"
	"testing"
)

// wired is a book of two boards of 2 mm and 6 mm of leaves, 10 mm in all, on a wire.
func wired(form string, ring, pitch float64) string {
	return fmt.Sprintf(`notebook log {
  width = 148 exact; height = 210 exact; thick = 6 exact
  binding wire { form = %s; ring = %v exact; wire = 1 exact }
  row holes on spine { count = 15; pitch = %v exact; first = 6 exact; hole = slot 5 by 6 exact; inset = 3 exact }
}
panel front covers log { thick = 2 }
panel back mirrors front
`, form, ring, pitch)
}

// What binders give a book: a loop 3/16 in larger ("Requirements: wire", a bindery's page,
// author unknown, undated), a coil 4 mm larger (a page on coils of 4 July 2022). Twice as
// much is far too large (common practice, no source).
func TestSizeByTheTrade(t *testing.T) {
	tryThresholds(t, []threshold{
		{"loop", wired("loop", 14.7625, 12.7), wired("loop", 14.762, 12.7), "wire-snug: a book that is 10 mm thick (6 mm of leaves and two boards of 2 mm) gets a loop of 14.77 mm"},
		{"what is sold", wired("loop", 14.7625, 12.7), wired("loop", 14.5, 12.7), "wire-snug: take a loop of 15.875 mm inside (loop-5-8 on the shelf)"},
		{"coil", wired("coil", 14, 8), wired("coil", 13.99, 8), "wire-snug: gets a coil of 14 mm"},
		{"large loop", wired("loop", 29.525, 12.7), wired("loop", 29.53, 12.7), "wire-loose: log.wire is far too large for this book: it is 29.53 mm inside"},
		{"large coil", wired("coil", 28, 8), wired("coil", 28.01, 8), "wire-loose: is what is sold for it"},
	})
	for _, silent := range []string{
		strings.Replace(wired("loop", 12, 12.7), "thick = 6 exact", "", 1),                           // nothing says how thick the leaves are
		strings.ReplaceAll(wired("ring", 14, 12.7), "form = ring; ", ""),                             // rings go by other numbers
		strings.Replace(wired("loop", 14, 12.7), "count = 15", "count = 7", 1),                       // no wire for a whole edge
		strings.Replace(wired("loop", 14, 12.7), "{ thick = 2", "{ thick = 2; quiet = wire-snug", 1), // as they wish
	} {
		if got := told(t, silent); strings.Contains(got, "[wire-snug]") {
			t.Errorf("%s\ntold\n%s", silent, got)
		}
	}
}

// Three loops to the inch: up to 5/8 in by a binder's page of 13 February 2018, 9/16 in by
// a wire maker's "How It Works"; the more lenient counts. Four coils to the inch: up to
// 16 mm, Anna C. Massey, "Plastic Spiral Binding: Problems Solved", 2007.
func TestPitchByTheTrade(t *testing.T) {
	const three, four = 25.4 / 3, 25.4 / 4
	tryThresholds(t, []threshold{
		{"loop on three", wired("loop", 15.875, three), wired("loop", 15.9, three), "wire-pitch: log.wire is 15.9 mm inside, more than a loop on holes 8.467 mm apart is made in"},
		{"an inch on three", wired("loop", 25.4, 12.7), wired("loop", 25.4, three), "wire-pitch: larger ones take two to the inch"},
		{"coil on four", wired("coil", 16, four), wired("coil", 16.01, four), "wire-pitch: log.wire is 16.01 mm inside, more than a coil on holes 6.35 mm apart"},
		{"between three and two", wired("loop", 25.4, 10.58), wired("loop", 25.4, 10.57), "wire-pitch: holes 10.57 mm apart"},
		{"between four and three", wired("coil", 18, 6.8), wired("coil", 18, 6.79), "wire-pitch: holes 6.79 mm apart"},
		{"coil on three", wired("coil", 18, three), wired("coil", 18, four), "wire-pitch: 16 mm is the largest coil on four holes to the inch"},
	})
}

// That a wire is too large for its pitch rests on nothing else: it is told of boards and
// wires of which nobody says how thick they are, and beside what else doesn't suit.
func TestPitchWhateverElse(t *testing.T) {
	const three = 25.4 / 3
	large := wired("loop", 17, three)
	for name, text := range map[string]string{
		"no board":      strings.Replace(large, "thick = 2", "", 1),
		"no wire":       strings.Replace(large, "; wire = 1 exact", "", 1),
		"no leaves":     strings.Replace(large, "thick = 6 exact", "", 1),
		"doesn't close": strings.Replace(large, "thick = 6 exact", "thick = 30 exact", 1),
	} {
		if got := told(t, text); strings.Count(got, "[wire-pitch]") != 1 {
			t.Errorf("%s: told\n%s", name, got)
		}
	}
}

// What binders take stands beside what the ring's circle asks for, with the next size
// that is sold: a book of 10 mm takes a loop of 14.7625 mm, and 5/8 in are sold.
func TestNextSizeBesideTheLeast(t *testing.T) {
	got := told(t, wired("loop", 10.5, 12.7))
	for _, want := range []string{"[wire-", "a ring of at least", "binders give this book a loop of 14.77 mm, 4.7625 mm more than it is thick (a bindery's requirements for wire)",
		"the next that is sold is a loop of 15.875 mm inside (loop-5-8 on the shelf)"} {
		if !strings.Contains(got, want) {
			t.Errorf("nothing says %q:\n%s", want, got)
		}
	}
	if strings.Contains(got, "wire-snug") {
		t.Errorf("told twice:\n%s", got)
	}
}

// A cover on the holes of a wire is asked about once, where nothing says which wire it is
// or how thick the leaves are, and only if its boards take room.
func TestWireUnsaid(t *testing.T) {
	book := func(notebook, row, front string) string {
		return "notebook log { width = 148 exact; height = 210 exact; " + notebook + "\n row wire on spine { hole = round 4 exact; inset = 4 exact; first = 6 exact; " + row + " } }\n" +
			"panel front covers log { " + front + " }\npanel back mirrors front"
	}
	const three = "count = 15; pitch = 8.4667 exact"
	asked := "wire-unsaid: do the old loops close over two boards of 3 mm?"
	const clip = "; binding clip { form = loop; ring = 25 exact; wire = 1 exact }"
	const two = "; binding loop { ring = 24 exact; wire = 1 exact; form = loop }"
	tryThresholds(t, []threshold{
		{"board", book("", three, "thick = 0.99"), book("", three, "thick = 1"), "wire-unsaid: two boards of 1 mm"},
		{"nothing said", book("thick = 6 exact"+clip, three, "thick = 3"), book("", three, "thick = 3"), asked},
		{"no wire said", book("thick = 6 exact"+clip, three, "thick = 3"), book("thick = 6 exact", three, "thick = 3"), "wire-unsaid: nothing says which wire it is: do"},
		{"no leaves said", book("thick = 6 exact"+clip, three, "thick = 3"), book(clip, three, "thick = 3"), "wire-unsaid: nothing says how thick the leaves are: do"},
		{"no wire said, so that is to be stated", book("thick = 6 exact"+clip, three, "thick = 3"), book("thick = 6 exact", three, "thick = 3"), "wire-unsaid: as in binding loop {"},
		{"no leaves said, so these are", book("thick = 6 exact"+clip, three, "thick = 3"), book(clip, three, "thick = 3"), "wire-unsaid: as in thick = 9.4: foredge"},
		{"one of two to be named", book("thick = 6 exact"+clip+two, three+"; binding = clip", "thick = 3"), book("thick = 6 exact"+clip+two, three, "thick = 3"),
			"wire-unsaid: name it in the braces of log.wire, as in binding = clip: foredge"},
		{"holes", book("", "count = 7; pitch = 8.4667 exact", "thick = 3"), book("", "count = 8; pitch = 8.4667 exact", "thick = 3"), asked},
		{"pitch", book("", "count = 15; pitch = 8.53 exact", "thick = 3"), book("", "count = 15; pitch = 8.52 exact", "thick = 3"), asked},
	})
}

// The rules are those that the shelf has for designs: its numbers are just on their
// thresholds.
func TestTradeAsTheShelfSays(t *testing.T) {
	const book = `use bindings
panel front { width = 148; height = 210; thick = 2; quiet = thin-web
  row a on spine { count = 15; pitch = PITCH; first = 6; hole = slot 5 by 6; inset = 3
    binding clip { form = FORM; ring = RING; wire = 1 } } }`
	const leaves = `use bindings
notebook log { width = 148 exact; height = 210 exact; thick = 8 exact
  row a on spine { count = 15; pitch = 12.7 exact; first = 6 exact; hole = slot 5 by 6 exact; inset = 3 exact } }
binding wire { form = FORM; ring = 10 mm + RING; wire = 1 }
panel front covers log { thick = 2; row a { binding = wire } }`
	with := func(text, form, ring string) string {
		return strings.NewReplacer("FORM", form, "RING", ring, "PITCH", "1/3 in").Replace(text)
	}
	tryThresholds(t, []threshold{
		{"loop", with(leaves, "loop", "loop-over-book"), with(leaves, "loop", "loop-over-book - 0.001 mm"), "wire-snug: wire is snug"},
		{"coil", with(leaves, "coil", "coil-over-book"), with(leaves, "coil", "coil-over-book - 0.001 mm"), "wire-snug: wire is snug"},
		{"three to the inch", with(book, "loop", "twin-loop-3-up-to-one-page"), with(book, "loop", "twin-loop-3-up-to-one-page + 0.001 mm"), "wire-pitch: more than a loop on holes 8.467 mm apart"},
	})
}
