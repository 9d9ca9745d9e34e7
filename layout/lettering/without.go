package lettering

import (
	"math"

	"foredge/layout/geom"
	"foredge/layout/internal/strand"
)

// without is a clean outline without what a rectangle, clockwise, covers. Only
// what meets the rectangle is cut; curves elsewhere stay as they are. ok is
// false if it doesn't close.
func without(o geom.Outline, rect geom.Path) (out geom.Outline, ok bool) {
	const hair = 1e-6 // mm; far below the resolution of the files
	box := rect.Bounds().Grow(hair)
	var whole, near []strand.Strand // of the paths that are met
	count := 0
	add := func(to []strand.Strand, p geom.Piece, ring int) []strand.Strand {
		count++
		return append(to, strand.New(p, ring, count))
	}
	for i, p := range o {
		if !p.Bounds().Meets(box) {
			out = append(out, p)
			continue
		}
		n := len(near)
		var far []strand.Strand
		for piece := range p.Pieces() {
			if !piece.Bounds().Meets(box) {
				far = add(far, piece, i)
				continue
			}
			one := geom.Path{Start: piece.From, Segments: []geom.Segment{piece.Segment}}
			for arc := range one.Arcs(curveTol).Pieces() {
				if arc.Bounds().Meets(box) {
					near = add(near, arc, i)
				} else {
					far = add(far, arc, i)
				}
			}
		}
		if len(near) == n {
			out = append(out, p)
			continue
		}
		whole = append(whole, far...)
	}
	if len(near) == 0 {
		return out, true
	}
	own := len(o) // the rectangle's ring
	for piece := range rect.Pieces() {
		near = add(near, piece, own)
	}
	shadow := newShade(o)
	for _, s := range strand.Cut(near) {
		mid := s.At(0.5)
		if s.Ring == own {
			n, close := shadow.winding(mid, 2*searchTol)
			if close {
				n = geom.NewBoundary(o).Winding(mid)
			}
			if n != 0 {
				whole = append(whole, s.Reverse())
			}
			continue
		}
		switch deep := depth(rect, mid); {
		case math.Abs(deep) <= hair: // along a side of the rectangle
			return areas(o, geom.Outline{rect})
		case deep < 0:
			whole = append(whole, s)
		}
	}
	loops, ok := strand.Loops(whole)
	if !ok {
		return areas(o, geom.Outline{rect})
	}
	for _, loop := range loops {
		out = append(out, strand.Path(loop))
	}
	return out, true
}

// depth is how deep in mm a point lies inside a rectangle that runs clockwise,
// below 0 outside.
func depth(rect geom.Path, x geom.Point) float64 {
	d := math.Inf(1)
	for side := range rect.Pieces() {
		d = min(d, side.Tangent(0).Cross(x.Sub(side.From)))
	}
	return d
}
