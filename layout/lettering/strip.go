package lettering

import (
	"cmp"
	"math"
	"slices"

	"foredge/layout/geom"
)

// searchTol is how far in mm chords lie from the edges where places for bridges
// are looked for; the bridges themselves are cut out of the letters as they are.
const searchTol = 5e-3

// A bridger looks for places of bridges in a letter.
type bridger struct {
	letter geom.Outline
	width  float64
	shade  shade
}

func newBridger(letter geom.Outline, width float64) *bridger {
	return &bridger{letter: letter, width: width, shade: newShade(letter)}
}

// A strip is a place for a bridge.
type strip struct {
	path geom.Path // a rectangle, clockwise
	cost float64   // about how long it is, in mm, more where it looks worse
	ok   bool
}

// best is the best strip out of a pocket at an angle, clockwise from upwards.
func (b *bridger) best(pocket geom.Path, angle float64) strip {
	var best strip
	b.search(pocket, angle, func(s strip) float64 {
		if !best.ok || s.cost < best.cost {
			best = s
		}
		return best.cost
	})
	return best
}

// strips are all of them.
func (b *bridger) strips(pocket geom.Path, angle float64) []strip {
	var out []strip
	b.search(pocket, angle, func(s strip) float64 {
		out = append(out, s)
		return math.Inf(1)
	})
	return out
}

// search looks for bridges out of a pocket at an angle from upwards: strips from
// inside it to material outside the pocket, where a disc as broad as the bridge
// has room. found is told each and says what the next may cost.
func (b *bridger) search(pocket geom.Path, angle float64, found func(strip) float64) {
	letter, from := b.shade, newShade(geom.Outline{pocket})
	if angle != 0 {
		turn := geom.Turn(geom.Point{}, -angle)
		letter, from = letter.turned(turn), from.turned(turn)
	}
	back := geom.Turn(geom.Point{}, angle)
	most := math.Inf(1)
	const places = 15
	for i := 1; i < places; i++ {
		off := float64(2*i-places) / places // -1 at the left, 1 at the right
		x := from.box.Center().X + off*from.box.Width()/2
		inside := from.lane(nil, x)
		y, ok := longest(inside)
		if !ok {
			continue
		}
		handsome := 1 + off*off
		if end, length, ok := b.march(&letter, inside, x, y, most/handsome); ok {
			rect := geom.Paths(geom.Rect{Min: geom.Pt(x-b.width/2, end), W: b.width, H: y - end})[0]
			most = found(strip{back.Path(rect), length * handsome, true})
		}
	}
}

// march goes upwards from inside a pocket until the whole breadth of a bridge
// has come through to other material, and says how much of the letter a bridge
// there would take, as a length. It gives up where that is more than most.
func (b *bridger) march(letter *shade, inside []span, x, y, most float64) (end, length float64, ok bool) {
	step := math.Max(b.width/12, letter.box.Height()/400)
	const across = 9
	var lanes [across + 2][]span // across the bridge, and at both sides of it
	for k := range across {
		lanes[k] = letter.lane(nil, x+b.width*(float64(k)/(across-1)-0.5)*0.999)
	}
	// Beside the bridge what is left of the letter must not be a mere sliver.
	lanes[across], lanes[across+1] = letter.lane(nil, x-b.width), letter.lane(nil, x+b.width)
	var beside [2]float64
	for end = y; end > letter.box.Min.Y-2*b.width && length <= most; end -= step {
		filled := 0
		for _, l := range lanes[:across] {
			if covers(l, end) {
				filled++
			}
		}
		length += step * float64(filled) / across
		for k, l := range lanes[across:] {
			if covers(l, end) {
				beside[k] += step
			}
		}
		if filled == 0 && length > 0 && !covers(inside, end) && !letter.within(geom.Pt(x, end), b.width/2-slack) {
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

// A shade is an area as polygons, to be looked at along upright lines.
type shade struct {
	sides []side
	box   geom.Box
}

// A side of a polygon runs from a to b.
type side struct{ a, b geom.Point }

func newShade(o geom.Outline) shade {
	s := shade{box: geom.EmptyBox()}
	for _, p := range o {
		points := p.Flatten(searchTol)
		for i, a := range points {
			s.sides = append(s.sides, side{a, points[(i+1)%len(points)]})
			s.box = s.box.Union(geom.Box{Min: a, Max: a})
		}
	}
	return s
}

func (s shade) turned(m geom.Similarity) shade {
	t := shade{sides: make([]side, len(s.sides)), box: geom.EmptyBox()}
	for i, e := range s.sides {
		e = side{m.Point(e.a), m.Point(e.b)}
		t.sides[i] = e
		t.box = t.box.Union(geom.Box{Min: e.a, Max: e.a})
	}
	return t
}

// A span is a stretch of an upright line inside an area.
type span struct{ from, to float64 }

// lane appends where the upright line at x runs inside by the non-zero rule,
// from the top down.
func (s *shade) lane(out []span, x float64) []span {
	type crossing struct {
		y   float64
		way int
	}
	var buffer [16]crossing
	at := buffer[:0]
	for _, e := range s.sides {
		way := 1
		if (e.a.X <= x) == (e.b.X <= x) {
			continue
		}
		if e.b.X <= x {
			way = -1
		}
		at = append(at, crossing{e.a.Y + (x-e.a.X)/(e.b.X-e.a.X)*(e.b.Y-e.a.Y), way})
	}
	slices.SortFunc(at, func(p, q crossing) int { return cmp.Or(cmp.Compare(p.y, q.y), q.way-p.way) })
	n := 0
	for _, c := range at {
		was := n
		n += c.way
		switch {
		case was == 0:
			out = append(out, span{from: c.y})
		case n == 0:
			out[len(out)-1].to = c.y
		}
	}
	return out
}

// winding is how often the polygons run clockwise round a point, and near
// whether they come nearer than d to it.
func (s *shade) winding(x geom.Point, d float64) (n int, near bool) {
	for _, e := range s.sides {
		if (e.a.Y <= x.Y) != (e.b.Y <= x.Y) && e.a.X+(x.Y-e.a.Y)/(e.b.Y-e.a.Y)*(e.b.X-e.a.X) > x.X {
			if e.b.Y > x.Y {
				n++
			} else {
				n--
			}
		}
		near = near || e.distance(x) < d
	}
	return n, near
}

// within says whether a point is nearer than d to the polygons' sides.
func (s *shade) within(x geom.Point, d float64) bool {
	for _, e := range s.sides {
		if e.distance(x) < d {
			return true
		}
	}
	return false
}

func (e side) distance(x geom.Point) float64 {
	u, v := e.b.Sub(e.a), x.Sub(e.a)
	n := u.Dot(u)
	if n == 0 {
		return v.Norm()
	}
	return v.Sub(u.Mul(min(1, max(0, v.Dot(u)/n)))).Norm()
}

func covers(lane []span, y float64) bool {
	for _, s := range lane {
		if s.from <= y && y <= s.to {
			return true
		}
	}
	return false
}

// longest is the middle of the longest stretch.
func longest(lane []span) (y float64, ok bool) {
	most := 0.0
	for _, s := range lane {
		if d := s.to - s.from; d > most {
			most, y, ok = d, (s.from+s.to)/2, true
		}
	}
	return y, ok
}
