package raster

import "math"

// A Tone says how the lightness of a picture becomes that of what is engraved. The zero
// value leaves it as it is.
type Tone struct {
	// Gamma is the power of which a lightness from 0 to 1 takes the root: above 1
	// middle greys become lighter. 0 is 1.
	Gamma float64
	// Contrast is by how much differences from the middle grey become larger: 0.2 for a
	// fifth.
	Contrast float64
	// Brightness is added to each lightness.
	Brightness float64
	// Greys is how dark the stock was measured, at equal steps from the bare board to
	// where all of it is engraved: at least two values, each larger than the one before
	// it. nil for a stock that becomes as dark as dots are dense.
	Greys []float64
}

// apply changes levels of grey.
func (t Tone) apply(grey []uint8) {
	if t.Gamma == 0 && t.Contrast == 0 && t.Brightness == 0 && t.Greys == nil {
		return
	}
	var to [256]uint8
	for i := range to {
		to[i] = uint8(math.Round(255 * (1 - t.engraved(t.lightness(float64(i)/255)))))
	}
	for i, v := range grey {
		grey[i] = to[v]
	}
}

// lightness is that of a picture's in the tone that is asked for, 0 to 1.
func (t Tone) lightness(x float64) float64 {
	if t.Gamma > 0 {
		x = math.Pow(x, 1/t.Gamma)
	}
	x = 0.5 + (x-0.5)*(1+t.Contrast) + t.Brightness
	return min(1, max(0, x))
}

// engraved is which share of the board is to be engraved to look as light as x, where 1
// is the bare board and 0 what can be made darkest.
func (t Tone) engraved(x float64) float64 {
	last := len(t.Greys) - 1
	if last < 1 {
		return 1 - x
	}
	dark := t.Greys[0] + (1-x)*(t.Greys[last]-t.Greys[0])
	for i := range last {
		if a, b := t.Greys[i], t.Greys[i+1]; dark <= b || i == last-1 {
			return min(1, max(0, (float64(i)+(dark-a)/(b-a))/float64(last)))
		}
	}
	return 1
}
