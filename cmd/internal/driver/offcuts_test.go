package driver_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/export"
	"foredge/lang/foretest"
	"foredge/lang/unit"
	"foredge/layout"
	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// What is told as left over, pasted into a stock, is taken without a word, and no piece of it is larger than the one
// that is there, nor smaller by more than what is rounded.
func TestWhatIsLeftCanBeStated(t *testing.T) {
	r := rand.New(rand.NewPCG(16, 2))
	for round := range foretest.Sample(400, 60) {
		in, step, name := unit.MM, 1.0, "mm"
		if round%2 == 1 {
			in, step, name = unit.Inch, 0.254, "in"
		}
		o := randomOffcut(r, step)
		line := driver.Offcuts([]layout.Offcut{o}, in)
		if line == "" {
			if o.Area() > 2*step*(o.Size.X+o.Size.Y) {
				t.Errorf("nothing is told of %v", o)
			}
			continue
		}
		path := filepath.Join(t.TempDir(), "next.fore")
		text := fmt.Sprintf("foredge 1\nunits %s\nlaser bench { bed = 600 mm by 400 mm; kerf = 0.1 mm }\nstock ply { thick = 3 mm exact; size = 900 mm by 900 mm; %s }\npanel p { stock = ply; width = 20 mm; height = 20 mm }\n", name, line)
		foretest.Must(t, os.WriteFile(path, []byte(text), 0o600))
		d := solvedDesign(t, path)
		stock := d.Stocks()[0]
		its := layout.SupplyOf(stock, maybe.Of[design.Size]{}).Offcuts
		if len(its) != 1 {
			t.Fatalf("%s states %d offcuts", line, len(its))
		}
		if got := its[0]; !isOf(got, o) || got.Area() < o.Area()-3*step*(o.Size.X+o.Size.Y) {
			t.Errorf("%s is no piece of %v", line, o)
		}
	}
}

// randomOffcut is one of which sizes and what is gone lie now and then on a step, or less than one from each other.
func randomOffcut(r *rand.Rand, step float64) layout.Offcut {
	length := func(most float64) float64 {
		switch l := r.Float64() * most; r.IntN(4) {
		case 0:
			return step * float64(1+int(l/step))
		case 1:
			return min(l, r.Float64()*step)
		default:
			return l
		}
	}
	near := func(size float64) float64 {
		switch r.IntN(3) {
		case 0:
			return size - r.Float64()*min(size, 2*step)
		case 1:
			return r.Float64() * r.Float64() * r.Float64() * min(size, step)
		default:
			return length(size)
		}
	}
	o := layout.Offcut{Size: geom.Pt(length(600), length(600))}
	if r.IntN(4) > 0 {
		gone := geom.Pt(near(o.Size.X), near(o.Size.Y))
		if min(gone.X, gone.Y, o.Size.X-gone.X, o.Size.Y-gone.Y) > 0 {
			o.Gone, o.Corner = gone, sheet.Corner(r.IntN(4))
		}
	}
	return o
}

// isOf says whether one piece can be cut from another without turning it, by a hair.
func isOf(one, of layout.Offcut) bool {
	const hair = 1e-6
	within := func(w, h float64) bool { return one.Size.X <= w+hair && one.Size.Y <= h+hair }
	switch {
	case !within(of.Size.X, of.Size.Y):
		return false
	case of.Gone == (geom.Point{}), within(of.Size.X-of.Gone.X, of.Size.Y), within(of.Size.X, of.Size.Y-of.Gone.Y):
		return true
	}
	return one.Corner == of.Corner && one.Gone.X >= of.Gone.X-hair && one.Gone.Y >= of.Gone.Y-hair
}

// The largest pieces are told first, those that are cut from nothing among them, and how many more there are.
func TestLargestLeftFirst(t *testing.T) {
	var left []layout.Offcut
	for i := range 9 {
		left = append(left, layout.Offcut{Size: geom.Pt(60+10*float64(i), 100)})
	}
	for _, c := range []struct {
		left []layout.Offcut
		want string
	}{
		{nil, "nothing is left over that is worth keeping"},
		{[]layout.Offcut{{Size: geom.Pt(100, .4)}}, "nothing is left over that is worth keeping"},
		{left[:3], "what is left over, for the next time: offcuts = 80 by 100, 70 by 100, 60 by 100"},
		{[]layout.Offcut{{Size: geom.Pt(200, 100), Gone: geom.Pt(155, 80), Corner: sheet.RightTop}, left[2], left[3]}, "what is left over, for the next time: offcuts = 90 by 100, 80 by 100, 200 by 100 less 155 by 80 at head-right"},
		{left, "what is left over, for the next time: offcuts = 140 by 100, 130 by 100, 120 by 100, 110 by 100, 100 by 100, 90 by 100, 80 by 100, 70 by 100, and 1 smaller one"},
		{append(left[:9:9], left[:3]...), "what is left over, for the next time: offcuts = 140 by 100, 130 by 100, 120 by 100, 110 by 100, 100 by 100, 90 by 100, 80 by 100, 80 by 100, and 4 smaller ones"},
	} {
		if got := driver.Used(layout.Use{Stock: "ply", Left: c.left}, unit.MM)[0].Help; got != c.want {
			t.Errorf("%v is told as %q, not %q", c.left, got, c.want)
		}
	}
}

// A build tells what is left of a stock of which it counts how much there is, or of which several sheets are taken: pieces
// of 50 mm and more.
func TestWhichIsLeftIsTold(t *testing.T) {
	const nothing = "nothing is left over that is worth keeping"
	for _, c := range []struct{ stock, panel, want string }{
		{"size = 600 by 400", "width = 100; height = 80; copies = 2", ""},
		{"size = 600 by 400; knife = yes", "width = 100; height = 80; copies = 2", ""},
		{"size = 800 by 500", "width = 250; height = 180; copies = 5", ""}, // one sheet, sawn into two
		{"size = 600 by 400; quantity = 5", "width = 100; height = 80; copies = 2", "what is left over, for the next time: offcuts = 600 by 400 less 106 by 176 at head-left"},
		{"size = 605 by 405; quantity = 5", "width = 100; height = 80; copies = 2", "what is left over, for the next time: offcuts = 600 by 400 less 106 by 176 at head-left"}, // it hangs over
		{"size = 200 by 100; margin = 0", "width = 149.7; height = 99.8; copies = 2", "what is left over, for the next time: offcuts = 50 by 100, 50 by 100"},
		{"size = 150 by 80.2; margin = 0; quantity = 1", "width = 99.8; height = 80", "what is left over, for the next time: offcuts = 50 by 80"},
		{"size = 150 by 80.2; margin = 0; quantity = 1", "width = 99.9; height = 80", nothing},
		{"size = 180 by 90; margin = 10; quantity = 1", "width = 99.8; height = 79.8", nothing}, // alone in the middle
	} {
		path := filepath.Join(t.TempDir(), "left.fore")
		text := "foredge 1\nlaser l { bed = 600 by 400; kerf = 0.2; quiet = caution }\nstock s { thick = 3 exact; " + c.stock + " }\npanel a { " + c.panel + " }\n"
		foretest.Must(t, os.WriteFile(path, []byte(text), 0o600))
		r := driver.NewSession(nil).Build(t.Context(), path, driver.Options{Encoders: export.CutFiles(export.Options{})})
		foretest.Must(t, r.Err)
		got := ""
		for _, d := range r.Diagnostics {
			if d.Code == "sheets-used" {
				got = d.Help
			}
		}
		if r.Diagnostics.HasErrors() || got != c.want {
			t.Errorf("of %s with %s is told %q, not %q", c.stock, c.panel, got, c.want)
		}
	}
}
