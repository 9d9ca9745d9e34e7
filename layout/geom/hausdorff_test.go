package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Where plain geometry tells the distance.
func TestHausdorff(t *testing.T) {
	square := Rect{W: 10, H: 10}
	slot := func(angle float64) Figure {
		u := Pt(math.Cos(angle), math.Sin(angle)).Mul(11)
		v := Pt(-math.Sin(angle), math.Cos(angle)).Mul(4)
		return NewPath(Point{}.Sub(u).Sub(v)).Line(u.Sub(v)).Arc(u.Add(v), u, true).Line(v.Sub(u)).Arc(Point{}.Sub(u).Sub(v), Point{}.Sub(u), true).Close()
	}
	angle := 10 * math.Pi / 180
	for _, c := range []struct {
		name string
		f, g Figure
		want float64
	}{
		{"itself", square, square, 0},
		{"moved", square, square.Move(Pt(3, 4)), 5},
		{"circles about one middle", Circle{R: 5}, Circle{R: 4}, 1},
		{"circles apart", Circle{R: 5}, Circle{Center: Pt(3, 4), R: 5}, 5},
		{"a circle in another", Circle{R: 5}, Circle{Center: Pt(1, 0), R: 1}, 5},
		{"a circle's corners", square, Circle{Center: Pt(5, 5), R: 5}, 5*math.Sqrt2 - 5},
		// The middle of a side between two points that stand as far from it.
		{"the middle of a line", NewPath(Pt(-10, 0)).Line(Pt(10, 0)).Open(), NewPath(Pt(-10, 0)).Line(Pt(-10, 9)).Line(Pt(10, 9)).Line(Pt(10, 0)).Open(), 9},
		// The middle of an end's arc lies 11 sin(10°) off the other slot's axis, both sides
		// are as far from their axes, and the arc has a point straight across from there.
		{"a slot that is turned", slot(0), slot(angle), 11 * math.Sin(angle)},
	} {
		got, looked := HausdorffCost(c.f, c.g)
		if math.Abs(got-c.want) > 2*HausdorffTol {
			t.Errorf("%s: %.7f, want %.7f", c.name, got, c.want)
		}
		if looked > 3000 {
			t.Errorf("%s: looked from %d points", c.name, looked)
		}
		if back := Hausdorff(c.g, c.f); math.Abs(got-back) > 2*HausdorffTol {
			t.Errorf("%s: %.7f and back %.7f", c.name, got, back)
		}
	}
}

// Points that lie close together on both say the same, a little less.
func TestHausdorffAsSampled(t *testing.T) {
	rnd := rand.New(rand.NewPCG(15, 7))
	figure := func() Figure {
		switch rnd.IntN(3) {
		case 0:
			return Circle{Center: Pt(10*rnd.Float64(), 10*rnd.Float64()), R: 1 + 9*rnd.Float64()}
		case 1:
			return Rect{Min: Pt(10*rnd.Float64(), 10*rnd.Float64()), W: 1 + 9*rnd.Float64(), H: 1 + 9*rnd.Float64()}
		}
		f, _ := Board(10+rnd.Float64(), 10, [4]Corner{{Round, 4 * rnd.Float64()}, {Scoop, 4 * rnd.Float64()}, {Chamfer, 4 * rnd.Float64()}, {}})
		return f.Move(Pt(3*rnd.Float64(), 0))
	}
	const step = 0.01
	for range 60 {
		f, g := figure(), figure()
		want := 0.0
		for _, c := range [2][2]Figure{{f, g}, {g, f}} {
			edge := NewBoundary(c[1])
			for _, path := range Paths(c[0]) {
				for p := range path.Pieces() {
					n := math.Ceil(p.Length() / step)
					for k := range int(n) + 1 {
						want = max(want, edge.Distance(p.At(float64(k)/max(n, 1))))
					}
				}
			}
		}
		got, looked := HausdorffCost(f, g)
		if got < want-HausdorffTol || got > want+step/2 || looked > 3000 {
			t.Errorf("%v and %v: %.6f from %d points, sampled %.6f", f, g, got, looked, want)
		}
	}
}
