package kerf

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout/geom"
)

func text(f geom.Figure) string {
	s := ""
	for _, p := range geom.Paths(f) {
		s += p.String()
	}
	return s
}

func board(t *testing.T, w, h float64, corners [4]geom.Corner) geom.Figure {
	t.Helper()
	f, err := geom.Board(w, h, corners)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func roundRect(t *testing.T, w, h, r float64) geom.Figure {
	t.Helper()
	f, err := geom.RoundRect(geom.Pt(w/2, h/2), w, h, r)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// What cutting with a kerf of 0.2 makes of a drawing, and what to draw instead:
// the worked examples of "Kerf Width" and "How Much Material Does the Laser Burn
// Away", by two cutting services, and "Laser Drawings", by a design studio; authors
// unknown, undated.
func TestPublishedExamples(t *testing.T) {
	const kerf = 0.2
	tests := []struct {
		name   string
		w, h   float64
		d      float64
		ww, wh float64
	}{
		{"a drawn opening comes out larger", 2.0, 4.0, kerf / 2, 2.2, 4.2},
		{"a drawn part comes out smaller", 2.0, 4.0, -kerf / 2, 1.8, 3.8},
		{"draw this for a part of 2 × 4", 2.0, 4.0, kerf / 2, 2.2, 4.2},
		{"draw this for an opening of 2 × 4", 2.0, 4.0, -kerf / 2, 1.8, 3.8},
		{"a part drawn 40 comes out", 40, 40, -kerf / 2, 39.8, 39.8},
		{"draw this for a part of 40", 40, 40, kerf / 2, 40.2, 40.2},
		{"draw this for a part of 20 × 10", 20, 10, kerf / 2, 20.2, 10.2},
	}
	for _, tt := range tests {
		rect := geom.Rect{Min: geom.Pt(5, 7), W: tt.w, H: tt.h}
		for _, f := range []geom.Figure{rect, geom.Paths(rect)[0]} {
			got, err := Offset(f, tt.d)
			if err != nil {
				t.Fatalf("%s: %v", tt.name, err)
			}
			r, ok := got.(geom.Rect)
			if !ok {
				t.Fatalf("%s: a rectangle became %T", tt.name, got)
			}
			foretest.Near(t, tt.name+" width", r.W, tt.ww, 1e-12)
			foretest.Near(t, tt.name+" height", r.H, tt.wh, 1e-12)
			foretest.Near(t, tt.name+" centre", r.Bounds().Center().Distance(rect.Bounds().Center()), 0, 1e-12)
		}
	}
	// A hole of 10 wanted: draw 9.8.
	got, err := Offset(geom.Circle{R: 5}, -kerf/2)
	if err != nil {
		t.Fatal(err)
	}
	foretest.Near(t, "hole diameter", 2*got.(geom.Circle).R, 9.8, 1e-12)
}

func TestOffset(t *testing.T) {
	none := geom.Corner{}
	wave := geom.NewPath(geom.Pt(0, 0)).Line(geom.Pt(10, 0)).Line(geom.Pt(10, 2)).
		Arc(geom.Pt(10, 8), geom.Pt(10, 5), false). // a bay of radius 3 in the right side
		Line(geom.Pt(10, 10)).Line(geom.Pt(0, 10)).Close()
	fillet := geom.NewPath(geom.Pt(0, 0)).Line(geom.Pt(10, 0)).Line(geom.Pt(10, 5)).Line(geom.Pt(6, 5)).
		Arc(geom.Pt(5, 6), geom.Pt(6, 6), false). // an inner corner of radius 1
		Line(geom.Pt(5, 10)).Line(geom.Pt(0, 10)).Close()
	tests := []struct {
		name string
		f    geom.Figure
		d    float64
		want string
	}{
		{"rect", geom.Rect{W: 4, H: 3}, 0.1, "M-0.1 -0.1L4.1 -0.1L4.1 3.1L-0.1 3.1Z"},
		{"circle", geom.Circle{Center: geom.Pt(1, 1), R: 2}, -0.5, "M2.5 1A1.5 1.5 0 0 1 -0.5 1A1.5 1.5 0 0 1 2.5 1Z"},
		{"slot shrinks", geom.Slot(geom.Pt(0, 0), 10, 4), -0.5, "M-3 -1.5L3 -1.5A1.5 1.5 0 0 1 3 1.5L-3 1.5A1.5 1.5 0 0 1 -3 -1.5Z"},
		{"slot grows", geom.Slot(geom.Pt(0, 0), 10, 4), 0.5, "M-3 -2.5L3 -2.5A2.5 2.5 0 0 1 3 2.5L-3 2.5A2.5 2.5 0 0 1 -3 -2.5Z"},
		{"round corners grow", roundRect(t, 10, 8, 1), 0.25, "M1 -0.25L9 -0.25A1.25 1.25 0 0 1 10.25 1L10.25 7A1.25 1.25 0 0 1 9 8.25L1 8.25A1.25 1.25 0 0 1 -0.25 7L-0.25 1A1.25 1.25 0 0 1 1 -0.25Z"},
		{"round corners shrink", roundRect(t, 10, 8, 1), -0.25, "M1 0.25L9 0.25A0.75 0.75 0 0 1 9.75 1L9.75 7A0.75 0.75 0 0 1 9 7.75L1 7.75A0.75 0.75 0 0 1 0.25 7L0.25 1A0.75 0.75 0 0 1 1 0.25Z"},
		{"a radius just used up", roundRect(t, 10, 8, 0.25), -0.25, "M0.25 0.25L9.75 0.25L9.75 7.75L0.25 7.75Z"},
		{"a radius more than used up", roundRect(t, 10, 8, 0.2), -0.25, "M0.25 0.25L9.75 0.25L9.75 7.75L0.25 7.75Z"},
		{"mixed corners", board(t, 20, 10, [4]geom.Corner{none, {Kind: geom.Round, Size: 3}, {Kind: geom.Chamfer, Size: 2}, none}), 0.5,
			"M-0.5 -0.5L17 -0.5A3.5 3.5 0 0 1 20.5 3L20.5 8.2071L18.2071 10.5L-0.5 10.5Z"},
		{"chamfer shrinks", board(t, 20, 10, [4]geom.Corner{{Kind: geom.Chamfer, Size: 2}, none, none, none}), -0.5,
			"M2.2071 0.5L19.5 0.5L19.5 9.5L0.5 9.5L0.5 2.2071Z"},
		// A chamfer c loses 2·tan(22.5°)·d of its length c√2: gone at d = 1.707c.
		{"a chamfer used up", board(t, 20, 10, [4]geom.Corner{{Kind: geom.Chamfer, Size: 0.25}, none, none, none}), -0.5,
			"M0.5 0.5L19.5 0.5L19.5 9.5L0.5 9.5Z"},
		{"a bay shrinks as material grows", wave, 0.5, "M-0.5 -0.5L10.5 -0.5L10.5 2.5505A2.5 2.5 0 1 0 10.5 7.4495L10.5 10.5L-0.5 10.5Z"},
		{"a bay grows as material shrinks", wave, -0.5, "M0.5 0.5L9.5 0.5L9.5 1.5359A3.5 3.5 0 0 0 9.5 8.4641L9.5 9.5L0.5 9.5Z"},
		{"an inner radius", fillet, 0.25, "M-0.25 -0.25L10.25 -0.25L10.25 5.25L6 5.25A0.75 0.75 0 0 0 5.25 6L5.25 10.25L-0.25 10.25Z"},
		{"an inner radius used up", fillet, 1.5, "M-1.5 -1.5L11.5 -1.5L11.5 6.5L6.5 6.5L6.5 11.5L-1.5 11.5Z"},
	}
	for _, tt := range tests {
		got, err := Offset(tt.f, tt.d)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if text(got) != tt.want {
			t.Errorf("%s:\n got %s\nwant %s", tt.name, text(got), tt.want)
		}
		// The other way round, and as an outline.
		for _, p := range geom.Paths(tt.f) {
			back, err := Offset(p.Reverse(), tt.d)
			if err != nil {
				t.Errorf("%s reversed: %v", tt.name, err)
				continue
			}
			foretest.Near(t, tt.name+" reversed", math.Abs(geom.Area(back)), geom.Area(got), 1e-9)
		}
	}
}

func TestRefuses(t *testing.T) {
	for _, tt := range []struct {
		name string
		f    geom.Figure
		d    float64
	}{
		{"rect", geom.Rect{W: 4, H: 0.2}, -0.1},
		{"rect inside out", geom.Rect{W: 4, H: 0.1}, -0.1},
		{"rect as a path", geom.Paths(geom.Rect{W: 4, H: 0.2})[0], -0.1},
		{"circle", geom.Circle{R: 0.1}, -0.1},
		{"circle as a path", geom.Paths(geom.Circle{R: 0.1})[0], -0.15},
		{"slot", geom.Slot(geom.Pt(0, 0), 5, 0.2), -0.1},
		{"slot inside out", geom.Slot(geom.Pt(0, 0), 5, 0.2), -0.2},
		{"round rect", roundRect(t, 5, 0.4, 0.1), -0.2},
		{"counter", geom.Outline{geom.Paths(geom.Circle{R: 5})[0], geom.Paths(geom.Circle{R: 0.1})[0].Reverse()}, 0.1},
	} {
		got, err := Offset(tt.f, tt.d)
		var v VanishError
		if !errors.As(err, &v) {
			t.Errorf("%s: got %v, %v", tt.name, got, err)
		} else if v.Kerf != 2*math.Abs(tt.d) || v.Width <= 0 || v.Width > v.Kerf+1e-9 {
			t.Errorf("%s: %+v", tt.name, v)
		}
	}
	if _, err := Offset(geom.NewPath(geom.Pt(0, 0)).Line(geom.Pt(1, 0)).Open(), 0.1); !errors.Is(err, ErrOpen) {
		t.Errorf("an open path: %v", err)
	}
}

// randomRing is a closed path of lines and arcs round the origin that doesn't
// cross itself.
func randomRing(r *rand.Rand, bend float64) geom.Path {
	n := 3 + r.IntN(9)
	corner := make([]geom.Point, n)
	for i := range corner {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.6*r.Float64()) / float64(n))
		corner[i] = geom.Pt(cos, sin).Mul(6 + 4*r.Float64())
	}
	b := geom.NewPath(corner[0])
	for i := range n {
		from, to := corner[i], corner[(i+1)%n]
		if r.IntN(2) == 0 {
			b.Add(geom.FromBulge(from, to, bend*(r.Float64()-0.5)).Segment)
		} else {
			b.Line(to)
		}
	}
	return b.Close()
}

// Steiner's formula: a convex figure of area A and perimeter P, grown by d with
// round corners, has A + Pd + πd²; with mitred corners each corner of turn θ has
// d²·tan(θ/2) in place of d²·θ/2 (Gruber, Convex and Discrete Geometry, 6.3).
func TestSteiner(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for range 300 {
		n := 3 + r.IntN(6)
		var points []geom.Point
		for i := range n {
			sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.7*r.Float64()) / float64(n))
			points = append(points, geom.Pt(10*cos, 10*sin))
		}
		p := geom.Polygon(points...)
		d := 0.05 + 0.3*r.Float64()
		got, err := Offset(p, d)
		if err != nil {
			t.Fatal(err)
		}
		area, length := p.Area()+geom.Length(p)*d, geom.Length(p)
		var sides []geom.Piece
		for s := range p.Pieces() {
			sides = append(sides, s)
		}
		sharp := false
		for i, s := range sides {
			u, w := s.Tangent(1), sides[(i+1)%len(sides)].Tangent(0)
			turn := math.Atan2(u.Cross(w), u.Dot(w))
			sharp = sharp || 1/math.Cos(turn/2) > MitreLimit
			area += d * d * math.Tan(turn/2)
			length += 2 * d * math.Tan(turn/2)
		}
		if !sharp {
			foretest.Near(t, "area", geom.Area(got), area, 1e-9)
			foretest.Near(t, "length", geom.Length(got), length, 1e-9)
		}
	}
	slot := geom.Slot(geom.Pt(0, 0), 10, 4)
	for _, d := range []float64{0.1, -0.3, 2, -1.9} {
		got, err := Offset(slot, d)
		if err != nil {
			t.Fatal(err)
		}
		foretest.Near(t, "slot area", geom.Area(got), geom.Area(slot)+geom.Length(slot)*d+math.Pi*d*d, 1e-9)
		foretest.Near(t, "slot length", geom.Length(got), geom.Length(slot)+2*math.Pi*d, 1e-9)
	}
}

// What one offset does the inverse undoes, while nothing is used up.
func TestThereAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	undone := 0
	for range 1000 {
		p := randomRing(r, 0.6)
		d := 0.15 * (r.Float64() - 0.5)
		there, err := Offset(p, d)
		if err != nil {
			t.Fatalf("%s by %g: %v", p, d, err)
		}
		back, err := Offset(there, -d)
		if err != nil {
			t.Fatalf("%s by %g and back: %v", p, d, err)
		}
		q, ok := back.(geom.Path)
		if !ok || len(q.Segments) != len(p.Segments) {
			// Something was used up, or a corner too sharp to mitre was rounded.
			continue
		}
		undone++
		shift := 0 // trimming may begin the path elsewhere
		for i, s := range q.Segments {
			if s.End.Distance(p.Segments[0].End) < q.Segments[shift].End.Distance(p.Segments[0].End) {
				shift = i
			}
		}
		for i, want := range p.Segments {
			s := q.Segments[(i+shift)%len(q.Segments)]
			if e := max(s.End.Distance(want.End), s.Center.Distance(want.Center)); e > 1e-9 {
				t.Fatalf("%s by %g and back: corner %d is %g off", p, d, i, e)
			}
		}
	}
	if undone < 900 {
		t.Errorf("only %d of 1000 compared", undone)
	}
}
