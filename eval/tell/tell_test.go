package tell_test

import (
	"regexp"
	"strings"
	"testing"

	"foredge/eval/evaltest"
	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
)

const (
	log = "notebook log { accuracy = 0.03; width = 148 exact; height = 210 exact\n" +
		"row wire on spine { count = 3; hole = rect 4 by 4 exact; inset = 5 exact; READINGS } }\n"
	row   = "panel front { width = 100; height = 200; row r on spine { LINES; hole = rect 4 by 4; inset = 5 } }\n"
	fold  = "panel wrap { width = 100; height = 200; thick = 3; lattice fold { turn = 180 deg; height = 200; LINES } }\n"
	board = "panel front { LINES }\n"
)

// Each kind of problem that solving finds is told by its code, where it stands,
// with what a maker needs to know.
func TestProblems(t *testing.T) {
	for _, c := range []struct {
		name, design, lines string
		code, at            string
		told                []string // in the message, its notes or its help
	}{
		{"two lines", board, "height = 200; width = 100; width = 90 + 20", "clash", "width = 90 + 20",
			[]string{"these 2 lines can't all hold", "width = 100", "the others leave front.width at 100 mm; this line asks for 110 mm: 10 mm too far", "change or take out one of these lines"}},
		{"a limit", board, "height = 200; width = 100; width >= 110", "clash", "width >= 110",
			[]string{"this line asks for at least 110 mm"}},
		{"one line", board, "height = 200; width = 100; width + 2 = width + 3", "clash", "width + 2 = width + 3",
			[]string{"can't hold", "it contradicts what always holds for such a thing"}},
		{"what was measured", log + "panel front covers log { LINES }", "width = 140; over-spine = 0; over-foredge = 0", "clash", "over-foredge = 0",
			[]string{"measured: width = 148 exact", "the others leave front.over-foredge at -8 mm"}},
		{"a stock", "stock birch { thick = 3 }\npanel front { stock = birch; width = 100; height = 200\n" +
			"row r on spine { count = 2; pitch = 9; hole.along = 4; inset = 5; LINES } }", "hole.across = 5; hole.across = thick", "clash", "hole.across = thick",
			[]string{"these 3 lines can't all hold", "thick = 3", "hole.across = 5"}},
		{"a stock before what stands in the panel", "stock birch { thick = 3 }\nlet most = birch.thick\npanel front { stock = birch; width = 100; height = 200; LINES }",
			"thick = most - 1", "clash", "thick = most - 1", []string{"thick = most - 1 can't hold", "misses by at least 1 mm", "front.thick = birch.thick", "it contradicts what is covered or cut from"}},
		{"closed and past an edge", board, "width = 100; height = 200; cutout c { shape = round 22; head = -2 }", "clash", "head = -2",
			[]string{"head = -2 can't hold", "write open = head too"}},
		{"a recess past an edge", board, "width = 100; height = 200; cutout c { shape = round 22; depth = 1; head = -2 }", "clash", "head = -2",
			[]string{"head = -2 can't hold", "it may reach the head by a distance of 0"}},
		{"open to another edge", board, "width = 100; height = 200; cutout c { shape = round 22; open = foredge; head = -2 }", "clash", "head = -2",
			[]string{"head = -2 can't hold", "that is the foredge", "write open = head instead"}},
		{"a count that isn't whole", row, "pitch = 40; first = 10; last = 20", "count", "row r",
			[]string{"front.r.count comes out at 5.15, and a count must be whole", "state one number fewer in this row"}},
		{"most that must not be chosen", row, "count = most; pitch = 40; first = 10; last = 21", "count", "count = most",
			[]string{"and a count must be whole", "leave most nothing to choose"}},
		{"a huge count", row, "count = 20000; pitch = 10", "too-many", "count = 20000", []string{"a row has at most 10000 holes", "a unit may be missing"}},
		{"a count below 0", row, "count = -1; pitch = 40", "negative", "count = -1", []string{"a count can't be below 0"}},
		{"no end to most", row, "count = most", "unbounded", "count = most", []string{"nothing stated keeps the holes apart", "state the pitch"}},
		{"no room", row, "count = most; pitch = 40; first >= 150", "no-hole", "count = most",
			[]string{"front.r is centred, and so has no number of holes with which it keeps its limits", "first >= 150"}},
		{"room, but no whole number", row, "count = most; web >= 3; web <= 3.01; first = 5; last = 5", "no-hole", "count = most",
			[]string{"front.r has no number of holes with which all its lines hold", "first = 5", "web <= 3.01"}},
		{"no room in the middle beside what follows", board, "width = 100; height = 150; cutout c { shape = round 10; tail >= r.last }; " +
			"row r on spine { hole = round 4; inset = 4; count = most; pitch = 19; first <= 5 }", "no-hole", "count = most",
			[]string{"front.r is centred, and so has no number of holes with which it keeps its limits", "first <= 5"}},
		{"the inside of a style that nothing is like", board + "style look { cutout c { width = 10; height = 10; face = inside } }\n", "width = 100; height = 200", "recess", "inside",
			[]string{"state its depth, as in depth = 2,"}},
		{"links", fold, "width = 60; links = 2.5", "count", "links = 2.5", []string{"it must be a whole number from 1 up"}},
		{"rows that don't fill", fold, "radius = 14; link = 9; end = 4; rows = 5", "count", "rows = 5",
			[]string{"wrap.fold.rows comes out at", "by what else is stated, and this line asks for 5"}},
		{"links of a width", fold, "links = 15; width = 40", "clash", "width = 40", []string{"the others give wrap.fold 15 links and a width of 53.9308 mm, and it then bends to a radius of 14.3239 mm"}},
		{"a width that no turn of the links leaves", fold, "links = 5; width = 30", "clash", "width = 30",
			[]string{"the others give wrap.fold 5 links and a width of"}},
		{"no solution", board, "height = 200; width * width = 0 - 4", "no-solution", "width * width = 0 - 4", []string{"no value of front.width makes this hold"}},
		{"several solutions", board, "height = 200; width * width = 30 mm * width - 200 mm * 1 mm", "several-solutions", "width * width = 30 mm * width - 200 mm * 1 mm",
			[]string{"there are several solutions for front.width", "front.width = 10 mm", "front.width = 20 mm", "add a limit"}},
		{"dividing by 0", board, "height = 200; let gap = height - 200; width = height * height / gap", "impossible", "width = height * height / gap",
			[]string{"front.width can't be worked out", "divides by 0"}},
		{"the root of what is below 0", board, "height = 200; width = sqrt((100 - height) * 1 mm)", "impossible", "width = sqrt((100 - height) * 1 mm)",
			[]string{"takes the root of a number below 0"}},
		{"open", board, "height = 200", "open", "panel front", []string{"nothing decides front.width", "state front.width"}},
		{"open within limits", board, "height = 200; width >= 20; width <= 30", "open", "panel front", []string{"(from 20 mm to 30 mm is possible)"}},
		{"open from a limit", board, "height = 200; width >= 20", "open", "panel front", []string{"(at least 20 mm)"}},
		{"open together", row, "count = 5", "open", "row r", []string{"they move together", "or front.r.pitch"}},
		{"open and not read", strings.Replace(log, "READINGS", "first = 20", 1) + "panel front covers log { }", "", "open", "row wire",
			[]string{"measure log.wire."}},
		{"backwards", board, "height = 200; floor(width) = 20", "backwards", "floor(width) = 20", []string{"doesn't give front.width: floor, ceil and nearest only work forwards", "state front.width"}},
		{"open before floor", board, "height = 200; region r { width = 5; height = floor(front.width / 2) }", "open", "panel front", []string{"nothing decides front.width", "only work forwards: what they take"}},
		{"a limit that wishes break", board, "prefer height = 100; prefer width = 90; width * height >= 40000; width + height <= 400", "limit", "prefer height = 100",
			[]string{"this wish can't be met: nothing near it was found that keeps width * height >= 40000"}},
	} {
		text := strings.NewReplacer("LINES", c.lines, "READINGS", "first = 10 exact; pitch = 40 exact").Replace(c.design)
		_, ds := evaltest.Solve(text, evaltest.Files{})
		expect(t, c.name, ds, diag.Error, c.code, c.at, c.told)
	}
}

// How well readings agree is told by how unlikely their disagreement is.
func TestReadings(t *testing.T) {
	const three = "notebook n { accuracy = 0.05; width = 100 exact; height = HEIGHT\n" +
		"row r on spine { count = 3; hole = rect 4 by 4 exact; first = 20; inset = 5 exact; pitch = 40; last = LAST } }"
	for _, c := range []struct {
		name, height, last string
		severity           diag.Severity
		told               []string // nothing if the readings agree
	}{
		// 20 + 4 + 80 + 96 = 200.
		{"they agree", "200", "96.05", 0, nil},
		{"they hardly agree", "200", "96.18", diag.Warning, []string{"the readings of n don't agree as well as the stated accuracy allows", "measure it once more"}},
		{"they contradict each other", "200", "98", diag.Error, []string{"the readings of n contradict each other", "was read as", "the others imply"}},
		{"another unit", "200", "96 in", diag.Error, []string{"last was taken as 96 in, and agrees with the others as 96 mm", "write the unit after the number, as in last = 96 mm"}},
		{"centimetres", "200", "9.6", diag.Error, []string{"last was taken as 9.6 mm, and agrees with the others as 9.6 cm", "write the unit after the number, as in last = 9.6 cm"}},
	} {
		_, ds := evaltest.Solve(strings.NewReplacer("HEIGHT", c.height, "LAST", c.last).Replace(three), evaltest.Files{})
		if c.told == nil {
			if len(ds) > 0 {
				t.Errorf("%s: %s", c.name, diagtest.Text(ds))
			}
			continue
		}
		expect(t, c.name, ds, c.severity, "readings", "", c.told)
	}
}

// A check that fails tells its message and what its sides came to.
func TestChecks(t *testing.T) {
	const design = "panel front { width = 100; height = 200\nCHECK }"
	for _, c := range []struct {
		check string
		told  []string
	}{
		{`check width < 90 else "too wide for the slip case"`, []string{"too wide for the slip case", "width is 100 mm", "change the lines that give it, or the check"}},
		{"check width = height", []string{"this check doesn't hold", "width is 100 mm", "height is 200 mm"}},
		{"check width > 100 or height <= 199.99", []string{"width is 100 mm", "height is 200 mm"}},
		{"check width / (height - 200) > 3", []string{"width / (height - 200) can't be worked out: it divides by 0"}},
		{"check sqrt((width - 200) * 1 mm) > 3", []string{"can't be worked out: it takes the root of a number below 0"}},
		{`check "Ada" = "Bo"`, []string{"this check doesn't hold"}},
	} {
		_, ds := evaltest.Solve(strings.Replace(design, "CHECK", c.check, 1), evaltest.Files{})
		expect(t, c.check, ds, diag.Error, "check", c.check, c.told)
	}
	for _, check := range []string{"check width >= 100", "check not width > 100 and height = 20 cm"} {
		if _, ds := evaltest.Solve(strings.Replace(design, "CHECK", check, 1), evaltest.Files{}); len(ds) > 0 {
			t.Errorf("%s: %s", check, diagtest.Text(ds))
		}
	}
}

// No message speaks of numbers that are none, or of -0.
func TestNoOddNumbers(t *testing.T) {
	odd := regexp.MustCompile(`Inf|NaN|(^|[^0-9A-Za-z.-])-0([^.0-9A-Za-z-]|$)`)
	for _, lines := range []string{
		"width = height - 40; height = width + 60",
		"width >= height + 10; height >= width + 60",
		"width >= height + 10; height >= 2 * width + 60; region r { width = front.width / 0; height = 2 }",
		"max(width, height) = min(width, height) - 5; width >= 1",
		"height = 200; width = 0 - 0.0000001 - 1",
		"height = 200; width = 100; check width / (height - 200) > 3; check (width - 100) / (height - 200) > 3; check sqrt((width - 200) * 1 mm) > 3",
		"height = 200; width = 100; check width - 100 > 0; check 99.9999999 - width + 0.0000001 > 0",
		"height = 200; width = 100; region r { spine = 0; width = 100.0001; foredge >= 0; height = 5 }",
		"height = 200; width = 100; region r { spine + foredge = width + 200; height = 3 }",
		"height = 200; width = 100; row r on spine { count = most; pitch = 0; hole = round 4; inset = 5 }",
		"height = 200; width = 100; row r on spine { count = most; pitch = height / (width - 100); hole = round 4; inset = 5 }",
		"height = 200; width = 100; row r on spine { run = 100; pitch = 0; hole = round 4; inset = 5 }",
		"height = 200; width = 100; row r on spine { count = 10; pitch = 10; web = 10 - 1 / 0 * 1 mm; hole = round 4; inset = 5 }",
		"height = 200; width = max(1, 2) * height / min(0, 1)",
		"height = 200; width - height >= width - height + 5; width = 100",
	} {
		_, ds := evaltest.Solve(strings.Replace(board, "LINES", lines, 1), evaltest.Files{})
		if len(ds) == 0 {
			t.Errorf("%s: nothing is told", lines)
		}
		for _, d := range ds {
			said := []string{d.Message, d.Help}
			for _, n := range d.Notes {
				said = append(said, n.Message)
			}
			for _, s := range said {
				if odd.MatchString(s) {
					t.Errorf("%s: %s", lines, s)
				}
			}
		}
	}
}

// A clash that a mirrored panel repeats is told once, and what follows from a
// problem isn't told beside it.
func TestToldOnce(t *testing.T) {
	for name, text := range map[string]string{
		"mirrored":          "panel front { height = 200; width = 100; width = 110 }\npanel back mirrors front",
		"open beside":       "panel front { width = 100; width = 110 }",
		"a count and lines": "panel front { width = 100; height = 200; row r on spine { hole = rect 4 by 4; inset = 5; count = 5.5; pitch = 20; first = 10; last = 20 } }",
	} {
		if _, ds := evaltest.Solve(text, evaltest.Files{}); len(ds) != 1 {
			t.Errorf("%s: told %d times\n%s", name, len(ds), diagtest.Text(ds))
		}
	}
}

// expect wants one diagnostic of its severity and code, at a place in the text,
// that says some things.
func expect(t *testing.T, name string, ds diag.List, severity diag.Severity, code, at string, told []string) {
	t.Helper()
	if len(ds) != 1 || ds[0].Severity != severity || string(ds[0].Code) != code || !strings.HasPrefix(ds[0].Span.Text(), at) {
		t.Errorf("%s: want one %v %s at %q, got\n%s", name, severity, code, at, diagtest.Text(ds))
		return
	}
	all := []string{ds[0].Message, ds[0].Help}
	for _, n := range ds[0].Notes {
		all = append(all, n.Message)
	}
	said := strings.Join(all, "\n")
	for _, want := range told {
		if !strings.Contains(said, want) {
			t.Errorf("%s: nothing says %q:\n%s", name, want, said)
		}
	}
}
