package eval_test

import (
	"math"
	"strings"
	"testing"

	"foredge/eval"
	"foredge/eval/maybe"
	"foredge/eval/wire"
	"foredge/eval/word"
	"foredge/lang/parse"
	"foredge/lang/source"
)

const boundLog = `
binding spare { form = loop; ring = 3/8 in; outside = 11.325; pair = 2.5 }
notebook log {
  accuracy = 0.03; width = 148; height = 210; thick = 2
  binding loop { ring = 9.5; wire = 0.9, 0.92, 0.91; outside = 11.4 }
  row wire on spine { count = 24; first = 6; last = 6; hole = rect 4 by 4; inset = 3 }
}
panel front covers log { thick = 2; ease = 0.3; over-spine = -0.5 }
panel back mirrors front
`

// A notebook's binding is measured with it: ring, wire and outside are
// reconciled, and the wire is that of the row.
func TestMeasuredBinding(t *testing.T) {
	s := sound(t, boundLog)
	ring, thick, outside := number(t, s, "log.loop.ring"), number(t, s, "log.loop.wire"), number(t, s, "log.loop.outside")
	if math.Abs(ring+2*thick-outside) > 1e-9 {
		t.Errorf("%.4f + 2 * %.4f is not %.4f", ring, thick, outside)
	}
	// Weighted least squares by hand: u = 0.03/√3 for ring and outside, for the
	// wire u² = 0.0003 + 0.01²/3; the misclosure 9.5 + 1.82 - 11.4 = -0.08 is
	// shared out as u² times the factor in ring + 2 wire - outside.
	u2, w2 := 0.0003, 0.0003+0.0001/3
	k := 0.08 / (u2 + 4*w2 + u2)
	near(t, s, "log.loop.ring", 9.5+k*u2, 1e-6)
	near(t, s, "log.loop.wire", 0.91+2*k*w2, 1e-6)
	near(t, s, "log.wire.wire", thick, 1e-9)
	near(t, s, "spare.wire", 0.9, 1e-9) // (11.325 - 9.525) / 2
	for _, d := range s.Dimensions() {
		if d.Name == "log.wire.wire" && !(d.Uncertainty > 0) {
			t.Error("the wire of the row has no uncertainty")
		}
	}
}

// A panel's row takes along what goes through the notebook's.
func TestBound(t *testing.T) {
	s := sound(t, boundLog)
	all := s.BoundRows()
	if len(all) != 2 || all[0].Name != "front.wire" || all[1].Name != "back.wire" {
		t.Fatalf("%+v", all)
	}
	c := all[0]
	if c.Binding != "log.loop" || c.Form != word.Ring || !c.LeavesKnown || c.Missing != "" {
		t.Errorf("%+v", c)
	}
	want := wire.Book{Board: 2, Boards: 2, Leaves: 2, Reach: 3}
	if c.Case.Book != want {
		t.Errorf("%+v, want %+v", c.Case.Book, want)
	}
	if got := c.Case.Hole.Across; math.Abs(got-4.3) > 1e-9 || math.Abs(c.Case.Inset-(3-0.15-0.5)) > 1e-9 {
		t.Errorf("%+v", c.Case)
	}
}

// A binding is found where a maker would put it.
func TestWhichBinding(t *testing.T) {
	for _, c := range []struct{ text, binding, form string }{
		{`binding a { ring = 9; wire = 1 }
		  panel p { width = 9; height = 99; thick = 1; row r on spine { count = 2; pitch = 9; hole = round 3; inset = 2; binding = a } }`, "a", "ring"},
		{`panel p { width = 9; height = 99; thick = 1; row r on spine { count = 2; pitch = 9; hole = round 3; inset = 2
		    binding own { ring = 9; wire = 1; pair = 2 } } }`, "p.r.own", "loop"},
		{`binding a { ring = 9; wire = 1; pitch = 9 }
		  pattern k { pitch = 9; hole = round 3 }
		  panel p { width = 9; height = 99; thick = 1; row r on spine like k { count = 2; inset = 2; binding = a } }
		  panel q mirrors p`, "a", "coil"},
		{`binding a { ring = 9; wire = 1 }
		  notebook n { width = 9 exact; height = 99 exact
		    binding b { ring = 9 exact; wire = 1 exact }
		    row r on spine { count = 2; pitch = 9 exact; first = 9 exact; hole = round 3 exact; inset = 2 exact; binding = a } }
		  panel p covers n { thick = 1 }`, "a", "ring"},
		{`notebook n { width = 9 exact; height = 99 exact
		    binding b { ring = 9 exact; wire = 1 exact }
		    row r on spine { count = 2; pitch = 9 exact; first = 9 exact; hole = round 3 exact; inset = 2 exact } }
		  binding c { ring = 9; wire = 2 }
		  panel p covers n { thick = 1; row r { binding = c } }`, "c", "ring"},
		{`notebook n { width = 9 exact; height = 99 exact
		    binding b { ring = 9 exact; wire = 1 exact }; binding c when 1 > 2 { ring = 1 exact }
		    row r on spine { count = 2; pitch = 9 exact; first = 9 exact; hole = round 3 exact; inset = 2 exact } }
		  panel p covers n { thick = 1 }`, "n.b", "ring"},
	} {
		s := sound(t, c.text)
		all := s.BoundRows()
		if len(all) == 0 || all[0].Binding != c.binding || all[0].Form.String() != c.form || all[0].Missing != "" {
			t.Errorf("%s\ngives %+v", c.text, all)
		}
	}
	// Two in a notebook, and nothing says which is meant.
	s := sound(t, `notebook n { width = 9 exact; height = 99 exact
	  binding b { ring = 9 exact }; binding c { ring = 8 exact }
	  row r on spine { count = 2; pitch = 9 exact; first = 9 exact; hole = round 3 exact; inset = 2 exact } }
	panel p covers n { thick = 1 }`)
	if all := s.BoundRows(); len(all) != 0 {
		t.Errorf("%+v", all)
	}
}

// The notebook's row isn't there, but the panel's own is bound.
func TestBoundWithoutCoveredRow(t *testing.T) {
	s, _ := compile(t, `notebook n { width = 90 exact; height = 99 exact
	  row r on spine when 1 > 2 { count = 2; pitch = 9 exact; first = 9 exact; hole = round 3 exact; inset = 2 exact } }
	panel p covers n { thick = 1; row r on spine { count = 2; pitch = 9; hole = round 3; inset = 2
	  binding own { ring = 9; wire = 1 } } }`)
	if all := s.BoundRows(); len(all) != 1 || all[0].LeavesKnown {
		t.Errorf("%+v", all)
	}
}

// A notebook's row whose binding stands outside it has its wire as a number.
func TestWireOfNamedBinding(t *testing.T) {
	s := sound(t, `binding loop { ring = 9.5; wire = 0.9 }
	notebook n { accuracy = 0.03; width = 9; height = 99
	  row r on spine { count = 2; pitch = 9; first = 9; hole = round 3; inset = 2; binding = loop } }`)
	near(t, s, "n.r.wire", 0.9, 1e-12)
}

// What a binding is like was not measured with the notebook: its numbers hold as
// they stand, and need no accuracy.
func TestBindingLikeOneThatWasNotMeasured(t *testing.T) {
	s := sound(t, `binding loop { ring = 9.5; wire = 0.9 }
	notebook n { width = 9 exact; height = 99 exact
	  binding mine like loop { ring = 9.7 ± 0.05 }
	  row r on spine { count = 2; pitch = 9 exact; first = 9 exact; hole = round 3 exact; inset = 2 exact } }`)
	near(t, s, "n.r.wire", 0.9, 1e-12)
	near(t, s, "n.mine.outside", 9.7+1.8, 1e-9)
}

// What isn't stated is said, and no warning is made up.
func TestBoundMissing(t *testing.T) {
	const row = `row r on spine { count = 2; pitch = 9; hole = round 3; inset = 2; binding = a } }`
	for text, missing := range map[string]string{
		`binding a { wire = 1 } panel p { width = 9; height = 99; thick = 1; ` + row:             "inside diameter",
		`binding a { ring = 1 } panel p { width = 9; height = 99; thick = 1; ` + row:             "thickness of the wire",
		`binding a { ring = 9; wire = 1 } panel p { width = 9; height = 99; ` + row:              "how thick p is",
		`binding a { ring = 9; wire = 1; form = coil } panel p { width = 9; height = 99; ` + row: "how thick p is",
	} {
		s, ds := compile(t, text)
		if ds.HasErrors() {
			t.Fatal(show(ds))
		}
		for _, d := range ds {
			if strings.HasPrefix(string(d.Code), "wire") {
				t.Errorf("%s: %s", text, d.Message)
			}
		}
		if all := s.BoundRows(); len(all) != 1 || !strings.Contains(all[0].Missing, missing) {
			t.Errorf("%s: %+v, want %q", text, all, missing)
		}
	}
}

// The wire of a row is there only where it is stated, on a notebook, and leaves
// all else as it was; inside a row called wire the row's name still works.
func TestWire(t *testing.T) {
	const text = `notebook n { accuracy = 0.03; width = 100; height = 200
 row wire on spine { count = 12; hole = rect 4 by 4; first = 10; inset = 5; web = 4.4; WIRE } }
panel p covers n { row wire { check wire.web >= 3 } }
laser bench { kerf = 0.18 ± 0.02 }
`
	without, with := sound(t, strings.Replace(text, "WIRE", "", 1)), sound(t, strings.Replace(text, "WIRE", "wire = 0.9 ± 0.02", 1))
	if _, ok := without.Dimension("n.wire.wire"); ok {
		t.Error("a wire that nobody stated")
	}
	near(t, with, "n.wire.wire", 0.9, 1e-9)
	for _, d := range without.Dimensions() {
		if v := number(t, with, d.Name); v != d.Value && !math.IsNaN(d.Value) {
			t.Errorf("%s is %g with a wire and %g without", d.Name, v, d.Value)
		}
	}
	m := with.Measured()
	if len(m) != 1 || len(m[0].Rows) != 1 || len(m[0].Rows[0].Covers) != 1 {
		t.Fatalf("%+v", m)
	}
	if g := m[0].Rows[0].Covers[0].KerfWithin; g != maybe.Is(0.02) {
		t.Errorf("the kerf is known within %v", g)
	}
	if k := with.Design().Laser.Kerf; k != maybe.Is(0.18) {
		t.Errorf("the kerf is %v", k)
	}
}

// What a binding costs a build where it suits.
func BenchmarkBoundCoil(b *testing.B) {
	text := `binding a { ring = 16; wire = 1.75; form = coil }
	panel p { width = 100; height = 200; thick = 3; row r on spine { count = 20; pitch = 8; inset = 3; hole = slot 4 by 5.5; binding = a } }
	panel q mirrors p`
	tree, _ := parse.File(source.New("bench.fore", []byte(text)))
	for b.Loop() {
		m, _ := eval.Build(tree, memory{})
		if s, ds := m.Solve(); !s.Sound || len(ds) > 0 {
			b.Fatal(ds)
		}
	}
}
