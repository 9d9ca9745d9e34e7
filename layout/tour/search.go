package tour

import "math"

// A spot is a place in nanometres: whole numbers, so that the last bits in which
// machines may differ never reach a comparison.
type spot struct{ x, y float64 }

// away is the distance of two spots. The conversions keep the products from being
// fused with the sum, which some processors do and others don't.
func away(p, q spot) float64 {
	dx, dy := p.x-q.x, p.y-q.y
	return math.Sqrt(float64(dx*dx) + float64(dy*dy))
}

// A node is what is run in one go: a closed cut, entered and left at one spot, an
// open one, or a whole group of them.
type node struct {
	ends   [2]spot // where it is entered and left
	first  int     // the leaf that is run first, for heat
	last   int
	oneWay bool // it can't be run from its other end
}

func (n *node) closed() bool { return n.ends[0] == n.ends[1] && !n.oneWay }

// A problem is a number of nodes to be run one after another, and what binds their
// order.
type problem struct {
	nodes []node
	// from and to are where the head comes from and goes to, nil for anywhere; fromLeaf
	// is the leaf run before, -1 for none.
	from, to         *spot
	fromLeaf, toLeaf int
	after            [][]int32 // what must come after each node; nil if nothing binds
	heat             *heat
}

// A stop is a node in an order, and whether it is run from its other end.
type stop struct {
	node int32
	back bool
}

// A search holds an order of a problem's nodes while it is improved. Positions run
// from 1 to n; at 0 and n+1 stand the start and the end, as nodes n and n+1. End
// 2i of node i is where it is entered as long as it isn't turned, 2i+1 where it is
// left.
type search struct {
	n      int32
	ends   []spot
	leaf   []int32 // of each end, what is run there; nil without heat
	heat   *heat
	void   int32 // ends from this one on cost nothing: a free start or end
	closed []bool
	oneWay []bool
	rigid  bool // some node is run one way
	after  [][]int32
	before [][]int32
	near   [][]int32 // of each end, the ends of other nodes near to it, the nearest first
	seq    []int32
	at     []int32 // the position of each node
	turned []int32 // 1 where a node is run from its other end

	queue  []int32
	queued []bool
	done   []move // what has been turned since the last mark, to be undone
	record bool
	budget *budget
}

// A move turns what stands from position i to j round.
type move struct{ i, j int32 }

// longest is the most nodes that one move turns round. A search of more than so many
// nodes doesn't look at moves that would take long each.
const longest = 25_000

// neighbours is how many near ends each end is tried with.
const neighbours = 8

// newSearch starts from an order that keeps what binds the problem.
func newSearch(p *problem, order []stop, b *budget) *search {
	s := newOrder(p, order, b)
	s.near = nearEnds(s, neighbours)
	return s
}

// newOrder is an order of a problem, with what it costs.
func newOrder(p *problem, order []stop, b *budget) *search {
	n := int32(len(p.nodes))
	m := n + 2
	says, numbers := make([]bool, 3*m), make([]int32, 3*m)
	s := &search{
		n: n, ends: make([]spot, 2*m), closed: says[:m:m], oneWay: says[m : 2*m : 2*m], queued: says[2*m:],
		seq: numbers[:m:m], at: numbers[m : 2*m : 2*m], turned: numbers[2*m:],
		after: p.after, heat: p.heat, budget: b,
	}
	for i := range p.nodes {
		k := &p.nodes[i]
		s.ends[2*i], s.ends[2*i+1] = k.ends[0], k.ends[1]
		s.closed[i], s.oneWay[i] = k.closed(), k.oneWay
		s.rigid = s.rigid || k.oneWay
	}
	s.void = 2*n + 4
	start, end := n, n+1
	switch {
	case p.from == nil && p.to == nil:
		s.void = 2 * n
	case p.to == nil:
		s.void = 2*n + 2
		s.ends[2*n], s.ends[2*n+1] = *p.from, *p.from
	case p.from == nil: // the void one must have the highest number
		s.void = 2*n + 2
		start, end = end, start
		s.ends[2*n], s.ends[2*n+1] = *p.to, *p.to
	default:
		s.ends[2*n], s.ends[2*n+1] = *p.from, *p.from
		s.ends[2*n+2], s.ends[2*n+3] = *p.to, *p.to
	}
	if p.heat != nil {
		s.leaf = make([]int32, 2*n+4)
		for i := range p.nodes {
			s.leaf[2*i], s.leaf[2*i+1] = int32(p.nodes[i].first), int32(p.nodes[i].last)
		}
		s.leaf[2*start], s.leaf[2*start+1] = int32(p.fromLeaf), int32(p.fromLeaf)
		s.leaf[2*end], s.leaf[2*end+1] = int32(p.toLeaf), int32(p.toLeaf)
	}
	s.seq[0], s.seq[n+1] = start, end
	s.at[start], s.at[end] = 0, n+1
	for k, st := range order {
		s.seq[k+1], s.at[st.node] = st.node, int32(k+1)
		if st.back {
			s.turned[st.node] = 1
		}
	}
	if p.after != nil {
		s.before = make([][]int32, n)
		for i, later := range p.after {
			for _, j := range later {
				s.before[j] = append(s.before[j], int32(i))
			}
		}
	}
	return s
}

// order is the order as it stands.
func (s *search) order() []stop {
	all := make([]stop, s.n)
	for k := range all {
		i := s.seq[k+1]
		all[k] = stop{i, s.turned[i] == 1}
	}
	return all
}

// in and out are the ends at which a node is entered and left.
func (s *search) in(node int32) int32  { return 2*node + s.turned[node] }
func (s *search) out(node int32) int32 { return 2*node + 1 - s.turned[node] }

// cost is what it takes to go from one end to another.
func (s *search) cost(a, b int32) float64 {
	if s.heat != nil {
		return s.heated(a, b)
	}
	if a >= s.void || b >= s.void {
		return 0
	}
	return away(s.ends[a], s.ends[b])
}

func (s *search) heated(a, b int32) float64 {
	var c float64
	if a < s.void && b < s.void {
		c = away(s.ends[a], s.ends[b])
	}
	return c + s.heat.cost(int(s.leaf[a]), int(s.leaf[b]))
}

// total is the cost of the order as it stands.
func (s *search) total() float64 {
	var sum float64
	for k := int32(0); k <= s.n; k++ {
		sum += s.cost(s.out(s.seq[k]), s.in(s.seq[k+1]))
	}
	return sum
}

// reverse turns round what stands from position i to j.
func (s *search) reverse(i, j int32) {
	if s.record {
		s.done = append(s.done, move{i, j})
	}
	s.budget.spend(int64(j-i)/8 + 1)
	for ; i < j; i, j = i+1, j-1 {
		u, v := s.seq[i], s.seq[j]
		s.seq[i], s.seq[j] = v, u
		s.at[v], s.at[u] = i, j
		s.turn(u)
		s.turn(v)
	}
	if i == j {
		s.turn(s.seq[i])
	}
}

func (s *search) turn(node int32) {
	if !s.oneWay[node] {
		s.turned[node] ^= 1
	}
}

// undo takes back what has been turned.
func (s *search) undo() {
	s.record = false
	for k := len(s.done) - 1; k >= 0; k-- {
		s.reverse(s.done[k].i, s.done[k].j)
	}
	s.done = s.done[:0]
}

func (s *search) push(node int32) {
	if node < s.n && !s.queued[node] {
		s.queued[node] = true
		s.queue = append(s.queue, node)
	}
}

// settle improves the order about the nodes of the queue until no move there makes
// it shorter, or the budget is spent. It returns by how much the cost fell.
func (s *search) settle() (gain float64) {
	for k := 0; k < len(s.queue); k++ {
		node := s.queue[k]
		s.queued[node] = false
		for !s.budget.over() {
			g := s.improve(node)
			if g == 0 {
				break
			}
			gain += g
		}
	}
	s.queue = s.queue[:0]
	return gain
}
