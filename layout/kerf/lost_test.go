package kerf

import (
	"math"
	"testing"

	"foredge/layout/geom"
)

// What is lost of figures whose arms and bays are as broad and long as is written beside them.
func TestLost(t *testing.T) {
	polygon := func(xy ...float64) geom.Figure {
		var all []geom.Point
		for i := 0; i < len(xy); i += 2 {
			all = append(all, geom.Pt(xy[i], xy[i+1]))
		}
		return geom.Polygon(all...)
	}
	arm := polygon(0, 0, 10, 0, 10, 4, 20, 4, 20, 4.3, 10, 4.3, 10, 8, 0, 8)                         // 0.3 broad, 10 long
	bay := polygon(0, 0, 10, 0, 10, 4, 4, 4, 4, 4.3, 10, 4.3, 10, 8, 0, 8)                           // 0.3 broad, 6 deep
	bar := polygon(0, 0, 2, 0, 2, 4, 12, 4, 12, 0, 14, 0, 14, 9, 12, 9, 12, 4.3, 2, 4.3, 2, 9, 0, 9) // an H; its bar is 0.3 broad, 10 long
	letterA := geom.Outline{                                                                         // its bar, between two openings, is 0.3 broad, 4 long
		polygon(0, 0, 6, 0, 6, 9, 0, 9).(geom.Path), polygon(1, 1, 1, 4, 5, 4, 5, 1).(geom.Path), polygon(1, 4.3, 1, 8, 5, 8, 5, 4.3).(geom.Path)}
	shortBar := polygon(0, 0, 2, 0, 2, 4, 2.6, 4, 2.6, 0, 5, 0, 5, 9, 2.6, 9, 2.6, 4.3, 2, 4.3, 2, 9, 0, 9) // 0.3 broad, 0.6 long
	star := polygon(0, 9, 9, 7, 11, 0, 13, 7, 22, 9, 13, 11, 11, 18, 9, 11)
	turned := geom.Turn(geom.Pt(3, 4), 0.7)
	for _, c := range []struct {
		name  string
		fig   geom.Figure
		width float64
		reach float64 // 0 for none
		whole bool
		tie   bool
	}{
		{"arm", arm, 0.31, 10, false, false},
		{"arm that is broad enough", arm, 0.29, 0, false, false},
		{"no bay", arm, -0.31, 0, false, false},
		{"bay, whose end is 4 from the outside", bay, -0.31, 4, false, false},
		{"bay that is broad enough", bay, -0.29, 0, false, false},
		{"no arm", bay, 0.31, 0, false, false},
		{"bar, at its middle", bar, 0.31, 5, false, true},
		{"bar between openings", letterA, 0.31, 2, false, true},
		{"bar, as long as the width twice", shortBar, 0.31, 0.3, false, true},
		{"points", star, 0.5, 0, false, false},
		{"crotches", star, -0.5, 0, false, false},
		{"all", geom.Rect{W: 10, H: 0.3}, 0.31, 10, true, false},
		{"circle", geom.Circle{R: 2}, 3.9, 0, false, false},
		{"nothing asked", arm, 0, 0, false, false},
		{"a line", geom.NewPath(geom.Pt(0, 0)).Line(geom.Pt(5, 5)).Open(), 0.3, 0, false, false},
	} {
		for i, fig := range []geom.Figure{c.fig, turned.Apply(c.fig)} {
			var m Memo
			loss, ok := m.Lost(fig, c.width)
			if ok != (c.reach > 0) || math.Abs(loss.Reach-c.reach) > 0.02 && !(loss.Whole && i > 0) || ok && (loss.Whole != c.whole || loss.Tie != c.tie) {
				t.Errorf("%s: %+v, %v", c.name, loss, ok)
			}
		}
	}
}

// Among many figures that are equal the place is that of the figure that is asked about.
func TestLostIsKnown(t *testing.T) {
	var m Memo
	arm := geom.Polygon(geom.Pt(0, 0), geom.Pt(10, 0), geom.Pt(10, 4), geom.Pt(20, 4), geom.Pt(20, 4.3), geom.Pt(10, 4.3), geom.Pt(10, 8), geom.Pt(0, 8))
	for i := range little / 4 {
		by := geom.Pt(float64(30*i), 5)
		loss, ok := m.Lost(arm.Move(by), 0.4)
		if at := loss.At.Sub(by); !ok || math.Abs(at.X-20) > 1e-6 || math.Abs(at.Y-4) > 0.31 {
			t.Fatalf("%d: %+v", i, loss)
		}
		if _, err := m.Offset(arm.Move(by), -0.2); err != nil {
			t.Fatal(err)
		}
	}
}
