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

// changes reports a tone that leaves not all as it is.
func (t Tone) changes() bool {
	return t.Gamma != 0 || t.Contrast != 0 || t.Brightness != 0 || t.Greys != nil
}

// apply changes levels of grey on white. What is clear stays the bare board, whatever
// becomes of white; nil for opaque is all of it. It reports whether one grey has come of
// several.
func (t Tone) apply(grey, opaque []uint8) (flat bool) {
	var to [256]uint8
	for i := range to {
		to[i] = t.level(t.lightness(float64(i) / 255))
	}
	least, most := [2]uint8{255, 255}, [2]uint8{} // of what is opaque, before and after
	for i, v := range grey {
		switch {
		case opaque == nil || opaque[i] == 255:
			grey[i] = to[v]
		case opaque[i] == 0:
			grey[i] = 255
		default:
			a := float64(opaque[i]) / 255
			own := min(1, max(0, (float64(v)/255-(1-a))/a))
			grey[i] = t.level(a*t.lightness(own) + 1 - a)
		}
		if opaque == nil || opaque[i] == 255 {
			for k, v := range [2]uint8{v, grey[i]} {
				least[k], most[k] = min(least[k], v), max(most[k], v)
			}
		}
	}
	return most[0] > least[0] && most[1] <= least[1]
}

// level is what is engraved for a lightness, as a level of grey.
func (t Tone) level(x float64) uint8 { return uint8(math.Round(255 * (1 - t.engraved(x)))) }

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
