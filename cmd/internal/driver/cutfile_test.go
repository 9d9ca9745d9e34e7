package driver_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/export"
	"foredge/export/dxf"
	"foredge/export/exporttest"
	"foredge/export/svg"
	"foredge/layout/geom"
)

// noPanels names the examples that only others use.
var noPanels = map[string]bool{"shop.fore": true, "market-day.fore": true}

// cutKinds are the files that are made of each design, SVG first.
func cutKinds() (encoders []export.Encoder, suffixes []string) {
	return []export.Encoder{svg.Encoder{}, dxf.Encoder{}, dxf.Encoder{Inches: true}, dxf.Encoder{Version: dxf.R12}, dxf.Encoder{Version: dxf.R12, Inches: true}},
		[]string{".svg", ".dxf", "-inches.dxf", "-r12.dxf", "-r12-inches.dxf"}
}

// everything is a design with every form of row, hole, corner, cutout, line and
// mark on panels and their mirror images, each cut with a kerf.
const everything = `
laser bench { kerf = 0.22 }
stock birch { thick = 3; kerf = 0.1 }
stock card { thick = 1.2 }

panel front {
  stock = birch; width = 150; height = 210
  corner head-spine = radius 9; corner head-foredge = chamfer 7; corner tail-foredge = radius 4
  row wire on spine { count = 20; hole = rect 4 by 5 radius 0.8; pitch = 8.5; inset = 4 }
  row pins on tail { gaps = 19, 19, 30; hole = slot 7 by 4; inset = 6; first = 30 }
  row eyes on foredge { count = 3; hole = round 5; pitch = 40; inset = 5 }
  row knots on head { count = 2; hole = slot 3 by 6; first = 40; pitch = 50; inset = 5 }
  cutout thumb { shape = slot 30 by 12; head = 30; spine = 60 }
  cutout window { shape = rect 40 by 30 radius 5; head = 60; spine = 60 }
  cutout eye { shape = round 16; head = 100; spine = 60 }
  row nuts on foredge { count = 2; hole = hex 5.5; first = 15; pitch = 20; inset = 18; neck = 2 }
  row heads on head { count = 2; hole = hex 4; first = 100; pitch = 15; inset = 4; neck = 2.6 }
  row bolts on tail { count = 2; hole = hex 6; first = 115; pitch = 15; inset = 5 }
  cutout comb { shape = hex 12; head = 118; spine = 95 }
  cutout plain { shape = rect 20 by 10; head = 130; spine = 60 }
  line one { from = spine; at = 14 }
  line two { from = foredge; at = 14.5; op = mark }
  line three { from = head; at = 20; op = cut }
  line four { from = tail; at = 21 }
  region title { head = 145; height = 15; width = 80; engrave text "Tide\nTables" { font = "Go Mono" } }
  region crest { head = 165; height = 20; width = 40; mark frame { radius = 3 }; mark text "Log" }
}
panel back mirrors front
panel strip { stock = card; width = 24; height = 180; corners = chamfer 3 }
gap joint { width = 7 }
panel side { stock = card; width = 90; height = 180 }
panel other mirrors side
case case { lay = other, joint, strip, joint, side; turn-in = 15 }
panel wrap {
  stock = birch; width = 2 * 40 + fold.width; height = 120; corners = radius 6
  lattice fold { spine = 30; head = 0; tail = 0; radius = 14; turn = 150 deg }
}
panel wrapped mirrors wrap
`

// designFiles lists the designs of examples and corpus that have panels and
// that this version makes.
func designFiles(t testing.TB) []string {
	t.Helper()
	var all []string
	for _, folder := range []string{"examples", "testdata/corpus"} {
		found, err := filepath.Glob(filepath.Join("..", "..", "..", folder, "*.fore"))
		if err != nil || len(found) == 0 {
			t.Fatalf("no designs in %s: %v", folder, err)
		}
		for _, f := range found {
			if !noPanels[filepath.Base(f)] {
				all = append(all, f)
			}
		}
	}
	return all
}

func build(t testing.TB, design string, encoders ...export.Encoder) *driver.Result {
	t.Helper()
	r := driver.NewSession(nil).Build(context.Background(), design, driver.Options{Encoders: encoders, Whole: true})
	if !r.OK() {
		t.Fatalf("%s: %v %v", design, r.Err, r.Diagnostics)
	}
	return r
}

// Examples that only others use make nothing, so that the list can't outlive it.
func TestDesignsLeftOut(t *testing.T) {
	for name := range noPanels {
		if r := build(t, filepath.Join("..", "..", "..", "examples", name), svg.Encoder{}); len(r.Files) > 0 {
			t.Errorf("%s makes %d files", name, len(r.Files))
		}
	}
}

// A cutFile is a design's files as built.
type cutFile struct {
	name  string
	built *driver.Result
	svg   *exporttest.File
	paths []string // by kind
}

// cutFiles builds all designs twice, which must give the same bytes, and puts
// their files into a folder of the test.
func cutFiles(t *testing.T) []cutFile {
	t.Helper()
	dir := t.TempDir()
	encoders, suffixes := cutKinds()
	var all []cutFile
	own := filepath.Join(dir, "everything.fore")
	if err := os.WriteFile(own, []byte(everything), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, design := range append(designFiles(t), own) {
		f := cutFile{name: filepath.Base(filepath.Dir(design)) + "-" + driver.Name(design), built: build(t, design, encoders...)}
		again := build(t, design, encoders...)
		for _, r := range []*driver.Result{f.built, again} { // inner faces are held in package layout
			r.Files = slices.DeleteFunc(r.Files, func(f disk.File) bool { return strings.Contains(filepath.Base(f.Path), "-inside") })
		}
		if len(f.built.Files) != len(encoders) {
			t.Fatalf("%s: %d files", f.name, len(f.built.Files))
		}
		for i, made := range f.built.Files {
			if !bytes.Equal(made.Data, again.Files[i].Data) {
				t.Errorf("%s%s: built twice, its bytes differ", f.name, suffixes[i])
			}
			path := filepath.Join(dir, f.name+suffixes[i])
			if err := os.WriteFile(path, made.Data, 0o666); err != nil {
				t.Fatal(err)
			}
			f.paths = append(f.paths, path)
		}
		f.svg = exporttest.ReadSVG(t, f.built.Files[0].Data)
		f.svg.Path = f.paths[0]
		all = append(all, f)
	}
	if len(all) < 8 {
		t.Errorf("only %d designs", len(all))
	}
	return all
}

// Every design's cut files, from its text to what other programs read in them:
//   - SVG is valid by the W3C's DTD and drawn by librsvg;
//   - its shapes are those of the solved design to 1 µm, the kerf undone;
//   - DXF passes ezdxf's audit with nothing to fix, is read by a second reader,
//     and agrees with SVG shape by shape.
func TestCutFiles(t *testing.T) {
	all := cutFiles(t)
	for _, f := range all {
		t.Run("measured "+f.name, func(t *testing.T) { measure(t, f) })
	}
	t.Run("valid", func(t *testing.T) {
		var paths []string
		for _, f := range all {
			paths = append(paths, f.paths[0])
		}
		exporttest.ValidateSVG(t, paths...)
	})
	for _, f := range all {
		t.Run("drawn "+f.name, func(t *testing.T) { drawnBack(t, f) })
	}
	var paths []string
	var files []cutFile
	for _, f := range all {
		for _, path := range f.paths[1:] {
			paths, files = append(paths, path), append(files, f)
		}
	}
	for name, read := range map[string]func(testing.TB, ...string) []*exporttest.File{"ezdxf": exporttest.ReadDXF, "dxf-parser": exporttest.ReadDXFAgain} {
		t.Run(name, func(t *testing.T) {
			for i, got := range read(t, paths...) {
				exporttest.Compare(t, files[i].svg, got)
				header(t, got)
			}
		})
	}
}

// measure holds the shapes of an SVG file against the solved dimensions.
func measure(t *testing.T, f cutFile) {
	want := want(t, f.built)
	drawn := map[string]bool{}
	for _, m := range f.svg.Shapes {
		s, ok := want.shapes[m.ID]
		if !ok {
			// What an artwork file holds is its own: of its shapes only the place is known.
			_, id, _ := strings.Cut(m.ID, ".")
			id, _, _ = strings.Cut(id, ".line.")
			if k := strings.LastIndex(id, ".inlay."); k >= 0 {
				id = id[:k+len(".inlay")]
			}
			if s, ok = want.art[id]; ok {
				drawn[id] = true
			}
		}
		if !ok {
			t.Errorf("nothing in the design is %s", m.ID)
			continue
		}
		delete(want.shapes, m.ID)
		if err := s.matches(m); err != nil {
			t.Errorf("%s: %v", m.ID, err)
		}
		if op, _, _ := strings.Cut(m.ID, "."); m.Op != op {
			t.Errorf("%s stands among %s", m.ID, m.Op)
		}
	}
	for id := range want.shapes {
		t.Errorf("the file has no %s", id)
	}
	for id := range want.art {
		if !drawn[id] {
			t.Errorf("the file has nothing of the artwork in %s", id)
		}
	}
	if size := geom.Pt(f.svg.Width, f.svg.Height); size.Distance(want.size) > 1e-3 {
		t.Errorf("the drawing is %.4f, want %.4f", size, want.size)
	}
}

// drawnBack has librsvg draw a file and looks whether each shape shows.
func drawnBack(t *testing.T, f cutFile) {
	const perMM = 5
	img := exporttest.RenderSVG(t, f.paths[0], f.paths[0]+".png", perMM*25.4)
	if b := img.Bounds(); abs(float64(b.Dx())-f.svg.Width*perMM) > 2 || abs(float64(b.Dy())-f.svg.Height*perMM) > 2 {
		t.Errorf("the picture is %d by %d pixels for %.2f by %.2f mm", b.Dx(), b.Dy(), f.svg.Width, f.svg.Height)
	}
	for _, m := range f.svg.Shapes {
		c := m.Contours[0]
		at := geom.Point{}
		if c.Circle != nil {
			at = c.Circle.Center.Add(geom.Pt(0, c.Circle.R))
		} else {
			at = c.Segments[0].At(0.5)
		}
		ink := false
		for dy := -2; dy <= 2; dy++ {
			for dx := -2; dx <= 2; dx++ {
				r, g, b, _ := img.At(int(at.X*perMM)+dx, int(at.Y*perMM)+dy).RGBA()
				ink = ink || r+g+b < 3*0xE800
			}
		}
		if !ink {
			t.Errorf("%s doesn't show at %.2f", m.ID, at)
		}
	}
}

func abs(x float64) float64 { return max(x, -x) }

// header holds what a DXF file says of itself against its name.
func header(t *testing.T, f *exporttest.File) {
	t.Helper()
	version, unit := "AC1015", 4
	if strings.Contains(f.Path, "-r12") {
		version = "AC1009"
	}
	if strings.Contains(f.Path, "inches") {
		unit = 1
	}
	if f.DXF.Version != version || f.DXF.Insunits != unit {
		t.Errorf("%s says it is %s in unit %d, want %s in %d", f.Path, f.DXF.Version, f.DXF.Insunits, version, unit)
	}
	if f.DXF.Layers["CUT"] == 0 {
		t.Errorf("%s has no colour for its layer CUT: %v", f.Path, f.DXF.Layers)
	}
}

// The measuring itself must find what is wrong: a shape that is 2 µm off in
// place, size, radius or kerf doesn't match.
func TestMeasuringFindsDifferences(t *testing.T) {
	f := cutFile{built: build(t, "../../../examples/tide-pad.fore", svg.Encoder{})}
	f.svg = exporttest.ReadSVG(t, f.built.Files[0].Data)
	want := want(t, f.built)
	n := 0
	for _, m := range f.svg.Shapes {
		s := want.shapes[m.ID]
		if err := s.matches(m); err != nil {
			t.Fatal(err)
		}
		changes := map[string]func(*wanted){
			"moved right": func(s *wanted) { s.center.X += 0.002 },
			"moved down":  func(s *wanted) { s.center.Y += 0.002 },
			"wider":       func(s *wanted) { s.w += 0.004 },
			"higher":      func(s *wanted) { s.h += 0.004 },
		}
		if !s.line {
			changes["grown"] = func(s *wanted) { s.grow += 0.002 }
			if s.round[0] > 0 {
				changes["rounder"] = func(s *wanted) { s.round[0] += 0.006 }
			} else {
				changes["cut off"] = func(s *wanted) { s.chamfer[0] += 0.004 }
			}
		}
		for what, change := range changes {
			n++
			other := s
			change(&other)
			if other.matches(m) == nil {
				t.Errorf("%s passes where it is wanted %s", m.ID, what)
			}
		}
	}
	if n < 100 {
		t.Errorf("only %d changes were tried", n)
	}
}
