package kerf_test

import (
	"bytes"
	"fmt"
	"math"
	"os/exec"
	"path/filepath"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout/geom"
	"foredge/layout/kerf"
	"foredge/layout/lettering"
)

// clipper offsets figures by the Clipper library, which works on polygons in
// whole units: curves are followed within tol. It returns the seconds of the
// faster of its two ways, figure by figure and all at once, and the area that
// came out, in mm².
func clipper(b *testing.B, figures []geom.Figure, d, tol float64) (seconds, area float64) {
	const units = 1e5 // a mm
	program := filepath.Join(b.TempDir(), "clipper")
	if out, err := exec.Command("g++", "-O2", "-o", program, "testdata/clipper.cpp", "-lpolyclipping").CombinedOutput(); err != nil {
		b.Logf("%s", out)
		foretest.Missing(b, "a C++ compiler with Clipper (Debian's g++ and libpolyclipping-dev)")
	}
	var in bytes.Buffer
	fmt.Fprintln(&in, d*units, len(figures))
	for _, f := range figures {
		paths := geom.Paths(f)
		fmt.Fprintln(&in, len(paths))
		for _, p := range paths {
			points := p.Flatten(tol)
			fmt.Fprintln(&in, len(points))
			for _, q := range points {
				fmt.Fprintln(&in, int64(math.Round(q.X*units)), int64(math.Round(-q.Y*units)))
			}
		}
	}
	cmd := exec.Command(program)
	cmd.Stdin = &in
	out, err := cmd.Output()
	if err != nil {
		b.Fatal(err)
	}
	var each, once, eachArea, onceArea float64
	if _, err := fmt.Sscan(string(out), &each, &once, &eachArea, &onceArea); err != nil {
		b.Fatalf("%v: %s", err, out)
	}
	if math.Abs(eachArea-onceArea) > 1e-6*math.Abs(eachArea) {
		b.Fatalf("its two ways give %g and %g", eachArea, onceArea)
	}
	return min(each, once), eachArea / units / units
}

// BenchmarkBesideClipper offsets as openings, by 0.1 mm, and reports how many
// times faster that is than Clipper 6.4.2 in the same run. Both must leave the
// same area.
func BenchmarkBesideClipper(b *testing.B) {
	rects := make([]geom.Figure, 10_000)
	for i := range rects {
		rects[i] = geom.Rect{Min: geom.Pt(float64(i%100)*9, float64(i/100)*9), W: 4, H: 4.05}
	}
	font, err := lettering.Load("Go Bold")
	if err != nil {
		b.Fatal(err)
	}
	glyphs := make([]geom.Figure, 0, 2000)
	for _, r := range "HarbourLog" {
		l, err := font.Text(string(r), 10)
		if err != nil {
			b.Fatal(err)
		}
		glyphs = append(glyphs, l.Outline)
	}
	for len(glyphs) < 2000 {
		glyphs = append(glyphs, glyphs[len(glyphs)-10])
	}
	for i, f := range glyphs { // side by side, as they would be cut
		glyphs[i] = f.Move(geom.Pt(float64(i%50)*20, float64(i/50)*20))
	}
	for _, c := range []struct {
		name    string
		figures []geom.Figure
	}{{"rectangles", rects}, {"glyphs", glyphs}} {
		b.Run(c.name, func(b *testing.B) {
			seconds, want := clipper(b, c.figures, -0.1, kerf.CurveTol)
			area := 0.0
			for b.Loop() {
				area = 0
				for _, f := range c.figures {
					got, err := kerf.Offset(f, -0.1)
					if err != nil {
						b.Fatal(err)
					}
					area += math.Abs(geom.Area(got))
				}
			}
			if math.Abs(area-want) > 1e-4*want {
				b.Fatalf("an area of %g here and %g there", area, want)
			}
			b.ReportMetric(seconds/(b.Elapsed().Seconds()/float64(b.N)), "x-clipper")
		})
	}
}
