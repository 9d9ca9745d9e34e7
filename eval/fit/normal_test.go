package fit

import (
	"math"
	"slices"
	"testing"

	"foredge/lang/foretest"
)

// The share within 1, 2 and 3 standard deviations (any table of the normal
// distribution), and a tail that keeps its digits (DLMF 7.12: erfc).
func TestShare(t *testing.T) {
	foretest.Near(t, "1", share(-1, 1), 0.682689492137086, 1e-14)
	foretest.Near(t, "2", share(-2, 2), 0.954499736103642, 1e-14)
	foretest.Near(t, "3", share(-3, 3), 0.997300203936740, 1e-14)
	foretest.Near(t, "tail", share(9, 10)/1.1285122074236e-19, 1, 1e-10)
	if share(1, 1) != 0 || share(2, -2) != 0 {
		t.Error("nothing lies in an empty interval")
	}
}

// A quadrant holds 1/4 + asin(r)/2π (Sheppard, 1899).
func TestQuadrant(t *testing.T) {
	for _, r := range []float64{-1, -0.99999, -0.9, -0.3, 0, 1e-6, 0.5, 0.93, 0.9999, 1} {
		foretest.Near(t, "quadrant", rectangle(-far, 0, -far, 0, r), 0.25+math.Asin(r)/(2*math.Pi), 1e-9)
	}
}

// Rectangles by SciPy 1.10, stats.multivariate_normal.cdf at its four corners
// (abseps 1e-12).
func TestRectangle(t *testing.T) {
	for _, c := range []struct{ x1, x2, y1, y2, r, want float64 }{
		{-1, 1, -1, 1, 0.5, 0.4979717778392},
		{-1, 2, -0.5, 3, 0.8, 0.6449207961625},
		{-2, 2, -2, 2, 0.95, 0.9410484396158},
		{-1.5, 1.2, -2.5, 2, -0.7, 0.8077018076232},
		{-0.3, 0.3, -0.4, 0.5, 0.99, 0.2264686751658},
		{-3, 3, -3.001, 3.001, 0.9999, 0.9972545745755},
		{0.5, 4, -1, 0.2, -0.93, 0.1528708105388},
	} {
		foretest.Near(t, "rectangle", rectangle(c.x1, c.x2, c.y1, c.y2, c.r), c.want, 1e-9)
	}
	// Fully correlated: what both allow. Fully opposed: likewise, mirrored.
	foretest.Near(t, "r = 1", rectangle(-1, 2, -1.5, 1.5, 1), share(-1, 1.5), 1e-9)
	foretest.Near(t, "r = -1", rectangle(-1, 2, -1.5, 1.5, -1), share(-1, 1.5), 1e-9)
	// Nearly so, and nearly at a corner: between these bounds.
	for _, r := range []float64{1 - 1e-6, 1 - 1e-9, 1 - 1e-12} {
		foretest.Near(t, "r near 1", rectangle(-1, 1, -1.0001, 1.0001, r), share(-1, 1), 3*math.Sqrt(1-r))
	}
}

// Pieces of a plane add up to the whole.
func TestRectanglesAddUp(t *testing.T) {
	cuts := []float64{-far, -1.2, -0.1, 0.7, 2.5, far}
	for _, r := range []float64{-0.97, 0.2, 0.999} {
		sum := 0.0
		for i := range len(cuts) - 1 {
			for j := range len(cuts) - 1 {
				sum += rectangle(cuts[i], cuts[i+1], cuts[j], cuts[j+1], r)
			}
		}
		foretest.Near(t, "sum", sum, 1, 1e-8)
	}
}

// An interval is divided finely at an end where that is asked for, in steps four
// times as wide as the one before up to its middle, and evenly.
func TestMesh(t *testing.T) {
	for _, c := range []struct {
		wide, near, last float64
		want             []float64
	}{
		{math.Inf(1), 0, 0, []float64{2, 12}},
		{2.5, 0, 0, []float64{2, 4.5, 7, 9.5, 12}},
		{math.Inf(1), 0.25, 0, []float64{2, 2.25, 3, 6, 12}},
		{math.Inf(1), 0, 0.25, []float64{2, 8, 11, 11.75, 12}},
		{5, 1, 4, []float64{2, 3, 6, 7, 8, 12}},
	} {
		got := mesh(2, 12, c.wide, c.near, c.last)
		if !slices.Equal(got, c.want) {
			t.Errorf("%v, %v, %v: %v, want %v", c.wide, c.near, c.last, got, c.want)
		}
	}
}
