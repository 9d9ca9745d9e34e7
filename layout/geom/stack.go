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

// Over goes through the boxes that hold a point.
func (s *Stack) Over(x Point) *Descent {
	d := &Descent{stack: s, at: Box{x, x}}
	if len(s.index.boxes) > 0 {
		d.add(len(s.index.nodes)-1, 0)
	}
	return d
}

// A Descent goes through the boxes of a [Stack] that hold a point, the last one first, and
// looks no farther than it is asked to.
type Descent struct {
	Looked int // how many boxes, and nodes of them, were looked at
	stack  *Stack
	at     Box
	open   stackNodes
}

// Next is the next box; ok is false if there are no more.
func (d *Descent) Next() (i int, ok bool) {
	for len(d.open) > 0 {
		n := d.open.pop()
		if n.level == 0 {
			return n.top, true
		}
		for k := n.k * fan; k < min((n.k+1)*fan, len(d.stack.index.nodes[n.level-1])); k++ {
			d.add(n.level-1, k)
		}
	}
	return 0, false
}

func (d *Descent) add(level, k int) {
	d.Looked++
	if d.stack.index.nodes[level][k].Holds(d.at) {
		d.open.push(stackNode{d.stack.top[level][k], level, k})
	}
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
