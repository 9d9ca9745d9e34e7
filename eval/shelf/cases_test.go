package shelf_test

import (
	"fmt"
	"math"
	"testing"

	"foredge/eval/evaltest"
	"foredge/lang/foretest"
)

// A case by a source's rule as a real design: boards about the pages, strip,
// joints and covering. The values were worked out by hand from the sources'
// formulas.
func TestWorkedCases(t *testing.T) {
	// 4.1/printers-page ("How to calculate the hard cover size for a book block?", a
	// printer's page of 2012): board h + 6 by w - 3.5, strip s + 2t - 0.5, gap 10,
	// turn-in 17; A5 pages, 12 thick, in 2 mm board.
	s := evaltest.Sound(t, `use boards
notebook block { width = 148 exact; height = 210 exact; thick = 12 exact }
panel front covers block like board-printers-page { thick = 2 }
panel back mirrors front
panel strip like strip-printers-page { let bulk = block.thick; thick = 2; height = front.height }
gap joint like joint-printers-page
case case { lay = back, joint, strip, joint, front; turn-in = turn-in-printers-page }`)
	board, strip, covering := numbers(t, "4.2/board"), numbers(t, "4.2/strip"), numbers(t, "4.2/covering")
	for _, c := range []struct {
		name string
		want float64
	}{
		{"front.width", board[0]}, {"front.height", board[1]}, {"back.width", board[0]}, {"back.height", board[1]},
		{"strip.width", strip[0]}, {"strip.height", strip[1]},
		{"case.width", covering[0] - 2*17}, {"case.height", covering[1] - 2*17}, {"case.turn-in", 17},
	} {
		foretest.Near(t, c.name, evaltest.Dimension(t, s, c.name).Value, c.want, 1e-9)
	}

	// Brian Sawyer, "Build Cover Boards", 2006, in inches.
	s = evaltest.Sound(t, `units in
use boards
notebook block { width = 5.5 exact; height = 8.5 exact; thick = 0.5 exact }
panel front covers block like board-set-back { thick = 1/8 }
panel strip like strip-two-boards { let bulk = block.thick; thick = 1/8; height = front.height }`)
	want := numbers(t, "4.2/set-back")
	foretest.Near(t, "board", evaltest.Dimension(t, s, "front.width").Value, want[0], 1e-9)
	foretest.Near(t, "board", evaltest.Dimension(t, s, "front.height").Value, want[1], 1e-9)
	foretest.Near(t, "strip", evaltest.Dimension(t, s, "strip.width").Value, want[2], 1e-9)

	// S. J. Vaughn, Printing and Bookbinding for Schools, 1912: longer by 1/4 in.
	s = evaltest.Sound(t, `units in
use boards
notebook block { width = 6 exact; height = 9 exact }
panel front covers block like board-handbook-1919`)
	want = numbers(t, "4.2/handbook")
	foretest.Near(t, "board", evaltest.Dimension(t, s, "front.width").Value, want[0], 1e-9)
	foretest.Near(t, "board", evaltest.Dimension(t, s, "front.height").Value, want[1], 1e-9)
	for _, over := range []string{"head", "tail", "foredge"} {
		foretest.Near(t, "square", evaltest.Dimension(t, s, "front.over-"+over).Value, want[2], 1e-9)
	}

	// 4.2/identity: board width = the pages + the square - how far it is set in.
	for _, name := range []string{"printers-page", "set-back", "setup-guide", "book-printer", "handbook-1919", "half-cloth"} {
		s := evaltest.Sound(t, fmt.Sprintf(`use boards
notebook block { width = 151 exact; height = 200 exact }
panel p covers block like board-%s { thick = 2.2 }`, name))
		d := func(n string) float64 { return evaltest.Dimension(t, s, "p."+n).Value }
		foretest.Near(t, name, d("width"), 151+d("over-foredge")+d("over-spine"), 1e-9)
		if d("over-spine") >= 0 {
			t.Errorf("%s isn't set in", name)
		}
	}
}

// 4.1/rounded-sample: "Hardcover book cases: Are you sure they fit? II", 2012, measured
// 0.95 in over the rounded back of a block of 13/16 in. A third of a circle comes to
// within 5 % of that, and never short of it.
func TestRoundedSpine(t *testing.T) {
	sample := numbers(t, "4.1/rounded-sample")
	arc := try(t, "strip-third-of-circle", fmt.Sprintf("let bulk = %g", sample[0])).get(t, "width")[0]
	if off := arc/sample[1] - 1; off < 0 || off > 0.05 {
		t.Errorf("the strip is %g wide, measured were %g", arc, sample[1])
	}
	// The chord of a third of a circle of radius 1 is the root of 3.
	foretest.Near(t, "of the chord", try(t, "strip-third-of-circle", "let bulk = 100").get(t, "width")[0], 100*2*math.Pi/3/math.Sqrt(3), 0.01)
}

// The conflicting sources are choices: each joint, strip, corner, comb and 2:1
// count of the shelf differs from the others of its sort where its source does.
func TestChoices(t *testing.T) {
	joints := map[string]string{"joint-printers-page": "", "joint-handicraft": "", "joint-cover-page": "", "joint-forum-least": "",
		"joint-eight-inch": "", "joint-two-boards": "let board = 2.2", "joint-quarter-and-board": "let board = 2.2",
		"joint-three-boards": "let board = 2.2", "joint-four-boards": "let board = 2.2", "joint-quarter-of-spine": "let spine-width = 22",
		"joint-swing": "let board = 2.2", "joint-case": "let board = 2.2", "joint-flat-back": "", "joint-american-groove": "", "joint-tight": ""}
	seen := map[float64]string{}
	for name, with := range joints {
		w := try(t, name, with).get(t, "width")[0]
		if other := seen[w]; other != "" {
			t.Errorf("%s and %s both give %g", name, other, w)
		}
		seen[w] = name
	}
	strips := map[float64]string{}
	for _, name := range []string{"strip-printers-page", "strip-two-boards", "strip-one-board"} {
		strips[try(t, name, "let bulk = 12; thick = 2").get(t, "width")[0]] = name
	}
	if len(strips) != 3 {
		t.Errorf("the strips are %v", strips)
	}
	for _, pair := range [][2]string{{"comb-a4", "comb-a4-another-article"}, {"twin-loop-2-letter", "twin-loop-2-letter-third-page"},
		{"twin-loop-3-a5", "twin-loop-3-a5-23"}, {"twin-loop-3-a6", "twin-loop-3-a6-17"}} {
		if a, b := try(t, pair[0], "").get(t, "count")[0], try(t, pair[1], "").get(t, "count")[0]; a == b {
			t.Errorf("%s and %s both have %g", pair[0], pair[1], a)
		}
	}
	for _, three := range [][2]string{{"three-hole", "three-hole-near"}, {"three-hole-wide", "three-hole-near"}} {
		if a, b := try(t, three[0], "").get(t, "centre")[0], try(t, three[1], "").get(t, "centre")[0]; a-b < 1 {
			t.Errorf("%s and %s lie at %g and %g", three[0], three[1], a, b)
		}
	}
	for _, pair := range [][3]string{{"organiser-80-126", "organiser-80-127", "height"}, {"organiser-95-170", "organiser-95-171", "height"},
		{"catalogue-card-75", "catalogue-card-76", "width"}} {
		if a, b := try(t, pair[0], "").get(t, pair[2])[0], try(t, pair[1], "").get(t, pair[2])[0]; a == b {
			t.Errorf("%s and %s are both %g", pair[0], pair[1], a)
		}
	}
	for _, pair := range [][2]string{{"mitre-handbook", "mitre-lessons"}, {"twin-loop-3-up-to", "twin-loop-3-up-to-one-page"}, {"coil-over-book", "coil-over-book-same-page"}} {
		if a, b := try(t, pair[0], "").get(t, "value")[0], try(t, pair[1], "").get(t, "value")[0]; a == b {
			t.Errorf("%s and %s are both %g", pair[0], pair[1], a)
		}
	}
}
