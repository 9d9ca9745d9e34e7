package motion

import (
	"math"

	"foredge/eval/maybe"
	"foredge/layout/geom"
)

// A raster is how an area is engraved line by line.
type raster struct {
	interval, speed, a float64
	out                float64 // run-out beyond each end of a line
	oneWay             bool
	travel             float64 // for the way back
}

// raster is how an area is engraved, with lines as far apart as it says or as the work does.
func (m *Machine) raster(w *Work, own maybe.Of[float64]) raster {
	r := raster{oneWay: w.OneWay}
	var ok bool
	if r.interval, ok = positive(own); !ok {
		r.interval, _ = positive(w.Interval)
	}
	r.speed, _ = positive(w.Speed)
	r.a, _ = positive(m.Acceleration)
	r.travel, _ = positive(m.Travel)
	if r.out, ok = notNegative(w.RunOut); !ok {
		r.out = r.speed * r.speed / (2 * r.a)
	}
	return r
}

// lines is how many lines a height takes.
func (r *raster) lines(height float64) float64 { return max(math.Round(height/r.interval), 1) }

// time is that of engraving an area, from rest to rest. Each line is run from rest to
// rest with its run-outs; where these are just long enough that is width/v + 2 v/a. The
// step to the next line is made while the head turns, or flies back, and counts only as
// far as it takes longer.
func (r *raster) time(width, height float64) float64 {
	n := r.lines(height)
	line := rest(width+2*r.out, r.speed, r.a)
	edge := min(r.speed, math.Sqrt(2*r.a*r.out)) // how fast the figure is reached
	turn := line - ramp(width, edge, edge, r.speed, r.a)
	step := rest(r.interval, r.speed, r.a)
	between := max(step-turn, 0)
	if r.oneWay {
		between = max(rest(width+2*r.out, r.travel, r.a), step)
	}
	return n*line + (n-1)*between
}

// ends are where the head stands before and after.
func (r *raster) ends(b geom.Box) (from, to geom.Point) {
	from = geom.Pt(b.Min.X-r.out, b.Min.Y)
	to = geom.Pt(b.Max.X+r.out, b.Max.Y)
	if !r.oneWay && math.Mod(r.lines(b.Height()), 2) == 0 {
		to.X = b.Min.X - r.out
	}
	return from, to
}
