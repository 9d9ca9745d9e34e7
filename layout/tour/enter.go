package tour

import (
	"math"

	"foredge/layout/geom"
)

// mostChoices is how many places of an outline are weighed against those of all other
// outlines at once.
const mostChoices = 12

// enter chooses where each leaf is entered, in the order as it stands: first among a
// few places of each, all outlines at once, then anywhere on each, one after another,
// until that saves nothing more. It says whether anything has become shorter.
func (t *tour) enter() bool {
	before := t.cost()
	t.weigh()
	for range mostSweeps {
		if t.sweep() < leastSweep {
			break
		}
	}
	return t.cost() < before-least
}

const (
	mostSweeps = 30
	leastSweep = 1000.0 // nanometres
)

// choices are the entries that are weighed for a leaf.
func (l *leaf) choices() []entry {
	switch {
	case l.choice != nil && (!l.free || l.at.piece < 0):
		return l.choice
	case l.choice != nil:
		return append(l.choice[:len(l.choice):len(l.choice)], l.at)
	case l.free:
		l.choice = l.spread()
		return l.choices()
	case l.at.in == l.at.out:
		l.choice = []entry{l.at}
	default:
		l.choice = []entry{l.at, l.at.turned()}
	}
	return l.choice
}

// spread are entries all over an outline: its start, corners, and places between them.
func (l *leaf) spread() []entry {
	if l.joints {
		return l.spreadJoints()
	}
	all := []entry{l.on(0, 0)}
	var corners []int
	for k := 1; k < len(l.pieces); k++ {
		if l.corner[k] {
			corners = append(corners, k)
		}
	}
	room := mostChoices * 2 / 3
	for k := range min(room, len(corners)) {
		all = append(all, l.on(corners[k*len(corners)/min(room, len(corners))], 0))
	}
	rest := mostChoices - len(all)
	for k := range rest {
		piece, t := l.place(l.length * (float64(k) + 0.5) / float64(rest))
		all = append(all, l.on(piece, t))
	}
	return all
}

// spreadJoints are entries all over an outline where its pieces meet, from its start on.
func (l *leaf) spreadJoints() (all []entry) {
	n := min(mostChoices, len(l.pieces))
	for k := range n {
		all = append(all, l.on(k*len(l.pieces)/n, 0))
	}
	return all
}

// weigh finds the best of the choices of all leaves together, by dynamic programming.
func (t *tour) weigh() {
	n := len(t.order)
	from := make([][]uint8, n) // of each choice, which one of the leaf before it suits
	var cost, next []float64
	var now, then []entry
	start := ofPoint(t.o.From.Get())
	for k, i := range t.order {
		then = t.leaves[i].choices()
		from[k] = make([]uint8, len(then))
		next = next[:0]
		for c, e := range then {
			if k == 0 {
				next = append(next, t.hop(start, -1, &e.in, -1))
				continue
			}
			least, which := math.Inf(1), 0
			for d := range now {
				if sum := cost[d] + away(now[d].out, e.in); sum < least {
					least, which = sum, d
				}
			}
			from[k][c] = uint8(which)
			next = append(next, least)
		}
		t.budget.spend(int64(len(now)*len(then)) / 8)
		now, cost, next = then, next, cost
	}
	best := 0
	end := ofPoint(t.o.To.Get())
	for c := range now {
		cost[c] += t.hop(&now[c].out, -1, end, -1)
		if cost[c] < cost[best] {
			best = c
		}
	}
	for k := n - 1; k >= 0; k-- {
		l := &t.leaves[t.order[k]]
		l.at = l.choices()[best]
		best = int(from[k][best])
	}
}

// sweep moves the entry of each outline to where it is nearest to what is run before
// and after. It returns by how much the travel fell.
func (t *tour) sweep() (gain float64) {
	for k, i := range t.order {
		l := &t.leaves[i]
		if !l.free {
			continue
		}
		p, q := t.around(k)
		if p == nil && q == nil || l.looked(p, q) {
			continue
		}
		now := detour(p, q, l.at.in)
		e := l.nearest(p, q)
		t.budget.spend(int64(len(l.pieces)))
		if d := detour(p, q, e.in); d < now-least {
			l.at, l.entered = e, e
			gain += now - d
		}
	}
	return gain
}

// looked says whether the best entry between two spots has just been looked for.
func (l *leaf) looked(p, q *spot) bool {
	var now [2]spot
	for k, s := range [2]*spot{p, q} {
		if s != nil {
			now[k] = *s
		}
	}
	again := l.between == now && l.entered == l.at
	l.between, l.entered = now, l.at
	return again
}

// around are the spots between which the leaf at place k of the order is run.
func (t *tour) around(k int) (p, q *spot) {
	p, q = ofPoint(t.o.From.Get()), ofPoint(t.o.To.Get())
	if k > 0 {
		p = &t.leaves[t.order[k-1]].at.out
	}
	if k+1 < len(t.order) {
		q = &t.leaves[t.order[k+1]].at.in
	}
	return p, q
}

// detour is the way from p by s to q, of which either may be anywhere.
func detour(p, q *spot, s spot) float64 {
	var d float64
	if p != nil {
		d += away(*p, s)
	}
	if q != nil {
		d += away(s, *q)
	}
	return d
}

// nearest is the place of an outline with the least detour: where its pieces meet if it may be
// entered nowhere else; exact on a line, where the
// way leaves as it comes, as light from a mirror; on an arc found by narrowing down; on
// other curves the best of some places.
func (l *leaf) nearest(p, q *spot) entry {
	best, least := l.at, math.Inf(1)
	for k := range l.pieces {
		if l.joints {
			if e := l.on(k, 0); detour(p, q, e.in) < least {
				best, least = e, detour(p, q, e.in)
			}
			continue
		}
		if l.pieces[k].Kind == geom.LineTo {
			e := l.on(k, nearestOnLine(&l.pieces[k], p, q))
			if d := detour(p, q, e.in); d < least {
				best, least = e, d
			}
			continue
		}
		for c, s := range l.sampled(k) {
			if d := detour(p, q, s); d < least {
				best, least = entry{in: s, out: s, piece: k, t: float64(c) / curveSteps}, d
			}
		}
	}
	if !l.joints && l.pieces[best.piece].Kind == geom.ArcTo {
		best = l.on(best.piece, narrow(l.pieces[best.piece].Arc(), best.t, p, q))
	}
	return best
}

// curveSteps is at how many places a curve is looked at.
const curveSteps = 16

// sampled are places evenly on a curve, from its start on.
func (l *leaf) sampled(k int) []spot {
	if l.samples == nil {
		l.samples = make([][]spot, len(l.pieces))
	}
	if l.samples[k] == nil {
		for c := range curveSteps {
			l.samples[k] = append(l.samples[k], spotOf(l.pieces[k].At(float64(c)/curveSteps)))
		}
	}
	return l.samples[k]
}

// narrow is where on an arc the detour is least near t, by golden sections.
func narrow(arc geom.Arc, t float64, p, q *spot) float64 {
	const golden = 0.6180339887498949
	at := func(t float64) float64 { return detour(p, q, spotOf(arc.At(t))) }
	lo, hi := max(t-1.0/curveSteps, 0), min(t+1.0/curveSteps, 1)
	a, b := hi-golden*(hi-lo), lo+golden*(hi-lo)
	da, db := at(a), at(b)
	for range 20 {
		if da <= db {
			hi, b, db = b, a, da
			a = hi - golden*(hi-lo)
			da = at(a)
		} else {
			lo, a, da = a, b, db
			b = lo + golden*(hi-lo)
			db = at(b)
		}
	}
	return (lo + hi) / 2
}

func nearestOnLine(piece *geom.Piece, p, q *spot) float64 {
	a, b := spotOf(piece.From), spotOf(piece.End)
	length := away(a, b)
	if length == 0 {
		return 0
	}
	ux, uy := (b.x-a.x)/length, (b.y-a.y)/length
	along := func(s *spot) (x, h float64) {
		dx, dy := s.x-a.x, s.y-a.y
		return float64(dx*ux) + float64(dy*uy), math.Abs(float64(dx*uy) - float64(dy*ux))
	}
	var x float64
	switch {
	case p == nil:
		x, _ = along(q)
	case q == nil:
		x, _ = along(p)
	default:
		xp, hp := along(p)
		xq, hq := along(q)
		x = min(max(xp, 0), length)
		if hp+hq > 1 {
			x = (float64(xp*hq) + float64(xq*hp)) / (hp + hq)
		}
	}
	return min(max(x/length, 0), 1)
}

// centre has all free leaves entered in their middle, where no entry can be: for an
// order that favours no side.
func (t *tour) centre() {
	for i := range t.leaves {
		if l := &t.leaves[i]; l.free {
			m := spotOf(l.path.Bounds().Center())
			l.at = entry{in: m, out: m, piece: -1}
		}
	}
}

// alike is how much longer, in nanometres, the way by a corner may be to count as equal.
const alike = 10

// preferCorners enters at a corner where that costs nothing, as the mark of an entry
// shows least there.
func (t *tour) preferCorners(limit float64) {
	t.load(t.best)
	for k, i := range t.order {
		l := &t.leaves[i]
		if !l.free || l.at.t == 0 && l.corner[l.at.piece] {
			continue
		}
		p, q := t.around(k)
		least := detour(p, q, l.at.in) + alike
		for c := range l.pieces {
			e := l.on(c, 0)
			if d := detour(p, q, e.in); l.corner[c] && d < least {
				l.at, least = e, d
			}
		}
	}
	if t.cost() <= limit {
		t.best = t.save()
	}
}
