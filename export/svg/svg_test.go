package svg_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"foredge/export/exporttest"
	"foredge/export/svg"
	"foredge/lang/foretest"
	"foredge/layout"
	"foredge/layout/geom"
)

func TestGolden(t *testing.T) {
	foretest.Golden(t, "testdata/figures.svg", exporttest.Encode(t, svg.Encoder{}, exporttest.Figures()))
}

// What is read back agrees with the figures of the drawing, to the 0.1 µm of
// the file.
func TestReadBack(t *testing.T) {
	const exact = 0.00005 * 1.5
	d := exporttest.Figures()
	f := exporttest.ReadSVG(t, exporttest.Encode(t, svg.Encoder{}, d))
	if f.Title != d.Title || f.Desc != d.Desc {
		t.Errorf("title %q, description %q", f.Title, f.Desc)
	}
	if f.Width != 1200 || f.Height != 900 {
		t.Errorf("size %v by %v", f.Width, f.Height)
	}
	if c := f.Shape(t, "cut.plate.large"); c.Kind != "circle" || *c.Contours[0].Circle != (geom.Circle{Center: geom.Pt(600, 450), R: 400}) {
		t.Errorf("circle: %+v", c)
	}
	if b := f.Shape(t, "cut.plate.pin").Box(); b.Min.Distance(geom.Pt(12.34567, 9.87654)) > exact || math.Abs(b.Width()-0.1) > exact {
		t.Errorf("rectangle: %v", b)
	}
	for _, part := range d.Parts {
		for _, s := range part.Shapes {
			if s.Op == layout.Guide || strings.HasSuffix(s.ID, ".blank") || strings.HasPrefix(s.ID, "übung") || s.ID == "case.lid" {
				continue
			}
			m := f.Shape(t, s.Op.String()+"."+s.ID)
			want, got := s.Figure.Bounds(), m.Box()
			if want.Min.Distance(got.Min) > 3*exact || want.Max.Distance(got.Max) > 3*exact {
				t.Errorf("%s reaches from %.5f to %.5f, want %.5f to %.5f", s.ID, got.Min, got.Max, want.Min, want.Max)
			}
		}
	}
	for _, m := range f.Shapes {
		for _, c := range m.Contours {
			for _, s := range c.Segments {
				if s.Kind == geom.ArcTo && math.Abs(s.Sweep) > 2*math.Pi/3+1e-6 {
					t.Errorf("%s has an arc of %.1f degrees", m.ID, s.Sweep*180/math.Pi)
				}
			}
		}
	}
}

// Half circles are two quarters.
func TestHalfCircles(t *testing.T) {
	f := exporttest.ReadSVG(t, exporttest.Encode(t, svg.Encoder{}, exporttest.Figures()))
	arcs := 0
	for _, s := range f.Shape(t, "cut.plate.slot.1").Contours[0].Segments {
		if s.Kind == geom.ArcTo {
			arcs++
			if math.Abs(s.Sweep-math.Pi/2) > 1e-4 || math.Abs(s.R-2) > 1e-9 {
				t.Errorf("arc of radius %v turns %v", s.R, s.Sweep)
			}
		}
	}
	if arcs != 4 {
		t.Errorf("the two ends are %d arcs", arcs)
	}
}

func TestNothingButErrors(t *testing.T) {
	d := exporttest.HarbourLog(1)
	d.Parts[0].Shapes[3].Figure = geom.Circle{R: math.NaN()}
	if err := (svg.Encoder{}).Encode(&bytes.Buffer{}, d); err == nil || !strings.Contains(err.Error(), d.Parts[0].Shapes[3].ID) {
		t.Errorf("a circle without a radius: %v", err)
	}
	full := errors.New("the disk is full")
	if err := (svg.Encoder{}).Encode(failing{full}, exporttest.HarbourLog(1)); err != full {
		t.Errorf("a full disk: %v", err)
	}
}

type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }

// Whatever things are called, the file is well formed, its texts come back, and
// different names have different ids of allowed characters.
func FuzzNames(f *testing.F) {
	f.Add("front", "back", "Harbour log")
	f.Add("a b", "a_x20_b", "<&>\"'")
	f.Add("übung", "日誌.1", "]]>\x00\x1f")
	f.Add("ª:µ", "\xff", "\n\t")
	f.Fuzz(func(t *testing.T, one, two, title string) {
		if one == two || !utf8.ValidString(one) || !utf8.ValidString(two) {
			t.Skip()
		}
		d := &layout.Drawing{Title: title, Size: geom.Pt(9, 9), Colors: layout.DefaultPalette()}
		for _, name := range []string{one, two} {
			d.Parts = append(d.Parts, layout.Part{Name: name, Shapes: []layout.Shape{
				{ID: name + ".outline", Op: layout.Cut, Figure: geom.Rect{W: 1, H: 1}},
			}})
		}
		var b bytes.Buffer
		if err := (svg.Encoder{}).Encode(&b, d); err != nil {
			t.Fatal(err)
		}
		file := exporttest.ReadSVG(t, b.Bytes()) // fails for an id that is there twice
		var clean bytes.Buffer
		xml.EscapeText(&clean, []byte(title))
		var want string
		if err := xml.Unmarshal([]byte("<t>"+clean.String()+"</t>"), &want); err != nil {
			t.Fatal(err)
		}
		if file.Title != want {
			t.Fatalf("title %q came back as %q", title, file.Title)
		}
		for _, s := range file.Shapes {
			if strings.ContainsAny(s.ID, " :<>&\"'/\\ªµ\u00d7\u00f7\u2028") {
				t.Fatalf("id %q", s.ID)
			}
		}
	})
}

func BenchmarkEncode(b *testing.B) {
	for _, size := range []struct {
		name   string
		copies int
	}{{"1x", 1}, {"10x", 10}, {"100x", 100}} {
		b.Run(size.name, func(b *testing.B) {
			d := exporttest.HarbourLog(size.copies)
			exporttest.BenchmarkEncoder(b, svg.Encoder{}, d)
		})
	}
}
