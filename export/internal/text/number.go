package text

import (
	"bytes"
	"math"
	"strconv"
)

// Decimals of the quantities that drawing files hold.
const (
	// Millimetres are kept to 0.1 µm, a thousandth of a fine kerf.
	Millimetres = 4
	// Inches are kept to a millionth, 0.0254 µm.
	Inches = 6
	// Degrees are kept so that an end of an arc moves less than 0.1 µm on a
	// radius of 100 m.
	Degrees = 10
	// Ratios have no unit: the bulge of an arc, which a long chord multiplies.
	Ratios = 12
)

// exact is the largest whole number below which float64 holds all of them.
const exact = 1 << 53

// pairs are the digits of 0 to 99.
const pairs = "00010203040506070809101112131415161718192021222324" +
	"25262728293031323334353637383940414243444546474849" +
	"50515253545556575859606162636465666768697071727374" +
	"75767778798081828384858687888990919293949596979899"

// AppendNumber appends v, rounded to so many decimals (0 to 15), in its
// shortest form: no trailing zeros, no exponent, no -0. Halves are rounded away
// from zero. v must be finite; [Writer.Number] sees to that.
func AppendNumber(dst []byte, v float64, decimals int) []byte {
	scaled := math.Round(math.Abs(v) * powers[decimals])
	if !(scaled < exact) {
		return appendLarge(dst, v, decimals)
	}
	n := uint64(scaled)
	if n == 0 {
		return append(dst, '0')
	}
	for decimals > 0 && n%10 == 0 {
		n /= 10
		decimals--
	}
	// The digits are found from the last to the first, two at a time.
	var text [24]byte
	i := len(text)
	if decimals > 0 {
		for ; decimals > 1; decimals -= 2 {
			i -= 2
			two := n % 100 * 2
			text[i], text[i+1] = pairs[two], pairs[two+1]
			n /= 100
		}
		if decimals > 0 {
			i--
			text[i] = '0' + byte(n%10)
			n /= 10
		}
		i--
		text[i] = '.'
	}
	for n > 99 {
		i -= 2
		two := n % 100 * 2
		text[i], text[i+1] = pairs[two], pairs[two+1]
		n /= 100
	}
	if n > 9 {
		i--
		text[i] = '0' + byte(n%10)
		n /= 10
	}
	i--
	text[i] = '0' + byte(n)
	if v < 0 {
		i--
		text[i] = '-'
	}
	return append(dst, text[i:]...)
}

// appendLarge is the slow way for numbers that float64 no longer holds to the
// last decimal asked for.
func appendLarge(dst []byte, v float64, decimals int) []byte {
	start := len(dst)
	dst = strconv.AppendFloat(dst, v, 'f', decimals, 64)
	if bytes.IndexByte(dst[start:], '.') < 0 {
		return dst
	}
	return bytes.TrimSuffix(bytes.TrimRight(dst, "0"), []byte("."))
}

var powers = [16]float64{
	1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
}
