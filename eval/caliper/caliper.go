package caliper

import "math"

// A Tool is what is known of the tool that gave a reading.
type Tool struct {
	Accuracy   float64 // half width of what it promises; 0 if nothing says it
	Resolution float64 // its digital step; 0 where there is none
	Flat       float64 // width of the inside jaws' flat that reads a round hole low; 0 for other holes
}

// Widen turns what inside jaws read of a round hole into its diameter. Their
// two flats, w wide together, touch the hole on a chord, so that they read
// sqrt(D² - w²).
func (t Tool) Widen(read float64) float64 {
	if t.Flat == 0 {
		return read
	}
	return math.Hypot(read, t.Flat)
}

// Uncertainty is the standard uncertainty of the mean of n values with the
// sample standard deviation s: u² = g²/3 + d²/12 + s²/n (JCGM 100:2008, 4.3.7
// for the promise, F.2.2.1 for the digital step, 4.2.3 for the repeats).
func (t Tool) Uncertainty(s float64, n int) float64 {
	return math.Sqrt(t.Accuracy*t.Accuracy/3 + t.Resolution*t.Resolution/12 + s*s/float64(n))
}

// A Mean is what repeated readings of one thing come to.
type Mean struct {
	Value   float64 // with the flat of the jaws allowed for
	Read    float64 // as read; 0 where nothing was allowed for
	Scatter float64 // the sample standard deviation; 0 of a single reading
}

// Mean is the mean of repeated readings.
func (t Tool) Mean(reads []float64) Mean {
	var m Mean
	n := float64(len(reads))
	for _, v := range reads {
		m.Value += t.Widen(v) / n
		if t.Flat > 0 {
			m.Read += v / n
		}
	}
	if len(reads) > 1 {
		for _, v := range reads {
			off := t.Widen(v) - m.Value
			m.Scatter += off * off
		}
		m.Scatter = math.Sqrt(m.Scatter / (n - 1))
	}
	return m
}
