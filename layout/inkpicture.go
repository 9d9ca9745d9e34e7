package layout

import (
	"math"

	"foredge/layout/geom"
)

// burns reports whether a picture is engraved where another shape is drawn: a dot of it that
// is engraved lies in what that engraves or, as far as a dot reaches, on its line. A title may
// stand in the blank corner of a picture.
func (l *inkLeft) burns(picture, other *Shape) bool {
	im, at := picture.Raster, picture.Figure.Bounds()
	wide, high := at.Width()/float64(im.W), at.Height()/float64(im.H)
	reach := math.Hypot(wide, high) / 2
	edge := l.edge(other)
	box := edge.Box.Grow(reach)
	dots := func(from, to, dot float64, n int) (first, end int) {
		return max(0, int(math.Floor(from/dot))), min(n, int(math.Ceil(to/dot)))
	}
	left, right := dots(box.Min.X-at.Min.X, box.Max.X-at.Min.X, wide, im.W)
	head, tail := dots(box.Min.Y-at.Min.Y, box.Max.Y-at.Min.Y, high, im.H)
	for y := head; y < tail; y++ {
		for x := left; x < right; x++ {
			if im.Grey[y*im.W+x] == noDot {
				continue
			}
			if !l.spend(1) {
				return false
			}
			p := at.Min.Add(geom.Pt((float64(x)+0.5)*wide, (float64(y)+0.5)*high))
			switch {
			case other.Raster != nil:
				if other.darkAt(p) {
					return true
				}
			case inks(other) && edge.Contains(p), edge.Within(p, reach):
				return true
			}
		}
	}
	return false
}

// noDot is the grey of a dot where nothing is engraved.
const noDot = 255

// darkAt reports whether a picture is engraved at a point.
func (s *Shape) darkAt(p geom.Point) bool {
	im, at := s.Raster, s.Figure.Bounds()
	x := int(math.Floor((p.X - at.Min.X) / at.Width() * float64(im.W)))
	y := int(math.Floor((p.Y - at.Min.Y) / at.Height() * float64(im.H)))
	return x >= 0 && x < im.W && y >= 0 && y < im.H && im.Grey[y*im.W+x] != noDot
}
