package fit

import (
	"math"

	"foredge/eval/opening"
)

// alike are the probabilities worked out so far, so that rows read alike cost no more
// than one of them.
type alike map[rowAlike]float64

// A rowAlike is all that the probability of a row depends on, with its deviations
// rounded: those of rows read alike differ in their last digits.
type rowAlike struct {
	d                 deviations
	hole              opening.Opening
	thick, pair, more float64
}

// clears is [deviations.clears] with the room of an opening larger by more.
func (a alike) clears(d *deviations, hole opening.Opening, thick, pair, more float64) float64 {
	key := rowAlike{*d.rounded(), hole, thick, pair, more}
	p, ok := a[key]
	if !ok {
		p = d.clears(hole.Room(thick, pair, more))
		a[key] = p
	}
	return p
}

// alikeDigits is to what share of the variances a covariance is rounded: far more than
// rounding moves it, far less than a probability shows.
const alikeDigits = 1e-10

// rounded are the deviations with their covariances rounded.
func (d *deviations) rounded() *deviations {
	var out deviations
	for i, row := range d {
		for j, c := range row {
			_, exponent := math.Frexp(alikeDigits * d.sigma(i) * d.sigma(j))
			if unit := math.Ldexp(1, exponent); c != 0 && unit > 0 {
				out[i][j] = math.Round(c/unit) * unit
			}
		}
	}
	return &out
}
