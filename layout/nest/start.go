package nest

import (
	"cmp"
	"math"
	"slices"

	"foredge/layout/geom"
)

// lay puts all pieces into the bins one after another, the largest first, each as far
// left and then as far up as is found, in the first bin in which a spot is found
// (B. S. Baker, E. G. Coffman, R. L. Rivest, "Orthogonal packings in two dimensions",
// 1980). It returns the pieces for which it found none.
func (f *field) lay(tries int) []int {
	order := make([]int, len(f.pieces))
	for i := range order {
		order[i] = i
		f.spots[i], f.boxes[i] = spot{}, geom.EmptyBox()
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(f.pieces[b].size, f.pieces[a].size) })
	used := make([]float64, len(f.bins))
	for b := range used {
		used[b] = f.bins[b].Min.X
	}
	f.forget()
	var over []int
	for _, i := range order {
		laid := false
		for b := 0; b < len(f.bins) && !laid; b++ {
			s, ok := f.leftmost(i, b, used[b], tries)
			if laid = ok; ok {
				f.put(i, s)
				used[b] = max(used[b], f.boxes[i].Max.X)
			}
		}
		if !laid {
			over = append(over, i)
		}
	}
	return over
}

// leftmost is a free spot for a piece in a bin that is filled up to an X: of some
// drawn at random the one whose right edge is furthest left, slid to the left and up.
func (f *field) leftmost(i, bin int, used float64, tries int) (spot, bool) {
	var best spot
	least := math.Inf(1)
	for _, o := range f.pieces[i].turned {
		room := f.room(o, bin)
		if room.Empty() {
			continue
		}
		reach := min(room.Max.X, max(room.Min.X, used-o.box.Min.X))
		for k := range tries {
			s := spot{o: o, bin: bin, x: reach, y: room.Min.Y}
			if k > 0 {
				s.x = math.Round(room.Min.X + float64(f.rng.Float64()*(reach-room.Min.X)))
				s.y = math.Round(room.Min.Y + float64(f.rng.Float64()*room.Height()))
				s.x, s.y = inside(room, s.x, s.y)
			}
			if s.x+o.box.Max.X-least >= o.box.Width() || f.cost(i, o, s.x, s.y, 0) > 0 {
				continue
			}
			s = f.slide(i, s, room)
			if right := s.x + o.box.Max.X + float64(1e-3*(s.y+o.box.Max.Y-f.bins[bin].Min.Y)); right < least {
				best, least = s, right
			}
		}
	}
	return best, !math.IsInf(least, 1)
}

// slide moves a piece from a free spot left and up as long as the way is free.
func (f *field) slide(i int, s spot, room geom.Box) spot {
	for round := range 4 {
		before := s
		for k, step := range [2]float64{s.x - room.Min.X, s.y - room.Min.Y} {
			for step >= 1 {
				x, y := s.x, s.y
				if k == 0 {
					x = max(room.Min.X, math.Round(x-step))
				} else {
					y = max(room.Min.Y, math.Round(y-step))
				}
				if (x != s.x || y != s.y) && f.cost(i, s.o, x, y, 0) == 0 {
					s.x, s.y = x, y
				} else {
					step /= 2
				}
				if step < s.o.box.Width()/1000 && round < 3 {
					break
				}
			}
		}
		if s == before {
			break
		}
	}
	return s
}
