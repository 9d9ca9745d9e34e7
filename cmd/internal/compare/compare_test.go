package compare

import (
	"math"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout/geom"
)

// How far figures are apart, where plain geometry tells it.
func TestHowFarFiguresAreApart(t *testing.T) {
	square := geom.Rect{Min: geom.Pt(0, 0), W: 10, H: 10}
	circle := geom.Circle{Center: geom.Pt(5, 5), R: 5}
	slot := geom.NewPath(geom.Pt(0, 0)).Line(geom.Pt(30, 0)).Arc(geom.Pt(30, 8), geom.Pt(30, 4), true).Line(geom.Pt(0, 8)).Arc(geom.Pt(0, 0), geom.Pt(0, 4), true).Close()
	at := func(x float64) geom.Path { return slot.Move(geom.Pt(x, 0)).(geom.Path) }
	for _, c := range []struct {
		name string
		a, b geom.Figure
		want float64
	}{
		{"itself", square, square, 0},
		{"moved along", square, square.Move(geom.Pt(3, 0)), 3},
		{"moved both ways", square, square.Move(geom.Pt(3, 4)), 5},
		{"a slot moved along its sides", slot, slot.Move(geom.Pt(2, 0)), 2},
		{"two slots moved, so that one comes to lie on the other", geom.Outline{slot, at(40)}, geom.Outline{at(40), at(80)}, 40},
		{"grown at two sides", square, geom.Rect{W: 12, H: 12}, 2 * math.Sqrt2},
		{"a circle's corners", square, circle, 5*math.Sqrt2 - 5},
		{"a smaller circle", circle, geom.Circle{Center: geom.Pt(5, 5), R: 4}, 1},
		{"a side bent out", square, geom.Polygon(geom.Pt(0, 0), geom.Pt(5, -2), geom.Pt(10, 0), geom.Pt(10, 10), geom.Pt(0, 10)), 2},
	} {
		foretest.Near(t, c.name, apart(c.a, c.b), c.want, 2*geom.HausdorffTol)
		foretest.Near(t, c.name+", the other way round", apart(c.b, c.a), c.want, 2*geom.HausdorffTol)
	}
}

// What is the same takes no memory to be seen: of most designs that is nearly all.
func TestTheSameTakesNoMemory(t *testing.T) {
	slot := geom.NewPath(geom.Pt(0, 0)).Line(geom.Pt(30, 0)).Arc(geom.Pt(30, 8), geom.Pt(30, 4), true).Line(geom.Pt(0, 8)).Arc(geom.Pt(0, 0), geom.Pt(0, 4), true).Close()
	for _, f := range []geom.Figure{geom.Rect{W: 3, H: 4}, geom.Circle{R: 5}, slot, geom.Outline{slot, slot}} {
		if n := testing.AllocsPerRun(10, func() { apart(f, f) }); n > 0 {
			t.Errorf("%T: %v pieces of memory", f, n)
		}
	}
}

// Dashes leave the ends of a line where they are and go on round its corners.
func TestDashes(t *testing.T) {
	s := stroke{points: []geom.Point{geom.Pt(0, 0), geom.Pt(3, 0), geom.Pt(3, 40)}}
	drawn, last := 0.0, 0.0
	for _, d := range s.dashes() {
		long := 0.0
		for i := 1; i < len(d); i++ {
			long += d[i].Distance(d[i-1])
		}
		if long > dash+1e-9 {
			t.Errorf("a dash of %v", long)
		}
		drawn += long
		last = d[len(d)-1].Y
	}
	foretest.Near(t, "drawn", drawn, 43*dash/(dash+gap), dash)
	if last > 40 || last < 40-gap-1e-9 {
		t.Errorf("the last ends at %v", last)
	}
}
