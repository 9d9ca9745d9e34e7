package opening

import (
	"cmp"
	"slices"

	form "foredge/eval/opening"
	"foredge/layout/geom"
)

// polygon is a form with straight sides, convex and symmetric both ways. It gives
// the corners in the order of its edge, from the middle: X along, Y across.
type polygon func(form.Opening) []geom.Point

func (corners polygon) closed(p Placed) geom.Figure {
	points := corners(p.Opening)
	for i, c := range points {
		if p.Upright {
			c.X, c.Y = c.Y, c.X
		}
		points[i] = p.At.Add(c)
	}
	return geom.Polygon(points...).Oriented(true)
}

func (corners polygon) open(t *tracer, n Notch) {
	_, across := n.size()
	// One half of the edge, from the near side to the far one; the other is its
	// mirror image.
	var half []geom.Point
	for _, c := range corners(n.Opening) {
		if n.Turned {
			c.X, c.Y = c.Y, c.X
		}
		if c.X > -geom.Tol {
			half = append(half, geom.Pt(max(c.X, 0), n.Near+across/2+c.Y))
		}
	}
	slices.SortFunc(half, func(a, b geom.Point) int { return cmp.Compare(a.Y, b.Y) })
	neck := n.Neck / 2
	// Where the neck meets the opening: on its near side or on a slanted one, of
	// which only what lies beyond the neck is left.
	mouth := half[0].Y
	for len(half) > 1 && half[0].X < neck {
		from, to := half[0], half[1]
		if to.X <= from.X {
			break
		}
		mouth = from.Lerp(to, min(1, (neck-from.X)/(to.X-from.X))).Y
		half = half[1:]
		if to.X >= neck {
			break
		}
	}
	t.line(-neck, mouth)
	for _, p := range half {
		t.line(-p.X, p.Y)
	}
	for i := len(half) - 1; i >= 0; i-- {
		t.line(half[i].X, half[i].Y)
	}
	t.line(neck, mouth)
}
