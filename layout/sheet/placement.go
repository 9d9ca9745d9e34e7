package sheet

import (
	"math"

	"foredge/layout/geom"
)

// A Placement says where one of the wanted parts lies on a sheet: turned about its
// own origin, then moved.
type Placement struct {
	Part int // which of the job's parts
	Copy int // which of those that are wanted of it, from 0
	// Turn is in degrees, positive clockwise as seen, from 0 to below 360.
	Turn float64
	// At is where the part's origin comes to lie, in mm from the sheet's left upper
	// corner, Y down.
	At geom.Point
}

// Transform takes what is drawn from the part's origin to its place on the sheet.
func (p Placement) Transform() geom.Similarity {
	return geom.Turn(geom.Point{}, p.Turn*math.Pi/180).Then(geom.Shift(p.At))
}

// Inside is the same placement for the pass on the other face: the sheet, so wide in
// mm, is turned over like a page about its vertical middle line, so that left and right
// change, and lies in the same corner of the bed. The part's inner face is drawn as it
// is seen when the part itself is turned over like a page, about the vertical middle
// line of a width in mm that begins at its origin: what is x from the left
// outside is width-x from the left inside.
func (p Placement) Inside(sheet, width float64) Placement {
	inside := p
	inside.Turn = 0
	if p.Turn != 0 {
		inside.Turn = 360 - p.Turn
	}
	// Turning over takes x to sheet-x, and so a turn to its opposite; what was at
	// the part's origin is now at (width, 0) of its inner face.
	origin := geom.Turn(geom.Point{}, inside.Turn*math.Pi/180).Point(geom.Pt(width, 0))
	inside.At = geom.Pt(sheet-p.At.X, p.At.Y).Sub(origin)
	return inside
}
