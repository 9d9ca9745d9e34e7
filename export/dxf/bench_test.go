package dxf_test

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"foredge/export/dxf"
	"foredge/export/exporttest"
	"foredge/lang/foretest"
	"foredge/layout"
	"foredge/layout/geom"
)

func BenchmarkEncode(b *testing.B) {
	for _, version := range []struct {
		name    string
		encoder dxf.Encoder
	}{{"ac1015", dxf.Encoder{}}, {"r12", dxf.Encoder{Version: dxf.R12}}} {
		for _, size := range []struct {
			name   string
			copies int
		}{{"1x", 1}, {"10x", 10}, {"100x", 100}} {
			b.Run(version.name+"/"+size.name, func(b *testing.B) {
				exporttest.BenchmarkEncoder(b, version.encoder, exporttest.HarbourLog(size.copies))
			})
		}
	}
}

// many is a drawing of n shapes: round and square holes in turn.
func many(n int) *layout.Drawing {
	d := &layout.Drawing{Size: geom.Pt(4000, 4000), Colors: layout.DefaultPalette()}
	p := layout.Part{Name: "plate"}
	for i := range n {
		x, y := 7.3+float64(i%400)*9.97, 6.1+float64(i/400)*9.83
		s := layout.Shape{ID: "plate." + strconv.Itoa(i+1), Op: layout.Cut, Hole: true}
		if i%2 == 0 {
			s.Figure = geom.Circle{Center: geom.Pt(x, y), R: 2 + float64(i%7)*0.1}
		} else {
			s.Figure = geom.Rect{Min: geom.Pt(x, y), W: 4.35, H: 4.32}
		}
		p.Shapes = append(p.Shapes, s)
	}
	d.Parts = []layout.Part{p}
	return d
}

//go:embed testdata/write_many.py
var writeMany string

// BenchmarkAgainstEzdxf encodes the same 100,000 shapes by this package and by
// ezdxf, its small r12 writer and the whole library, in one run, and reports how
// many times faster this package is: R12 against the r12 writer, AC1015 against
// the library. Both sides are timed from shapes in memory to text in memory, the
// best of several; the disk, which costs both the same, is left out. The texts
// must hold the same shapes.
func BenchmarkAgainstEzdxf(b *testing.B) {
	python := foretest.Python(b, "ezdxf")
	const n = 100_000
	d := many(n)
	folder := b.TempDir()

	type shape struct {
		Circle     bool
		X, Y, W, H float64 // centre and radius in W, or left lower corner and size
	}
	var shapes []shape
	for _, s := range d.Parts[0].Shapes {
		switch f := s.Figure.(type) {
		case geom.Circle:
			shapes = append(shapes, shape{true, f.Center.X, d.Size.Y - f.Center.Y, f.R, 0})
		case geom.Rect:
			shapes = append(shapes, shape{false, f.Min.X, d.Size.Y - f.Min.Y - f.H, f.W, f.H})
		}
	}
	input, err := json.Marshal(shapes)
	if err != nil {
		b.Fatal(err)
	}
	theirs := func(name string) string { return filepath.Join(folder, "theirs-"+name+".dxf") }
	cmd := exec.Command(python, "-c", writeMany, theirs("r12"), theirs("full"))
	cmd.Stdin = bytes.NewReader(input)
	out, err := cmd.Output()
	if err != nil {
		b.Fatal(err)
	}
	var seconds struct{ R12, Full float64 }
	if err := json.Unmarshal(out, &seconds); err != nil {
		b.Fatal(err)
	}

	for range b.N {
		for _, c := range []struct {
			name, metric string
			encoder      dxf.Encoder
			reference    float64
		}{
			{"r12", "x-ezdxf-r12", dxf.Encoder{Version: dxf.R12}, seconds.R12},
			{"full", "x-ezdxf", dxf.Encoder{}, seconds.Full},
		} {
			var text bytes.Buffer
			best := math.Inf(1)
			for range 10 {
				text.Reset()
				start := time.Now()
				if err := c.encoder.Encode(&text, d); err != nil {
					b.Fatal(err)
				}
				best = math.Min(best, time.Since(start).Seconds())
			}
			b.ReportMetric(c.reference/best, c.metric)
			reference, err := os.ReadFile(theirs(c.name))
			if err != nil {
				b.Fatal(err)
			}
			sameEntities(b, text.Bytes(), reference, n)
		}
	}
}

// sameEntities holds all numbers of the n entities of two files together.
func sameEntities(b *testing.B, ours, theirs []byte, n int) {
	b.Helper()
	for code, count := range map[string]int{"10": n/2 + 4*n/2, "20": n/2 + 4*n/2, "40": n / 2} {
		// The head of an R12 POLYLINE has a place at the origin, and VERTEX and
		// POLYLINE of ezdxf may have widths of 0: they hold no shape.
		want, got := nonZero(exporttest.TagValues(b, theirs, "ENTITIES", code)), nonZero(exporttest.TagValues(b, ours, "ENTITIES", code))
		if len(want) != count || len(got) != count {
			b.Fatalf("group %s: %d and %d of %d", code, len(got), len(want), count)
		}
		for i := range want {
			if math.Abs(want[i]-got[i]) > 1e-3 {
				b.Fatalf("group %s, number %d: %v, ezdxf wrote %v", code, i+1, got[i], want[i])
			}
		}
	}
}

func nonZero(values []float64) []float64 {
	var list []float64
	for _, v := range values {
		if v != 0 {
			list = append(list, v)
		}
	}
	return list
}
