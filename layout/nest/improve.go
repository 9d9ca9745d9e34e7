package nest

import "math"

// A sheets is what is needed to judge and improve how pieces lie on trays.
type sheets struct {
	trays  []tray
	pieces []piece
}

// used lists the trays on which pieces lie.
func (s *sheets) used(spots []spot) []int {
	holds := make([]bool, len(s.trays))
	for _, p := range spots {
		holds[p.bin] = true
	}
	var out []int
	for b, h := range holds {
		if h {
			out = append(out, b)
		}
	}
	return out
}

// emptiest is the used tray whose pieces have the least area, of several the last.
func (s *sheets) emptiest(spots []spot) int {
	areas := make([]float64, len(s.trays))
	for i, p := range spots {
		areas[p.bin] += float64(s.pieces[i].size * s.pieces[i].size)
	}
	last := -1
	for b, a := range areas {
		if a > 0 && (last < 0 || a <= areas[last]) {
			last = b
		}
	}
	return last
}

// reach is how far down pieces lie on a tray, of all its height.
func (s *sheets) reach(spots []spot, tray int) float64 {
	box := s.trays[tray].box
	low := box.Min.Y
	for _, p := range spots {
		if p.bin == tray {
			low = max(low, p.bounds().Max.Y)
		}
	}
	return low - box.Min.Y
}

// value is what the used trays cost, then, counting far less than the least cost, how
// many they are and how far down the emptiest is used.
func (s *sheets) value(spots []spot) float64 {
	least := math.Inf(1)
	for _, t := range s.trays {
		if t.cost > 0 {
			least = min(least, t.cost)
		}
	}
	if math.IsInf(least, 1) {
		least = 1
	}
	used, last := s.used(spots), s.emptiest(spots)
	cost := 0.0
	for _, b := range used {
		cost += s.trays[b].cost
	}
	part := s.reach(spots, last) / s.trays[last].box.Height()
	return cost + float64(1e-3*least/float64(len(s.trays)+1)*(float64(len(used))+part))
}

// improve tries again and again to do without a tray, to take a cheaper one in place
// of one, or to use less of the emptiest.
func (s *sheets) improve(f *field, m *member) {
	step := 0.1
	for !m.over() {
		before := f.steps
		spots, value := m.take()
		f.restore(s, spots)
		ok := false
		more := m.upTo(1. / attempts)
		if f.rng.IntN(2) == 0 {
			ok = f.closeTray(s, spots) && f.part(3, patience{rounds: 100, strikes: 2}, more)
		} else if ok = f.shortenTray(s, spots, step) && f.part(2, patience{rounds: 100, strikes: 2}, more); ok {
			step = min(0.2, step*1.5)
		} else {
			step = max(0.001, step/2)
		}
		if ok {
			for _, b := range f.open {
				f.settle(b)
			}
			if now := f.save(); s.value(now) < value {
				m.found(now, s.value(now))
			}
		}
		// What takes no step still comes to an end.
		f.steps = max(f.steps, before+100)
		m.more()
	}
}

// restore lays all pieces as they lay, with all used trays open to their full height.
func (f *field) restore(s *sheets, spots []spot) {
	for b, t := range s.trays {
		f.bins[b] = t.box
	}
	f.open = s.used(spots)
	f.load(spots)
	f.forget()
}

// closeTray closes a used tray, opens a cheaper one in its place where there is one that it
// needs, and tosses what lay on it into the others. It says whether all may fit.
func (f *field) closeTray(s *sheets, spots []spot) bool {
	gone := s.emptiest(spots)
	if f.rng.IntN(2) == 0 {
		gone = f.open[f.rng.IntN(len(f.open))]
	}
	var open, cheaper []int
	used := make([]bool, len(s.trays))
	for _, b := range f.open {
		used[b] = true
		if b != gone {
			open = append(open, b)
		}
	}
	for b := range s.trays {
		if !used[b] && s.trays[b].cost < s.trays[gone].cost {
			cheaper = append(cheaper, b)
		}
	}
	if len(cheaper) > 0 && (f.rng.IntN(2) == 0 || !f.mayHold(s, open)) {
		open = append(open, cheaper[f.rng.IntN(len(cheaper))])
	}
	if !f.mayHold(s, open) {
		return false
	}
	f.open = open
	for i := range f.pieces {
		if f.spots[i].bin == gone && !f.toss(i) {
			return false
		}
	}
	return true
}

// mayHold says whether all pieces have no more area than some trays.
func (f *field) mayHold(s *sheets, trays []int) bool {
	room := 0.0
	for _, b := range trays {
		room += s.trays[b].size
	}
	for _, p := range f.pieces {
		room -= float64(p.size * p.size)
	}
	return room >= 0
}

// shortenTray leaves less of the emptiest tray to use.
func (f *field) shortenTray(s *sheets, spots []spot, step float64) bool {
	last := s.emptiest(spots)
	f.bins[last].Max.Y = math.Floor(f.bins[last].Min.Y + float64(s.reach(spots, last)*(1-step)))
	for i := range f.pieces {
		p := f.spots[i]
		if p.bin != last {
			continue
		}
		room := f.room(p.o, last)
		if room.Empty() {
			if !f.toss(i) {
				return false
			}
			continue
		}
		p.x, p.y = inside(room, p.x, p.y)
		f.put(i, p)
	}
	return true
}
