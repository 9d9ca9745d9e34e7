package art_test

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"foredge/layout/art"
	"foredge/layout/geom"
)

// Whatever a file holds, it is read or refused, and what is read can be drawn:
// places are finite, the filled area is not below 0.
func FuzzParse(f *testing.F) {
	for _, folder := range []string{"good", "bad"} {
		files, err := filepath.Glob("testdata/" + folder + "/*.svg")
		if err != nil {
			f.Fatal(err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := art.Parse("a.svg", data)
		if err != nil {
			if bad, ok := err.(*art.Error); !ok || bad.Message == "" || bad.Advice == "" {
				t.Fatalf("an error without words: %#v", err)
			}
			return
		}
		for _, list := range [][]art.Contour{p.Fill, p.Lines} {
			for _, c := range list {
				b := c.Bounds()
				if size := max(-b.Min.X, -b.Min.Y, b.Max.X, b.Max.Y); !(size <= 2*art.MaxSize) || math.IsNaN(size) {
					t.Fatalf("%s lies at %v", c.Where, b)
				}
				if c.Where.Line < 1 {
					t.Fatal("nothing tells where a contour comes from")
				}
			}
		}
		if a := geom.Area(p.Outline()); !(a > -1e-3) {
			t.Fatalf("the filled area is %v", a)
		}
	})
}
