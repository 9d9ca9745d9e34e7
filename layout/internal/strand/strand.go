package strand

import (
	"cmp"
	"math"
	"slices"

	"foredge/layout/geom"
)

// Snap is the distance in mm below which two ends are joined: a thousandth of
// what the files carry.
const Snap = 1e-7

// A Strand is a stretch of a line or arc.
type Strand struct {
	geom.Piece
	Ring   int     // which ring it comes from
	Side   int     // which line or arc it is a stretch of,
	t0, t1 float64 // and from where to where
}

// New is a whole line or arc as a strand.
func New(p geom.Piece, ring, side int) Strand {
	return Strand{Piece: p, Ring: ring, Side: side, t1: 1}
}

// Between is the stretch of a whole line or arc between two parameters.
func (s Strand) Between(t0, t1 float64) Strand {
	s.Piece, s.t0, s.t1 = s.Part(t0, t1), t0, t1
	return s
}

// Reverse is the strand run the other way.
func (s Strand) Reverse() Strand {
	s.Piece = s.Piece.Reverse()
	s.t0, s.t1 = 1-s.t1, 1-s.t0
	return s
}

// Cut cuts strands where they meet.
func Cut(all []Strand) []Strand {
	boxes := make([]geom.Box, len(all))
	for i, s := range all {
		boxes[i] = s.Bounds()
	}
	ix := geom.NewIndex(boxes)
	at := make([][]float64, len(all))
	var shared []geom.Point
	for i, s := range all {
		for _, j := range ix.Near(boxes[i], Snap) {
			if j <= i {
				continue
			}
			shared = geom.Intersections(shared[:0], s.Piece, all[j].Piece)
			for _, x := range shared {
				at[i] = append(at[i], s.Parameter(x))
				at[j] = append(at[j], all[j].Parameter(x))
			}
		}
	}
	out := make([]Strand, 0, len(all)+len(all)/4)
	for i, s := range all {
		slices.Sort(at[i])
		least := Snap / max(Snap, s.Length())
		t0 := 0.0
		for _, t := range append(at[i], 1) {
			if t > 1-least {
				t = 1
			}
			if t < least || t-t0 < least {
				continue
			}
			out = append(out, s.Between(t0, t))
			t0 = t
		}
	}
	return out
}

// Distinct leaves one of strands that run along one another the same way, and
// none of two that run against one another: nothing is left between them.
func Distinct(kept []Strand) []Strand {
	middle := make([]geom.Box, len(kept))
	for i, s := range kept {
		m := s.At(0.5)
		middle[i] = geom.Box{Min: m, Max: m}
	}
	ix := geom.NewIndex(middle)
	drop := make([]bool, len(kept))
	for i, s := range kept {
		for _, j := range ix.Near(middle[i], Snap/10) {
			if j <= i || drop[i] || drop[j] {
				continue
			}
			same := s.Tangent(0.5).Dot(kept[j].Tangent(0.5))
			if math.Abs(same) < 0.999 {
				continue
			}
			drop[j] = true
			drop[i] = same < 0
		}
	}
	var out []Strand
	for i, s := range kept {
		if !drop[i] {
			out = append(out, s)
		}
	}
	return out
}

// crumb is the length in mm of strands that may be left over: where two sides
// run nearly along one another it can't be told which of them is nearer. It is
// the resolution of the files.
const crumb = 1e-4

// Loops joins strands end to start into closed loops, the longest first. ok is
// false if some are left over that are more than crumbs.
func Loops(kept []Strand) (loops [][]Strand, ok bool) { return LoopsWithin(kept, 10*Snap) }

// LoopsWithin is [Loops] of strands whose ends lie up to a radius in mm from the starts
// that they are joined to, at most crumb/2.
func LoopsWithin(kept []Strand, radius float64) (loops [][]Strand, ok bool) {
	starts := make([]geom.Box, len(kept))
	length := make([]float64, len(kept))
	order := make([]int, len(kept))
	for i, s := range kept {
		starts[i] = geom.Box{Min: s.From, Max: s.From}
		length[i] = s.Length()
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(length[j], length[i]) })
	ix := geom.NewIndex(starts)
	used := make([]bool, len(kept))
	for _, i := range order {
		if used[i] || length[i] < crumb {
			continue
		}
		used[i] = true
		loop := []Strand{kept[i]}
		for len(loop) == 1 || loop[len(loop)-1].End.Distance(kept[i].From) > radius {
			last := loop[len(loop)-1]
			best := -1
			for _, j := range ix.Near(geom.Box{Min: last.End, Max: last.End}, radius) {
				if !used[j] && (best < 0 || kept[j].From.Distance(last.End) < kept[best].From.Distance(last.End)) {
					best = j
				}
			}
			if best < 0 {
				// A dead end: step back if it was a crumb that led here.
				if last.Length() >= crumb {
					return nil, false
				}
				loop = loop[:len(loop)-1]
				continue
			}
			used[best] = true
			loop = append(loop, kept[best])
		}
		loops = append(loops, loop)
	}
	return loops, true
}

// Path is a loop as a path, stretches of one side or on one line made one again.
func Path(loop []Strand) geom.Path {
	follows := func(a, b Strand) bool {
		if a.Kind == geom.LineTo && b.Kind == geom.LineTo {
			return a.Tangent(0).Distance(b.Tangent(0)) < 1e-9
		}
		return a.Side == b.Side && a.t1 == b.t0
	}
	// Begin where a side begins.
	for k := range loop {
		if !follows(loop[(k+len(loop)-1)%len(loop)], loop[k]) {
			loop = append(slices.Clone(loop[k:]), loop[:k]...)
			break
		}
	}
	b := geom.NewPath(loop[0].From)
	for k := 0; k < len(loop); k++ {
		s := loop[k]
		for k+1 < len(loop) && follows(loop[k], loop[k+1]) {
			k++
			s.End = loop[k].End
		}
		if k+1 < len(loop) {
			s.Piece = s.endingAt(b.At(), loop[k+1].From)
		} else {
			s.Piece = s.endingAt(b.At(), loop[0].From)
		}
		b.Add(s.Segment)
	}
	return b.Close()
}

// endingAt is the strand from one place to another, near to its own ends: an arc keeps how
// much it bulges.
func (s Strand) endingAt(from, to geom.Point) geom.Piece {
	p := s.Piece
	if p.Kind == geom.ArcTo && max(from.Distance(p.From), to.Distance(p.End)) > 10*Snap {
		return geom.FromBulge(from, to, p.Bulge())
	}
	p.From, p.End = from, to
	return p
}
