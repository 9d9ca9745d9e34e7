package nest

import (
	"math"

	"foredge/layout/geom"
)

// How a better spot for a piece is looked for: how many places anywhere, near
// where it lies and in touch with another are tried, and how many of the best are
// followed down.
const (
	triesAnywhere = 50
	triesNear     = 25
	triesTouching = 25
	followed      = 3
)

// A trial is a spot and what it costs.
type trial struct {
	spot
	cost float64
}

// A shortlist holds the best few trials, best first.
type shortlist struct {
	trials [followed]trial
	n      int
}

// limit is what a trial must cost less than to be taken.
func (l *shortlist) limit() float64 {
	if l.n < followed {
		return math.Inf(1)
	}
	return l.trials[followed-1].cost
}

// add takes a trial in; of those that are nearly the same the better one stays.
func (l *shortlist) add(t trial, near float64) {
	for k := range l.n {
		s := &l.trials[k]
		if s.o == t.o && s.bin == t.bin && math.Abs(s.x-t.x) < near && math.Abs(s.y-t.y) < near {
			if t.cost >= s.cost {
				return
			}
			copy(l.trials[k:l.n], l.trials[k+1:l.n])
			l.n--
			break
		}
	}
	if l.n < followed {
		l.n++
	} else if t.cost >= l.trials[l.n-1].cost {
		return
	}
	k := l.n - 1
	for ; k > 0 && l.trials[k-1].cost > t.cost; k-- {
		l.trials[k] = l.trials[k-1]
	}
	l.trials[k] = t
}

// search looks for a spot at which a piece costs less than where it lies:
// at places drawn at random in all bins and near its own, of which the best
// are followed down (J. Gardeyn, G. Vanden Berghe, T. Wauters, "An open-source
// heuristic to reboot 2D nesting research", 2025).
func (f *field) search(i int) (trial, bool) {
	now := f.spots[i]
	size := min(now.o.box.Width(), now.o.box.Height())
	near := size / 100
	var list shortlist
	list.add(trial{now, f.costNow(i)}, near)
	for k := range triesAnywhere + triesNear + triesTouching {
		s, ok := f.draw(i, k)
		if !ok {
			continue
		}
		if c := f.cost(i, s, list.limit()); c < list.limit() {
			if list.add(trial{s, c}, near); c == 0 {
				break
			}
		}
	}
	best := list.trials[0]
	for k := range list.n {
		t := f.descend(i, list.trials[k], size/4, size/50)
		if t.cost < best.cost {
			best = t
		}
		if best.cost == 0 {
			break
		}
	}
	if best.cost > 0 {
		best = f.descend(i, best, size/50, size/1000)
		best = f.pushOut(i, best)
	}
	return best, best.cost < f.costNow(i)
}

// draw is the k-th spot to try for a piece.
func (f *field) draw(i, k int) (spot, bool) {
	now := f.spots[i]
	turned := f.pieces[i].turned
	s := spot{o: turned[f.rng.IntN(len(turned))], bin: now.bin}
	switch {
	case k < triesAnywhere:
		s.bin = f.open[f.rng.IntN(len(f.open))]
		room := f.room(s.o, s.bin)
		s.x = room.Min.X + float64(f.rng.Float64()*room.Width())
		s.y = room.Min.Y + float64(f.rng.Float64()*room.Height())
	case k < triesAnywhere+triesNear:
		s.x, s.y = f.around(now, s.o)
	default:
		s.bin = f.open[f.rng.IntN(len(f.open))]
		if len(f.in[s.bin]) == 0 {
			return s, false
		}
		s.x, s.y = f.touching(s.o, s.bin)
	}
	room := f.room(s.o, s.bin)
	s.x, s.y = inside(room, math.Round(s.x), math.Round(s.y))
	return s, !room.Empty()
}

// touching is a place at which a shape touches one of those in a bin, corner to corner
// or corner to edge.
func (f *field) touching(o *turned, bin int) (x, y float64) {
	t := &f.spots[f.in[bin][f.rng.IntN(len(f.in[bin]))]]
	rim := f.contacts.of(o, t.o).rim
	v := rim[f.rng.IntN(len(rim))]
	return v.X + t.x, v.Y + t.y
}

// around is a place near a spot such that the shape's middle lies in the box of
// what lies there.
func (f *field) around(now spot, o *turned) (x, y float64) {
	b, c := now.o.box, o.box.Center()
	x = now.x + b.Min.X + float64(f.rng.Float64()*b.Width()) - c.X
	y = now.y + b.Min.Y + float64(f.rng.Float64()*b.Height()) - c.Y
	return x, y
}

// descend follows a trial down by steps along and across and aslant, which grow as long
// as they help and shrink where they don't, down to the finest.
func (f *field) descend(i int, t trial, step, finest float64) trial {
	room := f.room(t.o, t.bin)
	sx, sy := step, step
	for t.cost > 0 && (sx > finest || sy > finest) {
		dx, dy := 0.0, 0.0
		switch f.rng.IntN(4) {
		case 0:
			dx = sx
		case 1:
			dy = sy
		case 2:
			dx, dy = sx, sy
		default:
			dx, dy = sx, -sy
		}
		better := false
		for _, sign := range [2]float64{1, -1} {
			s := t.spot
			s.x, s.y = inside(room, math.Round(t.x+float64(sign*dx)), math.Round(t.y+float64(sign*dy)))
			if c := f.cost(i, s, t.cost); c < t.cost {
				t, better = trial{s, c}, true
				break
			}
		}
		grow := 0.5
		if better {
			grow = 1.1
		}
		if dx != 0 {
			sx *= grow
		}
		if dy != 0 {
			sy *= grow
		}
	}
	return t
}

// pushOut moves a piece straight out of what it overlaps most, and along that
// out of what it then overlaps, for as long as it costs less: contacts become exact.
func (f *field) pushOut(i int, t trial) trial {
	const rounds = 8
	room := f.room(t.o, t.bin)
	var lastX, lastY float64 // the direction of the last way out
	for round := 0; round < rounds && t.cost > 0; round++ {
		d, nx, ny := f.deepest(i, t)
		if d == 0 {
			break
		}
		s := out(room, t.spot, nx, ny, d)
		c := f.cost(i, s, t.cost)
		if along := float64(ny*lastX) - float64(nx*lastY); c >= t.cost && math.Abs(along) > 0.05 {
			s = out(room, t.spot, -lastY, lastX, d/along)
			c = f.cost(i, s, t.cost)
		}
		if c >= t.cost {
			break
		}
		t = trial{s, c}
		lastX, lastY = nx, ny
	}
	return t
}

// out is the spot a way further in a direction, rounded so that the way isn't short.
func out(room geom.Box, s spot, nx, ny, d float64) spot {
	if nx != 0 && ny != 0 {
		d += math.Copysign(1, d)
	}
	s.x, s.y = inside(room, math.Round(s.x+float64(nx*d)), math.Round(s.y+float64(ny*d)))
	return s
}

// deepest is the way out of what costs a piece most at a spot.
func (f *field) deepest(i int, t trial) (d, nx, ny float64) {
	a := t.bounds()
	m, worst := len(f.spots), 0.0
	for _, k := range f.in[t.bin] {
		j := int(k)
		b := &f.boxes[j]
		if j == i || b.Min.X >= a.Max.X || b.Max.X <= a.Min.X || b.Min.Y >= a.Max.Y || b.Max.Y <= a.Min.Y {
			continue
		}
		depth, ex, ey := f.contacts.of(t.o, f.spots[j].o).wayOut(t.x-f.spots[j].x, t.y-f.spots[j].y)
		if c := float64(depth * f.weight[i*m+j]); c > worst {
			worst, d, nx, ny = c, depth, ex, ey
		}
	}
	return d, nx, ny
}
