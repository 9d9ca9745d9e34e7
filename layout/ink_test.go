package layout

import (
	"testing"

	"foredge/layout/geom"
)

// However many shapes are looked at, few lines and curves are held ready.
func TestInkHoldsLittle(t *testing.T) {
	l := inkLeft{edges: map[*Shape]*geom.Boundary{}}
	for range 40 {
		points := make([]geom.Point, mostHeld/10)
		for i := range points {
			points[i] = geom.Pt(float64(i), float64(i%2))
		}
		l.edge(&Shape{Figure: geom.Polygon(points...)})
		n := 0
		for _, b := range l.edges {
			n += len(b.Pieces)
		}
		if n != l.held || n > mostHeld {
			t.Fatalf("%d lines and curves are held, %d counted", n, l.held)
		}
	}
}
