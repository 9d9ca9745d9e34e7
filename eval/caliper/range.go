package caliper

import (
	"math"
	"slices"
)

// A Repeat is what one list of repeated readings says of itself.
type Repeat struct {
	Range float64 // from its least value to its greatest
	// Kept says that some length lies within what was promised of every value, so
	// that none of them can be accused.
	Kept bool
	// Chance is the probability that n values scatter as far, or farther, where
	// each is normal with the standard deviation that the promise and the last
	// digit leave.
	Chance float64
	// Odd are the values farthest from the median, by their places: of two, or of
	// as many on either side, both.
	Odd []int
	// Median is that of all values.
	Median float64
}

// Repeats compares readings of one thing, at least two, with each other. step is
// that of their last digit as written, or the tool's digital step if that is
// coarser.
//
// What the promise leaves for the difference of two values is all of it: a tool may
// err one way and then the other. So values not more than 2g + step apart keep the
// promise, whatever their scatter. Beyond that they are held against the range of n
// normal values with the variance g²/3 + step²/12.
func (t Tool) Repeats(reads []float64, step float64) Repeat {
	step = math.Max(step, t.Resolution)
	sorted := slices.Clone(reads)
	slices.Sort(sorted)
	n := len(sorted)
	r := Repeat{Range: sorted[n-1] - sorted[0], Median: (sorted[(n-1)/2] + sorted[n/2]) / 2, Chance: 1}
	far := math.Max(sorted[n-1]-r.Median, r.Median-sorted[0])
	for i, v := range reads {
		if math.Abs(v-r.Median) >= far*(1-1e-9) {
			r.Odd = append(r.Odd, i)
		}
	}
	r.Kept = r.Range <= (2*t.Accuracy+step)*(1+1e-9)
	if !r.Kept {
		r.Chance = BeyondRange(r.Range/math.Sqrt(t.Accuracy*t.Accuracy/3+step*step/12), n)
	}
	return r
}

// BeyondRange is the probability that the range of n independent standard normal
// values is wider than w:
//
//	1 - n ∫ φ(x) (Φ(x+w) - Φ(x))ⁿ⁻¹ dx
//
// with x the least of them (L. H. C. Tippett, "On the extreme individuals and the
// range of samples taken from a normal population", Biometrika 17, 1925). ISO
// 5725-6:1994 holds repeats against it: its critical range factors are the 95 %
// points for n of 2 to 50. It is good to 1e-10 or so for lists that a file
// can hold.
func BeyondRange(w float64, n int) float64 {
	switch {
	case n < 2 || w <= 0:
		return 1
	case n == 2:
		return math.Erfc(w / 2)
	}
	// The density of the least value, times the probability that not all others
	// lie within w of it: without 1 - 1, a small chance keeps its digits.
	power := float64(n - 1)
	missed := func(x float64) float64 {
		above := upper(x)
		if above == 0 {
			return 0
		}
		least := float64(n) * math.Exp(-x*x/2) / math.Sqrt(2*math.Pi) * math.Pow(above, power)
		return least * -math.Expm1(power*math.Log1p(-upper(x+w)/above))
	}
	// The least of 100,000 values lies above -15. The trapezoidal rule converges
	// fast where a smooth function and its derivatives end in nothing.
	const from, to, pieces = -15.0, 9.0, 240
	h, sum := (to-from)/pieces, 0.0
	for i := 1; i < pieces; i++ {
		sum += missed(from + float64(i)*h)
	}
	return math.Min(1, sum*h)
}

// upper is the probability that a standard normal value lies above x.
func upper(x float64) float64 { return math.Erfc(x/math.Sqrt2) / 2 }
