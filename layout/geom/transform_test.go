package geom

import (
	"math"
	"math/rand/v2"
	"testing"

	"foredge/lang/foretest"
)

func TestSimilarity(t *testing.T) {
	slot := Slot(Pt(20, 5), 10, 4)
	tests := []struct {
		name string
		s    Similarity
		f    Figure
		want string
	}{
		{"mirror left and right", MirrorX(10), Rect{Pt(1, 2), 3, 4}, "M16 2L19 2L19 6L16 6Z"},
		{"mirror up and down", MirrorY(0), Rect{Pt(1, 2), 3, 4}, "M1 -6L4 -6L4 -2L1 -2Z"},
		{"quarter turn", Turn(Pt(0, 0), math.Pi/2), Rect{Pt(1, 2), 3, 4}, "M-6 1L-2 1L-2 4L-6 4Z"},
		{"three quarters back", Turn(Pt(0, 0), -3*math.Pi/2), Rect{Pt(1, 2), 3, 4}, "M-6 1L-2 1L-2 4L-6 4Z"},
		{"scale", Scale(2), Circle{Pt(1, 2), 3}, "M8 4A6 6 0 0 1 -4 4A6 6 0 0 1 8 4Z"},
		{"slot mirrored", MirrorX(0), slot, "M-17 3L-23 3A2 2 0 0 0 -23 7L-17 7A2 2 0 0 0 -17 3Z"},
		{"slot turned", Turn(Pt(20, 5), math.Pi/2), slot, "M22 2L22 8A2 2 0 0 1 18 8L18 2A2 2 0 0 1 22 2Z"},
	}
	for _, tt := range tests {
		got := tt.s.Apply(tt.f)
		if p := Paths(got)[0].String(); p != tt.want {
			t.Errorf("%s: got %s, want %s", tt.name, p, tt.want)
		}
		if _, ok := tt.f.(Rect); ok {
			if _, still := got.(Rect); !still {
				t.Errorf("%s: a rect became %T", tt.name, got)
			}
		}
	}
	r := rand.New(rand.NewPCG(5, 6))
	for range 200 {
		s := Shift(Pt(r.Float64(), r.Float64())).Then(MirrorX(r.Float64())).Then(Turn(Pt(r.Float64(), 2), 7*r.Float64())).Then(Scale(0.5 + r.Float64())).Then(MirrorY(3))
		p := randomPath(r, true)
		q := s.Path(p)
		foretest.Near(t, "area", q.Area(), p.Area()*s.Factor()*s.Factor(), 1e-9)
		foretest.Near(t, "length", Length(q), Length(p)*s.Factor(), 1e-9)
		i := r.IntN(len(p.Segments))
		var a, b Piece
		k := 0
		for piece := range p.Pieces() {
			if k == i {
				a = piece
			}
			k++
		}
		k = 0
		for piece := range q.Pieces() {
			if k == i {
				b = piece
			}
			k++
		}
		if d := s.Point(a.At(0.3)).Distance(b.At(0.3)); d > 1e-9 {
			t.Fatalf("a point moved %g off", d)
		}
	}
}

// The arcs that stand for an ellipse are checked point by point both ways.
func TestScaleXY(t *testing.T) {
	if got := ScaleXY(Rect{Pt(1, 2), 3, 4}, 2, 0.5); got != (Rect{Pt(2, 1), 6, 2}) {
		t.Errorf("a rect became %v", got)
	}
	for _, tt := range []struct {
		name   string
		f      Figure
		kx, ky float64
		atMost int // segments: a few arcs, not a polyline
	}{
		{"a laser's axes", Circle{Pt(100, 50), 12}, 1 / 1.002, 1 / 0.999, 32},
		{"small hole", Circle{Pt(3, 4), 2}, 1.003, 1, 16},
		{"flat", Circle{Pt(0, 0), 10}, 1, 0.3, 160},
		{"slot", Slot(Pt(30, 40), 10, 4), 1.01, 0.99, 36},
		{"run the other way", Paths(Slot(Pt(30, 40), 10, 4))[0].Reverse(), 1.01, 0.99, 36},
	} {
		got := ScaleXY(tt.f, tt.kx, tt.ky)
		foretest.Near(t, tt.name+" area", Area(got), Area(tt.f)*tt.kx*tt.ky, Length(got)*axisTol)
		want := tt.f.Bounds()
		nearBox(t, tt.name, got.Bounds(), Box{Pt(want.Min.X*tt.kx, want.Min.Y*tt.ky), Pt(want.Max.X*tt.kx, want.Max.Y*tt.ky)}, 1e-9)
		made := NewBoundary(got)
		if len(made.Pieces) > tt.atMost {
			t.Errorf("%s: %d segments", tt.name, len(made.Pieces))
		}
		// Every point of the mapped curve lies by the arcs, and every point of the
		// arcs, mapped back, by the curve.
		for _, path := range Paths(tt.f) {
			for p := range path.Pieces() {
				for k := range 400 {
					q := p.At(float64(k) / 400)
					if d := made.Distance(Pt(q.X*tt.kx, q.Y*tt.ky)); d > axisTol {
						t.Fatalf("%s: arcs %g off", tt.name, d)
					}
				}
			}
		}
		wanted := NewBoundary(tt.f)
		for i, p := range made.Pieces {
			for k := range 50 {
				q := p.At(float64(k) / 50)
				if d := wanted.Distance(Pt(q.X/tt.kx, q.Y/tt.ky)); d*max(tt.kx, tt.ky) > 1.05*axisTol/min(tt.kx, tt.ky) {
					t.Fatalf("%s: arc %d lies %g off", tt.name, i, d)
				}
			}
			next := made.Pieces[(i+1)%len(made.Pieces)]
			if p.End != next.From {
				t.Fatalf("%s: segment %d ends at %v, the next starts at %v", tt.name, i, p.End, next.From)
			}
			if u, v := p.Tangent(1), next.Tangent(0); u.Distance(v) > 1e-6 {
				t.Errorf("%s: a corner of %g between arcs %d and the next", tt.name, u.Distance(v), i)
			}
		}
	}
}

func TestArcs(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	shapes := []Path{
		NewPath(Pt(0, 0)).Cubic(Pt(10, 10), Pt(-5, 10), Pt(5, 0)).Open(),           // bends hard at its top
		NewPath(Pt(0, 0)).Cubic(Pt(0, 0), Pt(5, 5), Pt(10, 0)).Open(),              // a control point on the end
		NewPath(Pt(0, 0)).Cubic(Pt(3, 0), Pt(6, 0), Pt(10, 0)).Open(),              // straight
		NewPath(Pt(0, 0)).Cubic(Pt(10, 5), Pt(0, -5), Pt(10, 0)).Open(),            // an S
		NewPath(Pt(0, 0)).Cubic(Pt(12, 8), Pt(-2, 8), Pt(10, 0)).Open(),            // a loop
		NewPath(Pt(0, 0)).Cubic(Pt(10, 10), Pt(0, 10), Pt(10, 0)).Open(),           // a cusp
		NewPath(Pt(0.1, 0.3)).Cubic(Pt(20, -20), Pt(30, 20), Pt(0.1, 0.3)).Close(), // a drop
		NewPath(Pt(10-2e-15, 20-4e-15)).Cubic(Pt(30-4e-15, 0), Pt(40-8e-15, 40-8e-15), Pt(10-2e-15, 20-4e-15)).Close(),
		NewPath(Pt(0, 0)).Cubic(Pt(1e-4, 0), Pt(1e-4, 1e-4), Pt(0, 1e-4)).Open(), // a speck
	}
	for range 50 {
		shapes = append(shapes, randomPath(r, true))
	}
	for _, p := range shapes {
		for _, tol := range []float64{1e-2, 1e-4} {
			arcs := p.Arcs(tol)
			b := NewBoundary(arcs)
			for _, piece := range b.Pieces {
				if piece.Kind == CubicTo {
					t.Fatal("a cubic is left")
				}
			}
			if arcs.Start != p.Start || arcs.End() != p.End() {
				t.Errorf("%s: ends moved to %v %v", p, arcs.Start, arcs.End())
			}
			for piece := range p.Pieces() {
				for k := range 300 {
					if d := b.Distance(piece.At(float64(k) / 300)); d > 1.1*tol {
						t.Fatalf("%s at %g: arcs %g off at %d", p, tol, d, k)
					}
				}
			}
			if n := len(arcs.Segments); n > 600 {
				t.Errorf("%s at %g: %d arcs", p, tol, n)
			}
		}
	}
}
