package sheet

// Lengths inside the package are whole multiples of a millionth of a millimetre.
// Each part is taken as larger by the spacing to its right and below, and each sheet as
// larger by a spacing than what its margins leave: then parts that merely don't
// overlap keep their distances.

// never is a size that nothing has room for.
const never = int64(1) << 50

// A size is how large a kind of part is as drawn and turned by a quarter; never if it may not lie so.
type size struct{ w, h, tw, th int64 }

// across is the size where the sheet is filled from its side.
func (s size) across() size { return size{w: s.h, h: s.w, tw: s.th, th: s.tw} }

// A run is a number of parts of one kind that follow each other in a sequence; if upright, where nothing
// else decides, they are laid turned by a quarter.
type run struct {
	kind, count int
	upright     bool
}

// A spot is where a part lies.
type spot struct {
	kind       int
	turned     bool
	x, y, w, h int64
}

// A floor is what a skyline begins with: a width, a height above which nothing may
// reach, and how high a step at the right end is.
type floor struct {
	w, h         int64
	stepW, stepH int64
	aim          int64 // to what height the side walls are thought to reach
	tol          int64 // sizes that differ by so much count as matching
}

type segment struct{ x, y, w int64 }

// A node is a run of the sequence while parts are taken from it.
type node struct {
	size
	upright    bool // the two ways to lie have changed places
	next, left int32
}

// A filler lays parts of a sequence by a skyline, the upper contour of what lies
// already. It fills the lowest gap with the part that matches it best in
// width and in the heights of its walls, of those that match alike with the first of the sequence.
// E. K. Burke, G. Kendall, G. Whitwell, "A New Placement Heuristic for the Orthogonal
// Stock-Cutting Problem", Operations Research, 2004; the scores are after
// S. C. H. Leung, D. Zhang, K. M. Sim, "A two-stage intelligent search algorithm for the
// two-dimensional strip packing problem", European Journal of Operational Research, 2011.
type filler struct {
	steps int64 // parts that were looked at
	nodes []node
	sky   []segment
	free  []piece // of the knife
	spots []spot
	cuts  []slit
	// inTurn takes the first of the sequence that has room, however well others match.
	inTurn bool
}

// start makes a sequence ready. Node 0 stands before the first.
func (f *filler) start(sizes []size, across bool, runs []run) (parts int) {
	f.nodes = append(f.nodes[:0], node{})
	last := 0
	for _, r := range runs {
		s := sizes[r.kind]
		if across {
			s = s.across()
		}
		if r.upright {
			s = size{s.tw, s.th, s.w, s.h}
		}
		f.nodes = append(f.nodes, node{size: s, upright: r.upright, left: int32(r.count)})
		if r.count > 0 {
			f.nodes[last].next = int32(len(f.nodes) - 1)
			last = len(f.nodes) - 1
			parts += r.count
		}
	}
	f.spots = f.spots[:0]
	return parts
}

// A choice is the part that suits a gap best.
type choice struct {
	node, before int32
	turned       bool // it lies the second of its two ways
	score        int
}

// best looks for the part that matches a gap.
func (f *filler) best(gap segment, left, right int64, fl *floor) choice {
	high, low := max(left, right), min(left, right)
	room := fl.h - gap.y
	best := choice{score: -1}
	before := int32(0)
	nodes := f.nodes
	looked := int64(0)
	for i := nodes[0].next; i != 0; i = nodes[i].next {
		n := &nodes[i]
		looked++
		if n.w <= gap.w && n.h <= room {
			if s := match(n.w, n.h, gap.w, high, low, fl.tol); s > best.score {
				best = choice{i, before, false, s}
			}
		}
		if n.tw <= gap.w && n.th <= room {
			if s := match(n.tw, n.th, gap.w, high, low, fl.tol); s > best.score {
				best = choice{i, before, true, s}
			}
		}
		if best.score == bestMatch || best.score >= 0 && (f.inTurn || looked >= mostLooked) {
			break
		}
		before = i
	}
	f.steps += looked
	return best
}

const bestMatch = 5

// stepsToPlace is how many parts might be looked at in the time that it takes to lay one.
const stepsToPlace = 10

// mostLooked is after how many parts of the sequence the best so far is taken, so that the work on many parts of
// different sizes stays in bounds.
const mostLooked = 1000

// match says how well a part matches a gap between walls.
func match(w, h, gap, high, low, tol int64) int {
	score := 0
	if w+tol >= gap {
		score = 3
	}
	if d := h - high; d <= tol && d >= -tol {
		return score + 2
	}
	if d := h - low; d <= tol && d >= -tol {
		return score + 1
	}
	return score
}

// take removes a part from the sequence.
func (f *filler) take(c choice) (runIndex int) {
	n := &f.nodes[c.node]
	if n.left--; n.left == 0 {
		f.nodes[c.before].next = n.next
	}
	return int(c.node) - 1
}

// fill lays what it can of a sequence; the counts of the runs become what is left.
// It gives how many parts are left.
func (f *filler) fill(fl floor, sizes []size, across bool, runs []run) (left int) {
	left = f.start(sizes, across, runs)
	f.begin(fl)
	for left > 0 {
		at := f.lowest()
		gap := f.sky[at]
		l, r := f.walls(at, fl.aim)
		c := f.best(gap, l, r, &fl)
		if c.score < 0 {
			if !f.raise(at) {
				break
			}
			continue
		}
		w, h := f.nodes[c.node].w, f.nodes[c.node].h
		if c.turned {
			w, h = f.nodes[c.node].tw, f.nodes[c.node].th
		}
		i := f.take(c)
		runs[i].count--
		left--
		x := f.place(at, w, h, l, r, fl.tol)
		f.spots = append(f.spots, spot{runs[i].kind, c.turned != runs[i].upright, x, gap.y, w, h})
		f.steps += stepsToPlace
	}
	return left
}

// begin makes the skyline of a floor.
func (f *filler) begin(fl floor) {
	f.sky = append(f.sky[:0], segment{0, 0, fl.w})
	switch {
	case fl.stepW <= 0 || fl.stepH <= 0:
	case fl.stepW >= fl.w:
		f.sky[0].y = fl.stepH
	default:
		f.sky = append(f.sky[:0], segment{0, 0, fl.w - fl.stepW}, segment{fl.w - fl.stepW, fl.stepH, fl.stepW})
	}
}

// lowest is the first of the lowest segments.
func (f *filler) lowest() int {
	at := 0
	for i := range f.sky {
		if f.sky[i].y < f.sky[at].y {
			at = i
		}
	}
	return at
}

// walls are how high a segment's neighbours rise above it.
func (f *filler) walls(at int, aim int64) (left, right int64) {
	y := f.sky[at].y
	left, right = aim-y, aim-y
	if at > 0 {
		left = f.sky[at-1].y - y
	}
	if at < len(f.sky)-1 {
		right = f.sky[at+1].y - y
	}
	return left, right
}

// raise gives a gap up. It reports false if nothing is left to fill.
func (f *filler) raise(at int) bool {
	switch {
	case len(f.sky) == 1:
		return false
	case at == 0:
		f.sky[at].y = f.sky[1].y
	case at == len(f.sky)-1:
		f.sky[at].y = f.sky[at-1].y
	default:
		f.sky[at].y = min(f.sky[at-1].y, f.sky[at+1].y)
	}
	f.level(at)
	return true
}

// level joins a segment to neighbours of the same height.
func (f *filler) level(at int) {
	sky := f.sky
	if at+1 < len(sky) && sky[at+1].y == sky[at].y {
		sky[at].w += sky[at+1].w
		sky = append(sky[:at+1], sky[at+2:]...)
	}
	if at > 0 && sky[at-1].y == sky[at].y {
		sky[at-1].w += sky[at].w
		sky = append(sky[:at], sky[at+1:]...)
	}
	f.sky = sky
}

// place puts a part into a gap, at the wall that it matches, or else at the
// higher one. It gives its left edge.
func (f *filler) place(at int, w, h, left, right, tol int64) (x int64) {
	gap := f.sky[at]
	if w == gap.w {
		f.sky[at].y += h
		f.level(at)
		return gap.x
	}
	near := func(wall int64) bool { d := h - wall; return d <= tol && d >= -tol }
	toRight := right > left
	switch {
	case h == left:
		toRight = false
	case h == right:
		toRight = true
	case near(left):
		toRight = false
	case near(right):
		toRight = true
	}
	f.sky = append(f.sky, segment{})
	copy(f.sky[at+1:], f.sky[at:])
	if toRight {
		x = gap.x + gap.w - w
		f.sky[at].w -= w
		f.sky[at+1] = segment{x, gap.y + h, w}
		f.level(at + 1)
		return x
	}
	f.sky[at] = segment{gap.x, gap.y + h, w}
	f.sky[at+1].x += w
	f.sky[at+1].w -= w
	f.level(at)
	return gap.x
}
