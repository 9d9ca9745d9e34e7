package export_test

import (
	"bytes"
	"math"
	"slices"
	"testing"

	"foredge/export/dxf"
	"foredge/export/exporttest"
	"foredge/export/svg"
	"foredge/layout"
	"foredge/layout/geom"
)

// Any arc and any curve is written without a panic, with plain numbers, and
// read back from SVG where it was; DXF says as many vertices as it writes and
// no bulge is more than half a circle.
func FuzzPath(f *testing.F) {
	f.Add(10.0, 10.0, 5.0, 0.0, math.Pi, 20.0, 0.0, 30.0, 40.0, true)
	f.Add(0.0, 0.0, 400.0, 1.0, -6.2, 0.0, 0.0, 0.0, 0.0, false)
	f.Add(-3.0, 7.0, 0.001, 2.0, 0.01, 1e-5, 1e-5, 1.0, 1.0, true)
	f.Add(19.0, -68.0, 50.125, 0.125, -6.2, 0.0, 93.8, 42.0, 76.2, true)
	f.Fuzz(func(t *testing.T, x, y, r, start, sweep, c1x, c1y, c2x, c2y float64, closed bool) {
		for _, v := range []float64{x, y, c1x, c1y, c2x, c2y} {
			if !(math.Abs(v) < 5000) {
				t.Skip()
			}
		}
		// An arc shorter than the file can tell from a point has no centre there.
		if !(r > 0.001 && r < 5000) || !(math.Abs(start) < 7) || !(math.Abs(sweep)*r > 0.01) || !(math.Abs(sweep) < 6.28) {
			t.Skip()
		}
		c := geom.Pt(x, y)
		at := func(angle float64) geom.Point {
			sin, cos := math.Sincos(angle)
			return c.Add(geom.Pt(r*cos, r*sin))
		}
		p := geom.Path{Start: at(start), Segments: []geom.Segment{
			{Kind: geom.ArcTo, End: at(start + sweep), Center: c, Clockwise: sweep > 0},
			{Kind: geom.CubicTo, C1: geom.Pt(c1x, c1y), C2: geom.Pt(c2x, c2y), End: at(start)},
		}, Closed: closed}
		d := &layout.Drawing{Size: geom.Pt(100, 100), Colors: layout.DefaultPalette(), Parts: []layout.Part{{
			Name: "p", Shapes: []layout.Shape{{ID: "p.s", Op: layout.Cut, Figure: p}},
		}}}
		file := exporttest.ReadSVG(t, exporttest.Encode(t, svg.Encoder{}, d))
		segments := file.Shapes[0].Contours[0].Segments
		if closed {
			// The head may enter a closed path at either of its two corners.
			curve := slices.IndexFunc(segments, func(s exporttest.Segment) bool { return s.Kind == geom.CubicTo })
			segments = slices.Concat(segments[curve+1:], segments[:curve+1])
		}
		turned := 0.0
		for _, s := range segments[:len(segments)-1] {
			if s.Kind != geom.ArcTo {
				t.Fatalf("%+v is no arc", s)
			}
			turned += s.Sweep
			for k := 0.0; k <= 4; k++ {
				if off := math.Abs(s.At(k/4).Distance(c) - r); off > 0.0003 {
					t.Fatalf("arc is %.5f mm off its circle", off)
				}
			}
		}
		if math.Abs(turned-sweep)*r > 0.001 {
			t.Fatalf("arcs turn %v, want %v", turned, sweep)
		}
		if s := segments[len(segments)-1]; s.Kind != geom.CubicTo || s.C1.Distance(geom.Pt(c1x, c1y)) > 0.0001 {
			t.Fatalf("%+v is not the curve", s)
		}
		for _, e := range []dxf.Encoder{{}, {Inches: true}, {Version: dxf.R12}} {
			var b bytes.Buffer
			if err := e.Encode(&b, d); err != nil {
				t.Fatal(err)
			}
			for _, bulge := range exporttest.TagValues(t, b.Bytes(), "ENTITIES", "42") {
				if math.Abs(bulge) > 1 {
					t.Fatalf("bulge %v", bulge)
				}
			}
			if n := exporttest.TagValues(t, b.Bytes(), "ENTITIES", "90"); len(n) == 1 {
				if got := len(exporttest.TagValues(t, b.Bytes(), "ENTITIES", "10")); float64(got) != n[0] {
					t.Fatalf("%d vertices, said to be %v", got, n[0])
				}
			}
		}
	})
}
