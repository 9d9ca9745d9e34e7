package kerf

import (
	"errors"
	"math"
	"slices"

	"foredge/layout/geom"
)

// A Loss is a stretch of a figure that is too narrow to stay: an arm, a crossbar, or a bay
// of what lies round it.
type Loss struct {
	At    geom.Point // where it is farthest from what stays
	Reach float64    // how far that is, in mm; of a bay how far its end is from all that lies round
	Whole bool       // it is all within a ring: [Offset] gives a [VanishError]
	Tie   bool       // something between two stretches that stay is lost, such as the bar of an H or an A
}

// Box is the box about the place, of no size.
func (l Loss) Box() geom.Box { return geom.Box{Min: l.At, Max: l.At} }

func (l Loss) Error() string { return "a stretch of the figure is too narrow to stay" }

// Lost is the longest stretch of a closed figure that is narrower than a width in mm, by which it
// reaches out of what is as wide: as [Offset] by half of the width inwards, and out again, leaves
// it. Sharp points stay, but for those beyond [MitreLimit]. Of a width below 0 it is the longest
// bay of what lies round that is narrower than so much: outwards, and in again. ok is false if
// there is none longer than the width: what is shorter is a corner that the curves about it blunt.
// What can't be offset has none.
func (m *Memo) Lost(f geom.Figure, width float64) (longest Loss, ok bool) {
	d := -width / 2
	paths := geom.Paths(f)
	if d == 0 || slices.ContainsFunc(paths, func(p geom.Path) bool { return !p.Closed }) {
		return longest, false
	}
	rings, err := orient(paths)
	if err != nil {
		return longest, false
	}
	for _, g := range groups(rings, d) {
		_, err := m.find(g, d, losses, func() (geom.Outline, error) { return nil, lostOf(g, d) })
		var loss Loss
		if errors.As(err, &loss) && loss.Reach > longest.Reach {
			longest, ok = loss, true
		}
	}
	return longest, ok
}

// lostOf is the [Loss] of rings that may come to meet, nil if there is none.
func lostOf(g []ring, d float64) error {
	var wanted geom.Outline
	for _, r := range g {
		wanted = append(wanted, path(r))
	}
	edge := geom.NewBoundary(wanted)
	if _, ok := shiftRings(g, d, edge); ok {
		return nil // every side has stayed
	}
	moved, err := trimRings(g, d, edge)
	var gone VanishError
	switch {
	case errors.As(err, &gone):
		return Loss{gone.Bounds.Center(), max(gone.Bounds.Width(), gone.Bounds.Height()), true, false}
	case err != nil:
		return nil
	}
	back, err := offsetRings(moved, -d, nil)
	if err != nil {
		return nil
	}
	// The farthest of a stretch lies at its corners or along its longest sides.
	const each = 4
	left := geom.NewBoundary(back)
	longest := Loss{Reach: 2 * math.Abs(d), Tie: d < 0 && parts(moved) > parts(wanted)}
	if longest.Tie {
		longest.Reach /= 2 // it is measured from both its ends
	}
	found := false
	for _, r := range g {
		for _, p := range r {
			for k := range each {
				x := p.At(float64(k) / each)
				if left.Within(x, longest.Reach) || left.Contains(x) != (d > 0) {
					continue
				}
				longest.At, longest.Reach, found = x, left.Distance(x), true
			}
		}
	}
	if !found {
		return nil
	}
	return longest
}

// parts is how many parts an outline has, less the openings in them: more if a tie is gone,
// which parts what it held together or lets two openings, or one and what lies round, be one.
func parts(o geom.Outline) (n int) {
	for _, p := range o {
		if p.Clockwise() {
			n++
		} else {
			n--
		}
	}
	return n
}
