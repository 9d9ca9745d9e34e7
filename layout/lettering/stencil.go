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
	letter, grown := newSolid(turn.Outline(b.letter)), geom.NewBoundary(turn.Outline(b.grown))
	from := newSolid(turn.Path(pocket))
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
func inside(b *solid, x float64) (y float64, ok bool) {
	longest := 0.0
	for _, s := range b.lane(x) {
		if d := s.to - s.from; d > longest {
			longest, y, ok = d, (s.from+s.to)/2, true
		}
	}
	return y, ok
}

// A solid is a closed boundary that is looked at along upright lines.
type solid struct {
	*geom.Boundary
	boxes []geom.Box // of its pieces
	at    []geom.Point
}

// A span is a stretch of an upright line inside a solid.
type span struct{ from, to float64 }

func newSolid(f geom.Figure) *solid {
	s := &solid{Boundary: geom.NewBoundary(f)}
	for _, p := range s.Pieces {
		s.boxes = append(s.boxes, p.Bounds())
	}
	return s
}

// lane is where the upright line at x runs inside, from the top down.
func (s *solid) lane(x float64) []span {
	line := geom.Line(geom.Pt(x, s.Box.Min.Y-1), geom.Pt(x, s.Box.Max.Y+1))
	s.at = s.at[:0]
	for i, p := range s.Pieces {
		if s.boxes[i].Min.X <= x && x <= s.boxes[i].Max.X {
			s.at = geom.Intersections(s.at, line, p)
		}
	}
	slices.SortFunc(s.at, func(p, q geom.Point) int { return cmp.Compare(p.Y, q.Y) })
	var out []span
	for i := 1; i < len(s.at); i++ {
		from, to := s.at[i-1].Y, s.at[i].Y
		if to <= from || !s.Contains(geom.Pt(x, (from+to)/2)) {
			continue
		}
		if n := len(out); n > 0 && out[n-1].to == from {
			out[n-1].to = to
			continue
		}
		out = append(out, span{from, to})
	}
	return out
}

func covers(lane []span, y float64) bool {
	for _, s := range lane {
		if s.from <= y && y <= s.to {
			return true
		}
	}
	return false
}

// march goes upwards from inside a pocket until the whole breadth of a bridge
// has come through to other material, and says how much of the letter a bridge
// there would take, as a length.
func (b *bridger) march(letter *solid, grown *geom.Boundary, from *solid, x, y float64) (end, length float64, ok bool) {
	step := math.Max(b.width/12, letter.Box.Height()/400)
	var lanes [9][]span // across the bridge
	for k := range lanes {
		lanes[k] = letter.lane(x + b.width*(float64(k)/float64(len(lanes)-1)-0.5)*0.999)
	}
	// Beside the bridge what is left of the letter must not be a mere sliver.
	sides := [2][]span{letter.lane(x - b.width), letter.lane(x + b.width)}
	var beside [2]float64
	for end = y; end > letter.Box.Min.Y-2*b.width; end -= step {
		filled := 0
		for _, l := range lanes {
			if covers(l, end) {
				filled++
			}
		}
		length += step * float64(filled) / float64(len(lanes))
		for k, l := range sides {
			if covers(l, end) {
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
