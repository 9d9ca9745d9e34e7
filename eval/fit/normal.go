package fit

import (
	"math"
	"slices"
)

// far is a deviation in standard deviations beyond which nothing happens.
const far = 40

// share is the probability that a standard normal deviate lies between two
// bounds.
func share(from, to float64) float64 {
	if !(from < to) {
		return 0
	}
	tail := func(x float64) float64 { return 0.5 * math.Erfc(x/math.Sqrt2) }
	if from > 0 {
		return tail(from) - tail(to) // without losing the digits of a small tail
	}
	return tail(-to) - tail(-from)
}

// density is that of the standard normal distribution.
func density(x float64) float64 { return math.Exp(-x*x/2) / math.Sqrt(2*math.Pi) }

// standard is x in units of s, and far away where s is 0.
func standard(x, s float64) float64 {
	if s > 0 {
		return math.Max(-far, math.Min(far, x/s))
	}
	if x < 0 {
		return -far
	}
	return far
}

// rectangle is the probability that two standard normal deviates with the
// correlation r lie between x1 and x2, and y1 and y2. The derivative of a
// bivariate normal probability by its correlation is the density at the corner
// (Plackett, "A reduction formula for normal multivariate integrals",
// Biometrika 41, 1954), which with r = sin θ leaves one integral of smooth
// functions for all four corners.
func rectangle(x1, x2, y1, y2, r float64) float64 {
	if !(x1 < x2) || !(y1 < y2) {
		return 0
	}
	if r < 0 {
		y1, y2, r = -y2, -y1, -r
	}
	if r > 1-1e-14 {
		return share(math.Max(x1, y1), math.Min(x2, y2)) // they are one
	}
	px, py := share(x1, x2), share(y1, y2)
	p := px * py
	// The least of the corners' distances bounds what the integral can add.
	d := math.Max(math.Min(math.Abs(x1), math.Abs(x2)), math.Min(math.Abs(y1), math.Abs(y2)))
	if r == 0 || d > 6.6 || px < 1e-10 || py < 1e-10 {
		return p
	}
	top := math.Asin(math.Min(1, r))
	p += integrate(func(angle float64) float64 {
		sin, cos := math.Sincos(angle)
		corner := func(x, y float64) float64 {
			// (x² + y² - 2xy sin) / (2 cos²), without its 0/0 at a right angle
			d := 0.0
			if x != y {
				d = (x - y) / cos
			}
			return math.Exp(-d*d/2 - x*y/(1+sin))
		}
		return (corner(x2, y2) - corner(x1, y2) - corner(x2, y1) + corner(x1, y1)) / (2 * math.Pi)
	}, mesh(0, top, math.Inf(1), 0, math.Max(1e-9, math.Pi/2-top)), 1e-9)
	return math.Max(0, math.Min(1, p))
}

// mesh divides an interval for [integrate]: into even pieces no wider than wide,
// and, where the function may change within the distance near of the lower end,
// or last of the upper end, finely there and ever more coarsely away from it.
func mesh(from, to, wide, near, last float64) []float64 {
	points := []float64{from, to}
	for d := near; d > 0 && d < (to-from)/2; d *= 4 {
		points = append(points, from+d)
	}
	for d := last; d > 0 && d < (to-from)/2; d *= 4 {
		points = append(points, to-d)
	}
	n := math.Ceil((to - from) / wide)
	for i := 1.0; i < n; i++ {
		points = append(points, from+(to-from)*i/n)
	}
	slices.Sort(points)
	return points
}

// integrate finds the integral of f from the first point to the last, by Gauss
// and Kronrod's rule of 7 and 15 points (QUADPACK, 1983) on the intervals
// between points, halved where the two differ by more than tol. As the finer of
// them is far better than their difference, the whole is as good as that. The
// bound isn't shared out among halves: f may itself be good to no more.
func integrate(f func(float64) float64, points []float64, tol float64) float64 {
	sum := 0.0
	for i := range len(points) - 1 {
		if points[i] < points[i+1] {
			sum += halve(f, points[i], points[i+1], tol, 40)
		}
	}
	return sum
}

func halve(f func(float64) float64, from, to, tol float64, depth int) float64 {
	nodes := [8]float64{0.991455371120812639206854697526329, 0.949107912342758524526189684047851,
		0.864864423359769072789712788640926, 0.741531185599394439863864773280788, 0.586087235467691130294144691693740,
		0.405845151377397166906606412076961, 0.207784955007898467600689403773245, 0}
	kronrod := [8]float64{0.022935322010529224963732008058970, 0.063092092629978553290700663189204,
		0.104790010322250183839876322541518, 0.140653259715525918745189590510238, 0.169004726639267902826583426598550,
		0.190350578064785409913256402421014, 0.204432940075298892414161999234649, 0.209482141084727828012999174891714}
	gauss := [4]float64{0.129484966168869693270611432679082, 0.279705391489276667901467771423780,
		0.381830050505118944950369775488975, 0.417959183673469387755102040816327}
	mid, half := (from+to)/2, (to-from)/2
	fine, coarse := 0.0, 0.0
	for i, x := range nodes {
		v := f(mid + half*x)
		if x > 0 {
			v += f(mid - half*x)
		}
		fine += kronrod[i] * v
		if i%2 == 1 {
			coarse += gauss[i/2] * v
		}
	}
	fine, coarse = fine*half, coarse*half
	if depth == 0 || math.Abs(fine-coarse) <= tol {
		return fine
	}
	return halve(f, from, mid, tol, depth-1) + halve(f, mid, to, tol, depth-1)
}
