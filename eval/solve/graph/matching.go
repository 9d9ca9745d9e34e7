package graph

import (
	"slices"

	"foredge/eval/solve/sparse"
)

// A Matching gives as many equations as possible an unknown of their own, each
// one that it mentions.
type Matching struct {
	mentions [][]int32 // the unknowns of each equation
	Unknown  []int32   // of each equation, the one it is given; -1 if there is none
	equation []int32   // of each unknown, the one it is given to; -1 if there is none

	seen  []int32 // of each unknown, the last search that came by
	round int32
}

// Match finds a largest matching of equations, given by the unknowns they
// mention, with n unknowns, by augmenting paths.
func Match(mentions [][]int32, n int) *Matching {
	m := &Matching{mentions: mentions, Unknown: make([]int32, len(mentions)), equation: make([]int32, n), seen: make([]int32, n)}
	for e := range m.Unknown {
		m.Unknown[e] = -1
	}
	for u := range m.equation {
		m.equation[u] = -1
	}
	for e := range mentions {
		m.round++
		m.augment(int32(e))
	}
	return m
}

// augment gives an equation an unknown: one that is still free if there is one,
// else one whose equation can be given another.
func (m *Matching) augment(e int32) bool {
	for _, u := range m.mentions[e] {
		if m.equation[u] < 0 {
			m.equation[u], m.Unknown[e] = e, u
			return true
		}
	}
	for _, u := range m.mentions[e] {
		if m.seen[u] == m.round {
			continue
		}
		m.seen[u] = m.round
		if m.augment(m.equation[u]) {
			m.equation[u], m.Unknown[e] = e, u
			return true
		}
	}
	return false
}

// Decided reports of each equation whether there are enough equations for all
// its unknowns: whether none of them can be reached from an unknown without
// equation by exchanging unknowns (Dulmage and Mendelsohn, Canad. J. Math. 10
// (1958) 517). It is the same for every largest matching.
func (m *Matching) Decided() []bool {
	holders := sparse.NewLister[int32](len(m.equation))
	for _, unknowns := range m.mentions {
		for _, u := range unknowns {
			holders.Expect(u)
		}
	}
	for e, unknowns := range m.mentions {
		for _, u := range unknowns {
			holders.Put(u, int32(e))
		}
	}
	of := holders.Done()
	decided := make([]bool, len(m.mentions))
	for e := range decided {
		decided[e] = true
	}
	reached := make([]bool, len(m.equation))
	var todo []int32
	for u, e := range m.equation {
		if e < 0 {
			reached[u] = true
			todo = append(todo, int32(u))
		}
	}
	for len(todo) > 0 {
		u := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, e := range of.Of(u) {
			decided[e] = false
			if next := m.Unknown[e]; next >= 0 && !reached[next] {
				reached[next] = true
				todo = append(todo, next)
			}
		}
	}
	return decided
}

// Blocks lists the sets of equations that can only be solved together, each in
// order and after those whose unknowns it takes. Equations that mention an
// unknown given to none, or to one left out for that, are in no block.
func (m *Matching) Blocks() [][]int32 {
	s := &components{Matching: m, index: make([]int32, len(m.mentions)), low: make([]int32, len(m.mentions)), on: make([]bool, len(m.mentions))}
	for e := range m.mentions {
		if m.Unknown[e] >= 0 && s.index[e] == 0 {
			s.visit(int32(e))
		}
	}
	var out [][]int32
	whole := make([]bool, len(m.mentions))
	for _, block := range s.found {
		for _, e := range block {
			whole[e] = true
		}
		if slices.ContainsFunc(block, func(e int32) bool {
			return slices.ContainsFunc(m.mentions[e], func(u int32) bool { return m.equation[u] < 0 || !whole[m.equation[u]] })
		}) {
			for _, e := range block {
				whole[e] = false
			}
			continue
		}
		slices.Sort(block)
		out = append(out, block)
	}
	return out
}

// The components are those of the graph in which an equation points to those
// that its unknowns are given to: the strongly connected ones (Tarjan, SIAM J.
// Comput. 1 (1972) 146), each found after those it points to.
type components struct {
	*Matching
	index, low []int32 // the number of each equation, from 1, and the least it leads back to
	stack      []int32
	on         []bool // the stack
	count      int32
	found      [][]int32
	kept       sparse.Slab[int32]
}

func (s *components) visit(e int32) {
	s.count++
	s.index[e], s.low[e] = s.count, s.count
	s.stack = append(s.stack, e)
	s.on[e] = true
	for _, u := range s.mentions[e] {
		next := s.equation[u]
		switch {
		case next < 0:
		case s.index[next] == 0:
			s.visit(next)
			s.low[e] = min(s.low[e], s.low[next])
		case s.on[next]:
			s.low[e] = min(s.low[e], s.index[next])
		}
	}
	if s.low[e] != s.index[e] {
		return
	}
	first := len(s.stack) - 1
	for ; s.stack[first] != e; first-- {
		s.on[s.stack[first]] = false
	}
	s.on[e] = false
	block := s.kept.Take(len(s.stack) - first)
	copy(block, s.stack[first:])
	s.stack = s.stack[:first]
	s.found = append(s.found, block)
}
