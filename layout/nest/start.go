package nest

import (
	"cmp"
	"math"
	"slices"

	"foredge/layout/geom"
)

// triesAtStart is how many places of each turn are tried in a bin for a piece that is
// laid first.
const triesAtStart = 50

// lay puts all pieces into the bins one after another, the largest first, each as far
// up and then as far left as is found, in the first bin in which a spot is found
// (bottom-left: B. S. Baker, E. G. Coffman, R. L. Rivest, "Orthogonal packings in two
// dimensions", 1980). It returns the pieces for which it found none.
func (f *field) lay() []int {
	order := make([]int, len(f.pieces))
	for i := range order {
		order[i] = i
		f.lift(i)
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(f.pieces[b].size, f.pieces[a].size) })
	used := make([]float64, len(f.bins))
	for b := range used {
		used[b] = f.bins[b].Min.Y
	}
	f.forget()
	left := f.areas()
	fails := make([]int, len(f.bins))
	failed := make([]float64, len(f.bins)) // the size of the last piece that found no spot
	var over []int
	for _, i := range order {
		laid := false
		size := f.pieces[i].size
		for _, b := range f.open {
			// A bin in which several as large found none isn't asked again.
			if left[b] < float64(size*size) || fails[b] >= 3 && size > 0.9*failed[b] {
				continue
			}
			s, ok := f.upmost(i, b, used[b])
			if laid = ok; ok {
				f.put(i, s)
				used[b] = max(used[b], f.boxes[i].Max.Y)
				left[b] -= float64(size * size)
				fails[b] = 0
				break
			}
			fails[b]++
			failed[b] = size
		}
		if !laid {
			over = append(over, i)
		}
	}
	return over
}

// areas is that of each bin.
func (f *field) areas() []float64 {
	out := make([]float64, len(f.bins))
	for b, box := range f.bins {
		out[b] = max(0, box.Width()) * max(0, box.Height())
	}
	return out
}

// upmost is a free spot for a piece in a bin that is filled down to a Y: of some
// drawn at random, every other in touch with another piece, the one whose lower edge is furthest up, slid up and to the left.
func (f *field) upmost(i, bin int, used float64) (spot, bool) {
	var best spot
	least := math.Inf(1)
	for _, o := range f.pieces[i].turned {
		room := f.room(o, bin)
		if room.Empty() {
			continue
		}
		reach := min(room.Max.Y, max(room.Min.Y, used-o.box.Min.Y))
		for k := range triesAtStart {
			s := spot{o: o, bin: bin, x: room.Min.X, y: reach}
			if k&1 == 1 && len(f.in[bin]) > 0 {
				s.x, s.y = f.touching(o, bin)
				s.x, s.y = inside(room, s.x, s.y)
			} else if k > 0 {
				s.x = math.Round(room.Min.X + float64(f.rng.Float64()*room.Width()))
				s.y = math.Round(room.Min.Y + float64(f.rng.Float64()*(reach-room.Min.Y)))
				s.x, s.y = inside(room, s.x, s.y)
			}
			if s.y+o.box.Max.Y-least >= o.box.Height() || f.cost(i, s, 0) > 0 {
				continue
			}
			s = f.slide(i, s, room)
			if low := s.y + o.box.Max.Y + float64(1e-3*(s.x+o.box.Max.X)); low < least {
				best, least = s, low
			}
		}
	}
	return best, !math.IsInf(least, 1)
}

// slide moves a piece from a free spot up and left as long as the way is free.
func (f *field) slide(i int, s spot, room geom.Box) spot {
	for range 4 {
		before := s
		s.y = slideTo(s.y, room.Min.Y, func(y float64) bool {
			return f.cost(i, spot{s.o, s.bin, s.x, y}, 0) == 0
		})
		s.x = slideTo(s.x, room.Min.X, func(x float64) bool {
			return f.cost(i, spot{s.o, s.bin, x, s.y}, 0) == 0
		})
		if s == before {
			break
		}
	}
	return s
}

// slideTo is the least coordinate reached from one by free steps, each half as long as
// the one before, down to a unit.
func slideTo(from, least float64, free func(float64) bool) float64 {
	step := 1.0
	for step < from-least {
		step *= 2
	}
	for ; step >= 1; step /= 2 {
		if to := max(least, from-step); to < from && free(to) {
			from = to
		}
	}
	return from
}

// settle slides each piece in a bin up and to the left as far as the way is free, those
// furthest up first.
func (f *field) settle(bin int) {
	order := slices.DeleteFunc(slices.Clone(f.in[bin]), func(k int32) bool { return int(k) >= len(f.pieces) })
	slices.SortFunc(order, func(a, b int32) int {
		return cmp.Or(cmp.Compare(f.boxes[a].Min.Y, f.boxes[b].Min.Y), cmp.Compare(a, b))
	})
	for _, k := range order {
		s := f.spots[k]
		if to := f.slide(int(k), s, f.room(s.o, bin)); to != s {
			f.put(int(k), to)
		}
	}
}
