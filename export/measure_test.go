package export_test

import (
	"math"
	"strings"
	"testing"

	"foredge/export"
	"foredge/export/dxf"
	"foredge/export/exporttest"
	"foredge/export/svg"
	"foredge/layout"
	"foredge/layout/geom"
)

// drawings are what the outside checks are made on.
func drawings() map[string]*layout.Drawing {
	return map[string]*layout.Drawing{
		"figures":     exporttest.Figures(),
		"harbour-log": exporttest.HarbourLog(1),
		"nothing":     {Size: geom.Pt(10, 10), Colors: layout.DefaultPalette()},
	}
}

var dxfKinds = map[string]dxf.Encoder{
	"mm":         {},
	"inches":     {Inches: true},
	"r12":        {Version: dxf.R12},
	"r12-inches": {Version: dxf.R12, Inches: true},
}

// Every DXF file passes ezdxf's audit with nothing to fix, is read by two
// libraries, and agrees with the SVG file to 1 µm, shape by shape.
func TestDXFAgreesWithSVG(t *testing.T) {
	var paths []string
	var want []*exporttest.File
	var encoders []dxf.Encoder
	var drawn []*layout.Drawing
	for name, d := range drawings() {
		file := exporttest.ReadSVG(t, exporttest.Encode(t, svg.Encoder{}, d))
		for kind, e := range dxfKinds {
			paths = append(paths, exporttest.Write(t, e, d, name+"-"+kind))
			want = append(want, file)
			encoders = append(encoders, e)
			drawn = append(drawn, d)
		}
	}
	readers := map[string]func(testing.TB, ...string) []*exporttest.File{
		"ezdxf":      exporttest.ReadDXF,
		"dxf-parser": exporttest.ReadDXFAgain,
	}
	for name, read := range readers {
		t.Run(name, func(t *testing.T) {
			for i, got := range read(t, paths...) {
				exporttest.Compare(t, want[i], got)
				checkHeader(t, got, encoders[i], drawn[i])
			}
		})
	}
}

func checkHeader(t *testing.T, f *exporttest.File, e dxf.Encoder, d *layout.Drawing) {
	t.Helper()
	h := f.DXF
	version, unit, metric := "AC1015", 4, 1
	if e.Version == dxf.R12 {
		version = "AC1009"
	}
	if e.Inches {
		unit, metric = 1, 0
	}
	if h.Version != version || h.Insunits != unit || h.Measurement != metric {
		t.Errorf("%s: version %s, $INSUNITS %d, $MEASUREMENT %d; want %s, %d, %d",
			f.Path, h.Version, h.Insunits, h.Measurement, version, unit, metric)
	}
	for _, name := range []string{"ENGRAVE", "MARK", "SCORE", "CUT"} {
		if _, ok := h.Layers[name]; !ok {
			t.Errorf("%s: there is no layer %s", f.Path, name)
		}
	}
	if len(d.Parts) == 0 {
		return
	}
	box := geom.EmptyBox()
	for _, s := range f.Shapes {
		box = box.Union(s.Box())
	}
	if box.Min.Distance(h.ExtMin) > 2*exporttest.Tolerance || box.Max.Distance(h.ExtMax) > 2*exporttest.Tolerance {
		t.Errorf("%s: extents are %.4f to %.4f, the entities reach from %.4f to %.4f",
			f.Path, h.ExtMin, h.ExtMax, box.Min, box.Max)
	}
}

// The comparison itself must find what is wrong: a file that differs by 2 µm in
// one place, in any way, doesn't agree.
func TestCompareFindsDifferences(t *testing.T) {
	base := exporttest.ReadSVG(t, exporttest.Encode(t, svg.Encoder{}, exporttest.Figures()))
	var entities []exporttest.Measured
	for _, m := range base.Shapes {
		for _, c := range m.Contours {
			one := m
			one.Contours = []exporttest.Contour{c}
			entities = append(entities, one)
		}
	}
	for i := range entities {
		for _, change := range []func(*exporttest.Measured){
			func(m *exporttest.Measured) { m.Op = "guide" },
			func(m *exporttest.Measured) { shift(m, geom.Pt(0.002, 0)) },
			func(m *exporttest.Measured) { shift(m, geom.Pt(0, 0.002)) },
		} {
			changed := &exporttest.File{Path: "changed", Shapes: append([]exporttest.Measured(nil), entities...)}
			change(&changed.Shapes[i])
			if !differs(t, base, changed.UpsideDown(base.Height)) {
				t.Errorf("a changed %s %s passes", entities[i].Kind, entities[i].ID)
			}
		}
	}
	same := &exporttest.File{Path: "same", Shapes: entities}
	if differs(t, base, same.UpsideDown(base.Height)) {
		t.Error("the same shapes don't agree")
	}
	if !differs(t, base, (&exporttest.File{Shapes: entities[1:]}).UpsideDown(base.Height)) {
		t.Error("a missing shape passes")
	}
}

func shift(m *exporttest.Measured, d geom.Point) {
	c := m.Contours[0]
	if c.Circle != nil {
		c.Circle = &geom.Circle{Center: c.Circle.Center.Add(d), R: c.Circle.R}
	}
	segments := append([]exporttest.Segment(nil), c.Segments...)
	for i := range segments {
		s := &segments[i]
		s.From, s.End, s.Center, s.C1, s.C2 = s.From.Add(d), s.End.Add(d), s.Center.Add(d), s.C1.Add(d), s.C2.Add(d)
	}
	c.Segments = segments
	m.Contours = []exporttest.Contour{c}
}

// recorder is a test that only notes that something failed.
type recorder struct {
	testing.TB
	failed bool
}

func (r *recorder) Helper()               {}
func (r *recorder) Errorf(string, ...any) { r.failed = true }

func differs(t *testing.T, a, b *exporttest.File) bool {
	r := &recorder{TB: t}
	exporttest.Compare(r, a, b)
	return r.failed
}

// The bulges of arcs: tan(θ/4) for arcs of θ, 1 for half a circle;
// radius c(1+b²)/(4b). Values worked out by hand from the DXF reference's
// definition (Autodesk, DXF Reference 2024, VERTEX, group 42).
func TestBulges(t *testing.T) {
	for _, c := range []struct{ degrees, bulge float64 }{
		{30, 0.1316524976}, {45, 0.1989123674}, {90, 0.4142135624}, {180, 1},
	} {
		sin, cos := math.Sincos(c.degrees * math.Pi / 180)
		at := geom.Pt(20, 20)
		sector := geom.NewPath(geom.Pt(30, 20)).
			Arc(geom.Pt(20+10*cos, 20+10*sin), at, true).Line(geom.Pt(15, 15)).Close()
		d := &layout.Drawing{Size: geom.Pt(40, 40), Colors: layout.DefaultPalette(), Parts: []layout.Part{{
			Name: "p", Shapes: []layout.Shape{{ID: "p.s", Op: layout.Cut, Figure: sector}},
		}}}
		got := exporttest.TagValues(t, exporttest.Encode(t, dxf.Encoder{}, d), "ENTITIES", "42")
		if len(got) != 1 || math.Abs(got[0]+c.bulge) > 1e-10 {
			t.Errorf("%v degrees clockwise: bulges %v, want %v", c.degrees, got, -c.bulge)
		}
	}
}

// Longer arcs are divided so that no bulge is more than 1.
func TestLongArcs(t *testing.T) {
	for _, b := range exporttest.TagValues(t, exporttest.Encode(t, dxf.Encoder{}, exporttest.Figures()), "ENTITIES", "42") {
		if math.Abs(b) > 1 || b == 0 {
			t.Errorf("bulge %v", b)
		}
	}
}

func TestSVGIsValid(t *testing.T) {
	var paths []string
	for name, d := range drawings() {
		paths = append(paths, exporttest.Write(t, svg.Encoder{}, d, name))
	}
	exporttest.ValidateSVG(t, paths...)
}

// What librsvg draws shows the shapes where they belong: the engraved ring is
// black, its counter white, the middle filled again by the non-zero rule.
func TestSVGRenders(t *testing.T) {
	path := exporttest.Write(t, svg.Encoder{}, exporttest.Figures(), "figures")
	const dpi = 127 // five pixels a millimetre
	img := exporttest.RenderSVG(t, path, path+".png", dpi)
	for _, c := range []struct {
		x, y float64
		dark bool
	}{
		{230 + 16, 60, true}, {230 + 9, 60, false}, {230, 60, true}, // letters
		{290, 60, true}, {296, 60, false}, // spot
		{20, 20, false}, {350, 95, false},
	} {
		r, g, b, _ := img.At(int(c.x*5), int(c.y*5)).RGBA()
		if dark := r+g+b < 3*0x8000; dark != c.dark {
			t.Errorf("at (%v, %v) dark is %v", c.x, c.y, dark)
		}
	}
	// The cut circle of radius 400 about (600, 450) leaves colour at its top.
	seen := false
	for y := -3; y <= 3; y++ {
		r, g, b, _ := img.At(3000, 250+y).RGBA()
		seen = seen || g < r && g < b && g < 0xE000
	}
	if !seen {
		t.Error("nothing is drawn in the colour of cuts at the top of the large circle")
	}
}

func TestLookup(t *testing.T) {
	for _, name := range []string{"dxf", ".dxf", "DXF"} {
		e, err := export.Lookup(name, export.Options{DXF: dxf.Encoder{Version: dxf.R12}})
		if err != nil || e.Name() != "dxf" || e.(dxf.Encoder).Version != dxf.R12 {
			t.Errorf("Lookup(%q) = %#v, %v", name, e, err)
		}
	}
	var names []string
	for _, e := range export.Encoders(export.Options{}) {
		names = append(names, e.Name())
	}
	if _, err := export.Lookup("bmp", export.Options{}); err == nil ||
		err.Error() != `"bmp" is not a format that can be written: choose from `+strings.Join(names, ", ") {
		t.Errorf("Lookup(bmp): %v", err)
	}
}
