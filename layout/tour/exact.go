package tour

import "math"

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
	s := newSearch(p, order, b) // for its costs alone
	before := make([]int, n)    // which nodes must have been run
	for i, earlier := range s.before {
		for _, j := range earlier {
			before[i] |= 1 << j
		}
	}
	// least[set][e] is the cost of the set's nodes run so that the last is left at end e.
	least := make([][]float64, 1<<n)
	came := make([][]int32, 1<<n)
	start := s.out(s.seq[0])
	for set := range least {
		least[set], came[set] = make([]float64, 2*n), make([]int32, 2*n)
		for e := range least[set] {
			least[set][e] = math.Inf(1)
			i := e / 2
			rest := set &^ (1 << i)
			if set>>i&1 == 0 || before[i]&^rest != 0 || p.nodes[i].oneWay && e%2 == 0 {
				continue
			}
			in := int32(e ^ 1)
			if rest == 0 {
				least[set][e], came[set][e] = s.cost(start, in), -1
			}
			for f, c := range least[rest] {
				if c += s.cost(int32(f), in); rest != 0 && c < least[set][e] {
					least[set][e], came[set][e] = c, int32(f)
				}
			}
		}
	}
	b.spend(int64(n*n) << n / 2)
	all := 1<<n - 1
	best := 0
	for e := range least[all] {
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
