package groups

// Groups are groups of numbers from 0 up. The zero value has none.
type Groups struct {
	above []int // one of the same group that is no greater; itself for the least
}

// New puts each of n numbers into a group of its own.
func New(n int) *Groups {
	g := &Groups{above: make([]int, n)}
	for i := range g.above {
		g.above[i] = i
	}
	return g
}

// Add puts the next number into a group of its own, and returns it.
func (g *Groups) Add() int {
	n := len(g.above)
	g.above = append(g.above, n)
	return n
}

// Find is the least number of the group of i.
func (g *Groups) Find(i int) int {
	for g.above[i] != i {
		g.above[i] = g.above[g.above[i]]
		i = g.above[i]
	}
	return i
}

// Same reports whether two numbers are in one group.
func (g *Groups) Same(i, j int) bool { return g.Find(i) == g.Find(j) }

// Unite makes one group of two; it reports whether they were two.
func (g *Groups) Unite(i, j int) bool {
	i, j = g.Find(i), g.Find(j)
	g.above[max(i, j)] = min(i, j)
	return i != j
}

// Lists are the groups, each in rising order, ordered by their least numbers.
func (g *Groups) Lists() [][]int {
	var lists [][]int
	place := make([]int, len(g.above)) // of a group, by its least number
	for i := range g.above {
		least := g.Find(i)
		if least == i {
			place[i] = len(lists)
			lists = append(lists, nil)
		}
		lists[place[least]] = append(lists[place[least]], i)
	}
	return lists
}
