package layout

import (
	"testing"

	"foredge/layout/geom"
	"foredge/layout/raster"
)

// Of a picture of 10 by 10 mm whose left half is engraved only that half lies on what is drawn
// there: its right half is bare board, where a title may stand.
func TestPictureBurnsWhereItIsDark(t *testing.T) {
	half := func(at geom.Point, dark func(x int) bool) *Shape {
		im := &raster.Image{W: 100, H: 100, Grey: make([]uint8, 100*100)}
		for i := range im.Grey {
			if !dark(i % 100) {
				im.Grey[i] = noDot
			}
		}
		return &Shape{Op: Engrave, Raster: im, Figure: geom.Rect{Min: at, W: 10, H: 10}}
	}
	left := func(x int) bool { return x < 50 }
	rect := func(op Op, x, y, w, h float64) *Shape {
		return &Shape{Op: op, Figure: geom.Rect{Min: geom.Pt(x, y), W: w, H: h}}
	}
	line := func(points ...geom.Point) *Shape {
		p := geom.Polygon(points...)
		p.Closed = false
		return &Shape{Op: Mark, Figure: p}
	}
	// The picture lies from 20, 30 to 30, 40.
	for _, c := range []struct {
		name  string
		other *Shape
		want  bool
	}{
		{"letters on the dark half", rect(Engrave, 21, 31, 2, 2), true},
		{"letters on the bare half", rect(Engrave, 26, 31, 2, 2), false},
		{"letters just on the bare half", rect(Engrave, 25.05, 31, 2, 2), false},
		{"letters a little over the middle", rect(Engrave, 24.9, 31, 2, 2), true},
		{"a line within the dark half", line(geom.Pt(21, 31), geom.Pt(23, 36)), true},
		{"a line between two rows of dots", line(geom.Pt(21, 31.1), geom.Pt(23, 31.1)), true},
		{"a line within the bare half", line(geom.Pt(26, 31), geom.Pt(29, 36)), false},
		{"a line through both", line(geom.Pt(29, 31), geom.Pt(21, 36)), true},
		{"a frame round all of it", rect(Mark, 19, 29, 12, 12), false},
		{"a frame along its dark edge", rect(Mark, 20, 25, 30, 30), true},
		{"a frame along its bare edge", rect(Mark, 30, 25, 30, 30), false},
		{"a board of ink under it", rect(Engrave, 0, 0, 60, 60), true},
		{"a picture on its dark half", half(geom.Pt(17, 30), left), true},
		{"the dark half of a picture on its bare half", half(geom.Pt(25.5, 30), left), false},
		{"the bare half of a picture on its dark half", half(geom.Pt(14.5, 30), left), false},
		{"a bare picture", half(geom.Pt(20, 30), func(int) bool { return false }), false},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := inkLeft{all: mostInk, each: mostEach, edges: map[*Shape]*geom.Boundary{}}
			if got := l.burns(half(geom.Pt(20, 30), left), c.other); got != c.want {
				t.Errorf("burns: %v, want %v", got, c.want)
			}
		})
	}
}
