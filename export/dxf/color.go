package dxf

import (
	"strings"

	"foredge/export/internal/order"
	"foredge/layout"
)

func layerName(op layout.Op) string { return strings.ToUpper(op.String()) }

// layerColors gives each layer the number of the standard colour nearest to
// the operation's drawing colour. Operations of different colours get numbers that
// are drawn in different colours, since controllers tell operations apart by the
// number or by how it is drawn.
//
// The exact colours are not in the file: true colours (group 420) came with
// AC1018, and a strict reader of AC1015 refuses a group that it doesn't know.
func layerColors(p layout.Palette) [4]int {
	var numbers [4]int
	taken := make(map[int]order.RGB)
	for i, op := range layout.Ops() {
		// An operation that is in use has a colour that can be read.
		c, _ := order.ParseColor(p[op])
		numbers[i] = nearest(c, func(n int) bool {
			for m, other := range taken {
				if other != c && alike(m, n) {
					return false
				}
			}
			return true
		})
		taken[numbers[i]] = c
	}
	return numbers
}

// blackOrWhite is drawn black on white and white on black.
const blackOrWhite = 7

// alike says whether two numbers may be drawn in one colour, as 1 and 10 are.
func alike(m, n int) bool {
	a, b, black := standard(m), standard(n), order.RGB{}
	return a == b || m == blackOrWhite && b == black || n == blackOrWhite && a == black
}

// nearest is the standard colour nearest to c, by distance in RGB, of those
// that are free. Of equal ones the lowest number wins.
func nearest(c order.RGB, free func(int) bool) int {
	best, least := blackOrWhite, -1
	for n := 1; n <= 255; n++ {
		d := distance(c, standard(n))
		if n == blackOrWhite {
			d = min(d, distance(c, order.RGB{}))
		}
		if (least < 0 || d < least) && free(n) {
			best, least = n, d
		}
	}
	return best
}

func distance(a, b order.RGB) int {
	r, g, bl := int(a.R)-int(b.R), int(a.G)-int(b.G), int(a.B)-int(b.B)
	return r*r + g*g + bl*bl
}

// standard is the standard colour of a number from 1 to 255: nine plain ones,
// then 24 hues of ten shades, then six greys.
func standard(n int) order.RGB {
	switch {
	case n < 10:
		return [...]order.RGB{
			1: rgb(255, 0, 0), 2: rgb(255, 255, 0), 3: rgb(0, 255, 0),
			4: rgb(0, 255, 255), 5: rgb(0, 0, 255), 6: rgb(255, 0, 255),
			7: rgb(255, 255, 255), 8: rgb(128, 128, 128), 9: rgb(192, 192, 192),
		}[n]
	case n >= 250:
		grey := [...]int{0, 101, 102, 153, 204, 255}[n-250]
		return rgb(grey, grey, grey)
	}
	high := [...]int{255, 165, 127, 76, 38}[n%10/2]
	low := 0
	if n%2 == 1 {
		low = high / 2
	}
	// A hue is a quarter of the way from one corner of the colour circle to the next.
	quarter := (n/10 - 1) % 4
	up := low + (high-low)*quarter/4
	down := low + (high-low)*(4-quarter)/4
	return [...]order.RGB{
		rgb(high, up, low), rgb(down, high, low), rgb(low, high, up),
		rgb(low, down, high), rgb(up, low, high), rgb(high, low, down),
	}[(n/10-1)/4]
}

func rgb(r, g, b int) order.RGB { return order.RGB{R: uint8(r), G: uint8(g), B: uint8(b)} }
