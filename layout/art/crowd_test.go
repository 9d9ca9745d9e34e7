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

// A crowdPart is a polygon, or with a hole a frame, that is inked or white.
type crowdPart struct {
	Points, Hole [][2]float64
	White        bool
}

// corners are those of a polygon round a place, some way turned.
func corners(x, y, radius, turn float64, n int) [][2]float64 {
	out := make([][2]float64, n)
	for k := range out {
		sin, cos := math.Sincos(turn + 2*math.Pi*float64(k)/float64(n))
		out[k] = [2]float64{x + radius*cos, y + radius*sin}
	}
	return out
}

// crowds are drawings in which very many shapes lie near one another.
func crowds(r *rand.Rand) map[string][]crowdPart {
	out := map[string][]crowdPart{}
	for i := range 150 {
		at := 2 * math.Pi * float64(i) / 150
		out["scattered"] = append(out["scattered"], crowdPart{Points: corners(10+70*r.Float64(), 10+70*r.Float64(), 2+8*r.Float64(), 6*r.Float64(), 3+r.IntN(9))})
		out["scattered on a grid"] = append(out["scattered on a grid"], crowdPart{Points: [][2]float64{
			{float64(r.IntN(12)), float64(r.IntN(12))}, {30, float64(30 + r.IntN(12))}, {float64(30 + r.IntN(12)), 30}}})
		out["through one place"] = append(out["through one place"], crowdPart{Points: corners(45+20*math.Cos(at), 45+20*math.Sin(at), 20, at, 16)})
		out["frames"] = append(out["frames"], crowdPart{Points: corners(20+50*r.Float64(), 20+50*r.Float64(), 15, at, 4)})
		f := &out["frames"][i]
		for _, p := range f.Points {
			mid := [2]float64{(f.Points[0][0] + f.Points[2][0]) / 2, (f.Points[0][1] + f.Points[2][1]) / 2}
			f.Hole = append(f.Hole, [2]float64{mid[0] + 0.95*(p[0]-mid[0]), mid[1] + 0.95*(p[1]-mid[1])})
		}
		out["in one another"] = append(out["in one another"], crowdPart{Points: corners(45, 45, 44-0.29*float64(i), 0.001*float64(i), 4), White: i%2 == 1})
		wobbly := crowdPart{Points: corners(45+0.1*r.Float64(), 45, 44-0.29*float64(i), 0.001*float64(i), 4), White: i%2 == 1}
		out["in one another, nearly"] = append(out["in one another, nearly"], wobbly)
		if i%40 == 20 {
			wobbly = crowdPart{Points: [][2]float64{{1, 10 + float64(i)/2}, {89, 12 + float64(i)/3}, {89, 13 + float64(i)/3}, {1, 11 + float64(i)/2}}}
		}
		out["in one another with bars across"] = append(out["in one another with bars across"], wobbly)
	}
	return out
}

// Areas and edges of what very many shapes that lie near one another ink are those that
// GEOS finds: where one ink is united by halves, and where edges are found by a sweep.
func TestCrowdsAgainstGEOS(t *testing.T) {
	drawings := crowds(rand.New(rand.NewPCG(13, 4)))
	var want map[string][2]float64
	geos.Ask(t, `
answer = {}
for name, parts in data.items():
    seen = Polygon()
    for p in parts:
        shape = Polygon(p["Points"], [p["Hole"]] if p["Hole"] else [])
        seen = seen.difference(shape) if p["White"] else seen.union(shape)
    answer[name] = [seen.area, seen.length]
`, drawings, &want)
	for name, parts := range drawings {
		var body strings.Builder
		for _, p := range parts {
			fmt.Fprintf(&body, `<path fill-rule="evenodd" fill="%s" d="`, map[bool]string{true: "white", false: "black"}[p.White])
			for _, ring := range [2][][2]float64{p.Points, p.Hole} {
				for k, x := range ring {
					fmt.Fprintf(&body, "%c%v %v", "ML"[min(k, 1)], x[0], x[1])
				}
				if len(ring) > 0 {
					body.WriteString("Z")
				}
			}
			body.WriteString(`"/>`)
		}
		p, err := art.Parse("a.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm" viewBox="0 0 90 90">`+body.String()+`</svg>`))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		long := 0.0
		for _, c := range p.Fill {
			long += geom.Length(c.Path)
		}
		if area := geom.Area(p.Outline()); math.Abs(area-want[name][0]) > 1e-3 || math.Abs(long-want[name][1]) > 1e-2 {
			t.Errorf("%s: area %.5f, edges %.4f; GEOS has %.5f and %.4f", name, area, long, want[name][0], want[name][1])
		}
	}
}
