package advise

import "math"

// The cylinder of the small parts test, in mm: 1.25 in across and, where its
// slanted bottom lies deepest, 2.25 in deep (16 CFR 1501.4; the dimensions in
// inches rule). The bottom is taken to be flat at its deepest, which warns of a
// little more than the test would.
const (
	testWide = 1.25 * 25.4
	testDeep = 2.25 * 25.4
)

// IsSmallPart reports whether a board of three sizes in mm goes wholly into the
// small parts cylinder, with any of its sizes held level across it and the other
// two turned in any way. (Tilted about two axes it might still just go in.)
func IsSmallPart(a, b, c float64) bool {
	for _, s := range [3][3]float64{{a, b, c}, {b, a, c}, {c, a, b}} {
		if level := s[0]; level < testWide && rectangleFits(s[1], s[2], testDeep, math.Sqrt(testWide*testWide-level*level)) {
			return true
		}
	}
	return false
}

// rectangleFits reports whether a rectangle p by q goes into one of a by b, turned
// in any way (Carver, "Fitting one rectangle within another", The American
// Mathematical Monthly 64, 1957; from memory, tested by turning).
func rectangleFits(p, q, a, b float64) bool {
	p, q, a, b = max(p, q), min(p, q), max(a, b), min(a, b)
	if p <= a {
		return q <= b
	}
	d := p*p + q*q
	return q <= b && b >= (2*p*q*a+(p*p-q*q)*math.Sqrt(max(0, d-a*a)))/d
}
