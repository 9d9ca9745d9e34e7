package tour

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"foredge/eval/maybe"
	"foredge/lang/foretest"
	"foredge/layout/geom"
)

// Bridges are left as wide as asked, in the outlines of small pieces and nowhere else.
func TestBridges(t *testing.T) {
	items := []Item{
		{Op: Cut, Figure: geom.Rect{Min: geom.Pt(0, 0), W: 20, H: 12}},
		{Op: Cut, Figure: geom.Circle{Center: geom.Pt(10, 6), R: 3}},                // an opening
		{Op: Cut, Figure: geom.Circle{Center: geom.Pt(40, 6), R: 5}},                // a round piece
		{Op: Cut, Figure: geom.Rect{Min: geom.Pt(0, 40), W: 80, H: 50}},             // a large one
		{Op: Cut, Figure: geom.Rect{Min: geom.Pt(60, 0), W: 0.5, H: 0.5}},           // too small for two
		{Op: Cut, Figure: geom.NewPath(geom.Pt(90, 0)).Line(geom.Pt(95, 0)).Open()}, // open
	}
	o := Options{Bridges: maybe.Is(Bridges{Width: 0.4, Below: 30})}
	want := []int{2, 1, 2, 1, 1, 1}
	plan := order(t, items, o)
	for _, r := range plan.Runs {
		full := geom.Length(items[r.Item].Figure)
		var cut float64
		for _, p := range r.Paths {
			cut += geom.Length(p)
		}
		if len(r.Paths) != want[r.Item] {
			t.Errorf("item %d is run as %d paths, want %d", r.Item, len(r.Paths), want[r.Item])
		}
		necks := 0.0
		if !r.Paths[0].Closed && r.Item != 5 {
			necks = 0.4 * float64(len(r.Paths))
		}
		foretest.Near(t, fmt.Sprint("what is cut of item ", r.Item), cut, full-necks, 1e-6)
		if r.Item == 0 {
			for _, p := range r.Paths {
				for _, x := range []geom.Point{p.Start, p.End()} {
					if corner := min(x.Distance(geom.Pt(0, 0)), x.Distance(geom.Pt(20, 0)), x.Distance(geom.Pt(0, 12)), x.Distance(geom.Pt(20, 12))); corner < 2 {
						t.Errorf("a neck lies %.2f mm from a corner", corner)
					}
				}
			}
		}
	}
	if plan.Travel > plan.Given+1e-6 {
		t.Errorf("travel %.2f, as given %.2f", plan.Travel, plan.Given)
	}
	if none := order(t, items, Options{}); slices.ContainsFunc(none.Runs, func(r Run) bool { return len(r.Paths) != 1 }) {
		t.Error("bridges that nobody asked for")
	}
}

// On a machine of two scales a bridge is as broad as asked where its edge lies, whichever way that runs.
func TestBridgesOfTwoScales(t *testing.T) {
	scale := geom.Pt(1.05, 0.96)
	for _, size := range []geom.Point{geom.Pt(30, 12), geom.Pt(12, 30)} {
		items := []Item{{Op: Cut, Figure: geom.Rect{W: size.X / scale.X, H: size.Y / scale.Y}}}
		plan := order(t, items, Options{Bridges: maybe.Is(Bridges{Width: 3, Below: 31, Scale: maybe.Is(scale)})})
		paths := plan.Runs[0].Paths
		if len(paths) != 2 {
			t.Fatalf("a part of %v is run as %d paths, want 2", size, len(paths))
		}
		for k, p := range paths {
			between := paths[(k+1)%2].Start.Sub(p.End())
			foretest.Near(t, fmt.Sprint("what is left of ", size), math.Hypot(between.X*scale.X, between.Y*scale.Y), 3, 1e-9)
		}
	}
}

// Bridges lie on both sides of a piece's middle, on straight stretches where the outline has some that are long enough, one
// on each before two on any, else away from corners.
func TestBridgesOnStraightStretches(t *testing.T) {
	round := func(w, h, r float64) geom.Path {
		p, err := geom.Cornered([]geom.Point{{}, geom.Pt(w, 0), geom.Pt(w, h), geom.Pt(0, h)}, slices.Repeat([]geom.Corner{{Kind: geom.Round, Size: r}}, 4))
		foretest.Must(t, err)
		return p
	}
	tag, err := geom.Cornered([]geom.Point{{}, geom.Pt(38, 0), geom.Pt(30, 24), geom.Pt(0, 12)}, []geom.Corner{{Kind: geom.Round, Size: 2}, {Kind: geom.Round, Size: 5}, {Kind: geom.Round, Size: 6}, {Kind: geom.Round, Size: 3}})
	foretest.Must(t, err)
	for _, c := range []struct {
		what     string
		form     geom.Path
		width    float64
		straight int     // necks that lie wholly on a straight stretch
		clear    float64 // at least so far from its ends
	}{
		{"a board with round corners", round(40.2, 25.2, 8.1), 2.2, 2, 10},
		{"a higher one", round(20.2, 45.2, 4.1), 0.8, 2, 17},
		{"one with short sides", round(30, 20, 9.5), 2.2, 2, 4},
		{"a tag", tag, 1, 2, 3},
		{"an arch over low sides", geom.NewPath(geom.Pt(0, 0)).Line(geom.Pt(0, -5)).Arc(geom.Pt(40, -5), geom.Pt(20, 5./6), true).Line(geom.Pt(40, 0)).Close(), 0.8, 1, 15},
		{"half a disc", geom.NewPath(geom.Pt(0, 0)).Arc(geom.Pt(0, 20), geom.Pt(0, 10), true).Close(), 1, 1, 9},
		{"a disc", geom.NewPath(geom.Pt(0, 0)).Arc(geom.Pt(0, 20), geom.Pt(0, 10), true).Arc(geom.Pt(0, 0), geom.Pt(0, 10), true).Close(), 1, 0, 0},
		{"stretches that are shorter than a bridge", round(20, 20, 9.6), 1, 0, 0},
	} {
		plan := order(t, []Item{{Op: Cut, Figure: c.form}}, Options{Bridges: maybe.Is(Bridges{Width: c.width, Below: 100})})
		paths, straight := plan.Runs[0].Paths, 0
		for k, p := range paths {
			from, to := p.End(), paths[(k+1)%len(paths)].Start
			for piece := range c.form.Pieces() {
				if piece.Kind != geom.LineTo {
					continue
				}
				off := func(at geom.Point) float64 { // from the stretch or, on it, below 0 by how far from its ends
					a, b := at.Distance(piece.From), at.Distance(piece.End)
					if a+b > piece.Length()+1e-9 {
						return 1
					}
					return -min(a, b)
				}
				if d := max(off(from), off(to)); d <= 0 {
					if straight++; -d < c.clear-1e-6 {
						t.Errorf("%s: a bridge is %.3f mm from the end of its stretch", c.what, -d)
					}
				}
			}
		}
		if len(paths) != 2 || straight != c.straight {
			t.Errorf("%s: %d of %d bridges are on straight stretches, want %d", c.what, straight, len(paths), c.straight)
		}
	}
}

// Whatever the form, what is cut and what is left add up to the outline, the necks are
// as wide as asked, and nothing is cut twice.
func TestBridgesOfAnyForm(t *testing.T) {
	forms := map[string]geom.Path{
		"loop":   geom.NewPath(geom.Pt(0, 0)).Cubic(geom.Pt(30, 0), geom.Pt(0, 30), geom.Pt(0, 0)).Close(),
		"letter": geom.NewPath(geom.Pt(0, 0)).Arc(geom.Pt(0, 20), geom.Pt(0, 10), true).Close(),
		"sliver": geom.Polygon(geom.Pt(0, 0), geom.Pt(25, 0.1), geom.Pt(0, 0.2)),
		"star":   geom.Polygon(geom.Pt(0, 0), geom.Pt(3, 7), geom.Pt(9, 9), geom.Pt(3, 11), geom.Pt(0, 20), geom.Pt(-3, 11), geom.Pt(-9, 9), geom.Pt(-3, 7)),
	}
	for name, form := range forms {
		for count := 1; count <= 7; count++ {
			for _, width := range []float64{0.05, 0.3, 1, 2} {
				o := Options{Bridges: maybe.Is(Bridges{Width: width, Below: 100, Count: maybe.Is(count)})}
				plan := order(t, []Item{{Op: Cut, Figure: form}}, o)
				paths := plan.Runs[0].Paths
				what := fmt.Sprintf("%s with %d necks of %g", name, count, width)
				length := geom.Length(form)
				want := min(count, int(length/(4*width)))
				if len(paths) != max(want, 1) {
					t.Errorf("%s: %d paths, want %d", what, len(paths), want)
				}
				var cut float64
				for k, p := range paths {
					cut += geom.Length(p)
					if hop := p.End().Distance(paths[(k+1)%len(paths)].Start); hop > width+1e-6 {
						t.Errorf("%s: a neck of %g", what, hop)
					}
				}
				foretest.Near(t, what, cut, length-float64(want)*width, 1e-4)
			}
		}
	}
}
