package tour

// A group is what is run without anything else between: the leaves of one item, the
// items of one part, the parts of one operation. A leaf is a group of its own.
type group struct {
	leaf    int32 // -1 if it has members
	members []*group
	after   [][]int32 // which member comes after which; nil if nothing binds them
	oneWay  bool      // its order can't be turned round
	size    int       // how many members it has all in all, for shares of the budget
}

func single(i int32) *group { return &group{leaf: i, size: 1} }

// plant makes the group of one operation from its leaves in the order given.
func (t *tour) plant(leaves []int32) *group {
	root := &group{leaf: -1}
	parts := map[int]*group{}
	items := map[int]*group{}
	for _, i := range leaves {
		p := parts[t.part[i]]
		if p == nil {
			p = &group{leaf: -1}
			parts[t.part[i]] = p
			root.members = append(root.members, p)
		}
		if t.item[i] < 0 { // what is between the contours of its item splits that
			p.members = append(p.members, single(i))
			continue
		}
		it := items[t.item[i]]
		if it == nil {
			it = &group{leaf: -1}
			items[t.item[i]] = it
			p.members = append(p.members, it)
		}
		it.members = append(it.members, single(i))
	}
	root = shrink(root)
	t.tie(root)
	return root
}

// shrink leaves out groups of one.
func shrink(g *group) *group {
	if g.leaf >= 0 {
		return g
	}
	for k, m := range g.members {
		g.members[k] = shrink(m)
	}
	if len(g.members) == 1 {
		return g.members[0]
	}
	g.size = len(g.members)
	for _, m := range g.members {
		if m.leaf < 0 {
			g.size += m.size
		}
	}
	return g
}

// untie finds where groups would have to come before one another, and so can't stay
// whole: parts of which each holds something of the other become one, and items give
// up their contours to the part.
func (t *tour) untie() {
	n := len(t.leaves)
	t.part, t.item = make([]int, n), make([]int, n)
	for i := range t.leaves {
		t.part[i], t.item[i] = t.leaves[i].part, t.leaves[i].item
	}
	t.part = whole(t.part, t.after)
	knot, count := whole(t.item, t.after), map[int]map[int]bool{}
	for i, k := range knot {
		if count[k] == nil {
			count[k] = map[int]bool{}
		}
		count[k][t.item[i]] = true
	}
	for i, k := range knot {
		if len(count[k]) > 1 {
			t.item[i] = -1
		}
	}
}

// whole gives the same number to groups that would have to come before one another.
func whole(of []int, after [][]int32) []int {
	number := map[int]int32{}
	dense := make([]int32, len(of))
	for i, g := range of {
		if _, ok := number[g]; !ok {
			number[g] = int32(len(number))
		}
		dense[i] = number[g]
	}
	var pairs [][2]int32
	for i, later := range after {
		for _, j := range later {
			if dense[i] != dense[j] {
				pairs = append(pairs, [2]int32{dense[i], dense[j]})
			}
		}
	}
	knot := make([]int, len(number))
	for i := range knot {
		knot[i] = i
	}
	if b := bound(len(number), pairs); b != nil {
		knot = knots(b)
	}
	all := make([]int, len(of))
	for i := range all {
		all[i] = knot[dense[i]]
	}
	return all
}

// tie lifts what binds leaves to the members of groups, and puts each group into the
// order that is nearest to the given one and keeps it.
func (t *tour) tie(root *group) {
	// member and holder say of each leaf in which member of a group it lies, going down.
	var pairs func(g *group)
	member := make([]int32, len(t.leaves))
	holder := make([]*group, len(t.leaves))
	pairs = func(g *group) {
		if g.leaf >= 0 {
			return
		}
		for k, m := range g.members {
			m.each(func(i int32) { member[i], holder[i] = int32(k), g })
		}
		var all [][2]int32
		g.each(func(i int32) {
			for _, j := range t.after[i] {
				if holder[j] == g && member[i] != member[j] {
					all = append(all, [2]int32{member[i], member[j]})
				}
			}
		})
		g.after = bound(len(g.members), all)
		t.mended = g.mend() || t.mended
		for _, m := range g.members {
			pairs(m)
			g.oneWay = g.oneWay || m.oneWay
		}
		g.oneWay = g.oneWay || g.after != nil
	}
	pairs(root)
}

// each visits the leaves of a group in their order.
func (g *group) each(visit func(i int32)) {
	if g.leaf >= 0 {
		visit(g.leaf)
		return
	}
	for _, m := range g.members {
		m.each(visit)
	}
}

// mend puts the members into the order nearest to theirs that keeps what binds them,
// and says whether that is another one.
func (g *group) mend() bool {
	if g.after == nil {
		return false
	}
	missing := make([]int, len(g.members))
	for _, later := range g.after {
		for _, j := range later {
			missing[j]++
		}
	}
	// Always the first in the given order that may come: a heap of their numbers.
	var ready minHeap
	for i, n := range missing {
		if n == 0 {
			ready.push(int32(i))
		}
	}
	order := make([]stop, 0, len(g.members))
	changed := false
	for len(ready) > 0 {
		i := ready.pop()
		changed = changed || int(i) != len(order)
		order = append(order, stop{node: i})
		for _, j := range g.after[i] {
			if missing[j]--; missing[j] == 0 {
				ready.push(j)
			}
		}
	}
	g.permute(order)
	return changed
}

// permute puts the members into another order.
func (g *group) permute(order []stop) {
	place := make([]int32, len(g.members))
	members := make([]*group, len(g.members))
	for k, st := range order {
		members[k], place[st.node] = g.members[st.node], int32(k)
	}
	g.members = members
	if g.after == nil {
		return
	}
	after := make([][]int32, len(g.after))
	for i, later := range g.after {
		for _, j := range later {
			after[place[i]] = append(after[place[i]], place[j])
		}
	}
	g.after = after
}

// A minHeap gives the least of its numbers first.
type minHeap []int32

func (h *minHeap) push(v int32) {
	*h = append(*h, v)
	a := *h
	for i := len(a) - 1; i > 0 && a[i] < a[(i-1)/2]; i = (i - 1) / 2 {
		a[i], a[(i-1)/2] = a[(i-1)/2], a[i]
	}
}

func (h *minHeap) pop() int32 {
	a := *h
	top := a[0]
	a[0] = a[len(a)-1]
	a = a[:len(a)-1]
	*h = a
	for i := 0; ; {
		c := 2*i + 1
		if c >= len(a) {
			return top
		}
		if c+1 < len(a) && a[c+1] < a[c] {
			c++
		}
		if a[i] <= a[c] {
			return top
		}
		a[i], a[c] = a[c], a[i]
		i = c
	}
}
