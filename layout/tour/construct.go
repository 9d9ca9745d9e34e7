package tour

// construct makes a first order: greedily by the shortest links where nothing binds,
// else by what is nearest among what may come next.
func construct(p *problem, b *budget) []stop {
	if p.after == nil && p.heat == nil && !anyOneWay(p.nodes) {
		return greedy(p)
	}
	return nearestNext(p, b)
}

func anyOneWay(nodes []node) bool {
	for i := range nodes {
		if nodes[i].oneWay {
			return true
		}
	}
	return false
}

// A chain is nodes that have been linked, as the ends where it begins and stops.
type chains struct {
	joined []int32 // of each end the one that it is linked to, -1 for none
	tip    []int32 // of each end at the tip of a chain, the other tip
}

// greedy takes the shortest links first that leave no node with three and close no
// ring (J. L. Bentley, "Fast algorithms for geometric traveling salesman problems",
// 1992). What is left over it links in further rounds, tip to tip.
func greedy(p *problem) []stop {
	n := int32(len(p.nodes))
	spots := make([]spot, 2*n+2)
	c := chains{joined: make([]int32, 2*n+2), tip: make([]int32, 2*n+2)}
	open := make([]int32, 0, 2*n+2) // tips of chains
	for i := range p.nodes {
		spots[2*i], spots[2*i+1] = p.nodes[i].ends[0], p.nodes[i].ends[1]
	}
	for e := range c.joined {
		c.joined[e], c.tip[e] = -1, int32(e)^1
	}
	for e := range 2 * n {
		open = append(open, e)
	}
	// The start and the end are one chain from the first, whose inside is the way back.
	from, to := 2*n, 2*n+1
	if p.from != nil {
		spots[from] = *p.from
		open = append(open, from)
	}
	if p.to != nil {
		spots[to] = *p.to
		open = append(open, to)
	}
	for round := 0; len(open) > 2 || round == 0; round++ {
		k := neighbours
		if len(open) <= 2*neighbours {
			k = len(open)
		}
		g := newGrid(spots, open)
		made := 0
		for _, l := range links(g, open, func(e int32) int32 { return min(e, c.tip[e]) }, k) {
			if c.joined[l.e] >= 0 || c.joined[l.f] >= 0 || c.tip[l.e] == l.f {
				continue
			}
			c.join(l.e, l.f)
			made++
		}
		kept := open[:0]
		for _, e := range open {
			if c.joined[e] < 0 {
				kept = append(kept, e)
			}
		}
		open = kept
		if made == 0 {
			break
		}
	}
	return c.walk(from, to, n)
}

func (c *chains) join(e, f int32) {
	a, b := c.tip[e], c.tip[f]
	c.joined[e], c.joined[f] = f, e
	c.tip[a], c.tip[b] = b, a
}

// walk reads the order off the links. What hangs on neither the start nor the end is
// one chain by then, or begins anywhere.
func (c *chains) walk(from, to, n int32) []stop {
	order := make([]stop, 0, n)
	seen := make([]bool, n)
	follow := func(e int32) { // e is where a node is entered
		for e >= 0 && e < 2*n && !seen[e/2] {
			seen[e/2] = true
			order = append(order, stop{e / 2, e%2 == 1})
			e = c.joined[e^1]
		}
	}
	follow(c.joined[from])
	var tail []int32 // nodes before the end, the last first
	for e := c.joined[to]; e >= 0 && e < 2*n && !seen[e/2]; e = c.joined[e^1] {
		seen[e/2] = true
		tail = append(tail, e)
	}
	for e := range 2 * n {
		if !seen[e/2] && c.joined[e] < 0 {
			follow(e)
		}
	}
	for k := len(tail) - 1; k >= 0; k-- {
		e := tail[k] // where the node is left
		order = append(order, stop{e / 2, e%2 == 0})
	}
	return order
}

// nearestNext goes on to what is nearest among the nodes before which nothing is left
// to be run, and that heat allows; if heat allows none, to what lies farthest.
func nearestNext(p *problem, b *budget) []stop {
	n := len(p.nodes)
	spots := make([]spot, 2*n)
	missing := make([]int, n) // how many nodes must still come before
	for i := range p.nodes {
		spots[2*i], spots[2*i+1] = p.nodes[i].ends[0], p.nodes[i].ends[1]
		if p.after != nil {
			for _, j := range p.after[i] {
				missing[j]++
			}
		}
	}
	// The grid holds all ends; those that may not come yet wait outside.
	all := make([]int32, 2*n)
	for e := range all {
		all[e] = int32(e)
	}
	g := newGrid(spots, all)
	for i := range p.nodes {
		if missing[i] > 0 {
			g.remove(int32(2 * i))
			g.remove(int32(2*i + 1))
		}
	}
	at, leaf := spots[0], p.fromLeaf
	if p.from != nil {
		at = *p.from
	}
	order := make([]stop, 0, n)
	var near []found
	for len(order) < n {
		entered := func(e int32) bool { return e%2 == 0 || !p.nodes[e/2].oneWay }
		near = near[:0]
		if p.heat != nil {
			near = g.nearest(near, at, 1, func(e int32) bool {
				b.spend(1)
				return entered(e) && !p.heat.near(leaf, p.leafAt(e))
			})
			if len(near) == 0 {
				near = append(near, p.coolest(g, leaf, entered))
			}
		} else {
			near = g.nearest(near, at, 1, entered)
		}
		e := near[0].end
		i := e / 2
		order = append(order, stop{i, e%2 == 1})
		at, leaf = spots[e^1], p.leafAt(e^1)
		g.remove(2 * i)
		g.remove(2*i + 1)
		if p.after != nil {
			for _, j := range p.after[i] {
				if missing[j]--; missing[j] == 0 {
					g.restore(2 * j)
					g.restore(2*j + 1)
				}
			}
		}
	}
	return order
}

// coolest is the end whose leaf heats another one least, of equal ones that of the lower
// number.
func (p *problem) coolest(g *grid, leaf int, entered func(end int32) bool) found {
	best := found{end: -1}
	for e := range int32(len(g.spots)) {
		if g.holds(e) && entered(e) {
			if c := p.heat.cost(leaf, p.leafAt(e)); best.end < 0 || c < best.d {
				best = found{e, c}
			}
		}
	}
	return best
}

// leafAt is the leaf that is run at an end of a node.
func (p *problem) leafAt(e int32) int {
	if e%2 == 0 {
		return p.nodes[e/2].first
	}
	return p.nodes[e/2].last
}
