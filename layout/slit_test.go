package layout_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"foredge/eval/design"
	"foredge/eval/word"
	"foredge/lang/diag/diagtest"
	"foredge/layout"
	"foredge/layout/geom"
	"foredge/layout/internal/geos"
)

// Drawing programs write closed figures as lines that meet: what is cut out is
// the same.
func TestLinesThatMeetAreOne(t *testing.T) {
	const square, halfDisc = 100, math.Pi * 50 / 4
	for name, c := range map[string]struct {
		svg   string
		area  float64 // of what is cut out, in mm²
		slits int
	}{
		"closed":            {`<path d="M5 5H15V15H5Z"/>`, square, 0},
		"back at its start": {`<path d="M5 5H15V15H5V5"/>`, square, 0},
		"four lines":        {`<path d="M5 5H15"/><path d="M5 15V5"/><path d="M15 15H5"/><path d="M15 15V5"/>`, square, 0},
		"nearly":            {`<path d="M5 5H15"/><path d="M5 14.995V5.004"/><path d="M15 15H5"/><path d="M15 15V5"/>`, square, 0},
		"an arc":            {`<path d="M5 5A5 5 0 0 1 15 5"/><path d="M15 5.002H5"/>`, halfDisc, 0},
		"and one open":      {`<path d="M20 5V9"/><path d="M5 5H15V15"/><path d="M5 5V15H15"/><path d="M20 12V9"/>`, square, 1},
		"too far":           {`<path d="M5 5H15V15H5V5.05"/>`, 0, 1},
		"forked":            {`<path d="M5 5H15"/><path d="M15 5V15"/><path d="M15 5H20"/>`, 0, 3},
		"ends in a row":     {`<path d="M5 5H14.992"/><path d="M15 5V15"/><path d="M15.008 5H20"/>`, 0, 3},
		"a speck":           {`<path d="M5 5H5.02"/><path d="M5 9H5.005V9.005"/>`, 0, 2},
	} {
		shapes, diags := withArt(t, design.Artwork{Op: word.Cut, Fit: word.Shrink}, `<g fill="none" stroke="red">`+c.svg+`</g>`)
		if diags.HasErrors() {
			t.Errorf("%s: %s", name, diagtest.Text(diags))
			continue
		}
		area, slits := 0.0, 0
		for _, s := range shapes {
			if o, ok := s.Figure.(geom.Outline); ok {
				area += geom.Area(o)
			} else {
				slits++
			}
		}
		if math.Abs(area-c.area) > 0.11 || slits != c.slits {
			t.Errorf("%s: %.4f mm² are cut out, want %.4f; %d slits, want %d", name, area, c.area, slits, c.slits)
		}
	}
}

// Whether open lines enclose something is what GEOS finds: lines on a coarse
// grid, which often meet, run along one another or back, and off it.
func TestEnclosingAgainstGEOS(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 25))
	const cases = 600
	lines := make([][][][2]float64, cases)
	told := make([]bool, cases)
	for i := range cases {
		var body strings.Builder
		for range 1 + r.IntN(5) {
			var line [][2]float64
			for range 2 + r.IntN(3) {
				x, y := float64(r.IntN(6))*4, float64(r.IntN(6))*4
				if i%3 == 2 {
					x, y = r.Float64()*20, r.Float64()*20
				}
				if n := len(line); n == 0 || line[n-1] != [2]float64{x, y} {
					line = append(line, [2]float64{x, y})
				}
			}
			if len(line) < 2 {
				continue
			}
			lines[i] = append(lines[i], line)
			fmt.Fprintf(&body, `<polyline points="%v"/>`, strings.Trim(strings.NewReplacer("[", "", "]", "").Replace(fmt.Sprint(line)), " "))
		}
		shapes, diags := withArt(t, design.Artwork{Op: word.Cut}, `<g fill="none" stroke="red">`+body.String()+`</g>`)
		for _, d := range diags {
			told[i] = told[i] || d.Code == "art-falls-out" || d.Code == "art-crosses"
		}
		for _, s := range shapes {
			_, closed := s.Figure.(geom.Outline)
			told[i] = told[i] || closed && s.Op == layout.Cut
		}
	}
	var area []float64 // of the largest that is enclosed, in mm²
	geos.Ask(t, `
from shapely.geometry import MultiLineString
from shapely.ops import polygonize, unary_union
answer = [max([p.area for p in polygonize(unary_union(MultiLineString(c)))], default=0) if c else 0 for c in data]
`, lines, &area)
	enclosed := 0
	for i := range cases {
		if area[i] > 0 {
			enclosed++
		}
		// What is burnt away all the same may be told or not.
		if speck := area[i] > 0 && area[i] < 0.01; !speck && told[i] != (area[i] > 0) {
			t.Errorf("case %d: %v encloses %.3g mm², told %v", i, lines[i], area[i], told[i])
		}
	}
	if enclosed < cases/5 || enclosed > cases*4/5 {
		t.Errorf("%d of %d enclose something: this tries little", enclosed, cases)
	}
}

// What lies in an opening is material again: the kerf goes to the other side.
func TestNestedContours(t *testing.T) {
	const rings = `<g fill="none" stroke="red"><circle cx="12" cy="12" r="10"/><circle cx="12" cy="12" r="6"/><circle cx="12" cy="12" r="2"/></g>`
	shapes, diags := withArt(t, design.Artwork{Op: word.Cut}, rings)
	if diags.HasErrors() || len(shapes) != 1 {
		t.Fatalf("%d shapes; %s", len(shapes), diagtest.Text(diags))
	}
	if got, want := geom.Area(shapes[0].Figure), math.Pi*(100-36+4); math.Abs(got-want) > 1e-6 {
		t.Errorf("%.6f mm² are cut out, want %.6f", got, want)
	}
}
