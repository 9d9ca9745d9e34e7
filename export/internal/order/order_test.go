package order

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"foredge/layout"
	"foredge/layout/geom"
)

func rect(x float64) geom.Rect { return geom.Rect{Min: geom.Pt(x, 0), W: 1, H: 1} }

func drawing(shapes ...layout.Shape) *layout.Drawing {
	return &layout.Drawing{
		Size: geom.Pt(100, 100), Colors: layout.DefaultPalette(),
		Parts: []layout.Part{{Name: "front", Shapes: shapes}},
	}
}

func TestRunning(t *testing.T) {
	d := drawing(
		layout.Shape{ID: "outline", Op: layout.Cut, Figure: geom.Rect{Min: geom.Pt(0, -1), W: 4.5, H: 3}},
		layout.Shape{ID: "hole.1", Op: layout.Cut, Hole: true, Figure: rect(1)},
		layout.Shape{ID: "tab", Op: layout.Cut, Figure: rect(5)},
		layout.Shape{ID: "hole.2", Op: layout.Cut, Hole: true, Figure: rect(3)},
		layout.Shape{ID: "fold", Op: layout.Score, Figure: rect(4)},
		layout.Shape{ID: "centre", Op: layout.Guide, Figure: rect(5)},
		layout.Shape{ID: "blank", Op: layout.Engrave, Figure: geom.Outline{{}}},
		layout.Shape{ID: "frame", Op: layout.Mark, Figure: rect(6)},
		layout.Shape{ID: "title", Op: layout.Engrave, Figure: rect(7)},
	)
	d.Parts = append(d.Parts, layout.Part{Name: "back", Shapes: []layout.Shape{
		{ID: "b.outline", Op: layout.Cut, Figure: rect(8)},
	}}, layout.Part{Name: "empty"})
	groups, err := Running(d)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, g := range groups {
		got = append(got, g.Op.String()+":")
		for _, p := range g.Parts {
			got = append(got, p.Name+"(")
			for _, s := range p.Shapes {
				got = append(got, s.ID)
			}
			got = append(got, ")")
		}
	}
	const want = "engrave: front( title ) mark: front( frame ) score: front( fold ) " +
		"cut: back( b.outline ) front( tab hole.2 hole.1 outline )"
	if s := strings.Join(got, " "); s != want {
		t.Errorf("got  %s\nwant %s", s, want)
	}
}

// What lies inside a shape that is cut is cut before what is around it; what is engraved
// stays as it is drawn.
func TestContours(t *testing.T) {
	square := func(size float64) geom.Path {
		return geom.Polygon(geom.Pt(0, 0), geom.Pt(size, 0), geom.Pt(size, size), geom.Pt(0, size))
	}
	outline := geom.Outline{square(9), {}, square(3).Reverse(), square(5)}
	for op, want := range map[layout.Op][]float64{layout.Cut: {9, 25, 81}, layout.Engrave: {81, 9, 25}} {
		groups, err := Running(drawing(layout.Shape{ID: "a", Op: op, Figure: outline}))
		if err != nil {
			t.Fatal(err)
		}
		paths := groups[0].Parts[0].Shapes[0].Contours()
		if len(paths) != len(want) {
			t.Fatalf("%s: %d contours", op, len(paths))
		}
		for i, p := range paths {
			if got := math.Abs(p.Area()); math.Abs(got-want[i]) > 1e-9 {
				t.Errorf("%s: contour %d has area %v, want %v", op, i+1, got, want[i])
			}
		}
	}
	if len(outline[1].Segments) != 0 || math.Abs(outline[0].Area()) != 81 {
		t.Error("the figure itself has changed")
	}
}

// A part that lies in the counter of another comes between what that has inside of it and
// its outline, so that the other is come to twice.
func TestComesTwice(t *testing.T) {
	square := func(at, size float64) geom.Path {
		return geom.Polygon(geom.Pt(at, at), geom.Pt(at+size, at), geom.Pt(at+size, at+size), geom.Pt(at, at+size))
	}
	d := drawing(layout.Shape{ID: "ring", Op: layout.Cut, Figure: geom.Outline{square(0, 90), square(40, 10)}})
	d.Parts = append(d.Parts, layout.Part{Name: "lid", Shapes: []layout.Shape{
		{ID: "lid.frame", Op: layout.Cut, Figure: geom.Outline{square(10, 60), square(42, 2)}},
	}})
	groups, err := Running(d)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, p := range groups[0].Parts {
		for _, s := range p.Shapes {
			for _, c := range s.Contours() {
				got = append(got, fmt.Sprintf("%s.%d %s.%d %.0f", p.Name, p.Time, s.ID, s.Time, math.Abs(c.Area())))
			}
		}
	}
	const want = "lid.1 lid.frame.1 4; front.1 ring.1 100; lid.2 lid.frame.2 3600; front.2 ring.2 8100"
	if s := strings.Join(got, "; "); s != want {
		t.Errorf("got  %s\nwant %s", s, want)
	}
}

// A rectangle or a circle that is entered where it starts stays one; entered at another
// corner a rectangle is a path with the same four corners.
func TestRectanglesStay(t *testing.T) {
	d := drawing(
		layout.Shape{ID: "a", Op: layout.Cut, Figure: geom.Rect{Min: geom.Pt(0, 0), W: 10, H: 10}},
		layout.Shape{ID: "b", Op: layout.Cut, Figure: geom.Circle{Center: geom.Pt(20, 5), R: 3}},
		layout.Shape{ID: "c", Op: layout.Cut, Figure: geom.Rect{Min: geom.Pt(30, 0), W: 10, H: 10}},
	)
	groups, err := Running(d)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range groups[0].Parts[0].Shapes {
		switch s.Figure.(type) {
		case geom.Circle:
			if s.Paths != nil {
				t.Errorf("the circle %s is a path", s.ID)
			}
		case geom.Rect:
			for _, p := range s.Paths {
				if len(p.Segments) != 4 || math.Abs(p.Area()) != 100 || p.Start == s.Figure.Bounds().Min {
					t.Errorf("%s is %+v", s.ID, p)
				}
			}
		}
	}
}

func TestRefused(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	line := func(s geom.Segment) geom.Figure { return geom.Path{Segments: []geom.Segment{s}} }
	for name, c := range map[string]struct {
		figure geom.Figure
		want   string
	}{
		"place":     {geom.Rect{Min: geom.Pt(nan, 0), W: 1, H: 1}, "not a finite number"},
		"width":     {geom.Rect{W: inf, H: 1}, "not a finite number"},
		"radius":    {geom.Circle{R: nan}, "not a finite number"},
		"end":       {line(geom.Segment{End: geom.Pt(0, -inf)}), "not a finite number"},
		"centre":    {line(geom.Segment{Kind: geom.ArcTo, Center: geom.Pt(nan, 0)}), "not a finite number"},
		"control":   {line(geom.Segment{Kind: geom.CubicTo, C2: geom.Pt(nan, 0)}), "not a finite number"},
		"letter":    {geom.Outline{{Start: geom.Pt(inf, 0), Segments: make([]geom.Segment, 1)}}, "not a finite number"},
		"negative":  {geom.Rect{W: -1, H: 1}, "smaller than 0.0001 mm"},
		"vanishing": {geom.Circle{R: 0.00004}, "smaller than 0.0001 mm"},
		"nothing":   {nil, "no figure"},
	} {
		_, err := Running(drawing(layout.Shape{ID: "front.wire.7", Op: layout.Cut, Figure: c.figure}))
		if err == nil || !strings.HasPrefix(err.Error(), "cut front.wire.7 can't be drawn: ") || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	d := drawing(layout.Shape{ID: "a", Op: layout.Cut, Figure: rect(0)})
	d.Colors[layout.Cut] = "pink"
	if _, err := Running(d); err == nil || err.Error() != `the drawing colour of cut is "pink": write it as #RRGGBB, such as #CC79A7` {
		t.Errorf("colour: %v", err)
	}
	d = drawing()
	d.Size.X = nan
	if _, err := Running(d); err == nil {
		t.Error("a drawing without a size passes")
	}
}
