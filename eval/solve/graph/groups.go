package graph

// Groups are disjoint sets of the numbers from 0 to n - 1, each set known by its
// least member.
type Groups struct {
	parent []int32
}

// NewGroups puts each number into a group of its own.
func NewGroups(n int) Groups {
	g := Groups{make([]int32, n)}
	for i := range g.parent {
		g.parent[i] = int32(i)
	}
	return g
}

// Grow puts further numbers, up to n - 1, into groups of their own.
func (g *Groups) Grow(n int) {
	for i := len(g.parent); i < n; i++ {
		g.parent = append(g.parent, int32(i))
	}
}

// Root is the least member of the group that i is in.
func (g Groups) Root(i int32) int32 {
	for g.parent[i] != i {
		g.parent[i] = g.parent[g.parent[i]]
		i = g.parent[i]
	}
	return i
}

// Join makes one group of those that a and b are in.
func (g Groups) Join(a, b int32) {
	a, b = g.Root(a), g.Root(b)
	g.parent[max(a, b)] = min(a, b)
}
