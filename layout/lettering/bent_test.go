package lettering

import (
	"errors"
	"math"
	"testing"

	"foredge/layout/geom"
)

// Letters that are connected stay joined along a curve: each point of the straight
// line's outline lies on the bent one, where its way along the baseline becomes an
// angle and its height a distance from the centre.
func TestJoinedAlongCurve(t *testing.T) {
	fonts, _ := outside(t)
	f := fonts["DejaVu Sans"]
	const size = 60
	var curve CurveError
	if _, err := Fit(f, "سلام", size, size, Style{Cap: 6, Curve: Circle, Align: Spread}); !errors.As(err, &curve) {
		t.Errorf("joined letters that are spread: %v", err)
	}
	for _, s := range []string{"سلام", "البحر والمرفأ", "مُحَمَّد", "Log سلام 12"} {
		for _, inside := range []bool{false, true} {
			for _, r := range []float64{12, 20} {
				line, err := f.Text(s, 6)
				if err != nil {
					t.Fatal(err)
				}
				b, err := Fit(f, s, size, size, Style{Cap: 6, Curve: Circle, Radius: r, Inside: inside})
				if err != nil {
					t.Fatalf("%s, radius %g: %v", s, r, err)
				}
				if !(geom.Box{Max: geom.Pt(size, size)}).Holds(b.Outline.Bounds()) {
					t.Errorf("%s, radius %g: ink at %v", s, r, b.Outline.Bounds())
				}
				if s == "Log سلام 12" {
					continue // single letters are turned as a whole
				}
				if len(b.Outline) != len(line.Outline) {
					t.Errorf("%s, radius %g, inside %v: %d outlines, straight %d", s, r, inside, len(b.Outline), len(line.Outline))
				}
				edge := geom.NewBoundary(b.Outline)
				worst := 0.0
				for _, p := range line.Outline {
					for _, q := range p.Flatten(0.01) {
						angle, far := (q.X-line.Ink.Center().X)/r, r-q.Y
						at := geom.Pt(size/2+far*math.Sin(angle), size/2-far*math.Cos(angle))
						if inside {
							far = r + q.Y
							at = geom.Pt(size/2+far*math.Sin(angle), size/2+far*math.Cos(angle))
						}
						worst = max(worst, edge.Distance(at))
					}
				}
				if worst > 3*curveTol {
					t.Errorf("%s, radius %g, inside %v: a point lies %.5f mm off", s, r, inside, worst)
				}
			}
		}
	}
	// As large as the box allows: the ink just reaches a circle in it.
	b, err := Fit(f, "سلام عليكم", 50, 50, Style{Mode: Fill, Curve: Circle})
	if err != nil {
		t.Fatal(err)
	}
	far := 0.0
	for _, p := range b.Outline {
		for _, q := range p.Flatten(0.001) {
			far = max(far, q.Distance(geom.Pt(25, 25)))
		}
	}
	if far > 25 || far < 24.9 {
		t.Errorf("the ink reaches %.3f mm from the centre of a box of 50", far)
	}
	if _, err := b.Stencil(0.4); err != nil {
		t.Errorf("bridges: %v", err)
	}
}
