package kerf

import (
	"errors"
	"fmt"
	"math"

	"foredge/layout/geom"
)

const (
	// CurveTol is how far in mm the arcs that stand for a cubic lie from it: the
	// resolution of the files.
	CurveTol = 1e-4

	// MitreLimit is how many offsets long a sharp corner's point may grow; at
	// corners sharper than about 11.5 degrees it is rounded instead.
	MitreLimit = 10

	// snap is the distance in mm below which two ends are joined: a thousandth of
	// what the files carry.
	snap = 1e-7
)

// A VanishError says that an opening is no wider than the cut that makes it, so
// that nothing of it would be left to draw.
type VanishError struct {
	Width  float64 // of the opening where it is judged by its box, mm
	Kerf   float64 // full width of cut, mm
	Bounds geom.Box
}

func (e VanishError) Error() string {
	return fmt.Sprintf("an opening %.4g mm wide vanishes in a cut %.4g mm wide", e.Width, e.Kerf)
}

// ErrOpen says that an open path was to be offset: it has no inside.
var ErrOpen = errors.New("a path that isn't closed has no inside to grow or shrink")

// ErrTangled says that the figure's own edges cross or run along one another,
// so that it isn't clear what is inside.
var ErrTangled = errors.New("the edges of the figure cross or run along one another")

// Offset grows the inside of a figure by d mm all round (d > 0) or shrinks it
// (d < 0). Rings of an outline inside one another are taken for material and
// counters alternately, whichever way they run. A path that falls apart, or closes
// round a counter, gives an outline. Rings run as they came: single paths keep
// their sense, outlines have material clockwise and counters the other way.
// The errors are [VanishError], [ErrOpen] and [ErrTangled].
func Offset(f geom.Figure, d float64) (geom.Figure, error) { return offset(f, d, nil) }

// offset is [Offset] with what a memo knows, if there is one.
func offset(f geom.Figure, d float64, m *Memo) (geom.Figure, error) {
	if d == 0 {
		return f, nil
	}
	switch f := f.(type) {
	case geom.Rect:
		if min(f.W, f.H)+2*d <= snap {
			return nil, vanish(f.Bounds(), d)
		}
		return geom.Rect{Min: f.Min.Sub(geom.Pt(d, d)), W: f.W + 2*d, H: f.H + 2*d}, nil
	case geom.Circle:
		if f.R+d <= snap {
			return nil, vanish(f.Bounds(), d)
		}
		return geom.Circle{Center: f.Center, R: f.R + d}, nil
	case geom.Path:
		if !f.Closed {
			return nil, ErrOpen
		}
		out, err := offsetRings(geom.Outline{f}, d, m)
		if err != nil {
			return nil, err
		}
		if len(out) == 1 {
			return plain(out[0].Oriented(f.Clockwise())), nil
		}
		return out, nil
	case geom.Outline:
		for _, p := range f {
			if !p.Closed {
				return nil, ErrOpen
			}
		}
		return m.outline(f, d)
	}
	return f, nil
}

func vanish(b geom.Box, d float64) error {
	return VanishError{Width: min(b.Width(), b.Height()), Kerf: 2 * math.Abs(d), Bounds: b}
}

// plain turns a path of four upright sides into the rectangle that it is.
func plain(p geom.Path) geom.Figure {
	if len(p.Segments) != 4 {
		return p
	}
	upright := 0.0
	for piece := range p.Pieces() {
		side := piece.End.Sub(piece.From)
		if piece.Kind != geom.LineTo {
			return p
		}
		upright = max(upright, min(math.Abs(side.X), math.Abs(side.Y)))
	}
	if upright > 1e-12 {
		return p
	}
	b := p.Bounds()
	return geom.Rect{Min: b.Min, W: b.Width(), H: b.Height()}
}

// offsetRings offsets closed paths that are filled together.
func offsetRings(paths geom.Outline, d float64, m *Memo) (geom.Outline, error) {
	rings, err := orient(paths)
	if err != nil {
		return nil, err
	}
	if len(rings) == 1 && convex(rings[0]) {
		// Convex sides that all keep their direction can't collide.
		if moved, ok := shiftRing(rings[0], d); ok {
			if p := path(moved); !thin(p) {
				return geom.Outline{p}, nil
			}
		}
	}
	var out geom.Outline
	for _, g := range groups(rings, d) {
		moved, err := m.group(g, d)
		if err != nil {
			return nil, err
		}
		out = append(out, moved...)
	}
	return out, nil
}

// offsetGroup offsets rings that may come to meet.
func offsetGroup(g []ring, d float64) (geom.Outline, error) {
	var wanted geom.Outline
	for _, r := range g {
		wanted = append(wanted, path(r))
	}
	edge := geom.NewBoundary(wanted)
	if moved, ok := shiftRings(g, d, edge); ok {
		return moved, nil
	}
	return trimRings(g, d, edge)
}

// groups parts the rings into those that may come to meet, by the room that each
// and what it moves to take up: letters of a line don't, a letter and its
// counter do.
func groups(rings []ring, d float64) [][]ring {
	// Whether points of corners reach farther than d only matters where that
	// would make rings meet.
	room, most := make([]geom.Box, len(rings)), make([]geom.Box, len(rings))
	for i, r := range rings {
		b := path(r).Bounds()
		room[i], most[i] = b.Grow(math.Abs(d)), b.Grow(2*math.Abs(d)*MitreLimit)
	}
	near, far := geom.NewIndex(room), geom.NewIndex(most)
	for i, r := range rings {
		if len(far.Near(most[i], snap)) == len(near.Near(room[i], snap)) {
			continue
		}
		moved, _ := strands([]ring{r}, d)
		for _, s := range moved {
			room[i] = room[i].Union(s.Bounds())
		}
	}
	ix := geom.NewIndex(room)
	group := make([]int, len(rings)) // 1 and up; 0 is none yet
	var out [][]ring
	for i := range rings {
		if group[i] > 0 {
			continue
		}
		var g []ring
		for todo := []int{i}; len(todo) > 0; {
			k := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			if group[k] > 0 {
				continue
			}
			group[k] = len(out) + 1
			g = append(g, rings[k])
			todo = append(todo, ix.Near(room[k], snap)...)
		}
		out = append(out, g)
	}
	return out
}

// A ring is a closed run of lines and arcs with the material on its right hand
// as seen: clockwise round material, the other way round a counter.
type ring []geom.Piece

func path(r ring) geom.Path {
	b := geom.NewPath(r[0].From).Room(len(r) + 1)
	for _, p := range r {
		b.Add(p.Segment)
	}
	return b.Close()
}

// convex says whether a ring turns clockwise everywhere, and once round in all.
func convex(r ring) bool {
	turn := 0.0
	for i, p := range r {
		u, w := p.Tangent(1), r[(i+1)%len(r)].Tangent(0)
		corner := math.Atan2(u.Cross(w), u.Dot(w))
		if corner < -1e-9 || p.Kind == geom.ArcTo && !p.Clockwise {
			return false
		}
		turn += corner
		if p.Kind == geom.ArcTo {
			turn += p.Arc().Sweep
		}
	}
	return turn < 2*math.Pi+1e-6
}

// orient turns paths into rings of lines and arcs: those inside an even number
// of others bound material, those inside an odd number counters.
func orient(paths []geom.Path) ([]ring, error) {
	arcs := make([]geom.Path, 0, len(paths))
	for _, p := range paths {
		if len(p.Segments) > 0 {
			arcs = append(arcs, p.Arcs(CurveTol))
		}
	}
	if len(arcs) == 0 {
		return nil, ErrTangled
	}
	edges, boxes := make([]*geom.Boundary, len(arcs)), make([]geom.Box, len(arcs))
	if len(arcs) > 1 {
		for i, p := range arcs {
			boxes[i] = p.Bounds()
		}
	}
	inside := func(j int, x geom.Point) bool {
		if edges[j] == nil {
			edges[j] = geom.NewBoundary(arcs[j])
		}
		return edges[j].Contains(x)
	}
	ix := geom.NewIndex(boxes)
	rings := make([]ring, len(arcs))
	for i, p := range arcs {
		depth := 0
		if len(arcs) > 1 {
			for _, j := range ix.Near(geom.Box{Min: p.Start, Max: p.Start}, 0) {
				if i != j && boxes[j].Holds(boxes[i]) && inside(j, p.Start) {
					depth++
				}
			}
		}
		p = p.Oriented(depth%2 == 0)
		rings[i] = make(ring, 0, len(p.Segments))
		for piece := range p.Pieces() {
			rings[i] = append(rings[i], piece)
		}
	}
	return rings, nil
}

// shift is a piece moved by d to its left hand as seen, away from the material.
// ok is false if an arc's radius is used up: point says that nothing is left of
// it but its centre, where its neighbours then meet.
func shift(p geom.Piece, d float64) (shifted geom.Piece, point, ok bool) {
	if p.Kind == geom.LineTo {
		n := normal(p.Tangent(0)).Mul(d)
		return geom.Line(p.From.Add(n), p.End.Add(n)), false, true
	}
	r := p.Arc().R
	to := r - d
	if p.Clockwise {
		to = r + d
	}
	if to <= snap {
		return p, to >= -snap, false
	}
	p.From = p.Center.Add(p.From.Sub(p.Center).Mul(to / r))
	p.End = p.Center.Add(p.End.Sub(p.Center).Mul(to / r))
	return p, false, true
}

// normal is the unit vector to the left hand, as seen, of a direction.
func normal(u geom.Point) geom.Point { return geom.Pt(u.Y, -u.X) }

// How a corner that opens is closed again.
type closing uint8

const (
	rounded  closing = iota // by an arc about the corner
	tangents                // by lines that run on from both sides
	extended                // by both sides, each running on along its line or circle
)

// point is the point of a corner at v that opens, where the moved sides a and b,
// run on, meet; u and w are their directions at the corner. Sides that bend so
// that they don't meet nearby run on straight, and a corner beyond the limit is
// rounded.
func point(a, b geom.Piece, v, u, w geom.Point, d float64) (geom.Point, closing) {
	n, k := normal(u), normal(w)
	cos := 1 + n.Dot(k) // 2cos² of half the turn
	if 2 > cos*MitreLimit*MitreLimit {
		return v, rounded
	}
	straight := v.Add(n.Add(k).Mul(d / cos))
	if a.Kind == geom.LineTo && b.Kind == geom.LineTo {
		return straight, extended
	}
	best, found := straight, false
	for _, x := range geom.Crossings(nil, a, b) {
		if x.Distance(straight) <= straight.Distance(a.End)/2 && (!found || x.Distance(straight) < best.Distance(straight)) {
			best, found = x, true
		}
	}
	if found {
		return best, extended
	}
	return straight, tangents
}
