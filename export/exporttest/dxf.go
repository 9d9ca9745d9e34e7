package exporttest

import (
	_ "embed"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout/geom"
)

var (
	//go:embed read_dxf.py
	readByEzdxf string
	//go:embed read_dxf.js
	readByParser string
)

// AuditDXF has ezdxf read and audit the files and fails the test for each error
// and for each thing that had to be fixed.
func AuditDXF(t testing.TB, paths ...string) {
	t.Helper()
	ReadDXF(t, paths...)
}

// ReadDXF reads DXF files by ezdxf, all in one run, and audits them like
// [AuditDXF]. Lengths are in millimetres, whatever the file's unit; Y is up as
// in the file, see [File.UpsideDown].
func ReadDXF(t testing.TB, paths ...string) []*File {
	t.Helper()
	return files(t, exec.Command(foretest.Python(t, "ezdxf"), append([]string{"-c", readByEzdxf}, paths...)...), paths)
}

// ReadDXFAgain reads DXF files by a second reader, dxf-parser, all in one run.
// The variable FOREDGE_DXF_PARSER names the node_modules folder that has it.
func ReadDXFAgain(t testing.TB, paths ...string) []*File {
	t.Helper()
	node := foretest.Program(t, "node")
	env := os.Environ()
	if folder := os.Getenv("FOREDGE_DXF_PARSER"); folder != "" {
		env = append(env, "NODE_PATH="+folder)
	}
	probe := exec.Command(node, "-e", `require("dxf-parser")`)
	probe.Env = env
	if probe.Run() != nil {
		foretest.Missing(t, "the npm package dxf-parser (FOREDGE_DXF_PARSER names its node_modules)")
	}
	// Node reads the script from standard input, where "-" stands for it.
	cmd := exec.Command(node, append([]string{"-"}, paths...)...)
	cmd.Env = env
	cmd.Stdin = strings.NewReader(readByParser)
	return files(t, cmd, paths)
}

// dxfFile is what the two scripts print of a file.
type dxfFile struct {
	Version        string
	Insunits       int
	Measurement    int
	Extmin, Extmax [2]float64
	Errors, Fixes  []string
	Layers         map[string]int
	Entities       []dxfEntity
}

type dxfEntity struct {
	Type, Layer string
	Closed      bool
	Points      [][3]float64 // x, y, bulge
	Center      [2]float64
	R           float64
	Start, End  float64 // degrees
}

func files(t testing.TB, cmd *exec.Cmd, paths []string) []*File {
	t.Helper()
	var list []dxfFile
	if err := json.Unmarshal(foretest.Output(t, cmd), &list); err != nil {
		t.Fatalf("%s: %v", filepath.Base(cmd.Path), err)
	}
	if len(list) != len(paths) {
		t.Fatalf("%s read %d of %d files", filepath.Base(cmd.Path), len(list), len(paths))
	}
	var all []*File
	for i, d := range list {
		for _, message := range d.Errors {
			t.Errorf("%s: audit: %s", paths[i], message)
		}
		for _, message := range d.Fixes {
			t.Errorf("%s: audit had to fix: %s", paths[i], message)
		}
		all = append(all, d.file(t, paths[i]))
	}
	return all
}

// file brings a file to millimetres and to segments.
func (d dxfFile) file(t testing.TB, path string) *File {
	t.Helper()
	unit := map[int]float64{1: 25.4, 4: 1}[d.Insunits]
	if unit == 0 {
		t.Fatalf("%s: $INSUNITS is %d", path, d.Insunits)
	}
	pt := func(x, y float64) geom.Point { return geom.Pt(x*unit, y*unit) }
	f := &File{Path: path, DXF: &DXFHeader{
		Version: d.Version, Insunits: d.Insunits, Measurement: d.Measurement, Layers: d.Layers,
		ExtMin: pt(d.Extmin[0], d.Extmin[1]), ExtMax: pt(d.Extmax[0], d.Extmax[1]),
	}}
	for _, e := range d.Entities {
		c := Contour{Closed: e.Closed}
		center := pt(e.Center[0], e.Center[1])
		switch e.Type {
		case "CIRCLE":
			c = Contour{Circle: &geom.Circle{Center: center, R: e.R * unit}, Closed: true}
		case "ARC":
			c.Segments = []Segment{dxfArc(center, e.R*unit, e.Start, e.End)}
		case "LINE", "LWPOLYLINE", "POLYLINE":
			n := len(e.Points)
			for i, p := range e.Points {
				if i == n-1 && !e.Closed {
					break
				}
				q := e.Points[(i+1)%n]
				from, end := pt(p[0], p[1]), pt(q[0], q[1])
				if from == end {
					t.Errorf("%s: a %s on %s stands still at vertex %d", path, e.Type, e.Layer, i+1)
				}
				c.Segments = append(c.Segments, bulged(from, end, p[2]))
			}
		default:
			t.Fatalf("%s: a cut file holds no %s", path, e.Type)
		}
		f.Shapes = append(f.Shapes, Measured{Op: strings.ToLower(e.Layer), Kind: e.Type, Contours: []Contour{c}})
	}
	return f
}

// dxfArc is an ARC: anticlockwise with Y up, between two angles in degrees.
func dxfArc(center geom.Point, r, start, end float64) Segment {
	for end <= start {
		end += 360
	}
	at := func(deg float64) geom.Point {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		return center.Add(geom.Pt(r*cos, r*sin))
	}
	return Segment{
		Kind: geom.ArcTo, From: at(start), End: at(end), Center: center, R: r,
		Sweep: (end - start) * math.Pi / 180,
	}
}

// bulged is a segment of a polyline. The bulge is the tangent of a quarter of
// the included angle, negative if clockwise (DXF reference, VERTEX), so the
// radius is c(1 + b²)/(4|b|) for a chord c.
func bulged(from, end geom.Point, bulge float64) Segment {
	if bulge == 0 {
		return Segment{From: from, End: end}
	}
	chord := end.Sub(from)
	c := chord.Norm()
	r := c * (1 + bulge*bulge) / (4 * math.Abs(bulge))
	// The arc's height is b·c/2, to the right of the way if anticlockwise with
	// Y up; the centre lies r from its top, towards the chord.
	right := geom.Pt(chord.Y, -chord.X).Mul(1 / c)
	top := from.Lerp(end, 0.5).Add(right.Mul(bulge * c / 2))
	center := top.Sub(right.Mul(math.Copysign(r, bulge)))
	return Segment{Kind: geom.ArcTo, From: from, End: end, Center: center, R: r, Sweep: 4 * math.Atan(bulge)}
}
