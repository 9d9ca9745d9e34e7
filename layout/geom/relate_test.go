package geom

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout/internal/geos"
)

func TestRelations(t *testing.T) {
	board, err := Board(100, 60, [4]Corner{UpperRight: {Round, 10}, LowerRight: {Chamfer, 10}})
	if err != nil {
		t.Fatal(err)
	}
	frame := Outline{Paths(Rect{Pt(0, 0), 40, 40})[0], Paths(Rect{Pt(10, 10), 20, 20})[0].Reverse()}
	score := NewPath(Pt(22, 0)).Line(Pt(22, 60)).Open()
	hill := NewPath(Pt(0, 0)).Cubic(Pt(0, -8), Pt(10, -8), Pt(10, 0)).Close() // 6 high
	sqrt2 := math.Sqrt2
	tests := []struct {
		name            string
		a, b            Figure
		overlap, inside bool // inside: b in a
		gap             float64
		distance        float64 // −1: not asked
	}{
		{"apart", Rect{Pt(0, 0), 2, 2}, Rect{Pt(5, 6), 2, 2}, false, false, 5, 5},
		{"touching along an edge", Rect{Pt(0, 0), 2, 2}, Rect{Pt(2, 0), 2, 2}, false, false, 0, 0},
		{"touching at a corner", Rect{Pt(0, 0), 2, 2}, Rect{Pt(2, 2), 2, 2}, false, false, 0, 0},
		{"a micron apart", Rect{Pt(0, 0), 2, 2}, Rect{Pt(2.001, 0), 2, 2}, false, false, 0.001, -1},
		{"a micron deep", Rect{Pt(0, 0), 2, 2}, Rect{Pt(1.999, 0), 2, 2}, true, false, 0, 0},
		{"within tolerance", Rect{Pt(0, 0), 2, 2}, Rect{Pt(2-1e-8, 0), 2, 2}, false, false, 0, 0},
		{"the same", Rect{Pt(0, 0), 2, 2}, Rect{Pt(0, 0), 2, 2}, true, true, 0, 0},
		{"the same as paths", Paths(Rect{Pt(0, 0), 2, 2})[0], Paths(Rect{Pt(0, 0), 2, 2})[0].Reverse(), true, true, 0, 0},
		{"the same, both clockwise", Paths(Rect{Pt(0, 0), 2, 2})[0], Paths(Rect{Pt(0, 0), 2, 2})[0], true, true, 0, 0},
		{"the same, both the other way", Paths(Rect{Pt(0, 0), 2, 2})[0].Reverse(), Paths(Rect{Pt(0, 0), 2, 2})[0].Reverse(), true, true, 0, 0},
		{"the same frame", frame, frame, true, true, 0, 0},
		{"on top of a curve, within its tolerance", hill, Rect{Pt(0, -10), 10, 4 + CurveTol/2}, false, false, 0, -1},
		{"on top of a curve, deeper", hill, Rect{Pt(0, -10), 10, 4 + 10*CurveTol}, true, false, 0, 0},
		{"crossing bars", Polygon(Pt(0, 4), Pt(10, 4), Pt(10, 6), Pt(0, 6)), Rect{Pt(4, 0), 2, 10}, true, false, 0, 0},
		{"circle in circle", Circle{Pt(0, 0), 5}, Circle{Pt(1, 0), 2}, true, true, 0, 2},
		{"circle touching from inside", Circle{Pt(0, 0), 5}, Circle{Pt(3, 0), 2}, true, true, 0, 0},
		{"circle by circle", Circle{Pt(0, 0), 1}, Circle{Pt(3, 4), 2}, false, false, 2, 2},
		{"circles touching", Circle{Pt(0, 0), 3}, Circle{Pt(3, 4), 2}, false, false, 0, 0},
		{"circle by a corner", Rect{Pt(0, 0), 4, 4}, Circle{Pt(5, 5), 1}, false, false, sqrt2 - 1, sqrt2 - 1},
		{"circle over a corner", Rect{Pt(0, 0), 4, 4}, Circle{Pt(4.5, 4.5), 1}, true, false, 0, 0},
		{"hole in a board", board, Rect{Pt(1, 1), 4, 4}, true, true, 0, 1},
		{"hole at the edge", board, Rect{Pt(0, 1), 4, 4}, true, true, 0, 0},
		{"hole over the edge", board, Rect{Pt(-0.001, 1), 4, 4}, true, false, 0, 0},
		{"hole in the round corner", board, Circle{Pt(90, 10), 4}, true, true, 0, 6},
		{"hole through the round corner", board, Rect{Pt(95, 0.5), 4, 4}, true, false, 0, 0},
		// The round corner passes (90+10/√2, 10−10/√2): a square there just fits.
		{"square in the round corner", board, Rect{Pt(90, 10-10/sqrt2), 10 / sqrt2, 4}, true, true, 0, 0},
		{"square past the round corner", board, Rect{Pt(90, 10-10/sqrt2-1e-4), 10 / sqrt2, 4}, true, false, 0, 0},
		{"hole through the chamfer", board, Rect{Pt(94, 54), 4, 4}, true, false, 0, 0},
		{"hole by the chamfer", board, Circle{Pt(90, 50), 2}, true, true, 0, 5*sqrt2 - 2},
		{"slot in a board", board, Slot(Pt(50, 30), 20, 4), true, true, 0, 28},
		{"slots end to end", Slot(Pt(0, 0), 10, 4), Slot(Pt(10, 0), 10, 4), false, false, 0, 0},
		{"slots side by side", Slot(Pt(0, 0), 10, 4), Slot(Pt(0, 5), 10, 4), false, false, 1, 1},
		{"in the counter", frame, Rect{Pt(12, 12), 5, 5}, false, false, 2, 2},
		{"in the frame", frame, Rect{Pt(1, 1), 8, 8}, true, true, 0, 1},
		{"over the counter", frame, Rect{Pt(5, 5), 30, 30}, true, false, 0, 5},
		{"score in a board", board, score, true, true, 0, 0},
		{"score through a hole", score, Circle{Pt(23, 30), 2}, true, false, 0, 0},
		{"score by a hole", score, Circle{Pt(25, 30), 2}, false, false, 1, 1},
		{"score along an edge", score, Rect{Pt(22, 10), 5, 5}, false, false, 0, 0},
	}
	for _, tt := range tests {
		for _, swap := range []bool{false, true} {
			a, b := tt.a, tt.b
			if swap {
				a, b = b, a
			}
			if got := Overlap(a, b); got != tt.overlap {
				t.Errorf("%s (swapped %v): overlap %v", tt.name, swap, got)
			}
			foretest.Near(t, tt.name+" gap", Gap(a, b), tt.gap, 1e-9)
			if tt.distance >= 0 {
				foretest.Near(t, tt.name+" distance", Distance(a, b), tt.distance, 1e-9)
			}
		}
		if got := Inside(tt.a, tt.b); got != tt.inside {
			t.Errorf("%s: inside %v", tt.name, got)
		}
	}
}

func TestContains(t *testing.T) {
	frame := Outline{Paths(Circle{Pt(0, 0), 10})[0], Paths(Circle{Pt(0, 0), 5})[0].Reverse()}
	for _, tt := range []struct {
		f    Figure
		p    Point
		want bool
	}{
		{Rect{Pt(0, 0), 2, 2}, Pt(1, 1), true}, {Rect{Pt(0, 0), 2, 2}, Pt(3, 1), false},
		{Circle{Pt(0, 0), 2}, Pt(1, 1), true}, {Circle{Pt(0, 0), 2}, Pt(1.5, 1.5), false},
		{frame, Pt(0, 0), false}, {frame, Pt(7, 0), true}, {frame, Pt(-7, 0), true}, {frame, Pt(-11, 0), false},
		{frame, Pt(0, -7), true}, {frame, Pt(0, 7), true}, {frame, Pt(-20, 10), false}, {frame, Pt(-20, -10), false},
	} {
		if got := NewBoundary(tt.f).Contains(tt.p); got != tt.want {
			t.Errorf("%v in %v: %v", tt.p, tt.f, got)
		}
	}
}

// Distances by brute force: many points of one curve against the other.
func TestDistanceBySampling(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 150 {
		a := randomPath(r, false)
		b := randomPath(r, false).Move(Pt(24*r.Float64(), 24*r.Float64())).(Path)
		got := Distance(a, b)
		bb := NewBoundary(b)
		least := math.Inf(1)
		for p := range a.Pieces() {
			for k := range 500 {
				least = min(least, bb.Distance(p.At(float64(k)/500)))
			}
		}
		if got > least+1e-9 || (got > 0 && got < least-0.05) {
			t.Errorf("distance %g, samples say %g", got, least)
		}
	}
}

// GEOS on the same polygons: distance between boundaries, gap, overlap, inside.
func TestAgainstGEOS(t *testing.T) {
	type pair struct{ A, B []Point }
	r := rand.New(rand.NewPCG(11, 12))
	var pairs []pair
	var figs [][2]Path
	for range 400 {
		a := randomPath(r, false)
		b := Scale(0.1 + 0.5*r.Float64()).Path(randomPath(r, false)).Move(Pt(20*(r.Float64()-0.5), 20*(r.Float64()-0.5))).(Path)
		// GEOS knows no arcs: compare what both hold.
		a, b = Polygon(a.Flatten(0.05)...), Polygon(b.Flatten(0.05)...)
		figs = append(figs, [2]Path{a, b})
		pairs = append(pairs, pair{a.Flatten(1), b.Flatten(1)})
	}
	var want []struct {
		Area, Length, Distance, Gap float64
		Overlap, Inside             bool
	}
	geos.Ask(t, `
answer = []
for pair in data:
    a, b = (Polygon([(p["X"], p["Y"]) for p in pair[k]]) for k in "AB")
    answer.append({"Area": a.area, "Length": a.length, "Distance": a.exterior.distance(b.exterior),
        "Gap": a.distance(b), "Overlap": a.intersection(b).area > 1e-6, "Inside": a.contains(b)})
`, pairs, &want)
	overlaps, insides := 0, 0
	for i, w := range want {
		a, b := figs[i][0], figs[i][1]
		foretest.Near(t, "area", a.Area(), w.Area, 1e-9)
		foretest.Near(t, "length", Length(a), w.Length, 1e-9)
		foretest.Near(t, "distance", Distance(a, b), w.Distance, 1e-9)
		foretest.Near(t, "gap", Gap(a, b), w.Gap, 1e-9)
		if got := Overlap(a, b); got != w.Overlap {
			t.Errorf("%d: overlap %v, GEOS %v", i, got, w.Overlap)
		}
		if got := Inside(a, b); got != w.Inside {
			t.Errorf("%d: inside %v, GEOS %v", i, got, w.Inside)
		}
		if w.Overlap {
			overlaps++
		}
		if w.Inside {
			insides++
		}
	}
	if overlaps < 50 || overlaps > 390 || insides < 50 {
		t.Errorf("a poor mix: %d overlaps, %d inside", overlaps, insides)
	}
}

func TestNearPairs(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	for _, n := range []int{0, 1, 2, 7, 300} {
		figures := make([]Figure, n)
		for i := range figures {
			c := Pt(100*r.Float64(), 30*r.Float64())
			switch i % 3 {
			case 0:
				figures[i] = Circle{c, 3 * r.Float64()}
			case 1:
				figures[i] = CenterRect(c, 4*r.Float64(), 4*r.Float64())
			case 2:
				figures[i] = Slot(c, 1+4*r.Float64(), 1+4*r.Float64())
			}
		}
		var want []Pair
		for i := range figures {
			for j := i + 1; j < n; j++ {
				if g := Gap(figures[i], figures[j]); g <= 0.5 {
					want = append(want, Pair{i, j, g})
				}
			}
		}
		got := NearPairs(figures, 0.5)
		if len(got) != len(want) {
			t.Fatalf("%d figures: %d pairs, want %d", n, len(got), len(want))
		}
		for k := range got {
			if got[k] != want[k] {
				t.Errorf("pair %d: %v, want %v", k, got[k], want[k])
			}
		}
	}
}

func FuzzRelations(f *testing.F) {
	f.Add(uint64(1), 0.5, 0.5)
	f.Fuzz(func(t *testing.T, seed uint64, dx, dy float64) {
		if !(math.Abs(dx) < 100 && math.Abs(dy) < 100) {
			t.Skip()
		}
		r := rand.New(rand.NewPCG(seed, 0))
		a := randomPath(r, true)
		b := randomPath(r, true).Move(Pt(dx, dy)).(Path)
		overlap, gap, distance := Overlap(a, b), Gap(a, b), Distance(a, b)
		if overlap != Overlap(b, a) {
			t.Error("overlap isn't the same both ways")
		}
		if math.Abs(gap-Gap(b, a)) > 1e-9 || math.Abs(distance-Distance(b, a)) > 1e-9 {
			t.Error("distances aren't the same both ways")
		}
		if overlap && gap > CurveTol || gap > distance+1e-9 || Inside(a, b) && !overlap {
			t.Errorf("overlap %v, gap %g, distance %g, inside %v", overlap, gap, distance, Inside(a, b))
		}
	})
}

func BenchmarkNearPairs(b *testing.B) {
	for _, n := range []int{1_000, 10_000, 100_000} {
		figures := make([]Figure, n)
		for i := range figures {
			figures[i] = Rect{Pt(float64(i%1000)*8.5, float64(i/1000)*8.5), 4, 4}
		}
		b.Run(strconv.Itoa(n), func(b *testing.B) {
			for b.Loop() {
				if got := NearPairs(figures, 1); len(got) != 0 {
					b.Fatal("holes too near")
				}
			}
		})
	}
}

func BenchmarkInside(b *testing.B) {
	board, err := Board(200, 300, [4]Corner{UpperRight: {Round, 6}, LowerRight: {Round, 6}})
	if err != nil {
		b.Fatal(err)
	}
	panel := NewBoundary(board)
	for b.Loop() {
		if !panel.Holds(NewBoundary(Rect{Pt(5, 5), 4, 4})) {
			b.Fatal("not inside")
		}
	}
}

func TestSimple(t *testing.T) {
	for _, tt := range []struct {
		name string
		f    Figure
		want bool
	}{
		{"square", Rect{W: 2, H: 2}, true},
		{"circle", Circle{R: 2}, true},
		{"bow tie", Polygon(Pt(0, 0), Pt(2, 2), Pt(2, 0), Pt(0, 2)), false},
		{"a corner on a side", Polygon(Pt(0, 0), Pt(4, 0), Pt(4, 4), Pt(2, 0), Pt(0, 4)), false},
		{"two apart", Outline{Paths(Circle{R: 2})[0], Paths(Circle{R: 1})[0]}, true},
		{"two across", Outline{Paths(Circle{R: 2})[0], Paths(Circle{Pt(1, 0), 2})[0]}, false},
	} {
		if got := NewBoundary(tt.f).Simple(); got != tt.want {
			t.Errorf("%s: %v", tt.name, got)
		}
	}
}

// A line through the centre of a circle is as far from it as its nearer end.
func TestDistanceFromCentre(t *testing.T) {
	circle := Circle{Center: Pt(50, 60), R: 17}
	line := NewPath(Pt(47, 60)).Line(Pt(55, 60)).Open()
	if d := Distance(circle, line); math.Abs(d-12) > 1e-9 {
		t.Errorf("a line from 3 left of the centre to 5 right of it is %v from the circle of 17, want 12", d)
	}
}

// By geometry: a line beside a line, and an arc's crown below one.
func TestNears(t *testing.T) {
	line, crown := NewPath(Pt(0, 0)).Line(Pt(10, 0)).Open(), Circle{Pt(5, 4), 3}
	for _, tt := range []struct {
		name string
		b    Figure
		d    float64
		want bool
	}{
		{"on it", line, 0, true},
		{"by a rounding", NewPath(Pt(10+1e-12, 0)).Line(Pt(10+1e-12, 5)).Open(), 1e-3, true},
		{"just near", NewPath(Pt(0, 0.9)).Line(Pt(10, 0.9)).Open(), 1, true},
		{"just far", NewPath(Pt(0, 1.1)).Line(Pt(10, 1.1)).Open(), 1, false},
		{"below its crown", crown, 1.001, true},
		{"too far below", crown, 0.999, false},
		{"round it", Circle{Pt(5, 0), 8}, 1, false},
	} {
		for _, pair := range [][2]Figure{{line, tt.b}, {tt.b, line}} {
			if got := NewBoundary(pair[0]).Nears(NewBoundary(pair[1]), tt.d); got != tt.want {
				t.Errorf("%s: near %v", tt.name, got)
			}
		}
	}
}

// Of a curve a boundary takes no more room than its chords.
func TestBoundaryRoom(t *testing.T) {
	if b := NewBoundary(NewPath(Pt(0, 0)).Cubic(Pt(0, 40), Pt(60, 40), Pt(60, 0)).Close()); len(b.Pieces) < 100 || cap(b.Pieces) != len(b.Pieces) {
		t.Errorf("%d chords in room for %d", len(b.Pieces), cap(b.Pieces))
	}
}
