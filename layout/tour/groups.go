package tour

import (
	"cmp"
	"slices"
)

// arrangeAll arranges one operation after the other, anew or from the order as it is.
func (t *tour) arrangeAll(steps int64, anew bool) {
	t.regroup()
	all := 0
	for _, g := range t.roots {
		all += g.size
	}
	from, fromLeaf := ofPoint(t.o.From.Get()), -1
	for k, g := range t.roots {
		var to *spot
		if k == len(t.roots)-1 {
			to = ofPoint(t.o.To.Get())
		} else if !anew {
			next := t.roots[k+1].head()
			to = &t.leaves[next].at.in
		}
		t.arrange(g, job{from, to, fromLeaf, -1, steps / int64(max(all, 1)), anew})
		tail := g.tail()
		from, fromLeaf = &t.leaves[tail].at.out, int(tail)
	}
	t.gather()
}

// regroup puts the groups into the order of the leaves.
func (t *tour) regroup() {
	place := make([]int32, len(t.leaves))
	for k, i := range t.order {
		place[i] = int32(k)
	}
	for _, g := range t.roots {
		g.sortBy(place)
	}
}

func (g *group) sortBy(place []int32) {
	if g.leaf >= 0 {
		return
	}
	for _, m := range g.members {
		m.sortBy(place)
	}
	order := make([]stop, len(g.members))
	for k := range order {
		order[k].node = int32(k)
	}
	slices.SortFunc(order, func(a, b stop) int {
		return cmp.Compare(place[g.members[a.node].head()], place[g.members[b.node].head()])
	})
	g.permute(order)
}

// head and tail are the leaves that a group begins and ends with.
func (g *group) head() int32 {
	for g.leaf < 0 {
		g = g.members[0]
	}
	return g.leaf
}

func (g *group) tail() int32 {
	for g.leaf < 0 {
		g = g.members[len(g.members)-1]
	}
	return g.leaf
}

// A job is what a group is arranged between, and how many steps each member is worth.
type job struct {
	from, to         *spot
	fromLeaf, toLeaf int
	steps            int64
	anew             bool // not from the order as it is
}

// arrange orders the members of a group, and those of its groups first by themselves
// and then between their neighbours.
func (t *tour) arrange(g *group, j job) {
	if g.leaf >= 0 {
		return
	}
	nested := false
	for _, m := range g.members {
		if m.leaf >= 0 {
			continue
		}
		nested = true
		if j.anew {
			t.arrange(m, job{nil, nil, -1, -1, j.steps / 2, true})
		}
	}
	t.budget.left = j.steps * int64(len(g.members))
	order := solveBound(t.problem(g, j), j.anew, &t.budget)
	for _, st := range order {
		if st.back {
			t.flip(g.members[st.node])
		}
	}
	g.permute(order)
	if !nested {
		return
	}
	for k, m := range g.members {
		if m.leaf >= 0 {
			continue
		}
		inner := job{j.from, j.to, j.fromLeaf, j.toLeaf, j.steps / 2, false}
		if k > 0 {
			i := g.members[k-1].tail()
			inner.from, inner.fromLeaf = &t.leaves[i].at.out, int(i)
		}
		if k+1 < len(g.members) {
			i := g.members[k+1].head()
			inner.to, inner.toLeaf = &t.leaves[i].at.in, int(i)
		}
		t.arrange(m, inner)
	}
}

// problem is how the members of a group are to be ordered.
func (t *tour) problem(g *group, j job) *problem {
	p := &problem{
		nodes: make([]node, len(g.members)), after: g.after, heat: t.heat,
		from: j.from, to: j.to, fromLeaf: j.fromLeaf, toLeaf: j.toLeaf,
	}
	for k, m := range g.members {
		head, tail := m.head(), m.tail()
		p.nodes[k] = node{
			ends:  [2]spot{t.leaves[head].at.in, t.leaves[tail].at.out},
			first: int(head), last: int(tail), oneWay: m.oneWay,
		}
	}
	return p
}

// flip turns the order of a group round.
func (t *tour) flip(g *group) {
	if g.leaf >= 0 {
		t.leaves[g.leaf].at = t.leaves[g.leaf].at.turned()
		return
	}
	slices.Reverse(g.members)
	for _, m := range g.members {
		t.flip(m)
	}
}

// solveBound solves a problem. A node after which nothing comes while all others come
// before it, such as the outline of a part, is put last at once: mostly nothing then
// binds the rest.
func solveBound(p *problem, anew bool, b *budget) []stop {
	last := p.outermost()
	if last < 0 {
		return solveFrom(p, anew, b)
	}
	rest := *p
	rest.nodes = slices.Delete(slices.Clone(p.nodes), last, last+1)
	rest.to, rest.toLeaf = &p.nodes[last].ends[0], p.nodes[last].first
	var pairs [][2]int32
	for i, later := range p.after {
		for _, k := range later {
			if int(k) != last {
				pairs = append(pairs, [2]int32{without(int32(i), last), without(k, last)})
			}
		}
	}
	rest.after = bound(len(rest.nodes), pairs)
	order := solveFrom(&rest, anew, b)
	for k := range order {
		if order[k].node >= int32(last) {
			order[k].node++
		}
	}
	return append(order, stop{node: int32(last)})
}

// without is the number of a node once one is taken out.
func without(i int32, out int) int32 {
	if i > int32(out) {
		return i - 1
	}
	return i
}

func solveFrom(p *problem, anew bool, b *budget) []stop {
	if anew {
		return solve(p, nil, b)
	}
	order := make([]stop, len(p.nodes))
	for k := range order {
		order[k].node = int32(k)
	}
	return solve(p, order, b)
}

// outermost is the only node after which nothing comes, -1 if there are several.
func (p *problem) outermost() int {
	last := -1
	for i, later := range p.after {
		if len(later) > 0 {
			continue
		}
		if last >= 0 {
			return -1
		}
		last = i
	}
	return last
}
