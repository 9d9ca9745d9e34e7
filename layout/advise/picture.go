package advise

import (
	"math"

	"foredge/eval/design"
)

// coarsePixel is from which size in mm single pixels of a picture show: 100 to the inch,
// the coarsest that a maker's page of guidelines for laser cutting calls useful.
const coarsePixel = 0.254

// coarseLines is from which distance in mm engraved lines show singly, twice what a picture's coarsest
// useful pixels are large (common practice, no source).
const coarseLines = 2 * coarsePixel

// Lines warns of a picture, h mm high, whose lines lie so far apart that it comes out as stripes: 0.1 in
// for 0.1 mm is a slip of the unit.
func Lines(n *Notes, q design.Quiet, m *design.Artwork, h, apart float64) {
	if apart <= coarseLines*(1+1e-9) {
		return
	}
	n.Warn(q, "coarse-lines", m.At, "the lines of %s lie %s apart, so each of them shows: %.0f of them are all of the picture", m.File,
		n.Length(math.Round(apart*100)/100), math.Round(h/apart)).
		WithHelp("check the unit and the decimal point of line-distance: %s is usual%s", n.Length(0.1), Silence("coarse-lines", "panel"))
}

// Pixels warns of a picture of so many pixels that is engraved w by h mm large, in lines
// so far apart, and has too few for that.
func Pixels(n *Notes, q design.Quiet, m *design.Artwork, across, down int, w, h, apart float64) {
	size := max(w/float64(across), h/float64(down))
	if size <= max(coarsePixel, 2*apart)*(1+1e-9) {
		return
	}
	n.Warn(q, "few-pixels", m.FileAt, "%s has %d by %d pixels for %s by %s: each of them shows, %s large", m.File, across, down,
		n.Length(math.Round(w*100)/100), n.Length(math.Round(h*100)/100), n.Length(math.Round(size*100)/100)).
		WithHelp("take a picture with more pixels, %d across for this size, or engrave it smaller%s", int(math.Ceil(w/coarsePixel)), Silence("few-pixels", "panel"))
}
