package art_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"foredge/layout/art"
	"foredge/layout/geom"
	"foredge/layout/internal/geos"
)

// A stack is triangles painted on one another, as GEOS is told of them.
type stack struct {
	Rule   string // union or xor of the triangles of a path
	White  bool
	Points [][3][2]float64
}

// Areas of what is inked are those that GEOS finds: paths of triangles by both
// fill rules, some of them white, on a coarse grid, so that corners and edges
// often meet, and off it.
func TestAreasAgainstGEOS(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	const cases = 400
	drawings := make([][]stack, cases)
	got := make([]float64, cases)
	for i := range cases {
		var body strings.Builder
		for range 1 + r.IntN(6) {
			s := stack{Rule: []string{"union", "xor"}[r.IntN(2)], White: r.IntN(4) == 0}
			fmt.Fprintf(&body, `<path fill-rule="%s" fill="%s" d="`, map[string]string{"union": "nonzero", "xor": "evenodd"}[s.Rule],
				map[bool]string{true: "white", false: "black"}[s.White])
			for range 1 + r.IntN(3) {
				var p [3][2]float64
				for k := range p {
					p[k] = [2]float64{float64(r.IntN(11)), float64(r.IntN(11))}
					if i%2 == 1 {
						p[k] = [2]float64{r.Float64() * 10, r.Float64() * 10}
					}
				}
				// The same sense for all, so that non-zero means union.
				if (p[1][0]-p[0][0])*(p[2][1]-p[0][1]) < (p[1][1]-p[0][1])*(p[2][0]-p[0][0]) {
					p[1], p[2] = p[2], p[1]
				}
				s.Points = append(s.Points, p)
				fmt.Fprintf(&body, "M%v %vL%v %vL%v %vZ", p[0][0], p[0][1], p[1][0], p[1][1], p[2][0], p[2][1])
			}
			body.WriteString(`"/>`)
			drawings[i] = append(drawings[i], s)
		}
		text := `<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="10mm" viewBox="0 0 10 10">` + body.String() + `</svg>`
		p, err := art.Parse("a.svg", []byte(text))
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		got[i] = geom.Area(p.Outline())
		for _, c := range p.Fill {
			if !c.Closed {
				t.Fatalf("%s: an outline is open", text)
			}
		}
	}
	var want []float64
	geos.Ask(t, `
answer = []
for drawing in data:
    seen = Polygon()
    for s in drawing:
        path = Polygon()
        for p in s["Points"]:
            triangle = Polygon(p).buffer(0)
            path = path.union(triangle) if s["Rule"] == "union" else path.symmetric_difference(triangle)
        seen = seen.difference(path) if s["White"] else seen.union(path)
    answer.append(seen.area)
`, drawings, &want)
	for i := range got {
		if math.Abs(got[i]-want[i]) > 1e-3 {
			t.Errorf("drawing %d: area %.6f, GEOS has %.6f: %+v", i, got[i], want[i], drawings[i])
		}
	}
}
