package glance_test

import (
	"bytes"
	"strings"
	"testing"

	"foredge/cmd/internal/glance"
	"foredge/eval/evaltest"
	"foredge/lang/foretest"
)

func shown(t *testing.T, text string) string {
	t.Helper()
	s, _ := evaltest.Solve(text, nil)
	var out bytes.Buffer
	foretest.Must(t, glance.Write(&out, s, "slip.fore"))
	return out.String()
}

const (
	measured = "notebook log { accuracy = 0.03; width = 148; height = 210; row wire on spine { count = 3; hole = round 5; first = 20; last = 20; inset = 6; pitch = 82.5 } }\n"
	cover    = "panel front covers log { ease = 0.4 }\n"
)

// What is shown of each kind of thing, and what is not.
func TestShown(t *testing.T) {
	for _, c := range []struct {
		what, text string
		want       []string // lines, in this order
		not        string
	}{
		{"a board alone", "panel front { width = 100; height = 200 }",
			[]string{"front: 100 by 200 mm", "", "Lengths are rounded. In full: foredge solve slip.fore front, or --all for every dimension."}, "±"},
		{"nothing to make", "let a = 3", []string{"Nothing is made here. foredge solve slip.fore --all lists every dimension."}, "rounded"},
		{"a size that is open", "panel front { width = 100 }", []string{"front: 100 by open mm"}, ""},
		{"one hole", "panel front { width = 100; height = 200; row nail on head { count = 1; hole = rect 4 by 6; inset = 8 } }",
			[]string{"  nail on head: 1 hole, 4 by 6 mm", "    left: spine 48, foredge 48, head 8 mm"}, "pitch"},
		{"hexagons", "panel front { width = 100; height = 200; row ring on spine { count = 2; hole = hex 6; inset = 8; pitch = 80 } }",
			[]string{"  ring on spine: 2 hexagonal holes, 6 mm across the flats, pitch 80 mm, 73.07 mm"}, ""},
		{"many gaps", "panel front { width = 100; height = 200; row ring on spine { count = 10; hole = round 6; inset = 8; gaps = 10, 11, 12, 10, 11, 12, 10, 11, 12 } }",
			[]string{"  ring on spine: 10 round holes, 6 mm wide, 9 unequal gaps"}, "gaps 10"},
		{"several of a board", "panel front { width = 100; height = 200; copies = 3 }", []string{"front: 100 by 200 mm, 3 of them"}, ""},
		{"a mirror image", "panel front { width = 100; height = 200; line fold { at = 20 }\nregion title { width = 50; height = 20 } }\npanel back mirrors front { without title }\npanel third like front { line fold { at = 21 } }",
			[]string{"  fold: 20 mm from spine", "  title: 50 by 20 mm", "back, mirrored: as front, without title", "third: 100 by 200 mm", "  fold: 21 mm from spine"}, ""},
		{"corners alike and not", "panel front { width = 100; height = 200; corners = radius 5 }\npanel back mirrors front\npanel third like front { corner head-spine = square }",
			[]string{"front: 100 by 200 mm", "back, mirrored: as front", "third: 100 by 200 mm"}, "third: as"},
		{"arches", "panel front { width = 100; height = 200; arch = 12 }\npanel back mirrors front { arch = 8 }",
			[]string{"front: 100 by 200 mm, its head arched by 12 mm", "back, mirrored: 100 by 200 mm, its head arched by 8 mm"}, "as front"},
		{"cutouts", "panel front { width = 100; height = 200; thick = 3; cutout a { shape = rect 30 by 4; rotate = 30 deg }\ncutout b { shape = round 9; open = tail }\ncutout c { shape = round 9; depth = 1.5; face = inside; head = 20 } }\npanel back mirrors front { a.rotate = 60 deg }",
			[]string{"  a: opening, 30 by 4 mm, turned by 30 deg", "  b: round opening, 9 mm wide, open to the tail", "  c: round recess, 9 mm wide, 1.5 mm deep on the inside", "  a: opening, 30 by 4 mm, turned by 60 deg"}, "as front"},
		{"past what it covers", measured + "panel front covers log { over-head = 2; over-tail = 2; over-foredge = 3 }",
			[]string{"  past log: head 2, tail 2, spine 0, foredge 3 mm"}, "flush"},
		{"readings and ease", measured + cover, []string{"front: 148 ± 0.04 by 210 ± 0.04 mm", "  flush with log at all edges",
			"    the readings leave a hole's place open by 0.05 mm; the ease takes up 0.2 mm", "      to each side", "",
			"± is how far the readings leave it open, 95 times in a hundred."}, "only"},
		{"too little ease", measured + "panel front covers log { ease = 0.04 }",
			[]string{"    the readings leave a hole's place open by 0.05 mm; the ease takes up only", "      0.02 mm to each side; foredge fit says what to do"}, ""},
		{"no ease", measured + "panel front covers log",
			[]string{"    the readings leave a hole's place open by 0.05 mm, and no ease takes that", "      up; foredge fit says what to do"}, "only"},
		{"a wire", strings.Replace(measured, "count = 3", "count = 3; wire = 4.98 exact", 1) + "panel front covers log { ease = 0.1 }",
			[]string{"    the readings leave a hole's place open by 0.05 mm; all holes clear the wire", "      with a chance of only 98.55 %; foredge fit says what to do"}, "ease takes"},
		{"what is known for certain", strings.NewReplacer("accuracy = 0.03; ", "", "148", "148 exact", "210", "210 exact", "= 20;", "= 20 exact;", "82.5", "82.5 exact", "inset = 6", "inset = 6 exact", "round 5", "round 5 exact").Replace(measured) + cover,
			[]string{"front: 148 by 210 mm", "    left: head 19.8, tail 19.8, spine 5.8 mm"}, "readings"},
		{"a measured notebook alone", measured, []string{"log, measured: 148 ± 0.04 by 210 ± 0.04 mm", "  wire on spine: 3 round holes, 5 mm wide, pitch 82.5 mm, 77.5 mm between them", "    left: head 20, tail 20, spine 6 mm"}, ""},
		{"inches", "units in\npanel front { width = 5 1/16; height = 8 }", []string{"front: 5.0625 by 8 in"}, ""},
	} {
		got := shown(t, c.text)
		lines := strings.Split(got, "\n")
		for _, want := range c.want {
			found := false
			for i, line := range lines {
				if line == want {
					found, lines = true, lines[i+1:]
					break
				}
			}
			if !found {
				t.Errorf("%s: no line %q, or too early, in\n%s", c.what, want, got)
			}
		}
		if c.not != "" && strings.Contains(got, c.not) {
			t.Errorf("%s: %q should not be there:\n%s", c.what, c.not, got)
		}
	}
}

// No line but the last is wider than a narrow window, whatever things are called.
func TestLinesAreNotWide(t *testing.T) {
	name := strings.Repeat("gulls-and-terns-", 3)
	text := "panel " + name + " { width = 100.123; height = 200.456\n" +
		"row " + name + " on spine { count = 8; hole = round 6.123; inset = 8.123; gaps = 10.123, 11.456, 12.789, 10.123, 11.456, 12.789, 10.123 }\n" +
		"region " + name + "b { width = 50.123; height = 20.456 } }"
	for _, line := range strings.Split(shown(t, text), "\n") {
		if n := len([]rune(line)); n > 80 && !strings.HasPrefix(line, "Lengths") {
			t.Errorf("%d columns: %s", n, line)
		}
	}
}
