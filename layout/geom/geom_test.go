package geom

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"foredge/lang/foretest"
)

func nearBox(t *testing.T, what string, got, want Box, tol float64) {
	t.Helper()
	if got.Min.Distance(want.Min) > tol || got.Max.Distance(want.Max) > tol {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

// sampled is the box of many points of a figure: a check on Bounds by brute force.
func sampled(f Figure) Box {
	b := EmptyBox()
	for _, path := range Paths(f) {
		for p := range path.Pieces() {
			for k := range 2001 {
				b = b.with(p.At(float64(k) / 2000))
			}
		}
	}
	return b
}

// randomPath is a closed path of lines, arcs and cubics round the origin, with
// corners at distance 5 to 10; it doesn't cross itself.
func randomPath(r *rand.Rand, cubics bool) Path {
	n := 3 + r.IntN(8)
	corner := make([]Point, n)
	for i := range corner {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.6*r.Float64()) / float64(n))
		corner[i] = Pt(cos, sin).Mul(5 + 5*r.Float64())
	}
	b := NewPath(corner[0])
	for i := range n {
		from, to := corner[i], corner[(i+1)%n]
		switch k := r.IntN(3); {
		case k == 1:
			b.Add(FromBulge(from, to, 0.1*(r.Float64()-0.5)).Segment)
		case k == 2 && cubics:
			side := Point{from.Y - to.Y, to.X - from.X}.Mul(0.05)
			b.Cubic(from.Lerp(to, 0.3).Add(side), from.Lerp(to, 0.7).Sub(side), to)
		default:
			b.Line(to)
		}
	}
	return b.Close()
}

func TestBounds(t *testing.T) {
	half := NewPath(Pt(0, 0)).Arc(Pt(10, 0), Pt(5, 0), true).Close()
	tests := []struct {
		name string
		f    Figure
		want Box
	}{
		{"rect", Rect{Pt(1, 2), 3, 4}, Box{Pt(1, 2), Pt(4, 6)}},
		{"circle", Circle{Pt(1, 2), 3}, Box{Pt(-2, -1), Pt(4, 5)}},
		{"half circle over its chord", half, Box{Pt(0, -5), Pt(10, 0)}},
		{"half circle under its chord", MirrorY(0).Path(half), Box{Pt(0, 0), Pt(10, 5)}},
		{"three quarters", NewPath(Pt(5, 0)).Arc(Pt(0, -5), Pt(0, 0), true).Close(), Box{Pt(-5, -5), Pt(5, 5)}},
		// The peak of a symmetric cubic is 3/4 of its control height.
		{"cubic", NewPath(Pt(0, 0)).Cubic(Pt(0, -4), Pt(10, -4), Pt(10, 0)).Close(), Box{Pt(0, -3), Pt(10, 0)}},
		{"outline", Outline{half, half.Move(Pt(20, 0)).(Path)}, Box{Pt(0, -5), Pt(30, 0)}},
		{"nothing", Outline{}, EmptyBox()},
	}
	for _, tt := range tests {
		got := tt.f.Bounds()
		if got.Empty() && tt.want.Empty() {
			continue
		}
		nearBox(t, tt.name, got, tt.want, 1e-12)
		nearBox(t, tt.name+", moved", tt.f.Move(Pt(3, -7)).Bounds(), Box{tt.want.Min.Add(Pt(3, -7)), tt.want.Max.Add(Pt(3, -7))}, 1e-12)
	}
	r := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		p := randomPath(r, true)
		got, dense := p.Bounds(), sampled(p)
		nearBox(t, p.String(), got, dense, 1e-5)
		if !got.Grow(1e-12).Holds(dense) {
			t.Errorf("%s: points outside the bounds", p)
		}
	}
}

func TestAreaAndLength(t *testing.T) {
	// Segment of a circle, r = 5, 120 degrees: r²/2·(θ − sin θ) (any handbook).
	theta := 2 * math.Pi / 3
	third := NewPath(Pt(5, 0)).Arc(Pt(5*math.Cos(theta), 5*math.Sin(theta)), Pt(0, 0), true).Close()
	// The usual cubic for a quarter circle; its area is (1/2 + 3k/5 − 3k²/20)·r²
	// with k = 4/3·(√2−1), worked by hand from the integral.
	k := 4.0 / 3 * (math.Sqrt2 - 1)
	quarter := NewPath(Pt(0, 0)).Line(Pt(1, 0)).Cubic(Pt(1, k), Pt(k, 1), Pt(0, 1)).Close()
	slot := Slot(Pt(0, 0), 10, 4)
	tests := []struct {
		name         string
		f            Figure
		area, length float64
	}{
		{"rect", Rect{W: 3, H: 4}, 12, 14},
		{"circle", Circle{R: 2}, 4 * math.Pi, 4 * math.Pi},
		{"clockwise square", Polygon(Pt(0, 0), Pt(2, 0), Pt(2, 2), Pt(0, 2)), 4, 8},
		{"the other way", Polygon(Pt(0, 0), Pt(0, 2), Pt(2, 2), Pt(2, 0)), -4, 8},
		{"segment", third, 12.5 * (theta - math.Sin(theta)), 5*theta + 5*math.Sqrt(3)},
		{"cubic quarter", quarter, 0.5 + 0.6*k - 0.15*k*k, 0},
		{"slot", slot, 24 + 4*math.Pi, 12 + 4*math.Pi},
		{"outline with a counter", Outline{Paths(Rect{W: 10, H: 10})[0], Paths(Circle{Pt(5, 5), 2})[0].Reverse()}, 100 - 4*math.Pi, 40 + 4*math.Pi},
	}
	for _, tt := range tests {
		foretest.Near(t, tt.name+" area", Area(tt.f), tt.area, 1e-12*max(1, tt.area))
		if tt.length > 0 {
			foretest.Near(t, tt.name+" length", Length(tt.f), tt.length, 1e-12*tt.length)
		}
		moved := tt.f.Move(Pt(1000, -500))
		foretest.Near(t, tt.name+" area moved", Area(moved), tt.area, 1e-8)
	}
	// A parabola y = x² from 0 to 1 as a cubic: √5/2 + asinh(2)/4 long.
	parabola := NewPath(Pt(0, 0)).Cubic(Pt(1./3, 0), Pt(2./3, 1./3), Pt(1, 1)).Open()
	foretest.Near(t, "parabola", Length(parabola), math.Sqrt(5)/2+math.Asinh(2)/4, 1e-11)
}

func TestReverseAndFlatten(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 100 {
		p := randomPath(r, true)
		back := p.Reverse()
		foretest.Near(t, "reversed area", back.Area(), -p.Area(), 1e-9)
		foretest.Near(t, "reversed length", Length(back), Length(p), 1e-9)
		if again := back.Reverse(); again.String() != p.String() {
			t.Errorf("reversed twice: %s, want %s", again, p)
		}
		if !p.Oriented(false).Oriented(true).Clockwise() {
			t.Error("not clockwise")
		}
		exact := NewBoundary(p)
		for _, tol := range []float64{0.1, 1e-3} {
			points := p.Flatten(tol)
			for i := range points[1:] {
				mid := points[i].Lerp(points[i+1], 0.5)
				if d := exact.Distance(mid); d > tol+CurveTol {
					t.Fatalf("%s: chord %g off at tolerance %g", p, d, tol)
				}
			}
		}
	}
}

// The bulges of DXF: tan of a quarter of the included angle, negative clockwise
// (DXF reference, VERTEX, group code 42); radius c(1+b²)/(4|b|), sagitta |b|c/2.
func TestBulge(t *testing.T) {
	for _, tt := range []struct{ degrees, bulge float64 }{
		{30, 0.1316524976}, {45, 0.1989123674}, {90, 0.4142135624}, {180, 1}, {270, 2.4142135624},
	} {
		sin, cos := math.Sincos(tt.degrees * math.Pi / 180)
		// With Y down, growing angles run clockwise as seen.
		arc := Piece{Pt(7, 0), Segment{Kind: ArcTo, End: Pt(7*cos, 7*sin), Clockwise: true}}
		foretest.Near(t, "clockwise", arc.Bulge(), -tt.bulge, 1e-10)
		foretest.Near(t, "counter-clockwise", arc.Reverse().Bulge(), tt.bulge, 1e-10)
		for _, b := range []float64{tt.bulge, -tt.bulge} {
			made := FromBulge(Pt(3, 4), Pt(13, 4), b)
			foretest.Near(t, "there and back", made.Bulge(), b, 1e-12)
			foretest.Near(t, "radius", made.Arc().R, 10*(1+b*b)/(4*math.Abs(b)), 1e-9)
			foretest.Near(t, "sagitta", made.At(0.5).Distance(Pt(8, 4)), math.Abs(b)*10/2, 1e-9)
		}
	}
	foretest.Near(t, "c = 10, b = 1", FromBulge(Pt(0, 0), Pt(10, 0), 1).Arc().R, 5, 1e-12)
	foretest.Near(t, "c = 10, b = 0.414", FromBulge(Pt(0, 0), Pt(10, 0), 0.4142135624).Arc().R, 7.0710678, 1e-7)
	// Counter-clockwise as seen from left to right passes below the chord.
	if y := FromBulge(Pt(0, 0), Pt(10, 0), 1).At(0.5).Y; y < 4.9 {
		t.Errorf("a positive bulge passes at y = %g", y)
	}
	if b := Line(Pt(0, 0), Pt(1, 0)).Bulge(); b != 0 {
		t.Errorf("a line has bulge %g", b)
	}
}

func TestSplitArcs(t *testing.T) {
	slot := Slot(Pt(0, 0), 10, 4).(Path)
	if got, want := slot.String(), "M-3 -2L3 -2A2 2 0 0 1 3 2L-3 2A2 2 0 0 1 -3 -2Z"; got != want {
		t.Errorf("slot %s, want %s", got, want)
	}
	got, want := slot.SplitArcs(math.Pi/2).String(), "M-3 -2L3 -2A2 2 0 0 1 5 0A2 2 0 0 1 3 2L-3 2A2 2 0 0 1 -5 0A2 2 0 0 1 -3 -2Z"
	if got != want {
		t.Errorf("split %s, want %s", got, want)
	}
}

// A closed line round a box is a rectangle, wherever it begins, whichever way it runs and with whatever points on its sides.
func TestPlain(t *testing.T) {
	box := Rect{Pt(1, 2), 12, 10}
	for name, test := range map[string]struct {
		points []Point
		plain  bool
	}{
		"clockwise":             {[]Point{Pt(1, 2), Pt(13, 2), Pt(13, 12), Pt(1, 12)}, true},
		"the other way":         {[]Point{Pt(13, 12), Pt(13, 2), Pt(1, 2), Pt(1, 12)}, true},
		"from within a side":    {[]Point{Pt(5, 2), Pt(13, 2), Pt(13, 12), Pt(1, 12), Pt(1, 7), Pt(1, 2)}, true},
		"a corner missing":      {[]Point{Pt(1, 2), Pt(13, 2), Pt(13, 5), Pt(5, 5), Pt(5, 12), Pt(1, 12)}, false},
		"a corner cut off":      {[]Point{Pt(2, 2), Pt(13, 2), Pt(13, 12), Pt(1, 12), Pt(1, 3)}, false},
		"a slit into it":        {[]Point{Pt(1, 2), Pt(7, 2), Pt(7, 5), Pt(7, 2), Pt(13, 2), Pt(13, 12), Pt(1, 12)}, false},
		"turned on its corners": {[]Point{Pt(7, 2), Pt(13, 7), Pt(7, 12), Pt(1, 7)}, false},
	} {
		path := Polygon(test.points...)
		got, plain := Plain(path).(Rect)
		if plain != test.plain || plain && (got.Min.Distance(box.Min) > Tol || math.Abs(got.W-box.W)+math.Abs(got.H-box.H) > Tol) {
			t.Errorf("%s: %v", name, Plain(path))
		}
		path.Closed = false
		if _, plain := Plain(path).(Rect); plain {
			t.Errorf("%s, open, is a rectangle", name)
		}
	}
	if c := (Circle{R: 3}); Plain(c) != Figure(c) {
		t.Error("a circle is none")
	}
}

func TestBoard(t *testing.T) {
	tests := []struct {
		name    string
		w, h    float64
		corners [4]Corner
		want    string
	}{
		{"two round", 30, 20, [4]Corner{UpperRight: {Round, 6}, LowerRight: {Round, 6}}, "M0 0L24 0A6 6 0 0 1 30 6L30 14A6 6 0 0 1 24 20L0 20Z"},
		{"chamfer", 30, 20, [4]Corner{UpperLeft: {Chamfer, 4}}, "M4 0L30 0L30 20L0 20L0 4Z"},
		{"scoop", 30, 20, [4]Corner{UpperRight: {Scoop, 4}}, "M0 0L26 0A4 4 0 0 0 30 4L30 20L0 20Z"},
		{"each its own", 30, 20, [4]Corner{{Round, 1}, {Chamfer, 2}, {Square, 9}, {Round, 3}}, "M1 0L28 0L30 2L30 20L3 20A3 3 0 0 1 0 17L0 1A1 1 0 0 1 1 0Z"},
		{"whole side", 10, 20, [4]Corner{{Round, 5}, {Round, 5}, {Square, 0}, {Square, 0}}, "M5 0A5 5 0 0 1 10 5L10 20L0 20L0 5A5 5 0 0 1 5 0Z"},
	}
	for _, tt := range tests {
		f, err := Board(tt.w, tt.h, tt.corners)
		if err != nil {
			t.Fatal(err)
		}
		p := f.(Path)
		if p.String() != tt.want {
			t.Errorf("%s: got %s, want %s", tt.name, p, tt.want)
		}
		area := tt.w * tt.h
		for _, c := range tt.corners {
			switch c.Kind {
			case Round:
				area -= c.Size * c.Size * (1 - math.Pi/4)
			case Chamfer:
				area -= c.Size * c.Size / 2
			case Scoop:
				area -= c.Size * c.Size * math.Pi / 4
			}
		}
		foretest.Near(t, tt.name, p.Area(), area, 1e-10)
		nearBox(t, tt.name, p.Bounds(), Box{Max: Pt(tt.w, tt.h)}, 1e-12)
	}
	if f, _ := Board(3, 4, [4]Corner{{Round, 0}}); f != (Rect{W: 3, H: 4}) {
		t.Errorf("a radius of 0 gives %v", f)
	}
	_, err := Board(10, 20, [4]Corner{LowerRight: {Round, 12}, LowerLeft: {Chamfer, 1}})
	if e, ok := err.(CornerError); !ok || e.Need != 13 || e.Have != 10 || e.First != LowerRight || e.Second != LowerLeft {
		t.Errorf("corners too large: %v", err)
	}
	if f, _ := RoundRect(Pt(5, 5), 4, 4, 2); f != (Circle{Pt(5, 5), 2}) {
		t.Errorf("a square with full corners gives %v", f)
	}
	if got := Slot(Pt(0, 0), 4, 10).(Path).String(); got != "M2 -3L2 3A2 2 0 0 1 -2 3L-2 -3A2 2 0 0 1 2 -3Z" {
		t.Errorf("upright slot %s", got)
	}
}

// An arch goes through its ends and its middle, and what rounds its corners touches it
// and the side, on both of which it lies.
func TestArched(t *testing.T) {
	for _, c := range []struct{ w, h, rise, round float64 }{{100, 80, 10, 0}, {100, 80, 10, 5}, {60, 40, 30, 0}, {60, 40, 30, 5}, {196, 177, 16, 3}} {
		corner := Corner{Round, c.round}
		fig, err := Arched(c.w, c.h, c.rise, [4]Corner{UpperLeft: corner, UpperRight: corner})
		if err != nil {
			t.Fatal(err)
		}
		r := ArchRadius(c.w, c.rise)
		if box := fig.Bounds(); math.Abs(box.Width()-c.w) > 1e-9 || math.Abs(box.Height()-c.h) > 1e-9 {
			t.Errorf("%v: the board is %v", c, box)
		}
		top := Pt(c.w/2, r)
		for p := range Paths(fig)[0].Pieces() {
			if p.Kind != ArcTo {
				continue
			}
			for _, end := range []Point{p.From, p.End} {
				if on := math.Abs(end.Distance(top) - r); on > 1e-9 && end.X > 1e-9 && end.X < c.w-1e-9 {
					t.Errorf("%v: %v lies %g off the arch", c, end, on)
				}
			}
			if p.Center.Distance(top) > 1e-9 && math.Abs(p.Center.Distance(top)+p.Center.Distance(p.From)-r) > 1e-9 {
				t.Errorf("%v: the corner about %v doesn't touch the arch", c, p.Center)
			}
		}
	}
	for _, c := range []struct {
		w, h, rise, round float64
	}{{100, 80, 10, 60}, {100, 12, 10, 40}} {
		corner := Corner{Round, c.round}
		var tooBig CornerError
		if _, err := Arched(c.w, c.h, c.rise, [4]Corner{corner, corner, corner, corner}); !errors.As(err, &tooBig) || tooBig.Need <= tooBig.Have {
			t.Errorf("%v: %v", c, err)
		}
	}
}
