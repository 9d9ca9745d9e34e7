package tour

import "context"

// A budget counts the steps of a search: candidates looked at, and an eighth of what
// is moved. Time plays no part, so the result is the same on any machine.
type budget struct {
	ctx      context.Context
	left     int64
	used     int64
	told     int64
	ended    bool
	progress func(used int64)
}

// between is how many steps go by from one look at the context to the next.
const between = 1 << 16

func (b *budget) spend(n int64) {
	b.left -= n
	b.used += n
	if b.used-b.told > between {
		b.told = b.used
		b.ended = b.ended || b.ctx.Err() != nil
		if b.progress != nil {
			b.progress(b.used)
		}
	}
}

func (b *budget) over() bool { return b.left <= 0 || b.ended }

// A chance draws numbers that look random: xorshift64* (S. Vigna, "An experimental
// exploration of Marsaglia's xorshift generators, scrambled", 2016).
type chance uint64

func (c *chance) draw(n int32) int32 {
	x := uint64(*c)
	x ^= x >> 12
	x ^= x << 25
	x ^= x >> 27
	*c = chance(x)
	return int32((x * 0x2545F4914F6CDD1D >> 33) % uint64(n))
}

const (
	seed = 0x9E3779B97F4A7C15
	// widest is how many nodes each of the two runs has at most that are swapped to
	// leave a local optimum. Near ones: then little is to be mended.
	widest = 50
)

// perturb swaps two neighbouring runs somewhere, the double bridge (O. Martin, S. W.
// Otto, E. W. Felten, "Large-step Markov chains for the traveling salesman problem",
// 1991), mends what that has made worse, and keeps what isn't longer, again and again
// until the budget is spent.
func (s *search) perturb() {
	if s.n < 4 {
		return
	}
	random := chance(seed)
	wide := min(widest, s.n/2)
	for !s.budget.over() {
		lo := 1 + random.draw(s.n-1)
		mid := lo + random.draw(min(wide, s.n-lo)) // the last of the first run
		hi := mid + 1 + random.draw(min(wide, s.n-mid))
		if hi > s.n || !s.maySwap(lo, mid, hi) {
			s.budget.spend(1)
			continue
		}
		p, q := s.out(s.seq[lo-1]), s.in(s.seq[hi+1])
		a, b := s.in(s.seq[lo]), s.out(s.seq[mid])
		c, d := s.in(s.seq[mid+1]), s.out(s.seq[hi])
		gain := s.cost(p, a) + s.cost(b, c) + s.cost(d, q) - s.cost(p, c) - s.cost(d, a) - s.cost(b, q)
		s.record = true
		for _, k := range [...]int32{lo - 1, lo, mid, mid + 1, hi, hi + 1} {
			s.push(s.seq[k])
		}
		s.swap(lo, mid, hi)
		gain += s.settle()
		if gain < -1e-3 {
			s.undo()
		}
		s.done, s.record = s.done[:0], false
	}
}

// maySwap says whether two neighbouring runs may change places.
func (s *search) maySwap(lo, mid, hi int32) bool {
	if s.after == nil {
		return true
	}
	for k := lo; k <= mid; k++ {
		for _, later := range s.after[s.seq[k]] {
			if s.at[later] <= hi && s.at[later] > mid {
				return false
			}
		}
	}
	return true
}

// swap has the runs lo to mid and mid+1 to hi change places.
func (s *search) swap(lo, mid, hi int32) {
	s.reverse(lo, hi)
	s.reverse(lo, lo+hi-mid-1)
	s.reverse(lo+hi-mid, hi)
}

// solve is the best order found within the budget, beginning with the given one, or
// with one of its own for nil.
func solve(p *problem, order []stop, b *budget) []stop {
	if len(p.nodes) <= mostExact {
		return exact(p, b)
	}
	if order == nil {
		order = construct(p, b)
	}
	s := newSearch(p, order, b)
	for k := int32(1); k <= s.n; k++ {
		s.push(s.seq[k])
	}
	s.settle()
	s.perturb()
	return s.order()
}
