package lettering

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"foredge/layout/geom"
	"foredge/layout/kerf"
)

// A BridgeError says that letters are too small for their bridges: little
// would be left to cut.
type BridgeError struct{ Width float64 } // mm

func (BridgeError) Error() string { return "the letters are too small for bridges as broad as that" }

var errBridge = errors.New("the counters of these letters can't be held by bridges")

// finest is how broad in mm what bridges leave of a letter is at the least, whatever
// the laser (common practice, no source).
const finest = 0.08

// slack is by how much in mm a bridge is looked at as narrower than it is, for
// the rounding of its edges, and bridgeTol how far the arcs may then lie from
// the curves.
const (
	slack     = 1e-3
	bridgeTol = 4e-4
)

// Stencil makes letters that are cut through the material keep their counters:
// it takes bridges, width mm broad, out of an outline as [Fit] gives it, so that
// all material round the letters is connected, by necks as broad as the width; beside
// one there may be narrower ones. A counter gets a bridge above and one below where both are short, else
// one on the side where it is shortest; so does a bay that is only open by
// narrower necks. What is left of a letter that is smaller than a fiftieth of a square of the
// width, or narrower than 0.08 mm or than the laser's cut, cut mm wide, stays
// material (common practice, no source).
//
// That it holds is checked on the result: letters grown by half the width must
// close round nothing. The errors are [BridgeError] and, for letters that can't
// be bridged, an error without more to tell. For a text that was just set
// [Block.Stencil] does the same faster.
func Stencil(o geom.Outline, width, cut float64) (geom.Outline, error) {
	b, err := stencil(o, width, cut)
	return b.outline, err
}

// stencil bridges the letters of an outline, and then what they close round
// between them.
func stencil(o geom.Outline, width, cut float64) (body, error) {
	var all []body
	for _, letter := range letters(o) {
		b, err := bridged(letter, width, cut)
		if err != nil {
			return body{}, err
		}
		all = append(all, b)
	}
	all, err := hold(all, func(group []int) (body, error) {
		return widen(join(all, group).outline, width, cut)
	})
	if err != nil {
		return body{}, err
	}
	return join(all, nil), nil
}

// letters parts an outline into its outermost paths, each with what is inside.
func letters(o geom.Outline) []geom.Outline {
	boxes := make([]geom.Box, len(o))
	for i, p := range o {
		boxes[i] = p.Bounds()
	}
	edges := make([]*geom.Boundary, len(o))
	around := make([][]int, len(o)) // which paths each lies in
	for i, p := range o {
		for j := range o {
			if i == j || !boxes[j].Holds(boxes[i]) {
				continue
			}
			if edges[j] == nil {
				edges[j] = geom.NewBoundary(o[j])
			}
			if edges[j].Contains(p.Start) {
				around[i] = append(around[i], j)
			}
		}
	}
	var out []geom.Outline
	for i := range o {
		if len(around[i]) > 0 {
			continue
		}
		letter := geom.Outline{o[i]}
		for j := range o {
			if slices.Contains(around[j], i) {
				letter = append(letter, o[j])
			}
		}
		out = append(out, letter)
	}
	return out
}

// bridged is one letter with its counters bridged.
func bridged(letter geom.Outline, width, cut float64) (body, error) {
	out := letter
	b := newBridger(letter, width)
	for _, p := range letter {
		if p.Clockwise() {
			continue
		}
		var ok bool
		if out, ok = b.counter(out, p); !ok {
			return body{}, errBridge
		}
	}
	held, err := widen(crumbless(out, letter, width, cut), width, cut)
	if err == nil && geom.Area(held.outline) < geom.Area(letter)/2 {
		err = BridgeError{width}
	}
	return held, err
}

// counter takes the bridges of one counter out of what is left of its letter.
func (b *bridger) counter(out geom.Outline, p geom.Path) (geom.Outline, bool) {
	up, down := b.best(p, 0), b.best(p, math.Pi)
	for _, angle := range []float64{math.Pi / 2, -math.Pi / 2, math.Pi / 4, -math.Pi / 4} {
		if up.ok || down.ok {
			break
		}
		up = b.best(p, angle)
	}
	ok := true
	const much = 2.5 // times the shorter, and a bridge is left out
	if up.ok && !(down.ok && down.cost*much < up.cost) {
		out, ok = without(out, up.path)
	}
	if ok && down.ok && !(up.ok && up.cost*much < down.cost) {
		out, ok = without(out, down.path)
	}
	return out, ok
}

// widen bridges what is still held by less than the width.
func widen(o geom.Outline, width, cut float64) (body, error) {
	pockets, grown, err := look(o, width)
	for range 24 {
		if err != nil || len(pockets) == 0 {
			return body{o, grown}, err
		}
		b := newBridger(o, width)
		// The best of each direction first, then the next ones.
		var rounds [4][]strip
		for angle := range 8 {
			ways := b.strips(pockets[0], float64(angle)*math.Pi/4)
			slices.SortStableFunc(ways, func(a, b strip) int { return cmp.Compare(a.cost, b.cost) })
			for i := range min(len(ways), len(rounds)) {
				rounds[i] = append(rounds[i], ways[i*max(1, len(ways)/len(rounds))])
			}
		}
		var ways []strip
		for _, round := range rounds {
			slices.SortStableFunc(round, func(a, b strip) int { return cmp.Compare(a.cost, b.cost) })
			ways = append(ways, round...)
		}
		found := false
		for _, w := range ways {
			parted, ok := without(o, w.path)
			if !ok {
				continue
			}
			left := crumbless(parted, o, width, cut)
			still, after, wrong := look(left, width)
			if wrong == nil && len(still) < len(pockets) {
				o, pockets, grown, found = left, still, after, true
				break
			}
		}
		if !found {
			break
		}
	}
	return body{}, errBridge
}

// crumbless leaves out what bridges have left of an outline that would be too
// little to be cut cleanly, or narrower than the laser's cut. A dot that was there before
// is no crumb.
func crumbless(o, before geom.Outline, width, cut float64) geom.Outline {
	whole := map[*geom.Segment]bool{}
	for _, p := range before {
		whole[&p.Segments[0]] = true
	}
	return slices.DeleteFunc(slices.Clone(o), func(p geom.Path) bool {
		if !p.Clockwise() || whole[&p.Segments[0]] {
			return false
		}
		// A long strip's breadth is twice its area by its length round; nothing is narrower.
		a, fine := math.Abs(p.Area()), max(cut, finest)
		return a < width*width/50 || 2*a/geom.Length(p) < fine && narrower(p, fine)
	})
}

// narrower says whether nothing is left of an opening that a laser cuts so wide.
func narrower(p geom.Path, cut float64) bool {
	left, err := kerf.Offset(geom.Outline{p.Arcs(bridgeTol)}, -cut/2)
	if err != nil {
		return true
	}
	b := left.Bounds()
	return !(min(b.Width(), b.Height()) > smallest)
}

// look grows an outline by half the width and gives what it closes round:
// pockets of material that nothing as broad as a bridge holds. Counters show as
// themselves, and then nothing is grown.
func look(o geom.Outline, width float64) (pockets []geom.Path, grown []geom.Path, err error) {
	arcs := make(geom.Outline, len(o))
	for i, p := range o {
		if !p.Clockwise() {
			pockets = append(pockets, p)
		}
		arcs[i] = p.Arcs(bridgeTol)
	}
	if len(pockets) > 0 || len(o) == 0 {
		return pockets, nil, nil
	}
	var all geom.Figure
	for k := 1.0; k <= 3; k++ {
		// Where edges just touch, offsetting a hair less far decides it.
		if all, err = kerf.Offset(arcs, width/2-k*slack); err == nil {
			break
		}
	}
	if err != nil {
		return nil, nil, errBridge
	}
	for _, p := range geom.Paths(all) {
		switch {
		case p.Clockwise():
			grown = append(grown, p)
		case -p.Area() > 1e-4: // what is smaller is rounding: no disc of the breadth moves in it
			pockets = append(pockets, p)
		}
	}
	return pockets, grown, nil
}
