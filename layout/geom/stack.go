package geom

import "slices"

// A Stack finds which of many boxes that lie on one another hold a place, the last of
// them, which is on top, first. It doesn't change once made.
type Stack struct {
	index *Index
	top   [][]int // the number of the last box in each node
}

// NewStack makes a stack of boxes.
func NewStack(boxes []Box) *Stack {
	s := &Stack{index: NewIndex(boxes)}
	below := s.index.order
	s.top = append(s.top, below)
	for _, nodes := range s.index.nodes[1:] {
		level := make([]int, len(nodes))
		for k := range level {
			level[k] = slices.Max(below[k*fan : min((k+1)*fan, len(below))])
		}
		s.top, below = append(s.top, level), level
	}
	return s
}

// FromTop calls item for each box that holds a point, the last one first, until it has
// seen enough. It returns how many boxes, and nodes of them, were looked at.
func (s *Stack) FromTop(x Point, item func(i int) (enough bool)) (looked int) {
	if len(s.index.boxes) == 0 {
		return 0
	}
	open := stackNodes{}
	add := func(level, k int) {
		looked++
		if s.index.nodes[level][k].Holds(Box{x, x}) {
			open.push(stackNode{s.top[level][k], level, k})
		}
	}
	for add(len(s.index.nodes)-1, 0); len(open) > 0; {
		n := open.pop()
		if n.level == 0 {
			if item(n.top) {
				break
			}
			continue
		}
		for k := n.k * fan; k < min((n.k+1)*fan, len(s.index.nodes[n.level-1])); k++ {
			add(n.level-1, k)
		}
	}
	return looked
}

// A stackNode is a node of a [Stack], or one of its boxes at level 0, and the last box in it.
type stackNode struct{ top, level, k int }

// stackNodes are a heap: the node with the last box of all comes first, and each before
// the two at twice its place.
type stackNodes []stackNode

func (h *stackNodes) push(n stackNode) {
	*h = append(*h, n)
	for c := len(*h) - 1; c > 0 && (*h)[(c-1)/2].top < (*h)[c].top; c = (c - 1) / 2 {
		h.swap(c, (c-1)/2)
	}
}

func (h *stackNodes) pop() stackNode {
	first, last := (*h)[0], len(*h)-1
	h.swap(0, last)
	*h = (*h)[:last]
	for c := 0; ; {
		greater := c
		for child := 2*c + 1; child <= min(2*c+2, last-1); child++ {
			if (*h)[child].top > (*h)[greater].top {
				greater = child
			}
		}
		if greater == c {
			return first
		}
		h.swap(c, greater)
		c = greater
	}
}

func (h stackNodes) swap(i, j int) { h[i], h[j] = h[j], h[i] }
