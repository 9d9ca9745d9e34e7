package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

// How often an outline runs round a place is what it comes to piece by piece, whichever
// way its rings cross themselves and one another, and whether they are closed.
func TestWindingPieceByPiece(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 1))
	for round := range 60 {
		var o Outline
		for range 1 + r.IntN(40) {
			// On a coarse grid corners lie level with one another and with the places.
			place := func() Point { return Pt(float64(r.IntN(30)), float64(r.IntN(30))) }
			b := NewPath(place())
			for range 1 + r.IntN(30) {
				if r.IntN(3) > 0 {
					b.Line(place())
					continue
				}
				to := place()
				b.Add(FromBulge(b.At(), to, r.Float64()*4-2).Segment)
			}
			if round%5 == 0 && r.IntN(4) == 0 {
				o = append(o, b.Open())
				continue
			}
			o = append(o, b.Close())
		}
		edge := NewBoundary(o)
		for range 200 {
			x := Pt(float64(r.IntN(62)-1)/2, float64(r.IntN(62)-1)/2)
			if round%2 == 1 {
				x = Pt(32*r.Float64()-1, 32*r.Float64()-1)
			}
			if edge.Within(x, 1e-9) {
				continue
			}
			want := 0
			for _, p := range edge.Pieces {
				p.crossings(x, func(_ float64, way int) { want += way })
			}
			if got := edge.Winding(x); got != want {
				t.Fatalf("round %d, %v: %d, piece by piece %d", round, x, got, want)
			}
		}
	}
}

// Of what lies level with a place little is looked at.
func TestWindingLooksAtLittle(t *testing.T) {
	const n = 1 << 14
	zigzag := NewPath(Pt(0, 0))
	var dots Outline
	side := int(math.Sqrt(n))
	for i := range n {
		zigzag.Line(Pt(float64(i+1), 100*float64((i+1)%2)))
		at := i * 7919 % n // neighbours in the plane are far apart in the file
		dots = append(dots, Paths(Circle{Center: Pt(float64(at%side), float64(at/side)), R: 0.4})...)
	}
	for name, f := range map[string]Figure{"zigzag": zigzag.Line(Pt(0, 200)).Close(), "dots": dots} {
		edge := NewBoundary(f)
		for i := range 100 {
			x := Pt(edge.Box.Max.X*float64(i)/100, edge.Box.Max.Y*float64(i*37%100)/100)
			if _, looked := edge.WindingCost(x); looked > 200 {
				t.Errorf("%s: looked at %d of %d", name, looked, n)
			}
		}
	}
}
