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

// slack is by how much in mm a bridge is looked at as narrower than it is, for
// the rounding of its edges.
const slack = 1e-3

// Stencil makes letters that are cut through the material keep their counters:
// it takes bridges, width mm broad, out of an outline as [Fit] gives it, so that
// all material round the letters hangs together, nowhere held by less than the
// width. A counter gets a bridge above and one below where both are short, else
// one on the side where it is shortest; so does a bay that is only open by a
// narrower neck. What is left of a letter that is too small to be cut cleanly
// stays material.
//
// That it holds is checked on the result: letters grown by half the width must
// close round nothing. The errors are [BridgeError] and, for letters that can't
// be bridged, an error without more to tell.
func Stencil(o geom.Outline, width float64) (geom.Outline, error) {
	var all geom.Outline
	for _, letter := range letters(o) {
		cut, err := bridged(letter, width)
		if err != nil {
			return nil, err
		}
		all = append(all, cut...)
	}
	// Letters side by side may close round what neither closes round alone.
	return widen(all, width)
}

// letters parts an outline into its outermost paths, each with what is inside.
func letters(o geom.Outline) []geom.Outline {
	depth := make([]int, len(o))
	within := make([][]bool, len(o))
	edges := make([]*geom.Boundary, len(o))
	for i, p := range o {
		edges[i], within[i] = geom.NewBoundary(p), make([]bool, len(o))
	}
	for i, p := range o {
		for j := range o {
			if i != j && edges[j].Box.Holds(edges[i].Box) && edges[j].Contains(p.Start) {
				within[i][j] = true
				depth[i]++
			}
		}
	}
	var out []geom.Outline
	for i := range o {
		if depth[i] > 0 {
			continue
		}
		letter := geom.Outline{o[i]}
		for j := range o {
			if within[j][i] {
				letter = append(letter, o[j])
			}
		}
		out = append(out, letter)
	}
	return out
}

// bridged is one letter with its counters bridged.
func bridged(letter geom.Outline, width float64) (geom.Outline, error) {
	before := geom.Area(letter)
	b := bridger{letter: letter, width: width}
	b.look()
	var cuts geom.Outline
	for _, p := range letter {
		if p.Clockwise() {
			continue
		}
		up, down := b.best(p, 0), b.best(p, math.Pi)
		for _, angle := range []float64{math.Pi / 2, -math.Pi / 2, math.Pi / 4, -math.Pi / 4} {
			if up.ok || down.ok {
				break
			}
			up = b.best(p, angle)
		}
		const much = 2.5 // times the shorter, and a bridge is left out
		if up.ok && !(down.ok && down.cost*much < up.cost) {
			cuts = append(cuts, up.path)
		}
		if down.ok && !(up.ok && up.cost*much < down.cost) {
			cuts = append(cuts, down.path)
		}
	}
	out := letter
	if len(cuts) > 0 {
		var ok bool
		if out, ok = areas(letter, cuts); !ok {
			return nil, errBridge
		}
		out = crumbless(out, width)
	}
	out, err := widen(out, width)
	if err == nil && geom.Area(out) < before/2 {
		err = BridgeError{width}
	}
	return out, err
}

// widen bridges what is still held by less than the width.
func widen(o geom.Outline, width float64) (geom.Outline, error) {
	for range 24 {
		b := bridger{letter: o, width: width}
		pockets := b.look()
		if len(pockets) == 0 {
			return o, nil
		}
		var ways []strip
		for angle := range 8 {
			ways = append(ways, b.strips(pockets[0], float64(angle)*math.Pi/4)...)
		}
		slices.SortStableFunc(ways, func(a, b strip) int { return cmp.Compare(a.cost, b.cost) })
		found := false
		for _, w := range ways[:min(8, len(ways))] {
			cut, ok := areas(o, geom.Outline{w.path})
			if !ok {
				continue
			}
			cut = crumbless(cut, width)
			after := bridger{letter: cut, width: width}
			if len(after.look()) < len(pockets) {
				o, found = cut, true
				break
			}
		}
		if !found {
			return nil, errBridge
		}
	}
	return nil, errBridge
}

// crumbless leaves out what would be too little to be cut cleanly.
func crumbless(o geom.Outline, width float64) geom.Outline {
	return slices.DeleteFunc(o, func(p geom.Path) bool {
		a := math.Abs(p.Area())
		// A long strip's breadth is twice its area by its length round.
		return p.Clockwise() && (a < width*width/50 || 2*a/geom.Length(p) < 0.08)
	})
}

// A bridger looks for places of bridges in a letter.
type bridger struct {
	letter geom.Outline
	width  float64
	grown  geom.Outline // the letter grown by half the width
}

// look grows the letter, and gives what it closes round: pockets of material
// that nothing as broad as a bridge holds. Counters that are narrower than a
// bridge show as themselves.
func (b *bridger) look() []geom.Path {
	var pockets []geom.Path
	for _, p := range b.letter {
		if !p.Clockwise() {
			pockets = append(pockets, p)
		}
	}
	if len(b.letter) == 0 {
		return nil
	}
	counters := len(pockets)
	fig, err := kerf.Offset(b.letter, b.width/2-slack)
	if err != nil {
		return pockets
	}
	b.grown = geom.Paths(fig)
	for _, p := range b.grown {
		// What is smaller is rounding: no disc of the breadth moves in it.
		if !p.Clockwise() && -p.Area() > 1e-4 {
			if counters == 0 {
				pockets = append(pockets, p)
			}
		}
	}
	return pockets
}

// A strip is a place for a bridge.
type strip struct {
	path geom.Path
	cost float64 // about how long it is, in mm, more where it is less handsome
	ok   bool
}

// best is the best strip out of a pocket at an angle, clockwise from upwards.
func (b *bridger) best(pocket geom.Path, angle float64) strip {
	var best strip
	for _, s := range b.strips(pocket, angle) {
		if !best.ok || s.cost < best.cost {
			best = s
		}
	}
	return best
}

// strips looks for bridges out of a pocket at an angle from upwards: strips from
// inside it to material that isn't of it, where a disc as broad as the bridge
// has room.
func (b *bridger) strips(pocket geom.Path, angle float64) []strip {
	turn, back := geom.Turn(geom.Point{}, -angle), geom.Turn(geom.Point{}, angle)
	letter := geom.NewBoundary(turn.Outline(b.letter))
	grown := geom.NewBoundary(turn.Outline(b.grown))
	from := geom.NewBoundary(turn.Path(pocket))
	box := from.Box
	var out []strip
	const places = 15
	for i := 1; i < places; i++ {
		off := float64(2*i-places) / places // -1 at the left, 1 at the right
		x := box.Center().X + off*box.Width()/2
		y, ok := inside(from, x)
		if !ok {
			continue
		}
		if end, length, ok := b.march(letter, grown, from, x, y); ok {
			rect := geom.Paths(geom.Rect{Min: geom.Pt(x-b.width/2, end), W: b.width, H: y - end})[0]
			out = append(out, strip{back.Path(rect), length * (1 + off*off), true})
		}
	}
	return out
}

// inside is a place inside a closed boundary on the upright line at x: the
// middle of the longest stretch.
func inside(b *geom.Boundary, x float64) (y float64, ok bool) {
	line := geom.Line(geom.Pt(x, b.Box.Min.Y-1), geom.Pt(x, b.Box.Max.Y+1))
	var at []geom.Point
	for _, p := range b.Pieces {
		at = geom.Intersections(at, line, p)
	}
	slices.SortFunc(at, func(p, q geom.Point) int { return cmp.Compare(p.Y, q.Y) })
	longest := 0.0
	for i := 1; i < len(at); i++ {
		mid := (at[i-1].Y + at[i].Y) / 2
		if d := at[i].Y - at[i-1].Y; d > longest && b.Contains(geom.Pt(x, mid)) {
			longest, y, ok = d, mid, true
		}
	}
	return y, ok
}

// march goes upwards from inside a pocket until the whole breadth of a bridge
// has come through to other material, and says how much of the letter a bridge
// there would take, as a length.
func (b *bridger) march(letter, grown, from *geom.Boundary, x, y float64) (end, length float64, ok bool) {
	step := math.Max(b.width/12, letter.Box.Height()/400)
	const lanes = 9 // across the bridge
	// Beside the bridge what is left of the letter must not be a mere sliver.
	sides := [2]float64{x - b.width, x + b.width}
	var beside [2]float64
	for end = y; end > letter.Box.Min.Y-2*b.width; end -= step {
		filled := 0
		for k := range lanes {
			if letter.Contains(geom.Pt(x+b.width*(float64(k)/(lanes-1)-0.5)*0.999, end)) {
				filled++
			}
		}
		length += step * float64(filled) / lanes
		for k, at := range sides {
			if letter.Contains(geom.Pt(at, end)) {
				beside[k] += step
			}
		}
		here := geom.Pt(x, end)
		if filled == 0 && length > 0 && !from.Contains(here) && !grown.Contains(here) {
			for _, l := range beside {
				if l < length/3 || l > 3*length {
					length *= 1.5
				}
			}
			return end, length, true
		}
	}
	return 0, 0, false
}
