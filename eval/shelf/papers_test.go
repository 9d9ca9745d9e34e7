package shelf_test

import (
	"fmt"
	"math"
	"testing"

	"foredge/eval/evaltest"
	"foredge/lang/foretest"
)

// size is a sheet of the shelf in real designs: its short and its long side.
func size(t testing.TB, name string) (w, h float64) {
	t.Helper()
	s := try(t, name, "")
	return evaltest.Dimension(t, s.Solution, name+".width").Value, evaltest.Dimension(t, s.Solution, name+".height").Value
}

// The rules of the tables: ISO 216 as an open encyclopedia's article of that name
// tells it, JIS P 0138:1998 as a Japanese page quotes it (sources.tsv has them all). That halving
// rounded down from size 0 gives every printed size was worked out beside this
// program.
func TestSeries(t *testing.T) {
	for prefix, zero := range map[string][2]float64{"a": {841, 1189}, "b": {1000, 1414}, "jis-b": {1030, 1456}} {
		w, h := zero[0], zero[1]
		for n := range 11 {
			gotW, gotH := size(t, fmt.Sprintf("%s%d", prefix, n))
			if math.Abs(gotW-w) > 1e-9 || math.Abs(gotH-h) > 1e-9 { // 1.1/halving
				t.Errorf("%s%d is %g by %g, halving gives %g by %g", prefix, n, gotW, gotH, w, h)
			}
			// 1.1/aspect: each side is within 1 mm of its exact one, as size n loses
			// less than 1 mm to rounding down.
			if d := gotH - gotW*math.Sqrt2; math.Abs(d) > 1+math.Sqrt2 {
				t.Errorf("%s%d is %g mm off the shape", prefix, n, d)
			}
			w, h = math.Floor(h/2), w
		}
	}
	// A0 has an area of 1 m² to rounding.
	w0, h0 := size(t, "a0")
	exact := numbers(t, "1.1/a0")
	foretest.Near(t, "A0's area", exact[0]*exact[1], 1e6, 1)
	foretest.Near(t, "A0's height", h0, exact[0], 0.5)
	foretest.Near(t, "A0's width", w0, exact[1], 0.5)

	// 1.1/b: the geometric mean of two neighbouring A sizes, to the rounding of
	// each, and B0 to that of A0 and the A size twice as large.
	b0w, b0h := size(t, "b0")
	foretest.Near(t, "B0", math.Sqrt(w0*h0), b0w, 1)
	foretest.Near(t, "B0", math.Sqrt(h0*2*w0), b0h, 1)
	for n := 1; n <= 10; n++ {
		lw, lh := size(t, fmt.Sprintf("a%d", n-1))
		sw, sh := size(t, fmt.Sprintf("a%d", n))
		bw, bh := size(t, fmt.Sprintf("b%d", n))
		foretest.Near(t, fmt.Sprintf("width of B%d", n), bw, math.Sqrt(lw*sw), 1)
		foretest.Near(t, fmt.Sprintf("height of B%d", n), bh, math.Sqrt(lh*sh), 1)
	}
	// 1.1/jis-b: 1.5 times the area of A, about 1.22 times as long.
	for n := range 11 {
		aw, ah := size(t, fmt.Sprintf("a%d", n))
		jw, jh := size(t, fmt.Sprintf("jis-b%d", n))
		foretest.Near(t, fmt.Sprintf("area of JIS B%d by that of A%d", n, n), jw*jh/(aw*ah), 1.5, 1.5*(1/jw+1/jh+1/aw+1/ah))
		foretest.Near(t, fmt.Sprintf("JIS B%d by A%d", n, n), jh/ah, 1.22, 0.005+1/jh+1/ah)
	}
	// 1.1/nearest: rounding the exact sides to nearest gives these wrongly.
	for name, nearest := range map[string]float64{"a5": 149, "a2": 595, "b5": 177, "b3": 354} {
		letter, n := name[0], float64(name[1]-'0')
		long := map[byte]float64{'a': exact[0], 'b': 1000 * math.Sqrt2}[letter]
		side := long * math.Pow(2, -n/2)
		if name != "a2" {
			side /= math.Sqrt2 // the short side
		}
		foretest.Near(t, name+" rounded", math.Round(side), nearest, 0)
		w, h := size(t, name)
		if math.Abs(w-nearest) < 0.5 || math.Abs(h-nearest) < 0.5 {
			t.Errorf("%s is %g by %g, rounded to nearest", name, w, h)
		}
	}
	// Letter's drawing sizes alternate between two shapes.
	shapes := numbers(t, "1.3/alternate")
	for i, name := range []string{"tabloid", "ansi-c", "ansi-d", "ansi-e"} {
		w, h := size(t, name)
		foretest.Near(t, name, h/w, shapes[i%2], 5e-5)
	}
}

// The tolerances to which sheets are trimmed (ISO 216 as a paper merchant's page
// "Format B Size" gives it, JIS P 0138:1998 as a Japanese page does): a size of the shelf is uncertain
// by as much, until it is measured.
func TestTrim(t *testing.T) {
	within := func(side float64) float64 {
		switch {
		case side <= 150:
			return numbers(t, "1.1/trim-150")[0]
		case side <= 600:
			return numbers(t, "1.1/trim-600")[0]
		}
		return numbers(t, "1.1/trim-above")[0]
	}
	for _, prefix := range []string{"a", "b", "jis-b"} {
		for n := range 11 {
			name := fmt.Sprintf("%s%d", prefix, n)
			s := try(t, name, "")
			for _, side := range []string{"width", "height"} {
				d := evaltest.Dimension(t, s.Solution, name+"."+side)
				foretest.Near(t, "tolerance of "+d.Name, d.Uncertainty*math.Sqrt(3), within(d.Value), 1e-9)
			}
		}
	}
	// What is measured replaces it, and what is measured of a row moves a size that
	// is only known within its tolerance.
	s := evaltest.Sound(t, `use papers
notebook log like a5 { accuracy = 0.03; width = 148.2
  row wire on spine { count = 24; hole = rect 4 by 4; first = 5.62; last = 5.66; run = 194.76; inset = 4 } }
panel front covers log`)
	foretest.Near(t, "the width", evaltest.Dimension(t, s, "front.width").Value, 148.2, 1e-9)
	foretest.Near(t, "its uncertainty", evaltest.Dimension(t, s, "front.width").Uncertainty, 0.03/math.Sqrt(3), 1e-9)
	foretest.Near(t, "the height", evaltest.Dimension(t, s, "front.height").Value, 5.62+4+194.76+5.66, 0.01)
}
