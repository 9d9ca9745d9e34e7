package sheet

// A step is what was done at one gap: the part that was laid, or node 0 if the gap was given up.
type step struct {
	node   int32
	turned bool
	score  int8
}

// A trial lays a sequence of single parts on one floor, again and again with two of them
// changed. What comes before the first step that the change can touch isn't decided anew.
type trial struct {
	filler
	fl        floor
	turned    bool // the floor is filled from its side
	sizes     []size
	seq       []run
	old, new  []step // what was done for the sequence as kept, and as tried
	top, over int64
	left      int
	gone      []bool // by node: laid before the change
}

// first lays the sequence from its beginning.
func (t *trial) first() {
	t.start(t.sizes, t.turned, t.seq)
	t.begin(t.fl)
	t.new, t.top, t.over, t.left = t.new[:0], 0, 0, len(t.seq)
	t.rest()
	t.old, t.new = t.new, t.old
}

// A change is one to a sequence: the parts at i < j change places, or the one at i = j is laid the
// other way if nothing else decides.
type change struct{ i, j int }

func (t *trial) change(c change) {
	if c.i == c.j {
		t.seq[c.i].upright = !t.seq[c.i].upright
	}
	t.seq[c.i], t.seq[c.j] = t.seq[c.j], t.seq[c.i]
}

// changed lays the sequence with a change.
func (t *trial) changed(c change) {
	t.change(c)
	t.start(t.sizes, t.turned, t.seq)
	t.begin(t.fl)
	t.new, t.top, t.over, t.left = t.new[:0], 0, 0, len(t.seq)
	first, second := int32(c.i+1), int32(c.j+1)
	t.gone = append(t.gone[:0], make([]bool, len(t.nodes))...)
	waits := true // the part that came forward isn't laid yet
	for _, s := range t.old {
		at := t.lowest()
		if s.node == 0 {
			t.new = append(t.new, s)
			t.raise(at)
			continue
		}
		gap := t.sky[at]
		l, r := t.walls(at, t.fl.aim)
		if s.node == first || waits && s.node > first && s.node != second && t.suits(first, gap, l, r, s.score) {
			break
		}
		if s.node == second {
			s.node, waits = first, false
		}
		t.gone[s.node] = true
		t.put(at, s, l, r)
	}
	// What is left of the sequence.
	last := int32(0)
	for n := int32(1); n < int32(len(t.nodes)); n++ {
		if !t.gone[n] {
			t.nodes[last].next = n
			last = n
		}
	}
	t.nodes[last].next = 0
	t.rest()
}

// suits reports whether a part matches a gap as well as the one that was chosen.
func (t *trial) suits(node int32, gap segment, left, right int64, score int8) bool {
	high, low := max(left, right), min(left, right)
	n := &t.nodes[node]
	room := t.fl.h - gap.y
	return n.w <= gap.w && n.h <= room && match(n.w, n.h, gap.w, high, low, t.fl.tol) >= int(score) ||
		n.tw <= gap.w && n.th <= room && match(n.tw, n.th, gap.w, high, low, t.fl.tol) >= int(score)
}

// put lays a part.
func (t *trial) put(at int, s step, left, right int64) {
	n := &t.nodes[s.node]
	w, h := n.w, n.h
	if s.turned {
		w, h = n.tw, n.th
	}
	y := t.sky[at].y
	x := t.place(at, w, h, left, right, t.fl.tol)
	t.new = append(t.new, s)
	t.spots = append(t.spots, spot{t.seq[s.node-1].kind, s.turned != n.upright, x, y, w, h})
	t.left--
	t.top = max(t.top, y+h)
	if out := y + h - t.fl.aim; out > 0 {
		t.over += min(out, h) / unit * (w / unit)
	}
}

// rest lays what is left of the sequence.
func (t *trial) rest() {
	for t.left > 0 {
		at := t.lowest()
		gap := t.sky[at]
		l, r := t.walls(at, t.fl.aim)
		c := t.best(gap, l, r, &t.fl)
		if c.score < 0 {
			if !t.raise(at) {
				break
			}
			t.new = append(t.new, step{})
			continue
		}
		t.take(c)
		t.put(at, step{c.node, c.turned, int8(c.score)}, l, r)
	}
}

// cost is how bad the trial was: the area of the floor above its aim, and of parts that reach above it.
// A part that found no room weighs as the whole floor.
func (t *trial) cost() int64 {
	cost := max(0, t.top-t.fl.aim)/unit*(t.fl.w/unit) + t.over
	if t.left > 0 {
		cost += int64(t.left) * (t.fl.w / unit) * (t.fl.h / unit)
	}
	return cost
}

// keep makes the trial what the next one is held against.
func (t *trial) keep() { t.old, t.new = t.new, t.old }

// random is a change that may matter.
func (t *trial) random(r *random) (c change, ok bool) {
	n := len(t.seq)
	c = change{r.below(n), r.below(n)}
	if c.i > c.j {
		c.i, c.j = c.j, c.i
	}
	if s := t.sizes[t.seq[c.i].kind]; s.w != never && s.tw != never && r.one(4) {
		c.j = c.i
		return c, true
	}
	a, b := t.seq[c.i], t.seq[c.j]
	return c, t.sizes[a.kind] != t.sizes[b.kind] || a.upright != b.upright
}

// anneal changes the sequence at random until the steps are spent, tells of each way to lay it, and keeps
// a change if it is no worse, or little, the less the longer it takes.
// S. Kirkpatrick, C. D. Gelatt, M. P. Vecchi, "Optimization by Simulated Annealing", Science, 1983.
func (t *trial) anneal(r *random, budget int64, tell func() (goOn bool)) {
	cost, from := t.cost(), t.steps
	hot := t.fl.aim / unit * (t.fl.w / unit) / 500
	for tries := 0; t.steps < budget; tries++ {
		t.steps += 5 * int64(len(t.seq)) // what it takes to lay what the change doesn't touch
		c, ok := t.random(r)
		if !ok {
			continue
		}
		t.changed(c)
		if !tell() {
			return
		}
		left := max(0, 1000*(budget-t.steps)/(budget-from))
		warm := hot * left * left / 1_000_000
		if now := t.cost(); now <= cost || (now-cost)<<8 <= warm*r.halvings()>>8 {
			cost = now
			t.keep()
		} else {
			t.change(c)
		}
	}
}
