package art

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"foredge/layout/geom"
)

// How long what is drawn of lines is, by hand: each place once, whatever else lies there.
func TestDrawnOnce(t *testing.T) {
	const rect = `<rect x="20" y="20" width="30" height="20"/>`
	for _, c := range []struct {
		body  string
		lines int
		long  float64
		told  int // 1 if something is told of it
	}{
		{rect, 1, 100, 0},
		{rect + `<rect x="50" y="20" width="30" height="20"/>`, 2, 180, 1}, // with an edge in common
		{rect + `<rect x="50" y="25" width="30" height="10"/>`, 2, 170, 1}, // of which one is longer
		{rect + `<path d="M20 20H50M50 20V40M50 40H20M20 40V20"/>`, 1, 100, 1},
		{`<path d="M20 20H50M50 20V40M50 40H20M20 40V20"/>` + rect, 1, 100, 1},
		{`<path d="M20 20H60"/><path d="M30 20H40"/>`, 1, 40, 1},
		{`<path d="M30 20H40"/><path d="M20 20H60"/>`, 1, 40, 1}, // the long one stays
		{`<path d="M20 20H60"/><path d="M40 20H80"/>`, 2, 60, 1},
		{`<path d="M20 20H60"/><path d="M80 20H40"/>`, 2, 60, 1},
		{`<path d="M20 20L50 60"/><path d="M35 40L65 80"/>`, 2, 75, 1},
		{`<path d="M20 20H60H20"/>`, 1, 40, 1},
		{`<path d="M20 20H60H30V40"/>`, 2, 60, 1},
		{`<path d="M20 20H60H20Z"/>`, 1, 40, 1},
		{`<path d="M20 20H60"/><path d="M20 20H60" stroke-dasharray="5 3"/>`, 1, 40, 1},
		{`<path d="M20 20H60"/><path d="M60 20H90"/><path d="M40 10V30"/>`, 3, 90, 0}, // they meet only
		{`<circle cx="50" cy="50" r="20"/><path d="M70 50A20 20 0 0 1 50 70"/>`, 1, 40 * math.Pi, 1},
		{`<path d="M70 50A20 20 0 0 1 50 70"/><path d="M30 50A20 20 0 0 0 50 70A20 20 0 0 0 64.1421356 64.1421356"/>`, 2, 20 * math.Pi, 1},
		{`<circle cx="50" cy="50" r="20"/><circle cx="50" cy="50" r="20.01"/>`, 2, 40*math.Pi + 40.02*math.Pi, 0},
		{`<circle cx="50" cy="50" r="20"/><path d="M10 70H90M10 30H90"/>`, 3, 40*math.Pi + 160, 0}, // they touch only
		{`<path d="M20 20C40 0 60 80 80 20"/><path d="M80 20C60 80 40 0 20 20"/>`, 1, lengthOf("M20 20C40 0 60 80 80 20"), 1},
		// A half of a curve (by de Casteljau) on all of it.
		{`<path d="M20 20C40 0 60 80 80 20"/><path d="M20 20C30 10 40 25 50 35"/>`, 1, lengthOf("M20 20C40 0 60 80 80 20"), 1},
		{`<path d="M20 20H60"/><path d="M20 20.002H60"/>`, 2, 80, 0}, // side by side
		{`<path d="M20 20H60"/><path d="M20 20L60 20.4"/>`, 2, 80.002, 0},
	} {
		p, err := Parse("gull.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100"><g fill="none" stroke="black">`+c.body+`</g></svg>`))
		if err != nil {
			t.Errorf("%s: %v", c.body, err)
			continue
		}
		long := 0.0
		for _, l := range p.Lines {
			long += geom.Length(l.Path)
		}
		told := 0
		for _, n := range p.Notes {
			if n.Kind == Twice {
				told += 1 + n.More
			}
		}
		if len(p.Lines) != c.lines || math.Abs(long-c.long) > 1e-3 || told > 0 != (c.told > 0) {
			t.Errorf("%s: %d lines, %.4f mm, %d told; want %d, %.4f, %d: %v", c.body, len(p.Lines), long, told, c.lines, c.long, c.told, p.Lines)
		}
	}
}

func lengthOf(data string) float64 {
	traces, _ := parseData(data)
	return geom.Length(traces[0].path(identity()))
}

// Of random stretches of a grid's lines, closed and open, each place is drawn once: as
// long as the squares of 1 mm are that they run along, counted one by one.
func TestDrawnOnceOnAGrid(t *testing.T) {
	r := rand.New(rand.NewPCG(14, 3))
	for range 300 {
		seen := map[string]bool{}
		var body strings.Builder
		edge := func(x0, y0, x1, y1 int) {
			for x := min(x0, x1); x < max(x0, x1); x++ {
				seen[fmt.Sprint("h", x, y0)] = true
			}
			for y := min(y0, y1); y < max(y0, y1); y++ {
				seen[fmt.Sprint("v", x0, y)] = true
			}
		}
		for range 2 + r.IntN(6) {
			x, y, w, h := r.IntN(10), r.IntN(10), 1+r.IntN(8), 1+r.IntN(8)
			switch r.IntN(3) {
			case 0:
				fmt.Fprintf(&body, `<rect x="%d" y="%d" width="%d" height="%d"/>`, x, y, w, h)
				edge(x, y, x+w, y)
				edge(x, y+h, x+w, y+h)
				edge(x, y, x, y+h)
				edge(x+w, y, x+w, y+h)
			case 1:
				fmt.Fprintf(&body, `<path d="M%d %dh%dv%dh%d"/>`, x, y, w, h, -w)
				edge(x, y, x+w, y)
				edge(x+w, y, x+w, y+h)
				edge(x, y+h, x+w, y+h)
			default:
				fmt.Fprintf(&body, `<path d="M%d %dv%d"/>`, x, y, h)
				edge(x, y, x, y+h)
			}
		}
		p, err := Parse("gull.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="40mm" viewBox="0 0 40 40"><g fill="none" stroke="black" transform="rotate(7) translate(6 2)">`+body.String()+`</g></svg>`))
		if err != nil {
			t.Fatal(err)
		}
		long := 0.0
		for _, l := range p.Lines {
			long += geom.Length(l.Path)
		}
		if math.Abs(long-float64(len(seen))) > 1e-3 {
			t.Fatalf("%s: %.4f mm, want %d", body.String(), long, len(seen))
		}
	}
}

// However many lines lie on one another, all or part of the way, the work is bounded.
func TestDrawnOnceIsBounded(t *testing.T) {
	for name, c := range map[string]struct {
		line  func(i int) string
		lines int // that are drawn; 0 for more than is looked at
	}{
		"the same":          {func(i int) string { return fmt.Sprintf("M%d 0V90", i%90) }, 90},
		"one longer a line": {func(i int) string { return fmt.Sprintf("M5 0V%g", 20+float64(i)/1000) }, 0},
		"crossing":          {func(i int) string { return fmt.Sprintf("M0 %gL90 %g", float64(i)/400, float64(19999-i)/400) }, 20000},
	} {
		var body strings.Builder
		for i := range 20000 {
			fmt.Fprintf(&body, `<path d="%s"/>`, c.line(i))
		}
		p, err := Parse("gull.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100"><g fill="none" stroke="black">`+body.String()+`</g></svg>`))
		if err != nil {
			t.Fatal(err)
		}
		if c.lines > 0 && len(p.Lines) != c.lines {
			t.Errorf("%s: %d lines, want %d", name, len(p.Lines), c.lines)
		}
	}
}

// A grid of squares that are cut is one opening with what parts it, though its file rounds
// to four digits: n squares of k mm a side have 2n(n-1) edges in common.
func TestCutGridIsOneOpening(t *testing.T) {
	for _, n := range []int{2, 3, 7, 13} {
		k := 180 / float64(n)
		var body strings.Builder
		for i := range n * n {
			fmt.Fprintf(&body, `<rect x="%.4f" y="%.4f" width="%.4f" height="%.4f"/>`, 5+float64(i%n)*k, 5+float64(i/n)*k, k, k)
		}
		p, err := Options{Whole: map[int]bool{0: true}}.Parse("gull.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="200mm" viewBox="0 0 200 200" fill="none" stroke="black">`+body.String()+`</svg>`))
		if err != nil {
			t.Fatal(err)
		}
		outlines, inner := 0, 0.0
		for _, l := range p.Lines {
			if l.Inner {
				inner += geom.Length(l.Path)
				continue
			}
			if outlines++; !l.Closed || math.Abs(geom.Length(l.Path)-720) > 0.01 {
				t.Errorf("%d squares: an outline of %.4f mm, want 720", n*n, geom.Length(l.Path))
			}
		}
		if want := 2 * float64(n*(n-1)) * k; outlines != 1 || math.Abs(inner-want) > 0.01*float64(n) {
			t.Errorf("%d squares: %d outlines and %.4f mm in them, want 1 and %.4f", n*n, outlines, inner, want)
		}
	}
}

// Where outlines of what is filled are run along, each place is so once: lines that lie on
// them, and edges that neighbours share in part, a hair apart as files round them. How long
// what is drawn is, by hand.
func TestOutlinesDrawnOnce(t *testing.T) {
	for _, c := range []struct {
		body        string
		fills, line int
		long        float64
		told        bool
	}{
		{`<rect x="20" y="20" width="30" height="20"/>`, 1, 0, 100, false},
		{`<rect x="20" y="20" width="30" height="20"/><rect x="20" y="20" width="30" height="20" fill="none" stroke="black"/>`, 1, 0, 100, true},
		{`<path d="M30 20H40" stroke="black"/><rect x="20" y="20" width="30" height="20"/>`, 1, 0, 100, true},
		{`<rect x="20" y="20" width="30" height="20"/><path d="M10 20H60" stroke="black"/>`, 1, 2, 120, true},
		{`<rect x="20" y="20" width="30" height="20"/><path d="M25 10V30" stroke="black"/>`, 1, 1, 120, false},    // it crosses
		{`<rect x="20" y="20" width="30" height="20"/><path d="M10 19.99H60" stroke="black"/>`, 1, 1, 150, false}, // side by side
		{`<circle cx="50" cy="50" r="20"/><path d="M70 50A20 20 0 0 1 50 70" fill="none" stroke="black"/>`, 1, 0, 40 * math.Pi, true},
		// Neighbours by an edge of which one is longer, with half a thousandth between them.
		{`<rect x="20" y="20" width="30" height="20"/><rect x="50.0005" y="25" width="30" height="10"/>`, 1, 1, 170, true},
		{`<g transform="rotate(20)"><rect x="40" y="20" width="30" height="20"/><rect x="70.0005" y="25" width="30" height="10"/></g>`, 1, 1, 170, true},
	} {
		text := []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">` + c.body + `</svg>`)
		p, err := Options{Along: map[int]bool{0: true}}.Parse("gull.svg", text)
		if err != nil {
			t.Errorf("%s: %v", c.body, err)
			continue
		}
		long := 0.0
		for _, l := range append(slices.Clone(p.Fill), p.Lines...) {
			long += geom.Length(l.Path)
		}
		told := slices.ContainsFunc(p.Notes, func(n Note) bool { return n.Kind == Twice })
		if len(p.Fill) != c.fills || len(p.Lines) != c.line || math.Abs(long-c.long) > 2e-3 || told != c.told {
			t.Errorf("%s: %d outlines and %d lines of %.4f mm, told %v; want %d, %d, %.4f, %v", c.body, len(p.Fill), len(p.Lines), long, told, c.fills, c.line, c.long, c.told)
		}
		// What is engraved stays as it is: an area and a line.
		if p, err := Parse("gull.svg", text); err != nil || len(p.Fill)+len(p.Lines) != strings.Count(c.body, "<rect")+strings.Count(c.body, "<path")+strings.Count(c.body, "<circle") {
			t.Errorf("%s, engraved: %v, %d outlines and %d lines", c.body, err, len(p.Fill), len(p.Lines))
		}
	}
}
