package sheet_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout/geom"
	"foredge/layout/sheet"
)

func TestPlacement(t *testing.T) {
	for _, c := range []struct {
		turn          float64
		at, from, to  geom.Point
		inside        float64 // turn
		insideAt      geom.Point
		sheet, across float64 // widths of the sheet and the part
	}{
		{0, geom.Pt(10, 20), geom.Pt(3, 4), geom.Pt(13, 24), 0, geom.Pt(260, 20), 300, 30},
		// What points right outside points down; seen from inside it points up.
		{90, geom.Pt(60, 20), geom.Pt(3, 4), geom.Pt(56, 23), 270, geom.Pt(240, 50), 300, 30},
		{180, geom.Pt(60, 20), geom.Pt(3, 4), geom.Pt(57, 16), 180, geom.Pt(270, 20), 300, 30},
	} {
		p := sheet.Placement{Turn: c.turn, At: c.at}
		if got := p.Transform().Point(c.from); got.Distance(c.to) > 1e-12 {
			t.Errorf("turned by %g, %v comes to %v, want %v", c.turn, c.from, got, c.to)
		}
		if got := p.Inside(c.sheet, c.across); got.Turn != c.inside || got.At.Distance(c.insideAt) > 1e-12 {
			t.Errorf("turned by %g, the inside is %+v, want %g at %v", c.turn, got, c.inside, c.insideAt)
		}
	}
}

// TestInsideAtAnyTurn turns sheets over by the mirror alone: points of a part meet themselves.
func TestInsideAtAnyTurn(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 22))
	for range 1000 {
		p := sheet.Placement{Turn: 360 * r.Float64(), At: geom.Pt(300*r.Float64(), 200*r.Float64())}
		w, width := 50*r.Float64(), 300.0
		q := geom.Pt(50*r.Float64(), 50*r.Float64())
		outside := geom.MirrorX(width / 2).Point(p.Transform().Point(q))
		in := p.Inside(width, w)
		inside := in.Transform().Point(geom.MirrorX(w / 2).Point(q))
		if d := outside.Distance(inside); d > 1e-9 || in.Turn < 0 || in.Turn >= 360 {
			t.Fatalf("%+v: %v is off by %g inside", p, q, d)
		}
		if back := in.Inside(width, w); math.Abs(back.Turn-p.Turn) > 1e-9 || back.At.Distance(p.At) > 1e-9 {
			t.Fatalf("%+v turned over twice is %+v", p, back)
		}
	}
}

func TestStripErrors(t *testing.T) {
	_, err := sheet.Strip(context.Background(), []sheet.Part{{Name: "log", Width: 80, Height: 60, Count: 1}}, 70, 0, sheet.Options{})
	var fit *sheet.FitError
	if !errors.As(err, &fit) || err.Error() != "log, 80 by 60 mm, is too large for a strip 70 mm wide" {
		t.Errorf("the error is %v", err)
	}
	band, err := sheet.Strip(context.Background(), nil, 70, 0, sheet.Options{})
	foretest.Must(t, err)
	if band.Length != 0 || len(band.Placements) > 0 {
		t.Errorf("%+v", band)
	}
}

func TestStripStopped(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	s := dissection(60, 3)
	band, err := sheet.Strip(ctx, s.parts, s.width, 0, sheet.Options{})
	foretest.Must(t, err)
	if wrong := checkBand(s.parts, s.width, 0, band); len(wrong) > 0 || !band.Stopped {
		t.Errorf("stopped %t, %v", band.Stopped, wrong)
	}
}

func ExampleLay() {
	job := sheet.Job{
		Parts:  []sheet.Part{{Name: "log.front", Width: 148, Height: 210, Count: 3, Turns: sheet.QuarterTurn, Group: "birch"}},
		Stocks: []sheet.Stock{{Name: "birch 3 mm", Group: "birch", Width: 600, Height: 400, Margin: 5, Spacing: 2}},
	}
	result, err := sheet.Lay(context.Background(), job, sheet.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range result.Sheets {
		for _, p := range s.Placements {
			fmt.Printf("%s %d: turned by %g, at %g, %g\n", job.Parts[p.Part].Name, p.Copy+1, p.Turn, p.At.X, p.At.Y)
		}
		fmt.Printf("%.1f %% used; %.0f by %.0f mm left\n", 100*s.Used, s.Left[0].Width(), s.Left[0].Height())
	}
	// Output:
	// log.front 1: turned by 0, at 5, 5
	// log.front 2: turned by 0, at 155, 5
	// log.front 3: turned by 90, at 215, 247
	// 38.9 % used; 297 by 400 mm left
}
