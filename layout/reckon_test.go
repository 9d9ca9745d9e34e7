package layout_test

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"foredge/eval/design"
	"foredge/eval/evaltest"
	"foredge/eval/maybe"
	"foredge/lang/foretest"
	"foredge/layout"
)

// sequenced is a design as it is run.
func sequenced(t *testing.T, text string, files evaltest.Files) *layout.Drawing {
	t.Helper()
	s, diags := evaltest.Solve(text, files)
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	d, diags := layout.Draw(s.Design())
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	d, _ = d.ForLaser()
	return d.Sequenced(context.Background(), 1)
}

func seconds(t *testing.T, r layout.Reckoning) float64 {
	t.Helper()
	time, ok := r.Time.Get()
	if !ok {
		t.Fatalf("no time: %v", r.Missing)
	}
	return time.Total()
}

// Sides run from rest to rest by the closed form of a trapezoid move, s/v + v/a (common
// knowledge of mechanics): 100 mm at 20 mm/s and 1000 mm/s² take 5.02 s. What a stock
// states wins over the laser.
func TestReckonByHand(t *testing.T) {
	const panel = "panel front { stock = ply; width = 100; height = 50; thick = 3 }\n"
	for _, c := range []struct {
		laser, stock string
		want         float64
	}{
		{"cut-speed = 20; acceleration = 1000", "", 2*5.02 + 2*2.52},
		{"cut-speed = 20; acceleration = 1000; passes = 3", "", 3 * (2*5.02 + 2*2.52)},
		{"cut-speed = 20; acceleration = 1000; passes = 3", "; passes = 1", 2*5.02 + 2*2.52},
		{"cut-speed = 99; acceleration = 1000", "; cut-speed = 20", 2*5.02 + 2*2.52},
		// At corners no faster than it runs, it need not slow down.
		{"cut-speed = 20; acceleration = 1000; corner-speed = 20", "", 300./20 + 20./1000},
	} {
		d := sequenced(t, "units mm\nlaser bench { kerf = 0; travel-speed = 500; "+c.laser+" }\nstock ply { thick = 3"+c.stock+" }\n"+panel, nil)
		foretest.Near(t, c.laser+c.stock, seconds(t, d.Reckon()), c.want, 1e-9)
	}
	// A line that is scored, across 50 mm, comes before: 50/80 + 80/1000.
	d := sequenced(t, `units mm
laser bench { kerf = 0; cut-speed = 20; score-speed = 40; travel-speed = 500; acceleration = 1000 }
stock ply { thick = 3; score-speed = 80 }
panel front { stock = ply; width = 100; height = 50; line fold { from = spine; at = 30 } }
`, nil)
	time, _ := d.Reckon().Time.Get()
	foretest.Near(t, "score", time.Ops[layout.Score], 50./80+80./1000, 1e-9)
}

// A number without a unit is in that of the file.
func TestSpeedsHaveUnits(t *testing.T) {
	text := func(units, laser string) string {
		return "units " + units + "\nlaser bench { kerf = 0 mm; travel-speed = 500 mm; " + laser + " }\npanel front { width = 100 mm; height = 50 mm; thick = 3 mm }\n"
	}
	want := seconds(t, sequenced(t, text("mm", "cut-speed = 20; acceleration = 1000"), nil).Reckon())
	for _, laser := range []string{"cut-speed = 20 mm; acceleration = 1000 mm", "cut-speed = 20/25.4; acceleration = 1000/25.4"} {
		foretest.Near(t, laser, seconds(t, sequenced(t, text("in", laser), nil).Reckon()), want, 1e-6)
	}
}

// What isn't stated is named, each line once, as it would be written.
func TestReckonNamesWhatIsMissing(t *testing.T) {
	d := sequenced(t, `units mm
laser bench { kerf = 0; mark-speed = 100 }
panel front { width = 100; height = 50; thick = 3; region title { spine = 10; foredge = 10; head = 10; tail = 10
  engrave text "Tern"; mark frame } }
`, nil)
	r := d.Reckon()
	want := []string{"engrave-speed", "engrave-distance", "cut-speed", "acceleration", "travel-speed"}
	if !slices.Equal(r.Missing, want) || r.Time.Present() {
		t.Errorf("missing %v, want %v", r.Missing, want)
	}
}

// A bill by hand: a quarter of a sheet for 8, with half of that wasted, 3; two minutes of the
// laser and five of labour at 0.5 each; a tenth of all on top.
func TestBillByHand(t *testing.T) {
	d := sequenced(t, `units mm
laser bench { kerf = 0 }
stock ply { thick = 3; size = 200 by 100; price = 8 }
panel front { stock = ply; width = 100; height = 50 }
`, nil)
	shop := design.Shop{Rate: maybe.Is(0.5), Labour: maybe.Is(5.0), Waste: maybe.Is(0.5), Profit: maybe.Is(0.1)}
	b := layout.Charge(shop, maybe.Is(120.0), nil, d.Parts)
	for what, v := range map[string][2]float64{"laser": {b.Laser, 1}, "wood": {b.Wood, 3}, "labour": {b.Labour, 2.5}, "profit": {b.Profit, 0.65}, "total": {b.Total().Or(-1), 7.15}} {
		foretest.Near(t, what, v[0], v[1], 1e-12)
	}
	d.Parts[0].Copies = 3
	foretest.Near(t, "wood of three", layout.Charge(shop, maybe.Is(120.0), nil, d.Parts).Wood, 9, 1e-12)
	if b := layout.Charge(design.Shop{}, maybe.Of[float64]{}, []string{"cut-speed"}, d.Parts); b.Total().Present() ||
		!slices.Equal(b.Missing, []string{"cut-speed", "the laser's rate"}) {
		t.Errorf("a shop that states nothing: %+v", b)
	}
}

// However its axes are off, the laser cuts a board of 100 by 50 mm from a sheet of 200 by 100:
// with a kerf of 0.2 mm a rectangle of 100.2 by 50.2.
func TestWoodOfAScaledLaser(t *testing.T) {
	for _, scale := range []string{"", "scale-x = 1.05; scale-y = 0.96"} {
		d := sequenced(t, `units mm
laser bench { kerf = 0.2; `+scale+` }
stock ply { thick = 3; size = 200 by 100; price = 20000 }
panel front { stock = ply; width = 100; height = 50; line half { from = spine; at = 50; op = score } }
`, nil)
		b := layout.Charge(design.Shop{}, maybe.Of[float64]{}, nil, d.Parts)
		foretest.Near(t, "wood, "+scale, b.Wood, 100.2*50.2, 1e-9)
	}
}

// What two parts take by themselves adds up to the time of the whole, but for the way
// between them.
func TestShares(t *testing.T) {
	d := sequenced(t, `units mm
laser bench { kerf = 0; cut-speed = 20; travel-speed = 500; acceleration = 1000 }
panel front { width = 100; height = 50; thick = 3 }
panel back { width = 50; height = 50; thick = 3 }
`, nil)
	r := d.Reckon()
	time, _ := r.Time.Get()
	foretest.Near(t, "front", r.Share[0], 2*5.02+2*2.52, 1e-9)
	foretest.Near(t, "back", r.Share[1], 4*2.52, 1e-9)
	foretest.Near(t, "both", time.Total()-time.Travel, r.Share[0]+r.Share[1], 1e-9)
	if !(time.Travel > 0) || math.Abs(r.Cut-500) > 1e-9 {
		t.Errorf("travel %v s, cut %v mm", time.Travel, r.Cut)
	}
}

// A picture of 20 mm with lines 0.5 mm apart takes 40 of them, each from rest to rest at
// 100 mm/s and 1000 mm/s² with run-outs of 5 mm, 20/100 + 2 100/1000 = 0.4 s, and needs
// no engrave-distance; one way it goes back 39 times, 30 mm at 300 mm/s: 0.3464 s, as it
// only speeds up and slows down: 2 √(30/1000).
func TestPicturesHaveTheirOwnLines(t *testing.T) {
	files := evaltest.Files{"tern.png": string(greyPicture(t, 40, 40, 100))}
	for line, want := range map[string]float64{"one-way = no": 40 * 0.4, "one-way = yes": 40*0.4 + 39*2*math.Sqrt(0.03)} {
		d := sequenced(t, `units mm
laser bench { kerf = 0; cut-speed = 20; engrave-speed = 100; travel-speed = 300; acceleration = 1000; `+line+` }
panel front { width = 100; height = 50; thick = 3
  region title { spine = 10; foredge = 10; head = 10; tail = 10; engrave art "tern.png" { width = 20; line-distance = 0.5 } } }
`, files)
		time, ok := d.Reckon().Time.Get()
		if !ok {
			t.Fatal(d.Reckon().Missing)
		}
		foretest.Near(t, line, time.Ops[layout.Engrave], want, 1e-6)
	}
}

// Where parts share their cuts each is charged as if it were cut alone, and the cuts of all
// are shorter by what they share: here two boards of 100 by 80 with no kerf, on one side of 100.
func TestShareOfSharedCuts(t *testing.T) {
	const text = "laser l { bed = 600 by 400; kerf = 0; cut-speed = 20; travel-speed = 500; acceleration = 3000 }\nstock ply { thick = 3; SHARED }\n" +
		"panel a { width = 100; height = 80 }\npanel b { width = 100; height = 80 }"
	reckoned := func(line string) layout.Reckoning {
		text := strings.Replace(text, "SHARED", line, 1)
		d, dr := mustSolve(t, text), drawn(t, text)
		out, err := layout.Lay(t.Context(), []layout.Wanted{{Drawing: dr}}, layout.Supplies(d, dr), layout.Search{Effort: 0.01})
		if err != nil || len(out.Sheets) != 1 {
			t.Fatal(err)
		}
		return out.Sheets[0].Outer.Sequenced(context.Background(), 1).Reckon()
	}
	apart, together := reckoned("spacing = 10"), reckoned("shared-cuts = yes")
	if apart.Cut != 720 || together.Cut != 620 {
		t.Errorf("%g mm are cut apart, %g together", apart.Cut, together.Cut)
	}
	if s := together.Share; len(s) != 3 || s[0] != apart.Share[0] || s[1] != apart.Share[1] || s[2] != 0 {
		t.Errorf("the shares are %v, apart %v", s, apart.Share)
	}
}
