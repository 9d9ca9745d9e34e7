package root

import (
	"math"
	"slices"
)

// Far is how far from 0 a dimension of a non-linear relation is looked for, in
// mm.
const Far = 1e6

// Scan looks for the zeros of f between low and high: it brackets changes of
// sign on a grid that is finer near 0, and looks into each dip that may touch
// 0 without crossing it. any says that f is 0 on a stretch.
func Scan(f func(float64) float64, low, high float64) (found []float64, any bool) {
	grid := scanGrid(low, high)
	values := make([]float64, len(grid))
	flat := 0
	for i, x := range grid {
		values[i] = f(x)
		if values[i] == 0 || i > 0 && values[i] == values[i-1] && math.Abs(values[i]) <= level {
			flat++
			if flat >= 3 {
				return nil, true
			}
			if values[i] == 0 {
				found = append(found, x)
			}
		} else {
			flat = 0
		}
	}
	for i := range grid {
		y := values[i]
		if math.IsNaN(y) || y == 0 {
			continue
		}
		if i+1 < len(grid) && y*values[i+1] < 0 {
			if x, ok := bisect(f, grid[i], grid[i+1], y); ok {
				found = append(found, x)
			}
		}
		if i == 0 || i+1 == len(grid) {
			continue
		}
		a, b := values[i-1], values[i+1]
		if !(a*y > 0 && b*y > 0 && math.Abs(y) <= math.Abs(a) && math.Abs(y) <= math.Abs(b)) {
			continue
		}
		x := dip(f, grid[i-1], grid[i+1], y > 0)
		switch z := f(x); {
		case z*y < 0:
			if left, ok := bisect(f, grid[i-1], x, a); ok {
				found = append(found, left)
			}
			if right, ok := bisect(f, x, grid[i+1], z); ok {
				found = append(found, right)
			}
		case math.Abs(z) <= 1e-12*(1+math.Abs(a)+math.Abs(b)):
			found = append(found, x)
		}
	}
	slices.Sort(found)
	return slices.CompactFunc(found, func(a, b float64) bool {
		return math.Abs(a-b) <= 1e-6*max(1, math.Abs(a))
	}), false
}

// level is how far from 0 f may be on a whole stretch, as far as what it is made of was
// worked out, in mm.
const level = 1e-7

func scanGrid(low, high float64) []float64 {
	var grid []float64
	add := func(x float64) {
		if x >= low && x <= high {
			grid = append(grid, x)
		}
	}
	add(low)
	add(high)
	add(0)
	for x := 1e-4; x <= Far; x *= 1.06 {
		add(x)
		add(-x)
	}
	if width := high - low; width < Far {
		for i := 1; i < 100; i++ {
			add(low + width*float64(i)/100)
		}
	}
	slices.Sort(grid)
	return slices.Compact(grid)
}

// bisect finds the change of sign between a and b; ok is false where it is a
// jump and no zero.
func bisect(f func(float64) float64, a, b, fa float64) (float64, bool) {
	fb := f(b)
	start := min(math.Abs(fa), math.Abs(fb))
	for range 200 {
		m := a + (b-a)/2
		if m == a || m == b {
			break
		}
		fm := f(m)
		switch {
		case fm == 0:
			return m, true
		case math.IsNaN(fm):
			return 0, false
		case fm*fa > 0:
			a, fa = m, fm
		default:
			b, fb = m, fm
		}
	}
	if math.Abs(fb) < math.Abs(fa) {
		a, fa = b, fb
	}
	return a, math.Abs(fa) <= start && math.Abs(fa) <= 1e-6*(1+math.Abs(a))
}

// dip finds where f comes nearest to 0 between a and b, by golden section.
func dip(f func(float64) float64, a, b float64, above bool) float64 {
	g := f
	if !above {
		g = func(x float64) float64 { return -f(x) }
	}
	const ratio = 0.6180339887498949
	c, d := b-ratio*(b-a), a+ratio*(b-a)
	gc, gd := g(c), g(d)
	for range 100 {
		if gc < gd {
			b, d, gd = d, c, gc
			c = b - ratio*(b-a)
			gc = g(c)
		} else {
			a, c, gc = c, d, gd
			d = a + ratio*(b-a)
			gd = g(d)
		}
	}
	return (a + b) / 2
}
