package kerf

import (
	"math"
	"math/rand/v2"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout/geom"
)

// cubicCircle is a circle as four cubics, 2.7e-4 of its radius off at most (the
// usual 4/3·(√2−1) handles).
func cubicCircle(c geom.Point, r float64) geom.Path {
	k := r * 4 / 3 * (math.Sqrt2 - 1)
	at := func(x, y float64) geom.Point { return c.Add(geom.Pt(x, y)) }
	return geom.NewPath(at(r, 0)).
		Cubic(at(r, k), at(k, r), at(0, r)).Cubic(at(-k, r), at(-r, k), at(-r, 0)).
		Cubic(at(-r, -k), at(-k, -r), at(0, -r)).Cubic(at(k, -r), at(r, -k), at(r, 0)).Close()
}

func TestFreeCurves(t *testing.T) {
	for _, d := range []float64{0.1, -0.1, 0.7, -1} {
		o := geom.Outline{cubicCircle(geom.Pt(5, 5), 5), cubicCircle(geom.Pt(5, 5), 2)} // both clockwise
		got, err := Offset(o, d)
		if err != nil {
			t.Fatal(err)
		}
		rings := got.(geom.Outline)
		if len(rings) != 2 || !rings[0].Clockwise() || rings[1].Clockwise() {
			t.Fatalf("%d rings", len(rings))
		}
		// Steiner's formula for smooth rings, with the cubics' own measures.
		outer, inner := geom.Paths(o)[0], geom.Paths(o)[1]
		foretest.Near(t, "outer", rings[0].Area(), outer.Area()+geom.Length(outer)*d+math.Pi*d*d, 1e-3)
		foretest.Near(t, "counter", -rings[1].Area(), inner.Area()-geom.Length(inner)*d+math.Pi*d*d, 1e-3)
		edge := geom.NewBoundary(o)
		for p := range rings[0].Pieces() {
			foretest.Near(t, "distance", edge.Distance(p.At(0.37)), math.Abs(d), geom.CurveTol+2*CurveTol)
		}
		for _, s := range rings[0].Segments {
			if s.Kind != geom.ArcTo {
				t.Error("not an arc")
			}
		}
		if n := len(rings[0].Segments); n > 80 {
			t.Errorf("%d arcs", n)
		}
	}
}

func TestFallsApartAndCloses(t *testing.T) {
	// Two squares joined by a neck 0.4 wide: shrunk by 0.3 two squares are left.
	bell := geom.Polygon(geom.Pt(0, 0), geom.Pt(4, 0), geom.Pt(4, 1.8), geom.Pt(6, 1.8), geom.Pt(6, 0), geom.Pt(10, 0),
		geom.Pt(10, 4), geom.Pt(6, 4), geom.Pt(6, 2.2), geom.Pt(4, 2.2), geom.Pt(4, 4), geom.Pt(0, 4))
	got, err := Offset(bell, -0.3)
	if err != nil {
		t.Fatal(err)
	}
	if s := text(got); s != "M0.3 0.3L3.7 0.3L3.7 3.7L0.3 3.7ZM9.7 0.3L9.7 3.7L6.3 3.7L6.3 0.3Z" {
		t.Errorf("the halves are %s", s)
	}
	foretest.Near(t, "two halves", geom.Area(got), 2*3.4*3.4, 1e-9)
	// A ring with a slit 0.4 wide: grown by 0.3 the slit closes, a counter is left.
	slit := geom.Polygon(geom.Pt(0, 0), geom.Pt(10, 0), geom.Pt(10, 4.8), geom.Pt(8, 4.8), geom.Pt(8, 2), geom.Pt(2, 2),
		geom.Pt(2, 8), geom.Pt(8, 8), geom.Pt(8, 5.2), geom.Pt(10, 5.2), geom.Pt(10, 10), geom.Pt(0, 10))
	got, err = Offset(slit, 0.3)
	if err != nil {
		t.Fatal(err)
	}
	if len(geom.Paths(got)) != 2 {
		t.Errorf("closed to %s", text(got))
	}
	foretest.Near(t, "closed", geom.Area(got), 10.6*10.6-5.4*5.4, 1e-9)
}

func FuzzOffset(f *testing.F) {
	f.Add(uint64(1), 0.1)
	f.Add(uint64(2), -0.4)
	f.Fuzz(func(t *testing.T, seed uint64, d float64) {
		if !(math.Abs(d) < 3) {
			t.Skip()
		}
		p := star(rand.New(rand.NewPCG(seed, 0)), 0.6)
		if !simple(p) {
			t.Skip()
		}
		got, err := Offset(p, d)
		if err != nil {
			if _, ok := err.(VanishError); !ok {
				t.Fatalf("%s by %g: %v", p, d, err)
			}
			return
		}
		if a, b := math.Abs(geom.Area(got)), p.Area(); math.Abs(d) > 1e-3 && (a > b) != (d > 0) {
			t.Errorf("%s by %g: area from %g to %g", p, d, b, a)
		}
		edge := geom.NewBoundary(p)
		for _, q := range geom.Paths(got) {
			for s := range q.Pieces() {
				if e := edge.Distance(s.At(0.5)); e < math.Abs(d)-2e-4 {
					t.Errorf("%s by %g: a side is only %g away", p, d, e)
				}
			}
		}
	})
}

func BenchmarkRectangles10000(b *testing.B) {
	rects := make([]geom.Figure, 10_000)
	for i := range rects {
		rects[i] = geom.Rect{Min: geom.Pt(float64(i%100)*9, float64(i/100)*9), W: 4, H: 4.05}
	}
	for b.Loop() {
		for _, r := range rects {
			if got, err := Offset(r, -0.1); err != nil || math.Abs(got.(geom.Rect).W-3.8) > 1e-12 {
				b.Fatal(got, err)
			}
		}
	}
}

func BenchmarkSlots10000(b *testing.B) {
	slots := make([]geom.Figure, 10_000)
	for i := range slots {
		slots[i] = geom.Slot(geom.Pt(float64(i%100)*9, float64(i/100)*9), 6, 4)
	}
	for b.Loop() {
		for _, r := range slots {
			got, err := Offset(r, -0.1)
			if err != nil || len(got.(geom.Path).Segments) != 4 {
				b.Fatal(got, err)
			}
		}
	}
}
