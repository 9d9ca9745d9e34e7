package exporttest

import (
	"math"
	"testing"

	"foredge/layout/geom"
)

// A File is a cut file as read back, in millimetres.
type File struct {
	Path          string // as given to the reader, for messages
	Width, Height float64
	Title, Desc   string
	Shapes        []Measured // in the order of the file
	// DXF is what only a DXF file has, else nil.
	DXF *DXFHeader
}

// A DXFHeader is what a DXF file says of itself.
type DXFHeader struct {
	Version     string // AC1015
	Insunits    int    // 4: millimetres, 1: inches
	Measurement int    // 1: metric, 0: imperial
	ExtMin      geom.Point
	ExtMax      geom.Point     // in millimetres, Y up
	Layers      map[string]int // standard colour by name
}

// A Measured is one element of an SVG file or one entity of a DXF file.
type Measured struct {
	ID   string // cut.front.wire.7; empty in DXF
	Op   string // cut: the group of an SVG file, the layer of a DXF file in small letters
	Part string // id of the part's group, cut.front; empty in DXF
	Kind string // rect, circle, path; CIRCLE, LWPOLYLINE...
	// Contours are the separate runs of the element, in its order.
	Contours []Contour
}

// A Contour is a full circle or one run of segments.
type Contour struct {
	Circle   *geom.Circle
	Segments []Segment
	Closed   bool
}

// A Segment is one step of a contour.
type Segment struct {
	Kind      geom.SegmentKind
	From, End geom.Point
	// For an arc. Sweep is in radians, positive clockwise as seen.
	Center geom.Point
	R      float64
	Sweep  float64
	// For a cubic.
	C1, C2 geom.Point
}

// At is the point of a segment at t from 0 to 1.
func (s Segment) At(t float64) geom.Point {
	switch s.Kind {
	case geom.ArcTo:
		a := s.From.Sub(s.Center)
		sin, cos := math.Sincos(s.Sweep * t)
		return s.Center.Add(geom.Pt(a.X*cos-a.Y*sin, a.X*sin+a.Y*cos))
	case geom.CubicTo:
		u := 1 - t
		return s.From.Mul(u * u * u).Add(s.C1.Mul(3 * u * u * t)).Add(s.C2.Mul(3 * u * t * t)).Add(s.End.Mul(t * t * t))
	}
	return s.From.Lerp(s.End, t)
}

// Box is the least box that holds the element, exact for lines and arcs; curves
// are sampled, which leaves less than 0.1 µm on a curve of 10 mm.
func (m Measured) Box() geom.Box {
	b := geom.EmptyBox()
	for _, c := range m.Contours {
		if c.Circle != nil {
			d := geom.Pt(c.Circle.R, c.Circle.R)
			b = b.Union(geom.Box{Min: c.Circle.Center.Sub(d), Max: c.Circle.Center.Add(d)})
		}
		for _, s := range c.Segments {
			for _, t := range s.turns() {
				p := s.At(t)
				b = b.Union(geom.Box{Min: p, Max: p})
			}
		}
	}
	return b
}

// turns are parameters that hold all places where a segment may be outermost.
func (s Segment) turns() []float64 {
	ts := []float64{0, 1}
	switch s.Kind {
	case geom.ArcTo:
		a := s.From.Sub(s.Center)
		start := math.Atan2(a.Y, a.X)
		for k := -8.0; k <= 8; k++ {
			if t := (k*math.Pi/2 - start) / s.Sweep; t > 0 && t < 1 {
				ts = append(ts, t)
			}
		}
	case geom.CubicTo:
		for k := 1.0; k < 2000; k++ {
			ts = append(ts, k/2000)
		}
	}
	return ts
}

// UpsideDown is the file seen with Y the other way from the height given: a DXF
// file as its drawing has it.
func (f *File) UpsideDown(height float64) *File {
	flip := func(p geom.Point) geom.Point { return geom.Pt(p.X, height-p.Y) }
	g := *f
	g.Shapes = nil
	for _, m := range f.Shapes {
		var contours []Contour
		for _, c := range m.Contours {
			if c.Circle != nil {
				c.Circle = &geom.Circle{Center: flip(c.Circle.Center), R: c.Circle.R}
			}
			var segments []Segment
			for _, s := range c.Segments {
				s.From, s.End, s.Center = flip(s.From), flip(s.End), flip(s.Center)
				s.C1, s.C2, s.Sweep = flip(s.C1), flip(s.C2), -s.Sweep
				segments = append(segments, s)
			}
			c.Segments = segments
			contours = append(contours, c)
		}
		m.Contours = contours
		g.Shapes = append(g.Shapes, m)
	}
	return &g
}

// Shape finds an element by its id and fails the test if there is none.
func (f *File) Shape(t testing.TB, id string) Measured {
	t.Helper()
	for _, m := range f.Shapes {
		if m.ID == id {
			return m
		}
	}
	t.Fatalf("%s has no element with the id %q", f.Path, id)
	return Measured{}
}
