package sheet

import "math/bits"

// A random is a source of random numbers, the same everywhere: SplitMix64 of G. L. Steele, D. Lea,
// C. H. Flood, "Fast Splittable Pseudorandom Number Generators", OOPSLA 2014.
type random uint64

func (r *random) next() uint64 {
	*r += 0x9e3779b97f4a7c15
	z := uint64(*r)
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// below is a number from 0 to n-1.
func (r *random) below(n int) int {
	hi, _ := bits.Mul64(r.next(), uint64(n))
	return int(hi)
}

// one reports true once in n.
func (r *random) one(n int) bool { return r.below(n) == 0 }

// halvings is how often 1 was halved to come to a random share of it, times 65536: the
// negative binary logarithm, between powers of 2 by a straight line, so that it is the same everywhere.
func (r *random) halvings() int64 {
	x := r.next() | 1
	zeros := bits.LeadingZeros64(x)
	return int64(zeros)<<16 + 2*(1<<16-int64(x<<zeros>>48))
}
