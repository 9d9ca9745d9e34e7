package tour

import (
	"math"
	"math/bits"
)

// mostExact is up to how many nodes the shortest order is found for certain.
const mostExact = 7

// exact is the shortest order of a few nodes, by dynamic programming over the sets of
// those already run (M. Held, R. M. Karp, "A dynamic programming approach to
// sequencing problems", 1962).
func exact(p *problem, b *budget) []stop {
	n := len(p.nodes)
	if n == 0 {
		return nil
	}
	order := make([]stop, n)
	for k := range order {
		order[k].node = int32(k)
	}
	s := newOrder(p, order, b) // for its costs alone
	before := make([]int, n)   // which nodes must have been run
	side := make([]int, n)     // the first of each node's ends that it may be left at
	for i := range p.nodes {
		if k := &p.nodes[i]; k.oneWay || k.closed() && k.first == k.last {
			side[i] = 1 // where it is one, either end will do
		}
	}
	for i, earlier := range s.before {
		for _, j := range earlier {
			before[i] |= 1 << j
		}
	}
	// way[e][f] is what it takes to go from end f to the node that is then left at e.
	var way [2 * mostExact][2 * mostExact]float64
	for f := range 2 * n {
		for e := range 2 * n {
			way[e][f] = s.cost(int32(f), int32(e^1))
		}
	}
	// least[set][e] is the cost of the set's nodes run so that the last is left at end e.
	least := make([][2 * mostExact]float64, 1<<n)
	came := make([][2 * mostExact]int8, 1<<n)
	start := s.out(s.seq[0])
	for set := range least {
		for e := range 2 * n {
			least[set][e] = math.Inf(1)
		}
		for in := set; in != 0; in &= in - 1 {
			i := bits.TrailingZeros(uint(in))
			rest := set &^ (1 << i)
			if before[i]&^rest != 0 {
				continue
			}
			for e := 2*i + side[i]; e < 2*i+2; e++ {
				if rest == 0 {
					least[set][e], came[set][e] = s.cost(start, int32(e^1)), -1
					continue
				}
				best, last := math.Inf(1), 0
				left, to := &least[rest], &way[e]
				for from := rest; from != 0; from &= from - 1 {
					j := bits.TrailingZeros(uint(from))
					for f := 2*j + side[j]; f < 2*j+2; f++ {
						if c := left[f] + to[f]; c < best {
							best, last = c, f
						}
					}
				}
				least[set][e], came[set][e] = best, int8(last)
			}
		}
	}
	b.spend(int64(n*n) << n / 2)
	all := 1<<n - 1
	best := 0
	for e := range 2 * n {
		least[all][e] += s.cost(int32(e), s.in(s.seq[n+1]))
		if least[all][e] < least[all][best] {
			best = e
		}
	}
	for k, set, e := n-1, all, best; k >= 0; k-- {
		order[k] = stop{int32(e / 2), e%2 == 0}
		set, e = set&^(1<<(e/2)), int(came[set][e])
	}
	return order
}
