package nest

// A patience says how long a separation goes on without success: rounds without
// a better total, and how often it then starts again from its best.
type patience struct{ rounds, strikes int }

// separate moves pieces that overlap until none does, or patience ends. It says
// whether none does. Otherwise it leaves the pieces where they overlapped least.
func (f *field) separate(p patience, more func() bool) bool {
	best, least := f.save(), f.total()
	for strikes := 0; strikes < p.strikes && least > 0; {
		start := least
		for idle := 0; idle < p.rounds && least > 0; idle++ {
			if !more() {
				f.load(best)
				return false
			}
			f.moveAll()
			total := f.total()
			if total < least {
				if total < 0.98*least {
					idle = -1
				}
				best, least = f.save(), total
			}
			f.raise()
		}
		if least < 0.98*start {
			strikes = 0
		} else {
			strikes++
		}
		f.load(best)
	}
	return least == 0
}

// moveAll moves each piece that overlaps another to a better spot, in random order.
func (f *field) moveAll() {
	var moving []int
	for i := range f.pieces {
		if f.overlaps(i) {
			moving = append(moving, i)
		}
	}
	f.rng.Shuffle(len(moving), func(a, b int) { moving[a], moving[b] = moving[b], moving[a] })
	for _, i := range moving {
		if !f.overlaps(i) {
			continue
		}
		if t, better := f.search(i); better {
			f.put(i, t.spot)
		}
	}
}
