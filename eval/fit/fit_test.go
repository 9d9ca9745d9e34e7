package fit

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"foredge/eval"
	"foredge/eval/evaltest"
	"foredge/eval/maybe"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// model builds a design.
func modelOf(t testing.TB, text string) *eval.Model {
	t.Helper()
	m, ds := evaltest.Build(text, shelfFiles{})
	if ds.HasErrors() {
		t.Fatalf("%s\n%s", text, diagtest.Text(ds))
	}
	return m
}

// solved solves a design, which may have errors.
func solved(t testing.TB, text string) *eval.Solution {
	t.Helper()
	s, _ := modelOf(t, text).Solve()
	return s
}

const harbour = `units mm
notebook log {
  accuracy = 0.03
  width    = 148.2
  height   = 210.1, 210.0, 210.1
  row wire on spine {
    count = 24
    hole  = rect 4.02 by 4.05
    first = 5.62
    last  = 5.66
    inset = 4.10
    web   = 4.45
    run   = 194.76
    wire  = 0.9 ± 0.02
  }
}
panel front covers log { ease = 0.3 }
panel back mirrors front
`

// first is the only notebook of a design.
func first(t testing.TB, text string) *Notebook {
	t.Helper()
	r := Of(solved(t, text))
	if len(r.Notebooks) != 1 {
		t.Fatalf("%d notebooks", len(r.Notebooks))
	}
	return &r.Notebooks[0]
}

// reading finds a reading by its name.
func (n *Notebook) reading(t testing.TB, name string) Reading {
	t.Helper()
	for _, r := range n.Readings {
		if r.Name == name {
			return r
		}
	}
	t.Fatalf("no reading of %s", name)
	return Reading{}
}

// The harbour log: what is checked, by how much, in the order of the file.
func TestHarbourLog(t *testing.T) {
	n := first(t, harbour)
	names := ""
	for _, r := range n.Readings {
		names += " " + r.Name
		if checked := r.Name != "width" && r.Name != "wire.inset" && r.Name != "wire.hole.across" && r.Name != "wire.wire"; r.Checked != checked {
			t.Errorf("%s: checked %t, redundancy %g", r.Name, r.Checked, r.Redundancy)
		}
	}
	if want := " width height wire.hole.along wire.hole.across wire.first wire.last wire.inset wire.web wire.run wire.wire"; names != want {
		t.Errorf("readings%s, want%s", names, want)
	}
	sum := 0.0
	for _, r := range n.Readings {
		sum += r.Redundancy
	}
	// The redundancies add up to the degrees of freedom (Baarda, 1968).
	foretest.Near(t, "redundancy in all", sum, float64(n.Agreement.Freedom), 1e-9)
	if n.Agreement.Verdict != Agree || len(n.Suspects) > 0 {
		t.Errorf("%+v %v", n.Agreement, n.Suspects)
	}
	row := n.Rows[0]
	if row.Count != 24 || len(row.Covers) != 2 || row.Wire == nil {
		t.Fatalf("%+v", row)
	}
	for _, c := range row.Covers {
		foretest.Near(t, c.Name, c.Probability.Or(0), 1, 1e-8)
		if c.Missing != "" || c.Ease != maybe.Is(0.3) {
			t.Errorf("%+v", c)
		}
	}
	if row.Pattern == nil || row.Pattern.Name != "twin-loop-3" || row.Pattern.Same {
		t.Errorf("pattern %+v: the pitch is that of a twin loop, and the holes are 0.05 mm larger", row.Pattern)
	}
}

// The mean of readings by Student's t alone, as nothing else checks them: three
// values of sample deviation 0.02 with an accuracy far below that.
func TestStudent(t *testing.T) {
	n := first(t, "notebook n { accuracy = 0.0001; width = 100.00, 100.02, 100.04; height = 200 exact }\n")
	r := n.reading(t, "width")
	foretest.Near(t, "u", r.AdjustedU, 0.02/math.Sqrt(3), 1e-6)
	foretest.Near(t, "freedom", r.Freedom, 2, 1e-3)
	foretest.Near(t, "U 95 %", r.AdjustedU95, 4.3027*0.02/math.Sqrt(3), 1e-5)
	// As much from the accuracy as from the scatter: ν = 2 · (1 + 1)².
	n = first(t, "notebook n { accuracy = 0.02; width = 100.00, 100.02, 100.04; height = 200 exact }\n")
	r = n.reading(t, "width")
	foretest.Near(t, "u", r.AdjustedU, 0.02*math.Sqrt(2.0/3), 1e-9)
	foretest.Near(t, "freedom", r.Freedom, 8, 1e-9)
}

// What rests on no repeated reading has no end of degrees of freedom, whatever rounding
// leaves of one in it.
func TestNoEndOfFreedom(t *testing.T) {
	n := first(t, "notebook n { accuracy = 0.03; width = 148; height = 210.1, 210.0\n"+
		"row w on spine { count = 20; hole = round 4; first = 5; pitch = 8.47; inset = 4; web = 4.45 } }\n")
	ends := 0
	for _, r := range n.Readings {
		if !math.IsInf(r.Freedom, 1) {
			ends++
			if r.Name != "n.height" && r.Name != "height" {
				t.Errorf("%s: %g degrees of freedom", r.Name, r.Freedom)
			}
		}
	}
	for _, row := range n.Rows {
		for _, v := range row.Dims {
			if v.Freedom > 1e6 && !math.IsInf(v.Freedom, 1) {
				t.Errorf("%s: %g degrees of freedom", v.Name, v.Freedom)
			}
		}
	}
	if ends != 1 {
		t.Errorf("%d readings have an end of degrees of freedom", ends)
	}
}

// EA-4/02, example S10 (a vernier caliper at a block of 150 mm): two evenly
// spread errors, ± 0.05 mm of the mechanics and ± 0.025 mm of the vernier's
// step. u is 0.0323 mm (printed with minor parts as 0.033), and the result
// 0.10 ± 0.06 mm with k = 1.83, as the sum of the two is spread like a
// trapezium; ours keeps the 1.96 of a normal sum, and so holds more than 95 %.
func TestVernier(t *testing.T) {
	n := first(t, "notebook n { accuracy = 0.05; resolution = 0.05; width = 150.10; height = 200 exact }\n")
	r := n.reading(t, "width")
	foretest.Near(t, "u", r.AdjustedU, 0.0323, 5e-5)
	if got := math.Round(r.AdjustedU95*100) / 100; got != 0.06 {
		t.Errorf("expanded uncertainty %.4f, printed 0.06", r.AdjustedU95)
	}
	// The trapezium's tail beyond x, (a + b - x)² / 4ab, on both sides.
	const a, b = 0.05, 0.025
	beyond := (a + b - r.AdjustedU95) * (a + b - r.AdjustedU95) / (4 * a * b)
	if held := 1 - beyond; held < 0.95 {
		t.Errorf("the interval holds %.4f", held)
	}
	k := (1 - math.Sqrt(0.05*(1-1.0/9))) / math.Sqrt((1+1.0/9)/6)
	foretest.Near(t, "k of the trapezium", k, 1.83, 0.005)
	foretest.Near(t, "share within k u of the trapezium", 1-(a+b-k*r.AdjustedU)*(a+b-k*r.AdjustedU)/(4*a*b), 0.95, 1e-6)
}

// Contradictory readings are reported all the same, with the one to take again.
func TestContradiction(t *testing.T) {
	n := first(t, strings.Replace(harbour, "web   = 4.45", "web = 4.65", 1))
	if n.Agreement.Verdict != Contradict || len(n.Suspects) == 0 {
		t.Fatalf("%+v", n.Agreement)
	}
	r := n.Readings[n.Suspects[0]]
	if r.Name != "wire.web" {
		t.Fatalf("suspect %s", r.Name)
	}
	foretest.Near(t, "implied", r.Implied.Or(math.NaN()), 4.4469, 0.02)
	if c := n.Rows[0].Covers[0]; !c.Probability.Present() {
		t.Errorf("%+v", c)
	}
}

// A number that was taken in the wrong unit is the one to look at, and none
// where only a weak check speaks for it.
func TestSlipOfUnits(t *testing.T) {
	for _, c := range []struct{ from, to, reading, as string }{
		{"height   = 210.1, 210.0, 210.1", "height   = 8.27", "height", "8.27 in"},
		{"height   = 210.1, 210.0, 210.1", "height   = 21.01", "height", "21.01 cm"},
		{"run   = 194.76", "run   = 7.668", "wire.run", "7.668 in"},
		{"web   = 4.45", "web   = 4.95", "", ""},
	} {
		n := first(t, strings.Replace(harbour, c.from, c.to, 1))
		switch {
		case n.Agreement.Verdict != Contradict:
			t.Errorf("%s: %+v", c.to, n.Agreement)
		case n.Slip == nil:
			if c.reading != "" {
				t.Errorf("%s: no slip is found", c.to)
			}
		case n.Readings[n.Slip.Reading].Name != c.reading || n.Slip.As() != c.as || len(n.Suspects) != 1 || n.Suspects[0] != n.Slip.Reading:
			t.Errorf("%s: %+v of %s", c.to, *n.Slip, n.Readings[n.Slip.Reading].Name)
		}
	}
}

// What keeps a probability from being told.
func TestMissing(t *testing.T) {
	for _, c := range []struct{ from, to, want string }{
		{"    wire  = 0.9 ± 0.02\n", "", "the thickness of the wire is not stated"},
		{"    inset = 4.10\n", "", "nothing decides inset of wire"},
	} {
		n := first(t, strings.Replace(harbour, c.from, c.to, 1))
		got := n.Rows[0].Covers[0]
		if got.Missing != c.want || got.Probability.Present() {
			t.Errorf("missing %q, want %q", got.Missing, c.want)
		}
	}
}

// The next reading that is named has the effect that is named: stated as one
// more line, with the value that is expected, it leaves that uncertainty. None
// that hasn't been taken leaves less, and what it narrows is the least sure.
func TestNext(t *testing.T) {
	designs := []string{harbour, strings.Replace(harbour, "    wire  = 0.9 ± 0.02\n", "", 1), `units in
notebook pad { accuracy = 0.002; resolution = 0.001; width = 5.5; height = 8.5
  row coil on head { count = 20; hole = round 0.172; inset = 0.160; first = 0.291; pitch = 0.2502; last = 0.288 } }
`, `notebook n { accuracy = 0.05; width = 100; height = 200
  row r on spine { hole = rect 4 by 4; first = 10; inset = 5; gaps = 19, 19, 70, 19, 19 } }
`, // The least sure of its place is not the least sure to clear.
		`notebook n { accuracy = 0.05; width = 100; height = 200
  row r on spine { count = 20; hole = rect 4 by 6; first = 8.3; inset = 5; run = 179.4; wire = 1.2 ± 0.02 }
  row s on foredge { count = 2; hole = round 6; first = 50 ± 0.03; inset = 8 ± 0.03; pitch = 80 ± 0.03; wire = 5.8 ± 0.02 } }
panel p covers n
`, // To read the inset again would tell nothing.
		`notebook n { accuracy = 0.05; width = 100; height = 200
  row r on spine { count = 2; hole = round 6 exact; first = 57 exact; inset = 8; pitch = 80 exact } }
`}
	for _, text := range designs[:foretest.Sample(len(designs), 2)] {
		n := first(t, text)
		if n.Next == nil {
			t.Fatalf("nothing to read next in\n%s", text)
		}
		// target is the uncertainty of what is to be narrowed, in a design with a
		// further line; weak says whether it is the least sure of all.
		target := func(text string) (u float64, weak bool) {
			s := solved(t, text)
			a := &analysis{solution: s, measured: s.Measured()[0]}
			worst := 0.0
			for i := range a.measured.Rows {
				r := Of(s).Notebooks[0].Rows[i]
				for _, aim := range a.aims(&r, a.places(&a.measured.Rows[i], r.Count)) {
					spread, _, _ := a.spread(aim.expr)
					worst = math.Max(worst, spread/aim.room)
					if aim.what == n.Next.Target && aim.row == n.Next.TargetRow {
						u, weak = spread, spread/aim.room >= worst*(1-1e-9)
					} else if spread/aim.room > worst*(1-1e-9) {
						weak = false
					}
				}
			}
			return u, weak
		}
		before, weak := target(text)
		wantBefore, wantAfter := n.Next.Before.Or(0), n.Next.After.Or(math.Inf(1))
		foretest.Near(t, "before", before, wantBefore, 1e-12)
		if !weak {
			t.Errorf("%+v: something else is less sure", *n.Next)
		}
		taken := map[string]bool{}
		for _, r := range n.Readings {
			taken[r.Name] = true
		}
		s := solved(t, text)
		tried := 0
		for _, c := range (&analysis{solution: s, measured: s.Measured()[0]}).candidates() {
			name := c.name
			if c.row != "" && !strings.Contains(c.name, "+") {
				name = c.row + "." + strings.Replace(c.name, "gap ", "gap.", 1)
			}
			if taken[name] {
				continue
			}
			tried++
			where := "{"
			if c.row != "" {
				where = "row " + c.row
			}
			in := strings.Index(text, where)
			in += strings.Index(text[in:], "{") + 1
			line := fmt.Sprintf(" %s = %.12f mm;", c.name, c.expr.Eval(s.Numbers.Values))
			after, _ := target(text[:in] + line + text[in:])
			switch {
			case c.row == n.Next.Row && c.name == n.Next.Reading:
				foretest.Near(t, "u with "+line, after, wantAfter, 1e-9)
			case after < wantAfter-1e-9:
				t.Errorf("%s leaves %.6f, and %s of %s, which is named, %.6f", line, after, n.Next.Reading, n.Next.Row, wantAfter)
			}
		}
		if tried < 3 || !(wantAfter < wantBefore) || taken[n.Next.Row+"."+n.Next.Reading] {
			t.Errorf("%d tried, %+v", tried, *n.Next)
		}
	}
}

// Without an inset nothing says where the holes are; it is to be read first.
func TestNextSettles(t *testing.T) {
	n := first(t, strings.Replace(harbour, "    inset = 4.10\n", "", 1))
	if n.Next == nil || n.Next.Reading != "inset" || n.Next.Before.Present() {
		t.Errorf("%+v", n.Next)
	}
}

// The least ease for 99 % is enough, and one step less is not; in an even row,
// where it is worked out, and in an uneven one, where it is simulated.
func TestLeastEase(t *testing.T) {
	for _, text := range []string{`notebook n { accuracy = 0.05; width = 100; height = 200
  row r on spine { count = 12; hole = rect 4 by 4; first = 10; inset = 5; pitch = 8.4; wire = 3.9 ± 0.05 } }
panel p covers n { ease = EASE }
laser bench { kerf = 0.18 ± 0.02 }
`, `notebook n { accuracy = 0.05; width = 100; height = 200
  row r on spine { count = 12; hole = round 4; first = 10; inset = 5; web = 4.4; wire = 3.9 ± 0.05 } }
panel p covers n { ease = EASE }
`, `notebook n { accuracy = 0.05; width = 100; height = 200
  row r on spine { hole = round 4; first = 10; inset = 5; gaps = 19, 19, 70, 19, 19; wire = 3.9 ± 0.05 } }
panel p covers n { ease = EASE }
`, `units in
notebook n { accuracy = 0.002; width = 5; height = 8
  row r on spine { count = 12; hole = slot 0.16 by 0.2; first = 0.5; inset = 0.25; pitch = 1/3 ± 0.001; wire = 0.15 ± 0.002 } }
panel p covers n { ease = EASE }
`} {
		at := func(ease float64) Clearance {
			return first(t, strings.Replace(text, "EASE", fmt.Sprintf("%.12f mm", ease), 1)).Rows[0].Covers[0]
		}
		c := at(0)
		probability := func(c Clearance) float64 { return c.Probability.Or(math.NaN()) }
		ease := c.Ease99.Or(0)
		if p := probability(c); !(p > 0 && p < 0.99) || !(ease > 0) {
			t.Fatalf("%+v", c)
		}
		if enough, less := at(ease), at(ease-c.Step); !(probability(enough) >= 0.99 && probability(less) < 0.99) {
			t.Errorf("ease %.4f: %.6f; a step less: %.6f", ease, probability(enough), probability(less))
		} else if math.Abs(enough.Ease99.Or(0)-ease) > 1e-9 || math.Abs(enough.More99.Or(1)) > 1e-9 {
			t.Errorf("with the least ease, the least ease is %.4f and not %.4f", enough.Ease99.Or(0), ease)
		}
		if steps := ease / c.Step; math.Abs(steps-math.Round(steps)) > 1e-9 {
			t.Errorf("%.6f is no whole number of steps", ease)
		}
	}
}

// Patterns are recognised by pitch or gaps, and by their holes.
func TestPatterns(t *testing.T) {
	for _, c := range []struct{ row, name string }{
		{"count = 20; hole = rect 4 by 4; pitch = 8.467; first = 10; inset = 6", "twin-loop-3 same"},
		{"count = 20; hole = round 4; pitch = 8.467; first = 10; inset = 6", "twin-loop-3-round same"},
		{"count = 20; hole = slot 4 by 4; pitch = 8.467; first = 10; inset = 6", "twin-loop-3"},
		{"count = 20; hole = rect 3.5 by 4; pitch = 8.467; first = 10; inset = 6", "twin-loop-3"},
		{"count = 12; hole = round 4.37; pitch = 6.29; first = 10; inset = 6", "coil-2475 same"},
		{"count = 12; hole = slot 4.37 by 5.56; pitch = 6.29; first = 10; inset = 6", "coil-2475-oval same"},
		{"count = 2; hole = round 6; pitch = 80.02; first = 40; inset = 9", "filing-2 same"},
		{"count = 4; hole = round 6; pitch = 80.02; first = 10; inset = 9", "filing-4 same"},
		{"count = 12; hole = round 6; pitch = 11; first = 10; inset = 9", ""},
		{"gaps = 19.05, 19.04, 69.85, 19.06, 19.05; hole = round 5.5; first = 10; inset = 2", "six-ring-70 same"},
		{"gaps = 19.05, 19.04, 70.85, 19.06, 19.05; hole = round 5.5; first = 10; inset = 2", ""},
	} {
		n := first(t, "notebook n { accuracy = 0.03; width = 100; height = 297\n row r on spine { "+c.row+" } }\n")
		got := ""
		if p := n.Rows[0].Pattern; p != nil {
			got = p.Name
			if p.Same {
				got += " same"
			}
		}
		if got != c.name {
			t.Errorf("%s: %q, want %q", c.row, got, c.name)
		}
	}
}

// A report of a design without a notebook, and of one whose lines are broken.
func TestNothingMeasured(t *testing.T) {
	if r := Of(solved(t, "panel p { width = 100; height = 200 }\n")); len(r.Notebooks) != 0 {
		t.Errorf("%+v", r)
	}
	tree, _ := parse.File(source.New("test.fore", []byte("notebook n { accuracy = ; width = 3 deg\n row w on spine { count = } }\npanel p covers n { ease = x }\n")))
	m, _ := eval.Build(tree, shelfFiles{})
	s, _ := m.Solve()
	Of(s)
}

func BenchmarkOf(b *testing.B) {
	s := solved(b, harbour)
	for b.Loop() {
		Of(s)
	}
}

// Of a twin loop, both wires go through each hole, side by side along the row.
func TestLoop(t *testing.T) {
	const text = `notebook n { accuracy = 0.03; width = 100; height = 200
  binding loop { form = loop; ring = 9.5; wire = 0.9 PAIR }
  row r on spine { count = 12; hole = rect 4 by 4; first = 10; inset = 5; run = 93.137 } }
panel p covers n { thick = 2 }
`
	for _, c := range []struct {
		pair string
		room float64
	}{{"", (4 - 1.8) / 2}, {"; pair = 3.2 ± 0.1", (4 - 3.2) / 2}} {
		row := first(t, strings.Replace(text, "PAIR", c.pair, 1)).Rows[0]
		if len(row.Covers) != 1 || row.Wire == nil {
			t.Fatalf("%+v", row)
		}
		foretest.Near(t, "room along", row.Covers[0].RoomAlong.Or(0), c.room, 1e-9)
		foretest.Near(t, "room across", row.Covers[0].RoomAcross.Or(0), (4-0.9)/2, 1e-9)
		foretest.Near(t, "probability", row.Covers[0].Probability.Or(0), 1, 1e-6)
	}
}
