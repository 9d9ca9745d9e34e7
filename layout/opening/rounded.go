package opening

import (
	"math"

	form "foredge/eval/opening"
	"foredge/layout/geom"
)

// rounded is a form that is a rectangle with round corners, whose radius may be
// 0 or all that there is room for.
type rounded struct {
	radius func(form.Opening) float64
}

func (r rounded) closed(p Placed) geom.Figure {
	w, h := p.Size()
	fig, err := geom.RoundRect(p.At, w, h, r.radius(p.Opening))
	if err != nil { // a radius that isn't fitted
		return geom.CenterRect(p.At, w, h)
	}
	return fig
}

func (r rounded) open(t *tracer, n Notch) {
	along, across := n.size()
	half, neck := along/2, n.Neck/2
	radius := min(r.radius(n.Opening), half, across/2)
	flat := half - radius // half of the opening's straight near and far sides
	near, far := n.Near+radius, n.Near+across-radius

	// Where the neck meets the opening: on its near side or in the corner.
	mouth := n.Near
	if neck > flat {
		d := min(neck-flat, radius)
		mouth = near - math.Sqrt(radius*radius-d*d)
	}
	t.line(-neck, mouth)
	if neck < flat {
		t.line(-flat, n.Near)
	}
	t.arc(-half, near, -flat, near)
	t.line(-half, far)
	if flat <= geom.Tol {
		t.arc(half, far, 0, far)
	} else {
		t.arc(-flat, n.Near+across, -flat, far)
		t.line(flat, n.Near+across)
		t.arc(half, far, flat, far)
	}
	t.line(half, near)
	if neck < flat {
		t.arc(flat, n.Near, flat, near)
	} else {
		t.arc(neck, mouth, flat, near)
	}
	t.line(neck, mouth)
}
