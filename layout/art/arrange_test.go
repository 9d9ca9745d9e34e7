package art

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"foredge/layout/geom"
)

// What is inked of shapes that meet by the hundred, or not at all, is that which holds of
// each place by itself: inside so many circles, so far from a line.
func TestInkedPlaceByPlace(t *testing.T) {
	const side = 90.0
	type place func(x geom.Point) (inked, sure bool)
	circles := func(centers []geom.Point, radii []float64, inked func(in []bool) bool) place {
		return func(x geom.Point) (bool, bool) {
			in := make([]bool, len(centers))
			for i, c := range centers {
				d := x.Distance(c) - radii[i]
				if math.Abs(d) < 1e-3 {
					return false, false
				}
				in[i] = d < 0
			}
			return inked(in), true
		}
	}
	count := func(in []bool) (n int) {
		for _, v := range in {
			if v {
				n++
			}
		}
		return n
	}
	var names, bodies []string
	var wants []place
	add := func(name, body string, want place) {
		names, bodies, wants = append(names, name), append(bodies, body), append(wants, want)
	}
	for _, n := range []int{2, 3, 36, 72, 97, 144} {
		var all, path strings.Builder
		var centers []geom.Point
		var radii []float64
		for i := range n {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			x, y := math.Round(1e4*(45+20*cos))/1e4, math.Round(1e4*(45+20*sin))/1e4
			centers, radii = append(centers, geom.Pt(x, y)), append(radii, 20)
			fmt.Fprintf(&all, `<circle cx="%.4f" cy="%.4f" r="20"/>`, x, y)
			fmt.Fprintf(&path, `M%.4f %.4fa20 20 0 1 0 40 0a20 20 0 1 0 -40 0z`, x-20, y)
		}
		add(fmt.Sprint(n, " circles through a point"), all.String(), circles(centers, radii, func(in []bool) bool { return count(in) > 0 }))
		add(fmt.Sprint(n, " circles through a point, evenodd"), `<path fill-rule="evenodd" d="`+path.String()+`"/>`,
			circles(centers, radii, func(in []bool) bool { return count(in)%2 == 1 }))
	}
	for _, off := range []float64{0, 1e-4, -1e-4, 1e-6, -1e-6, 1e-8} { // dots that touch, nearly, or overlap by as little
		var b strings.Builder
		var centers []geom.Point
		var radii []float64
		for i := range 400 {
			c := geom.Pt(2.25+4.5*float64(i%20), 2.25+4.5*float64(i/20))
			centers, radii = append(centers, c), append(radii, 2.25+off)
			fmt.Fprintf(&b, `<circle cx="%g" cy="%g" r="%.9f" fill="#fff"/>`, c.X, c.Y, 2.25+off)
		}
		add(fmt.Sprint("dots that touch but for ", off), `<rect width="90" height="90"/>`+b.String(), circles(centers, radii, func(in []bool) bool { return count(in) == 0 }))
	}
	var rings strings.Builder
	var middle []geom.Point
	var radii []float64
	for i := range 400 {
		r := 44 * float64(400-i) / 400
		middle, radii = append(middle, geom.Pt(45, 45)), append(radii, r)
		fmt.Fprintf(&rings, `<circle cx="45" cy="45" r="%.4f" fill="%s"/>`, r, []string{"#000", "#fff"}[i%2])
	}
	add("rings in one another", rings.String(), circles(middle, radii, func(in []bool) bool { return count(in)%2 == 1 }))
	for _, width := range []float64{0.02, 0.3} {
		var b strings.Builder
		var line []geom.Point
		for i := range 1000 {
			line = append(line, geom.Pt(math.Round(1e4*(2+0.086*float64(i)))/1e4, 20+50*float64(i%2)))
			fmt.Fprintf(&b, "%g,%g ", line[i].X, line[i].Y)
		}
		add(fmt.Sprint("a white zigzag ", width, " wide"), fmt.Sprintf(`<rect width="90" height="90"/><polyline fill="none" stroke="#fff" stroke-width="%g" points="%s"/>`, width, b.String()),
			func(x geom.Point) (bool, bool) {
				d := math.Inf(1)
				for i := 1; i < len(line); i++ {
					d = min(d, geom.Line(line[i-1], line[i]).Distance(x))
				}
				corner := x.Y < 30 || x.Y > 60 // where lines turn, their corners reach farther, or are cut off
				return d > width/2, math.Abs(d-width/2) > 1e-3 && !corner
			})
	}
	r := rand.New(rand.NewPCG(13, 14))
	for i, body := range bodies {
		p, err := Parse("a.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm" viewBox="0 0 90 90">`+body+`</svg>`))
		if err != nil {
			t.Errorf("%s: %v", names[i], err)
			continue
		}
		edge := geom.NewBoundary(p.Outline())
		wrong, sure := 0, 0
		for range 1000 {
			x := geom.Pt(side*r.Float64(), side*r.Float64())
			if want, ok := wants[i](x); ok {
				if sure++; edge.Contains(x) != want {
					wrong++
				}
			}
		}
		if wrong > 0 || sure < 300 {
			t.Errorf("%s: %d of %d places are wrong", names[i], wrong, sure)
		}
	}
}

// Outlines that meet nothing stay as they are drawn, though others of their group meet.
func TestFreeOutlinesKeepTheirCurves(t *testing.T) {
	p, err := Parse("a.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm" viewBox="0 0 90 90"><rect x="5" y="5" width="80" height="80"/>`+
		`<path fill="#fff" d="M20 20C40 10 60 50 20 50Z"/><circle cx="70" cy="70" r="9" fill="#fff"/><circle cx="75" cy="70" r="9" fill="#fff"/></svg>`))
	if err != nil {
		t.Fatal(err)
	}
	cubics := 0
	for _, c := range p.Fill {
		for _, s := range c.Segments {
			if s.Kind == geom.CubicTo {
				cubics++
			}
		}
	}
	if len(p.Fill) != 3 || cubics != 1 {
		t.Errorf("%d outlines with %d curves, want 3 with 1", len(p.Fill), cubics)
	}
}
