package nest

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout/geom"
	"foredge/layout/kerf"
)

// star is a simple polygon about the origin with corners on a coarse grid.
func star(r *rand.Rand, corners int, size float64) []geom.Point {
	for {
		var ring []geom.Point
		for k := range corners {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(corners))
			d := size * (0.2 + 0.8*r.Float64())
			ring = append(ring, geom.Pt(math.Round(d*cos), math.Round(d*sin)))
		}
		if ring = dropFlat(ring); len(ring) > 2 && area(ring) > 0 && geom.NewBoundary(geom.Polygon(ring...)).Simple() {
			return ring
		}
	}
}

func rats(ring []geom.Point, dx, dy float64) []ratPoint {
	out := make([]ratPoint, len(ring))
	for k, p := range ring {
		out[k] = ratAt(p.X+dx, p.Y+dy)
	}
	return out
}

func ratAt(x, y float64) ratPoint {
	return ratPoint{new(big.Rat).SetFloat64(x), new(big.Rat).SetFloat64(y)}
}

// A contact tells at every place whether two polygons overlap: asked of the rational
// checker, with corners on a coarse grid so that many only touch.
func TestContactTellsOverlap(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	touching := 0
	for range foretest.Sample(4000, 60) {
		a, b := star(r, 3+r.IntN(8), 6), star(r, 3+r.IntN(8), 6)
		kinds := &catalogue{known: map[string]*shape{}}
		sa, sb := kinds.of([][]geom.Point{a}, []float64{0}), kinds.of([][]geom.Point{b}, []float64{0})
		c := newContact(0, sa.turned[0], sb.turned[0])
		for range 8 {
			x, y := float64(r.IntN(21)-10), float64(r.IntN(21)-10)
			want := overlapping(rats(a, x, y), rats(b, 0, 0))
			d := c.depth(x, y)
			deep, nx, ny := c.wayOut(x, y)
			if want != (deep > 2*slack) || want && d == 0 || (d > 0) != (deep > 0) {
				t.Fatalf("%v at %g, %g and %v: overlap %v, depth %g, way out %g", a, x, y, b, want, d, deep)
			}
			if !want && deep > 0 {
				touching++
			}
			if want {
				foretest.Near(t, "the direction's length", length(nx, ny), 1, 1e-9)
			}
		}
	}
	if touching == 0 {
		t.Error("no two only touched")
	}
}

// The pieces of a polygon are convex and cover it.
func TestSplit(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 1))
	for range foretest.Sample(3000, 300) {
		ring := star(r, 3+r.IntN(20), 40)
		pieces, ok := split(ring)
		if !ok || !same(ring, pieces) {
			t.Fatalf("%v falls into %v", ring, pieces)
		}
		for _, p := range pieces {
			for k := range p {
				if cross(p[k], p[(k+1)%len(p)], p[(k+2)%len(p)]) < 0 {
					t.Fatalf("%v isn't convex", p)
				}
			}
		}
	}
}

// What is laid for a figure holds all of it and is hardly larger.
func TestRingsHold(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	for n := range foretest.Sample(1000, 100) {
		f := randomFigure(r)
		grow := float64(r.IntN(3))
		tol := []float64{0.02, 0.1, 1}[r.IntN(3)]
		got, err := rings(f, grow, tol)
		foretest.Must(t, err)
		if len(got) != 1 {
			t.Fatalf("%d rings of %v", len(got), f)
		}
		points := make([]geom.Point, len(got[0]))
		for k, p := range got[0] {
			points[k] = p.Mul(unit)
		}
		laid := geom.Polygon(points...)
		grown := f
		if grow > 0 {
			grown, err = kerf.Offset(f, grow)
			foretest.Must(t, err)
		}
		if less, err := kerf.Offset(grown, -2e-6); err != nil || !geom.Inside(laid, less) {
			t.Fatalf("figure %d, %v, reaches out of %v", n, grown, laid)
		}
		if more, most := geom.Area(laid)-geom.Area(grown), 3*tol*geom.Length(grown)+1e-3; more > most {
			t.Errorf("figure %d, %v, is larger by %g mm², at most %g", n, grown, more, most)
		}
		if b, c := laid.Bounds(), grown.Bounds(); tol == 0.02 && !c.Grow(tol+2e-6).Holds(b) {
			t.Errorf("the box of %v is %v", grown, b)
		}
	}
}

// Thinning a ring of letters' size keeps it small and never cuts anything off.
func TestThinOnlyGrows(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 1))
	for range foretest.Sample(2000, 40) {
		ring := star(r, 10+r.IntN(60), 1e6)
		got := thin(ring, 4e4*r.Float64())
		if len(got) > len(ring) {
			t.Fatal("it has more corners")
		}
		outer := geom.Polygon(got...)
		if b := geom.NewBoundary(outer); !b.Simple() {
			t.Fatalf("%v crosses itself", got)
		}
		for _, p := range ring {
			if pos := position(rats(got, 0, 0), ratAt(p.X, p.Y)); pos < 0 {
				t.Fatalf("corner %v of %v lies outside of %v", p, ring, got)
			}
		}
	}
}

// A turned shape has the pieces of the shape turned by the rule of placements.
func TestTurned(t *testing.T) {
	pieces := []convex{{geom.Pt(0, 0), geom.Pt(1e7, 0), geom.Pt(0, 2e7)}}
	for turn, want := range map[float64]geom.Point{0: {X: 1e7}, 90: {Y: 1e7}, 180: {X: -1e7}, 270: {Y: -1e7}, 30: {X: 8660254, Y: 5e6}} {
		got := turnedBy(pieces, turn)
		if got.pieces[0][1] != want || got.rounded != (turn == 30) {
			t.Errorf("turned by %g the corner is at %v, not %v", turn, got.pieces[0][1], want)
		}
	}
}

func FuzzRings(f *testing.F) {
	f.Add([]byte{0, 0, 200, 0, 200, 200, 0, 200}, 1.0)
	f.Add([]byte{0, 0, 9, 0, 9, 3, 5, 3, 5, 9, 0, 9}, 0.0)
	f.Add([]byte{0, 0, 90, 1, 0, 2, 90, 3}, 0.5)
	f.Fuzz(func(t *testing.T, data []byte, grow float64) {
		if len(data) < 6 || len(data) > 120 || !(grow >= 0 && grow < 50) {
			return
		}
		var points []geom.Point
		for k := 0; k+1 < len(data); k += 2 {
			points = append(points, geom.Pt(float64(data[k]), float64(data[k+1])))
		}
		path := geom.Polygon(points...).Oriented(true)
		got, err := rings(path, grow, 0.1)
		if err != nil {
			return
		}
		kinds := &catalogue{known: map[string]*shape{}}
		s := kinds.of(got, []float64{0, 90})
		if len(s.turned) != 2 || !(s.area > 0) {
			t.Fatalf("%v has no inside", got)
		}
		for _, ring := range got {
			for _, p := range points {
				if position(rats(ring, 0, 0), ratAt(units(p.X), units(p.Y))) < 0 && len(got) == 1 {
					t.Fatalf("%v lies outside of %v", p, ring)
				}
			}
		}
	})
}
