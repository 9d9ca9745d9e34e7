package layout

import (
	"fmt"
	"math"
	"strings"

	"foredge/layout/geom"
)

// endPartings ends lines that part an opening where the laser goes along its edge, half a
// kerf inside: all comes apart there, and the edge that stays isn't nicked. A line of the
// opening that has no place within isn't cut, as the cuts along the edges meet where it would
// be; one that parts what falls out of the opening stays as it is. The shapes are as they are
// cut, wanted as they are to come out.
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
		lines := stretchesWithin(line, cut[s.opening()], kerf/8)
		if len(lines) == 0 && !whole[s.opening()].Contains(middle(line)) {
			lines = []geom.Path{line}
		}
		for i, l := range lines {
			part := s
			if part.Figure = l; i > 0 {
				part.ID = fmt.Sprintf("%s.%d", s.ID, i+1)
			}
			kept = append(kept, part)
		}
	}
	return kept
}

// middle is a point in the middle of one of a line's pieces.
func middle(line geom.Path) geom.Point {
	n := len(line.Segments) / 2
	for p := range line.Pieces() {
		if n--; n < 0 {
			return p.At(0.5)
		}
	}
	return line.Start
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

// stretchesWithin are those of an open line within an opening, looked for in steps of some
// mm: it leaves that at its ends, and at corners of its own where the edge has one too.
func stretchesWithin(line geom.Path, opening *geom.Boundary, step float64) (stretches []geom.Path) {
	from := 0
	at := line.Start
	for i, s := range line.Segments {
		last := i == len(line.Segments)-1
		if !last && opening.Contains(s.End) {
			continue
		}
		if l, any := endedWithin(geom.Path{Start: at, Segments: line.Segments[from : i+1]}, opening, step); any {
			stretches = append(stretches, l)
		}
		from, at = i+1, s.End
	}
	return stretches
}

// endedWithin is an open line from where it first comes into an opening to where it last
// leaves it; any is false if it doesn't come into it.
func endedWithin(line geom.Path, opening *geom.Boundary, step float64) (ended geom.Path, any bool) {
	for range 2 { // from its start, and from its end
		if line, any = entered(line, opening, step); !any {
			return line, false
		}
		line = line.Reverse()
	}
	return line, true
}

// entered is a line from where it first comes into an opening.
func entered(line geom.Path, opening *geom.Boundary, step float64) (rest geom.Path, any bool) {
	if opening.Contains(line.Start) {
		return line, true
	}
	done := 0
	for p := range line.Pieces() {
		done++
		steps := math.Ceil(p.Length() / step)
		for k := 1.0; k <= steps; k++ {
			if !opening.Contains(p.At(k / steps)) {
				continue
			}
			out, in := (k-1)/steps, k/steps
			for range 50 { // halves, until it is found as finely as numbers are
				if mid := (out + in) / 2; opening.Contains(p.At(mid)) {
					in = mid
				} else {
					out = mid
				}
			}
			first := p.Part(in, 1)
			b := geom.NewPath(first.From).Add(first.Segment)
			for _, s := range line.Segments[done:] {
				b.Add(s)
			}
			return b.Open(), true
		}
	}
	return line, false
}
