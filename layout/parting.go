package layout

import (
	"fmt"
	"math"
	"strings"

	"foredge/layout/geom"
)

// endPartings ends lines that part an opening where the laser goes along its edge, half a
// kerf inside: all comes apart there, and the edge that stays isn't nicked, nor what comes
// near the line on its way. What parts that which falls out of the opening stays as it is. The
// shapes are as they are cut, wanted as they are to come out.
func endPartings(shapes, wanted []Shape, kerf float64) []Shape {
	var cut, whole map[string]*geom.Boundary // openings, by their IDs
	kept := make([]Shape, 0, len(shapes))
	for _, s := range shapes {
		line, is := s.Figure.(geom.Path)
		if !is || !s.parting || line.Closed {
			kept = append(kept, s)
			continue
		}
		if cut == nil {
			cut, whole = partedOpenings(shapes), partedOpenings(wanted)
		}
		w := way{cut: cut[s.opening()], whole: whole[s.opening()], step: kerf / 8}
		for i, l := range w.stretches(line) {
			part := s
			if part.Figure = l; i > 0 {
				part.ID = fmt.Sprintf("%s.%d", s.ID, i+1)
			}
			kept = append(kept, part)
		}
	}
	return kept
}

// opening is the ID of the opening that a line parts.
func (s *Shape) opening() string { return s.ID[:strings.LastIndex(s.ID, innerLine)] }

// partedOpenings are the openings that lines part, by their IDs.
func partedOpenings(shapes []Shape) map[string]*geom.Boundary {
	all := map[string]*geom.Boundary{}
	for i := range shapes {
		if s := &shapes[i]; s.parting {
			all[s.opening()] = nil
		}
	}
	for i := range shapes {
		s := &shapes[i]
		if _, parted := all[s.ID]; parted && s.Op == Cut {
			all[s.ID] = geom.NewBoundary(s.Figure)
		}
	}
	return all
}

// A way is where a line that parts an opening may be cut: within what the laser cuts out, and
// in what falls out of the opening. It is looked for in steps of some mm.
type way struct {
	cut, whole *geom.Boundary
	step       float64
}

func (w *way) open(x geom.Point) bool { return w.cut.Contains(x) || !w.whole.Contains(x) }

// leastParting is how short a line is cut, in mm: shorter ones come of rounding.
const leastParting = 1e-3

// stretches are those of a line that may be cut.
func (w *way) stretches(line geom.Path) (all []geom.Path) {
	var b *geom.Builder // of the stretch that has begun
	end := func() {
		if b == nil {
			return
		}
		if l := b.Open(); geom.Length(l) > leastParting {
			all = append(all, l)
		}
		b = nil
	}
	for p := range line.Pieces() {
		from := 0.0 // where the part of the piece begins that is cut
		at, is := 0.0, w.open(p.From)
		if !is {
			end()
		}
		take := func(to float64) {
			part := p.Part(from, to)
			if b == nil {
				b = geom.NewPath(part.From)
			}
			b.Add(part.Segment)
		}
		for _, t := range append(w.places(nil, p, 0, 1), 1) {
			next := w.open(p.At(t))
			switch {
			case next == is:
			case is:
				take(w.turn(p, t, at))
				end()
			default:
				from = w.turn(p, at, t)
			}
			at, is = t, next
		}
		if is {
			take(1)
		}
	}
	end()
	return all
}

// turn is where a piece turns from what may not be cut to what may.
func (w *way) turn(p geom.Piece, not, may float64) float64 {
	for range 50 { // halves, until it is found as finely as numbers are
		if mid := (not + may) / 2; w.open(p.At(mid)) {
			may = mid
		} else {
			not = mid
		}
	}
	return may
}

// places are those between two of a piece at which it is looked, in steps where an edge is near.
func (w *way) places(list []float64, p geom.Piece, from, to float64) []float64 {
	box := p.Part(from, to).Bounds()
	size := math.Hypot(box.Width(), box.Height())
	mid := (from + to) / 2
	if x := p.At(mid); size <= w.step || !w.cut.Within(x, size) && !w.whole.Within(x, size) {
		return list
	}
	list = append(w.places(list, p, from, mid), mid)
	return w.places(list, p, mid, to)
}
