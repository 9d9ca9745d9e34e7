package fit

import (
	"math"

	"foredge/eval/opening"
)

// Deviations of a row from its wire, by their index in [deviations].
const (
	atFirst = iota // of the first hole, along the row
	atLast         // of the last hole, along the row
	across         // of all holes, across the row
	room           // of the room to each side: wire and kerf
)

// deviations are jointly normal deviations with mean 0, by their covariances in
// mm²: those of an even row.
type deviations [4][4]float64

// deviationsOf takes the covariances of an even row's end holes; a row of one
// hole has it at both ends.
func deviationsOf(cov [][]float64) *deviations {
	index := []int{0, 1, 2, 3}
	if len(cov) == 3 {
		index = []int{0, 0, 1, 2}
	}
	var d deviations
	for i, row := range index {
		for j, column := range index {
			// What is correlated by less than rounding isn't correlated.
			if c := cov[row][column]; c*c > 1e-18*cov[row][row]*cov[column][column] {
				d[i][j] = c
			}
		}
	}
	return &d
}

// sigma is the standard deviation of one of them.
func (d *deviations) sigma(i int) float64 { return math.Sqrt(max(0, d[i][i])) }

// given is what one of them, once known, says of the others: by how much each
// moves with it, and how they still vary.
func (d *deviations) given(known int) (slope [4]float64, rest deviations) {
	rest = *d
	if d[known][known] <= 0 {
		return slope, rest
	}
	for i := range d {
		slope[i] = d[i][known] / d[known][known]
	}
	for i := range d {
		for j := range d {
			rest[i][j] -= slope[i] * d[j][known]
		}
		if rest[i][i] < 1e-13*d[i][i] {
			for j := range d {
				rest[i][j], rest[j][i] = 0, 0
			}
		}
	}
	return slope, rest
}

// correlation of two of them, 0 where one doesn't vary.
func (d *deviations) correlation(i, j int) float64 {
	if c := d[i][j] / (d.sigma(i) * d.sigma(j)); !math.IsNaN(c) {
		return max(-1, min(1, c))
	}
	return 0
}

const (
	// widest is how many standard deviations an integral reaches to each side:
	// beyond lies 2e-9.
	widest = 6
	// smooth is how many standard deviations of what is averaged over one piece
	// of an integral may span, and sudden the least, where the probability may
	// jump within.
	smooth, sudden = 4, 0.4
)

// scales says within what change of a deviation, once it is known to be given
// with the slopes and the rest, the probability may change: near the ends of the
// room for it, and anywhere.
func (d *deviations) scales(known int, slope [4]float64, rest *deviations) (near, wide float64) {
	near, wide = math.Inf(1), smooth*d.sigma(known)
	for i := range known {
		sigma := rest.sigma(i)
		if sigma > 0 {
			near = min(near, sigma)
		}
		if slope[i] != 0 {
			wide = min(wide, smooth*sigma/math.Abs(slope[i]))
		}
	}
	return near, max(wide, sudden*d.sigma(known))
}

// clears is the probability that the wire lies inside the opening at both ends
// of a row, by the room for its centre. It averages over the room that wire and
// kerf leave, then over the deviation across the row.
func (d *deviations) clears(hole opening.Room) float64 {
	left, sigma := hole.Left(), d.sigma(room)
	slope, rest := d.given(room)
	if sigma == 0 {
		if left < 0 {
			return 0
		}
		return rest.clearsGiven(hole, [4]float64{})
	}
	near, wide := d.scales(room, slope, &rest)
	from := -widest * sigma
	if from < -left {
		from = -left
	} else {
		near = 0 // the end is nothing but the tail
	}
	return integrate(func(more float64) float64 {
		var mean [4]float64
		for i := range mean {
			mean[i] = slope[i] * more
		}
		return density(more/sigma) / sigma * rest.clearsGiven(hole.Grown(more), mean)
	}, mesh(from, widest*sigma, wide, near, 0), 1e-7)
}

// clearsGiven is the same where the room is known, the deviations having the
// given means.
func (d *deviations) clearsGiven(hole opening.Room, mean [4]float64) float64 {
	sigma, span := d.sigma(across), hole.Span()
	slope, rest := d.given(across)
	ends := rest.ends(slope, mean)
	switch {
	case sigma == 0:
		if reach := hole.Reach(mean[across]); reach >= 0 {
			return ends(mean[across], reach)
		}
		return 0
	case span <= 0:
		return 0
	case hole.Even() && slope[atFirst] == 0 && slope[atLast] == 0:
		return ends(0, hole.Reach(0)) * share((-span-mean[across])/sigma, (span-mean[across])/sigma)
	}
	near, wide := d.scales(across, slope, &rest)
	near, wide = near/span, wide/span
	// off = span * sin of an angle: where the corners are round, what is left
	// along the row then has no steep end.
	angle := func(off float64) float64 { return math.Asin(max(-1, min(1, off/span))) }
	from, to := angle(mean[across]-widest*sigma), angle(mean[across]+widest*sigma)
	first, last := near, near
	if from > -math.Pi/2 {
		first = 0
	}
	if to < math.Pi/2 {
		last = 0
	}
	return integrate(func(a float64) float64 {
		sin, cos := math.Sincos(a)
		off := span * sin
		return density((off-mean[across])/sigma) / sigma * ends(off, max(0, hole.Reach(off))) * span * cos
	}, mesh(from, to, wide, first, last), 3e-8)
}

// ends gives the probability along the row where all holes are known to be off
// by so much across it and have so much reach along it. d is how the ends still
// vary, mean what they do without that, slope how they move with it.
func (d *deviations) ends(slope, mean [4]float64) func(off, reach float64) float64 {
	sigmaFirst, sigmaLast, r := d.sigma(atFirst), d.sigma(atLast), d.correlation(atFirst, atLast)
	return func(off, reach float64) float64 {
		first := mean[atFirst] + slope[atFirst]*(off-mean[across])
		last := mean[atLast] + slope[atLast]*(off-mean[across])
		return rectangle(standard(-reach-first, sigmaFirst), standard(reach-first, sigmaFirst),
			standard(-reach-last, sigmaLast), standard(reach-last, sigmaLast), r)
	}
}
