package geom

import "fmt"

// A CornerKind is how a corner of a board is made.
type CornerKind uint8

const (
	Square CornerKind = iota
	Round
	Chamfer // cut off at 45 degrees
)

// A Corner of a board: its radius, or what a chamfer takes off each edge, in mm.
type Corner struct {
	Kind CornerKind
	Size float64
}

// The corners of a [Board], in the order in which its outline runs.
const (
	UpperLeft = iota
	UpperRight
	LowerRight
	LowerLeft
)

// A CornerError says that the two corners at one side of a board need more than
// the side's length.
type CornerError struct {
	First, Second int     // UpperLeft to LowerLeft
	Need, Have    float64 // mm
}

func (e CornerError) Error() string {
	return fmt.Sprintf("two corners take %.4g mm of a side of %.4g mm", e.Need, e.Have)
}

// Board is a board from (0, 0) to (w, h) with its corners in the order of
// UpperLeft to LowerLeft. It is a [Rect] if all corners are square, otherwise a
// closed path that runs clockwise from the upper edge. The error is a
// [CornerError].
func Board(w, h float64, corners [4]Corner) (Figure, error) {
	var size [4]float64
	plain := true
	for i, c := range corners {
		if c.Kind != Square && c.Size > touch {
			size[i], plain = c.Size, false
		}
	}
	if plain {
		return Rect{W: w, H: h}, nil
	}
	for i := range size {
		j := (i + 1) % 4
		have := w
		if i%2 == 1 {
			have = h
		}
		if need := size[i] + size[j]; need > have+touch {
			return nil, CornerError{i, j, need, have}
		}
	}
	// At each corner the outline arrives along in and leaves along out.
	at := [4]Point{{0, 0}, {w, 0}, {w, h}, {0, h}}
	along := [4]Point{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}
	b := NewPath(at[0].Add(along[0].Mul(size[0])))
	for k := 1; k <= 4; k++ {
		i := k % 4
		in, out := along[(i+3)%4], along[i]
		arrive, leave := at[i].Sub(in.Mul(size[i])), at[i].Add(out.Mul(size[i]))
		b.Line(arrive)
		if corners[i].Kind == Round {
			b.Arc(leave, arrive.Add(out.Mul(size[i])), true)
		} else {
			b.Line(leave)
		}
	}
	return b.Close(), nil
}

// CenterRect is a rectangle about a centre.
func CenterRect(c Point, w, h float64) Rect {
	return Rect{Pt(c.X-w/2, c.Y-h/2), w, h}
}

// RoundRect is a rectangle about a centre with corners of radius r. With r = 0
// it is a [Rect], with both sides 2r a [Circle].
func RoundRect(c Point, w, h, r float64) (Figure, error) {
	if r > touch && max(w-2*r, h-2*r) <= touch && min(w-2*r, h-2*r) >= -touch {
		return Circle{c, r}, nil
	}
	corner := Corner{Round, r}
	f, err := Board(w, h, [4]Corner{corner, corner, corner, corner})
	if err != nil {
		return nil, err
	}
	if path, ok := f.(Path); ok {
		f = mergeHalfCircles(path)
	}
	return f.Move(Pt(c.X-w/2, c.Y-h/2)), nil
}

// Slot is a slot with round ends about a centre: w along X, h along Y. With
// equal sides it is a [Circle].
func Slot(c Point, w, h float64) Figure {
	f, err := RoundRect(c, w, h, min(w, h)/2)
	if err != nil {
		return CenterRect(c, w, h) // can't be: the radius fits by construction
	}
	return f
}

// mergeHalfCircles joins arcs that follow one another about one centre, so that
// the end of a slot is one half circle.
func mergeHalfCircles(p Path) Path {
	out := Path{Start: p.Start, Closed: p.Closed}
	for _, s := range p.Segments {
		if n := len(out.Segments); n > 0 && s.Kind == ArcTo {
			last := &out.Segments[n-1]
			if last.Kind == ArcTo && last.Clockwise == s.Clockwise && last.Center.Distance(s.Center) <= touch {
				last.End = s.End
				continue
			}
		}
		out.Segments = append(out.Segments, s)
	}
	// The seam may lie in the middle of a half circle.
	if n := len(out.Segments); n > 2 && out.Closed {
		first, last := out.Segments[0], out.Segments[n-1]
		if first.Kind == ArcTo && last.Kind == ArcTo && last.Clockwise == first.Clockwise && last.Center.Distance(first.Center) <= touch {
			out.Start = first.End
			out.Segments = append(out.Segments[1:n-1:n-1], Segment{Kind: ArcTo, End: first.End, Center: last.Center, Clockwise: last.Clockwise})
		}
	}
	return out
}
