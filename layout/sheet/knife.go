package sheet

// A piece is a rectangle that the knife hasn't divided yet: what parts may be laid
// in, each with the width of a cut to its right and below, and to where the board
// itself reaches.
type piece struct {
	x, y, w, h     int64
	x0, y0, x1, y1 int64
}

// A slit is a cut of the knife: along Y at x if upright, else along X at y. Its width lies
// before that place.
type slit struct {
	upright  bool
	at       int64
	from, to int64
}

// takes reports whether a part, with the width of a cut, can be cut out of a piece by its left upper corner: the
// knife takes off what is left beside it, if anything, along a line that is on it.
func (p piece) takes(w, h, kerf int64) bool {
	rest := [2]int64{p.x1 - (p.x + w - kerf), p.y1 - (p.y + h - kerf)}
	return w <= p.w && h <= p.h && (rest[0] <= 0 || 2*rest[0] >= kerf) && (rest[1] <= 0 || 2*rest[1] >= kerf)
}

// whittle lays what it can of a sequence so that edge-to-edge cuts part it all; the counts of the runs
// become what is left. Of each piece, the smallest first, the corner is taken by the part that matches best,
// and the rest falls into two.
// J. Jylänki, "A Thousand Ways to Pack the Bin", 2010, section 2.2.
func (f *filler) whittle(b *room, runs []run, r *random) (left int) {
	upright := b.goneW > 0 && r.one(2)
	if left = f.whittleFrom(b, upright, runs, r); len(f.spots) == 0 && b.goneW > 0 {
		left = f.whittleFrom(b, !upright, runs, r)
	}
	return left
}

func (f *filler) whittleFrom(b *room, upright bool, runs []run, r *random) (left int) {
	left = f.start(b.sizes, false, runs)
	pieces, cuts := b.pieces(upright)
	f.free, f.cuts = append(f.free[:0], pieces...), append(f.cuts[:0], cuts...)
	for left > 0 && len(f.free) > 0 {
		least := 0 // one without room counts as small and is passed over
		for i, p := range f.free {
			if p.w/unit*(p.h/unit) < f.free[least].w/unit*(f.free[least].h/unit) {
				least = i
			}
		}
		p := f.free[least]
		f.free[least] = f.free[len(f.free)-1]
		f.free = f.free[:len(f.free)-1]
		c := f.corner(p, b.tol, b.gap)
		if c.score < 0 {
			continue
		}
		w, h := f.nodes[c.node].w, f.nodes[c.node].h
		if c.turned {
			w, h = f.nodes[c.node].tw, f.nodes[c.node].th
		}
		i := f.take(c)
		runs[i].count--
		left--
		f.spots = append(f.spots, spot{runs[i].kind, c.turned != runs[i].upright, p.x, p.y, w, h})
		f.divide(p, w, h, b.gap, r)
	}
	return left
}

// corner is the part that suits a piece best.
func (f *filler) corner(p piece, tol, kerf int64) choice {
	best := choice{score: -1}
	before := int32(0)
	suits := func(w, h int64) int {
		if !p.takes(w, h, kerf) {
			return -1
		}
		score := 0
		if w+tol >= p.w {
			score++
		}
		if h+tol >= p.h {
			score++
		}
		return score
	}
	for i := f.nodes[0].next; i != 0; i = f.nodes[i].next {
		n := &f.nodes[i]
		f.steps++
		if s := suits(n.w, n.h); s > best.score {
			best = choice{i, before, false, s}
		}
		if s := suits(n.tw, n.th); s > best.score {
			best = choice{i, before, true, s}
		}
		if best.score == 2 {
			break
		}
		before = i
	}
	return best
}

// divide cuts a part from the left upper corner of a piece.
func (f *filler) divide(p piece, w, h, kerf int64, r *random) {
	if p.x0 < p.x {
		f.cuts = append(f.cuts, slit{true, p.x, p.y0, p.y1})
		p.x0 = p.x
	}
	if p.y0 < p.y {
		f.cuts = append(f.cuts, slit{false, p.y, p.x0, p.x1})
		p.y0 = p.y
	}
	right, below := p, p
	right.x, right.x0, right.w = p.x+w, p.x+w, p.w-w
	below.y, below.y0, below.h = p.y+h, p.y+h, p.h-h
	// Of both orders the one that leaves the larger piece, as a rule.
	upright := right.w/unit*(p.h/unit) > below.h/unit*(p.w/unit)
	if r.one(4) {
		upright = !upright
	}
	endX, endY := p.x+w-kerf, p.y+h-kerf // of the part
	if upright {
		below.w, below.x1 = w, min(p.x1, endX)
	} else {
		right.h, right.y1 = h, min(p.y1, endY)
	}
	cuts := [2]slit{{true, p.x + w, right.y0, right.y1}, {false, p.y + h, below.x0, below.x1}}
	needed := [2]bool{endX < p.x1, endY < p.y1}
	for _, i := range order(upright) {
		if needed[i] {
			f.cuts = append(f.cuts, cuts[i])
		}
	}
	if right.w > 0 && right.h > 0 {
		f.free = append(f.free, right)
	}
	if below.w > 0 && below.h > 0 {
		f.free = append(f.free, below)
	}
}

func order(upright bool) [2]int {
	if upright {
		return [2]int{0, 1}
	}
	return [2]int{1, 0}
}
