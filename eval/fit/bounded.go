package fit

import (
	"math"
	"math/rand/v2"

	"foredge/eval/opening"
	"foredge/eval/relation"
)

const (
	// unlike is by how much the probability with bounded errors must differ from
	// that with normal ones to be told.
	unlike = 0.02
	// boundedDraws is how many rows are simulated for it: its standard error is at
	// most 0.0022.
	boundedDraws = 50_000
	// mostReadings is of how many readings it is still simulated.
	mostReadings = 100
)

// bounded is the probability that every hole clears where no error goes beyond what
// was promised, each value within it being as likely; what repeats scatter stays
// normal. exprs are the places of the holes along the row, the place across it and
// what takes room away, as for [simulate]; all are linear in the readings, each
// moving them by its covariance with them divided by its own variance (see
// [analysis.spread]). ok is false where there are too many readings.
func (a *analysis) bounded(exprs []relation.Expr, kerfWithin float64, hole opening.Room) (p float64, ok bool) {
	reports := a.measured.Report.Readings
	if len(reports) > mostReadings {
		return 0, false
	}
	n := len(exprs)
	slopes := make([][]float64, 0, len(reports)) // of each reading, for each expression
	var readings []relation.Reading
	for _, report := range reports {
		r := a.solution.System.Readings[report.Index]
		with, slope := a.solution.Numbers.CovarianceWith(r.Left), make([]float64, n)
		for i, e := range exprs {
			slope[i] = with(e) / (r.U * r.U)
		}
		slopes, readings = append(slopes, slope), append(readings, r)
	}
	if a.drawn == nil {
		a.drawn = drawBounded(readings)
	}
	deviations := make([]float64, n)
	fits := 0
	for draw := range boundedDraws {
		clear(deviations)
		for k, off := range a.drawn.off[draw*len(readings) : (draw+1)*len(readings)] {
			for i, slope := range slopes[k] {
				deviations[i] += slope * off
			}
		}
		along, across, room := deviations[:n-2], deviations[n-2], deviations[n-1]+kerfWithin/2*a.drawn.kerf[draw]
		worst := math.Inf(-1)
		for _, off := range along {
			worst = max(worst, hole.Lacks(off, across))
		}
		if worst-room <= 0 {
			fits++
		}
	}
	return float64(fits) / boundedDraws, true
}

// A drawn is what was drawn for a simulation, once for all rows of a notebook.
type drawn struct {
	off  []float64 // of each draw, by how much each reading is off
	kerf []float64 // of each draw, by which share of its half width the kerf is off
}

// drawBounded draws the errors of readings.
func drawBounded(readings []relation.Reading) *drawn {
	random := rand.New(rand.NewPCG(1, 3))
	evenly := func(half float64) float64 { return half * (2*random.Float64() - 1) }
	d := &drawn{off: make([]float64, 0, boundedDraws*len(readings)), kerf: make([]float64, boundedDraws)}
	for i := range d.kerf {
		for _, r := range readings {
			d.off = append(d.off, evenly(r.Accuracy)+evenly(r.Resolution/2)+r.Scatter/math.Sqrt(float64(r.Repeats))*random.NormFloat64())
		}
		d.kerf[i] = evenly(1)
	}
	return d
}
