package art

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"foredge/layout/geom"
)

// What white covers of a line isn't seen, wherever the white comes after it; how
// much is left is counted by hand.
func TestWhiteCoversLines(t *testing.T) {
	const line = `<path d="M2 10H38" fill="none" stroke="black"/>`
	circle := `<circle cx="20" cy="10" r="5" fill="white"/>`
	for _, c := range []struct {
		body  string
		parts int
		long  float64
	}{
		{line, 1, 36},
		{line + `<rect x="10" y="0" width="10" height="20" fill="white"/>`, 2, 26},
		{`<rect x="10" y="0" width="10" height="20" fill="white"/>` + line, 1, 36}, // it lies on the white
		{line + `<rect x="0" y="0" width="40" height="20" fill="white"/>`, 0, 0},
		{line + circle, 2, 26},
		{line + circle + circle, 2, 26},
		{line + `<rect x="10" y="10" width="10" height="10" fill="white"/>`, 1, 36}, // along its edge
		{line + `<rect x="10" y="0" width="10" height="20" fill="white"/><rect x="30" y="5" width="4" height="9" fill="#fff"/>`, 3, 22},
		{line + `<path d="M10 5H20V15H10ZM12 7V13H18V7Z" fill="white"/>`, 3, 32}, // a frame of white, 2 mm each
		{line + `<svg x="10" y="0" width="5" height="20"><rect width="40" height="20" fill="white"/></svg>`, 2, 31},
		// A shape's own line lies on its own fill, another's on neither.
		{`<rect x="5" y="5" width="10" height="10" fill="white" stroke="black"/>`, 1, 40},
		{`<rect x="5" y="5" width="10" height="10" fill="white" stroke="black"/><rect x="10" y="5" width="10" height="10" fill="white" stroke="black"/>`, 2, 20 + 40},
		// Closed, it is seen in one stretch though it starts in the midst of it.
		{`<circle cx="20" cy="10" r="5" fill="none" stroke="black"/><rect x="10" y="0" width="10" height="20" fill="white"/>`, 1, 5 * math.Pi},
		{line + `<rect x="10" y="0" width="10" height="20" fill="white" fill-opacity="0"/>`, 1, 36},
	} {
		p, err := Parse("gull.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="20mm" viewBox="0 0 40 20">`+c.body+`</svg>`))
		if err != nil {
			t.Errorf("%s: %v", c.body, err)
			continue
		}
		long := 0.0
		for _, l := range p.Lines {
			for piece := range l.Arcs(curveTol).Pieces() {
				long += piece.Length()
			}
		}
		if len(p.Lines) != c.parts || math.Abs(long-c.long) > 1e-3 {
			t.Errorf("%s: %d lines, %.4f mm; want %d, %.4f", c.body, len(p.Lines), long, c.parts, c.long)
		}
	}
}

// A curve that white only comes near keeps its own curves.
func TestWhiteBesideACurve(t *testing.T) {
	const curve = `<path d="M2 15C10 0 20 0 30 15" fill="none" stroke="black"/>`
	for _, white := range []string{"", `<rect x="0" y="0" width="4" height="4" fill="white"/>`} {
		p, err := Parse("gull.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="20mm" viewBox="0 0 40 20">`+curve+white+`</svg>`))
		if err != nil {
			t.Fatal(err)
		}
		if len(p.Lines) != 1 || len(p.Lines[0].Segments) != 1 || p.Lines[0].Segments[0].Kind != geom.CubicTo {
			t.Errorf("%q: %v", white, p.Lines)
		}
	}
}

// However often uses show an element, its attributes are read once: what a small
// file can ask for is bounded by what is drawn.
func TestAttributesAreReadOnce(t *testing.T) {
	const uses = 15000
	long := func(s string) string { return strings.Repeat(s, 1<<20/len(s)) }
	for name, attr := range map[string]string{
		"transform": `transform="` + long("rotate(0)") + `"`,
		"style":     `style="` + long("fill:red;") + `"`,
		"class":     `class="` + long("gull ") + `"`,
		"blanks":    `stroke-dasharray="` + strings.Repeat(" ", 9000) + `"`,
	} {
		body := fmt.Sprintf(`<defs><g id="a" %s><path d="M1 1H2V2Z"/></g></defs>`, attr) + strings.Repeat(`<use href="#a"/>`, uses)
		doc, err := read([]byte(`<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="20mm" viewBox="0 0 40 20">` + body + `</svg>`))
		if err != nil {
			t.Fatal(err)
		}
		w := newWalker(doc, &Options{})
		if err := w.root(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if w.spent.count < 2*uses {
			t.Errorf("%s: %d elements drawn", name, w.spent.count)
		}
	}
	for name, attr := range map[string]string{
		"r":      `r="` + strings.Repeat("0", maxValue) + `1"`,
		"stroke": `stroke="` + strings.Repeat("a", maxValue+1) + `"`,
	} {
		_, err := Parse("gull.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="20mm"><circle `+attr+`/></svg>`))
		if err == nil || !strings.Contains(err.Error(), "its "+name+" can't be read") {
			t.Errorf("%s: %v", name, err)
		}
	}
}
