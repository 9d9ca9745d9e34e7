package exporttest

import (
	"fmt"
	"math"
	"testing"

	"foredge/layout/geom"
)

// Tolerance is how far two cut files of one drawing may differ anywhere, in
// millimetres: one micrometre.
const Tolerance = 1e-3

// Compare holds a DXF file against the SVG file of the same drawing, shape by
// shape in running order: operation, form, centres and radii, ends of lines and
// arcs, and for curves the way between. It fails the test for each difference.
func Compare(t testing.TB, svg, dxf *File) {
	t.Helper()
	turned := dxf.UpsideDown(svg.Height)
	next := 0
	for _, shape := range svg.Shapes {
		for i, c := range shape.Contours {
			if next == len(turned.Shapes) {
				t.Errorf("%s ends before %s, contour %d", dxf.Path, shape.ID, i+1)
				return
			}
			entity := turned.Shapes[next]
			next++
			if entity.Op != shape.Op {
				t.Errorf("%s: entity %d, which is %s, lies on layer %s", dxf.Path, next, shape.ID, entity.Op)
			}
			if err := compare(c, entity.Contours[0]); err != nil {
				t.Errorf("%s: entity %d, %s, against %s contour %d: %v", dxf.Path, next, entity.Kind, shape.ID, i+1, err)
			}
		}
	}
	if next < len(turned.Shapes) {
		t.Errorf("%s holds %d entities more than the SVG file has contours", dxf.Path, len(turned.Shapes)-next)
	}
}

func compare(want, got Contour) error {
	if (want.Circle == nil) != (got.Circle == nil) {
		return fmt.Errorf("one of them is a circle")
	}
	if want.Circle != nil {
		if d := want.Circle.Center.Distance(got.Circle.Center); d > Tolerance {
			return fmt.Errorf("centres are %.4f mm apart", d)
		}
		if d := math.Abs(want.Circle.R - got.Circle.R); d > Tolerance {
			return fmt.Errorf("radii differ by %.4f mm", d)
		}
		return nil
	}
	// One that is a single LINE or ARC can't say which way it runs.
	if len(got.Segments) == 1 && !want.Closed && len(want.Segments) > 0 {
		if s := got.Segments[0]; s.From.Distance(want.Segments[0].From) > s.End.Distance(want.Segments[0].From) {
			s.From, s.End, s.Sweep = s.End, s.From, -s.Sweep
			got.Segments = []Segment{s}
		}
	}
	if want.Closed != got.Closed {
		return fmt.Errorf("one of them is closed")
	}
	rest := got.Segments
	for i, s := range merged(want.Segments) {
		n := run(s, rest)
		if n == 0 {
			return fmt.Errorf("segment %d ends at %.4f, where nothing ends", i+1, s.End)
		}
		if err := follow(s, rest[:n]); err != nil {
			return fmt.Errorf("segment %d, from %.4f to %.4f: %w", i+1, s.From, s.End, err)
		}
		rest = rest[n:]
	}
	if len(rest) > 0 {
		return fmt.Errorf("%d segments too many", len(rest))
	}
	return nil
}

// merged joins arcs that go on about one centre, which an SVG file divides.
func merged(segments []Segment) []Segment {
	var list []Segment
	for _, s := range segments {
		if n := len(list); n > 0 && s.Kind == geom.ArcTo && list[n-1].Kind == geom.ArcTo {
			last := &list[n-1]
			joined := *last
			joined.Sweep += s.Sweep
			joined.End = s.End
			// Of a crumb of an arc no centre can be told: the way itself must go on.
			if sameCircle(*last, s) && math.Abs(joined.Sweep) < 2*math.Pi+1e-3 && joined.At(1).Distance(s.End) <= Tolerance/2 {
				*last = joined
				continue
			}
		}
		list = append(list, s)
	}
	return list
}

// sameCircle reports whether two arcs lie on one circle and run the same way. A
// centre moves by more than the ends do where an arc is short.
func sameCircle(a, b Segment) bool {
	short := math.Min(chord(a), chord(b))
	allowed := Tolerance * math.Max(1, a.R/short)
	return a.Center.Distance(b.Center) <= allowed && math.Abs(a.R-b.R) <= allowed && a.Sweep*b.Sweep > 0
}

// sameBend reports whether an arc bends as another does, as far as their ends let
// that be told: over its chord they rise alike. Arcs so short that [merged] took
// them for one may be about centres that are farther apart than the ways are.
func sameBend(a, b Segment) bool {
	c := chord(b)
	return a.Sweep*b.Sweep > 0 && c*c/8*math.Abs(1/a.R-1/b.R) <= Tolerance
}

// chord is the distance between the ends of an arc, or the most that it can be
// for one over half a circle.
func chord(s Segment) float64 {
	if math.Abs(s.Sweep) > math.Pi {
		return 2 * s.R
	}
	return s.From.Distance(s.End)
}

// run is how many of the pieces make up s: up to the one that ends nearest to
// its end, 0 if none does.
func run(s Segment, pieces []Segment) int {
	for i := range pieces {
		d := pieces[i].End.Distance(s.End)
		if d > Tolerance {
			continue
		}
		for i+1 < len(pieces) && pieces[i+1].End.Distance(s.End) < d {
			i++
			d = pieces[i].End.Distance(s.End)
		}
		return i + 1
	}
	return 0
}

// follow reports how pieces leave the way of s, if they do.
func follow(s Segment, pieces []Segment) error {
	if d := s.From.Distance(pieces[0].From); d > Tolerance {
		return fmt.Errorf("starts are %.4f mm apart", d)
	}
	switch s.Kind {
	case geom.LineTo:
		if len(pieces) != 1 || pieces[0].Kind != geom.LineTo {
			return fmt.Errorf("a line is something else")
		}
		return nil
	case geom.ArcTo:
		turned := 0.0
		for _, p := range pieces {
			if p.Kind != geom.ArcTo || !sameBend(s, p) {
				return fmt.Errorf("the arc about %.4f of radius %.4f is one about %.4f of radius %.4f",
					s.Center, s.R, p.Center, p.R)
			}
			turned += p.Sweep
		}
		if off := math.Abs(turned-s.Sweep) * s.R; off > 3*Tolerance {
			return fmt.Errorf("the arcs turn %.6f and %.6f", s.Sweep, turned)
		}
	}
	return between(s, pieces)
}

// between looks at places all along both ways.
func between(s Segment, pieces []Segment) error {
	for _, p := range pieces {
		for k := 1.0; k < 8; k++ {
			q := p.At(k / 8)
			if d := off(q, s); d > Tolerance {
				return fmt.Errorf("the way at %.4f is %.5f mm off", q, d)
			}
		}
	}
	for k := 1.0; k < 40; k++ {
		q := s.At(k / 40)
		least := math.Inf(1)
		for _, p := range pieces {
			least = math.Min(least, off(q, p))
		}
		if least > Tolerance {
			return fmt.Errorf("the way leaves out %.4f by %.5f mm", q, least)
		}
	}
	return nil
}

// off is the distance of a point from a segment, by search along it.
func off(p geom.Point, s Segment) float64 {
	const steps = 64
	best, at := math.Inf(1), 0
	for k := 0; k <= steps; k++ {
		if d := p.Distance(s.At(float64(k) / steps)); d < best {
			best, at = d, k
		}
	}
	// Ternary search between the neighbours of the nearest sample.
	low, high := math.Max(0, float64(at-1)/steps), math.Min(1, float64(at+1)/steps)
	for range 40 {
		a, b := low+(high-low)/3, high-(high-low)/3
		if p.Distance(s.At(a)) < p.Distance(s.At(b)) {
			high = b
		} else {
			low = a
		}
	}
	return p.Distance(s.At((low + high) / 2))
}
