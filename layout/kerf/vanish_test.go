package kerf

import (
	"errors"
	"math"
	"testing"

	"foredge/layout/geom"
)

// A regular polygon that shrinks by its inner radius, or by a hair more or less,
// shrinks to a point: that is told, as of any opening no wider than the kerf.
func TestPolygonsShrinkToAPoint(t *testing.T) {
	for corners := 3; corners <= 12; corners++ {
		for _, off := range []float64{-1e-6, -1e-7, 0, 1e-7, 1e-6} {
			const inner = 5
			outer := inner / math.Cos(math.Pi/float64(corners))
			at := func(i int) geom.Point {
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(corners))
				return geom.Pt(outer*cos, outer*sin)
			}
			b := geom.NewPath(at(0))
			for i := 1; i < corners; i++ {
				b.Line(at(i))
			}
			for _, p := range []geom.Path{b.Close(), b.Close().Oriented(false)} {
				left, err := Offset(p, -(inner + off))
				if off < 0 && err == nil && left.Bounds().Width() < 1e-4 {
					continue // what is left is as small as it should be
				}
				var gone VanishError
				if !errors.As(err, &gone) {
					t.Errorf("%d corners by %g more than the inner radius: %v", corners, off, err)
				}
			}
		}
	}
}
