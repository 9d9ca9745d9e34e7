package lettering

import (
	"math"
	"math/rand/v2"
	"reflect"
	"sync"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout/geom"
	"foredge/layout/kerf"

	"golang.org/x/image/font/gofont/gobold"
)

// What was kept from other texts changes nothing: each text's bridges are the
// same in a font just read, after many others, and beside others.
func TestBridgesKept(t *testing.T) {
	texts := []string{"Saltmarsh", "hamster", "Bob & Abby 8", "Åse ÅseÅse", "ELEGY"}
	styles := []Style{{Cap: 9}, {Cap: 30}, {Mode: Fill}, {Cap: 7, Curve: Circle, Radius: 24}, {Cap: 9, Align: Right}}
	cut := func(f *Font, s string, st Style) geom.Outline {
		b, err := Fit(f, s, 71, 71, st)
		if err != nil {
			t.Fatal(err)
		}
		o, err := b.Stencil(0.9, 0)
		if err != nil {
			t.Fatal(err)
		}
		return o
	}
	fresh := func() *Font {
		f, err := Parse("Go Bold", gobold.TTF)
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	used := fresh()
	var wg sync.WaitGroup
	for range 2 {
		wg.Go(func() {
			for _, s := range texts {
				for _, st := range styles {
					cut(used, s, st)
				}
			}
		})
	}
	wg.Wait()
	if len(used.held.young) < 20 {
		t.Errorf("only %d bodies are kept", len(used.held.young))
	}
	for _, s := range texts {
		for _, st := range styles {
			if !reflect.DeepEqual(cut(used, s, st), cut(fresh(), s, st)) {
				t.Errorf("%s %+v: its bridges depend on what came before", s, st)
			}
		}
	}
}

// However near letters stand to one another, together they close round nothing
// that a bridge wouldn't hold.
func TestNeighboursHold(t *testing.T) {
	const letters = "ABCDEGOPQRSabdegopq0689&@%Åäö.:’<>(){}[]#=¤ø  "
	all := []rune(letters)
	r := rand.New(rand.NewPCG(8, 9))
	f := load(t, "Go Mono Bold")
	told := 0
	texts := foretest.Sample(300, 30)
	for range texts {
		var text []rune
		for range 2 + r.IntN(7) {
			text = append(text, all[r.IntN(len(all))])
		}
		st := Style{Cap: 10, Space: []float64{0, -0.5, -1, 0.5}[r.IntN(4)], Radius: 30, Inside: r.IntN(2) == 0}
		if r.IntN(3) == 0 {
			st.Curve = Circle
		}
		width := 0.5 + 1.2*r.Float64()
		b, err := Fit(f, string(text), 300, 300, st)
		if err != nil {
			t.Fatal(err)
		}
		o, err := b.Stencil(width, 0)
		if err != nil {
			told++
			continue
		}
		if pockets, _, err := look(o, width); err != nil || len(pockets) > 0 {
			t.Errorf("%q, %+v, bridges of %g mm: %d pockets, %v", string(text), st, width, len(pockets), err)
		}
	}
	if told > 3 {
		t.Errorf("%d texts of %d can't be bridged", told, texts)
	}
}

// A dot that needs no bridge stays, however broad those of others are.
func TestDotsStay(t *testing.T) {
	f := load(t, "Go Regular")
	b, err := Fit(f, "Ill.", 300, 300, Style{Cap: 3})
	if err != nil {
		t.Fatal(err)
	}
	if o, err := b.Stencil(4, 0); err != nil || len(o) != len(b.Outline) {
		t.Errorf("%d paths of %d: %v", len(o), len(b.Outline), err)
	}
}

// A counter is held from above and below, unless one of the two bridges would be
// more than 2.5 times as long as the other: then by the short one alone. With two
// bridges a frame falls into two openings, with one it stays one.
func TestLongBridgeLeftOut(t *testing.T) {
	for _, c := range []struct {
		above, below float64 // how broad the frame is there, mm
		openings     int
	}{{2, 2, 2}, {2, 4.7, 2}, {4.7, 2, 2}, {2, 5.3, 1}, {5.3, 2, 1}} {
		outer := geom.Paths(geom.Rect{W: 30, H: 10 + c.above + c.below})[0]
		counter := geom.Paths(geom.Rect{Min: geom.Pt(5, c.above), W: 20, H: 10})[0].Reverse()
		o, err := Stencil(geom.Outline{outer, counter}, 1, 0)
		if err != nil || len(o) != c.openings {
			t.Errorf("a frame of %g mm above and %g below: %d openings, want %d; %v", c.above, c.below, len(o), c.openings, err)
			continue
		}
		short := min(c.above, c.below)
		gone := short
		if c.openings == 2 {
			gone = c.above + c.below
		}
		foretest.Near(t, "what is left to cut", geom.Area(o), geom.Area(geom.Outline{outer, counter})-gone, 1e-6)
	}
}

// A memo keeps no more than it may, and works nothing out twice that is in use.
func TestMemoBounded(t *testing.T) {
	var m memo
	square := geom.Paths(geom.Rect{W: 1, H: 1})
	worked := 0
	get := func(key string) {
		m.get(key, func() (body, error) {
			worked++
			return body{outline: square}, nil
		})
	}
	for i := range 10 * most {
		get("again")
		get(string(rune(i)) + "x")
		if n := len(m.young) + len(m.old); n > 2*(most/5+2) {
			t.Fatalf("%d bodies of 5 segments are kept", n)
		}
	}
	if want := 10*most + 1; worked > want+1 {
		t.Errorf("worked out %d times for %d bodies", worked, want)
	}
}

// Of what bridges leave stays board what is smaller than a fiftieth of their breadth's square,
// or somewhere no broader than the laser's cut, or 0.08 mm; what was there before never does.
func TestCrumbs(t *testing.T) {
	const width = 2.0
	for _, c := range []struct {
		w, h, cut float64
		board     bool
	}{
		{0.27, 0.29, 0.2, true}, {0.28, 0.29, 0.2, false}, {0.99, 0.08, 0, true}, // the fiftieth is 0.08 mm²
		{3, 0.19, 0.2, true}, {3, 0.21, 0.2, false}, {3, 0.29, 0.3, true}, {3, 0.31, 0.3, false},
		{3, 0.079, 0, true}, {3, 0.082, 0, false}, {1.1, 0.082, 0.01, false},
	} {
		p := geom.Paths(geom.Rect{W: c.w, H: c.h})
		if left := crumbless(p, nil, width, c.cut); (len(left) == 0) != c.board {
			t.Errorf("%+v: %d are left", c, len(left))
		}
		if left := crumbless(p, p, width, c.cut); len(left) != 1 {
			t.Errorf("%+v: a piece that was there is left out", c)
		}
	}
}

// Board that a neck as broad as a bridge holds needs no more: of two brackets one neck between
// their tips is made so broad, the other stays as it was.
func TestOneNeckIsEnough(t *testing.T) {
	b, err := Fit(load(t, Default), "()", 60, 30, Style{Cap: 15})
	if err != nil {
		t.Fatal(err)
	}
	narrow := neck(b.Outline, true)
	for _, width := range []float64{narrow - 0.1, narrow + 0.3} {
		o, err := b.Stencil(width, 0.2)
		if err != nil {
			t.Fatal(err)
		}
		above, below := neck(o, false), neck(o, true)
		// Where a bridge lies on a slanted tip, what it cuts off leaves a little more.
		if broad := max(above, below); broad < max(width, narrow)-0.01 || broad > 1.02*max(width, narrow) {
			t.Errorf("with bridges of %g the broader neck is %g", width, broad)
		}
		foretest.Near(t, "the other", min(above, below), narrow, 0.01)
	}
}

// neck is how far two brackets are apart above or below their middle.
func neck(o geom.Outline, below bool) float64 {
	all := o.Bounds()
	from, to := math.Inf(-1), math.Inf(1)
	for _, p := range o {
		for _, x := range p.Flatten(1e-3) {
			switch {
			case (x.Y > all.Center().Y) != below:
			case p.Bounds().Min.X == all.Min.X:
				from = max(from, x.X)
			default:
				to = min(to, x.X)
			}
		}
	}
	return to - from
}

// What bridges leave of a letter is never so narrow that the laser's cut leaves nothing of
// it; without that it is, of these.
func TestNoSplinters(t *testing.T) {
	const cut = 0.2
	narrow := 0
	for _, c := range []struct {
		font, text string
		cap, width float64
	}{
		{"Go Regular", "8", 40, 0.5}, {"Go Regular", "8", 15, 0.3}, {"Go Regular", "8", 15, 0.4}, {"Go Regular", "8", 30, 0.8}, {"Go Regular", "8", 35, 0.4},
		{"Go Bold", "8", 30, 0.4}, {"DejaVu Sans", "8", 30, 0.6}, {"Go Mono", "0", 30, 0.6}, {"DejaVu Sans Bold", "8", 30, 0.4},
	} {
		b, err := Fit(load(t, c.font), c.text, 300, 300, Style{Cap: c.cap})
		if err != nil {
			t.Fatal(err)
		}
		for _, least := range []float64{0, cut} {
			o, err := b.Stencil(c.width, least)
			if err != nil {
				t.Fatal(c, err)
			}
			for _, p := range o {
				_, gone := kerf.Offset(p, -cut/2)
				switch {
				case gone == nil:
				case least == 0:
					narrow++
				default:
					t.Errorf("%+v: %.3g mm² in %v is narrower than the laser's cut", c, p.Area(), p.Bounds())
				}
			}
		}
	}
	if narrow < 5 {
		t.Errorf("only %d splinters", narrow)
	}
}
