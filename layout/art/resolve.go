package art

import (
	"math"
	"slices"

	"foredge/layout/geom"
	"foredge/layout/internal/groups"
	"foredge/layout/internal/strand"
)

const (
	// curveTol is how far in mm the arcs that stand for curves lie from them where
	// outlines meet and are cut and joined; outlines that stand free keep theirs.
	curveTol = geom.CurveTol
	// aside is how far in mm beside a line it is asked what is filled: far below
	// the resolution of the files.
	aside = 1e-6
	// maxPairs is how many pairs of pieces of what is painted on one another may lie
	// near each other, and maxStrands into how many they may be cut: what that takes
	// is room.
	maxPairs   = 2_000_000
	maxStrands = 1_000_000
	// perPair is how many steps it takes to see whether two pieces meet.
	perPair = 16
)

// resolve gives the outlines of what is inked, crossing nowhere, and where colours
// run into one another. Elements far from others are looked at by themselves.
func resolve(layers []layer, work *effort) ([]Contour, []lostEdge, *Error) {
	var out []Contour
	var lost []lostEdge
	for _, group := range grouped(layers, work) {
		a := newArea(group, work, asArcs.path, func(r *region) *edgedRegion { return r.asked(asArcs) })
		if a.simple() {
			out = append(out, a.whole()...)
		} else {
			list, err := a.united()
			if err != nil {
				return nil, nil, err
			}
			out = append(out, list...)
		}
		if work.over() {
			return nil, nil, a.tangled()
		}
		lost = append(lost, a.lost...)
	}
	return out, lost, nil
}

// A lostEdge is a stretch of an edge between two colours, both of which are inked, or
// with white on ink that lets too much through to take it away.
type lostEdge struct {
	where, below Where // of what lies above, and of the other
	long         float64
	faint        bool
}

// grouped are the layers that may meet, each group in the order of painting.
func grouped(layers []layer, work *effort) [][]layer {
	boxes := make([]geom.Box, len(layers))
	for i, l := range layers {
		boxes[i] = geom.Outline(l.paths).Bounds()
	}
	meet := groups.New(len(layers))
	ix := geom.NewIndex(boxes)
	for i := range layers {
		near := ix.Near(boxes[i], 10*aside)
		work.spend(len(near))
		if work.over() {
			return [][]layer{layers}
		}
		for _, j := range near {
			meet.Unite(i, j)
		}
	}
	var out [][]layer
	for _, list := range meet.Lists() {
		var group []layer
		for _, i := range list {
			group = append(group, layers[i])
		}
		out = append(out, group)
	}
	return out
}

// An area is what a group of layers fills.
type area struct {
	layers []edged
	index  *geom.Index
	// The paths of all layers, as they are and as lines and arcs.
	paths, arcs []geom.Path
	where       []Where
	hidden      []geom.Piece // the edges of what they are clipped by, where the layers are
	pieces      int
	lost        []lostEdge
	work        *effort
}

// An edged layer is ready to be asked what it covers.
type edged struct {
	layer
	edge  *geom.Boundary
	clips []*edgedRegion
}

// newArea makes an area of layers; asked gives what they are clipped by.
func newArea(group []layer, work *effort, smooth func(geom.Path) geom.Path, asked func(*region) *edgedRegion) *area {
	a := &area{work: work}
	boxes := make([]geom.Box, len(group))
	for i, l := range group {
		e := edged{layer: l}
		var arcs geom.Outline
		for _, p := range l.paths {
			q := smooth(p)
			a.paths, a.arcs, a.where = append(a.paths, p), append(a.arcs, q), append(a.where, l.where)
			a.pieces += len(q.Segments)
			arcs = append(arcs, q)
		}
		e.edge = geom.NewBoundary(arcs)
		for _, c := range l.clips {
			e.clips = append(e.clips, asked(c))
		}
		boxes[i] = e.edge.Box
		a.layers = append(a.layers, e)
	}
	a.index = geom.NewIndex(boxes)
	all := geom.EmptyBox()
	for _, b := range boxes {
		all = all.Union(b)
	}
	gone := map[*edgedRegion]bool{} // many layers may share one
	for _, l := range a.layers {
		for _, c := range l.clips {
			c.edgesNear(all, gone, work, func(p geom.Piece) bool { a.hidden = append(a.hidden, p); return !work.over() })
		}
	}
	a.pieces += len(a.hidden)
	return a
}

// strands are all edges of the area, uncut; those of what hides it as if of one
// more ring.
func (a *area) strands() []strand.Strand {
	var all []strand.Strand
	for i, p := range a.arcs {
		for piece := range p.Pieces() {
			all = append(all, strand.New(piece, i, len(all)))
		}
	}
	for _, piece := range a.hidden {
		all = append(all, strand.New(piece, len(a.arcs), len(all)))
	}
	return all
}

// of is the element that a ring belongs to.
func (a *area) of(ring int) Where {
	if ring == len(a.where) {
		return a.where[0]
	}
	return a.where[ring]
}

// A seen is what is seen at a place.
type seen struct {
	inked bool
	color color
	top   *edged // what lies on top there, nil for nothing
	white *edged // the white above it, nil for none
}

// halfLight is how much of what lies under it white lets through, at the most, where it
// takes that away: black is then no darker than the middle grey.
const halfLight = 0.5

// maxWhites is how many areas of white that let something through are looked at where
// they lie on one another.
const maxWhites = 64

// seen says what is seen at a place: of the layers that cover it the last that the white
// above it doesn't take away.
func (a *area) seen(x geom.Point) seen {
	list := a.index.Near(geom.Box{Min: x, Max: x}, 0)
	out := seen{}
	var white [4]*edged
	above := white[:0]
	for k := len(list) - 1; k >= 0 && out.color.a < 0.999; k-- {
		l := &a.layers[list[k]]
		if !l.covers(x, a.work) {
			continue
		}
		switch {
		case out.inked:
		case l.paper && len(above) < maxWhites:
			above = append(above, l)
		case !l.paper:
			light := 1.0
			for _, w := range above {
				light *= w.letsThrough(l.fades)
			}
			if light > halfLight || len(above) == 0 {
				out.top, out.inked = l, true
			}
		}
		out.color = out.color.over(l.color)
	}
	if len(above) > 0 {
		out.white = above[0]
		if !out.inked {
			out.top = above[0]
		}
	}
	out.color = out.color.over(color{1, 1, 1, 1})
	return out
}

func (l *edged) covers(x geom.Point, work *effort) bool {
	w, looked := l.edge.WindingCost(x)
	work.spend(1 + looked)
	if w == 0 || l.evenOdd && w%2 == 0 {
		return false
	}
	for _, c := range l.clips {
		if !c.contains(x, work) {
			return false
		}
	}
	return true
}

// sides says what is inked to the left and to the right of a piece's middle, and
// notes where two colours meet there that both are.
func (a *area) sides(p geom.Piece) (left, right bool) {
	mid, u := p.At(0.5), p.Tangent(0.5)
	step := geom.Pt(u.Y, -u.X).Mul(aside)
	l, r := a.seen(mid.Add(step)), a.seen(mid.Sub(step))
	if l.inked && r.inked && l.top.element != r.top.element && l.color.differs(r.color) {
		over, other := l.top, r.top
		if other.element > over.element {
			over, other = other, over
		}
		a.lost = append(a.lost, lostEdge{over.where, other.where, p.Length(), false})
	}
	for _, s := range [2]seen{l, r} {
		if s.inked && s.white != nil {
			a.lost = append(a.lost, lostEdge{s.white.where, s.top.where, p.Length(), true})
		}
	}
	return l.inked, r.inked
}

// simple says whether the paths meet nowhere, each other or themselves.
func (a *area) simple() bool {
	return !a.isClipped() && a.near() <= maxPairs && geom.NewBoundary(geom.Outline(a.arcs)).Simple()
}

func (a *area) isClipped() bool {
	return slices.ContainsFunc(a.layers, func(l edged) bool { return len(l.clips) > 0 })
}

// near counts the pairs of pieces whose boxes meet, up to a little past the
// limit.
func (a *area) near() int {
	if a.pieces*a.pieces <= maxPairs/4 {
		return 0 // it can't be past the limit
	}
	var boxes []geom.Box
	for _, s := range a.strands() {
		boxes = append(boxes, s.Bounds())
	}
	ix := geom.NewIndex(boxes)
	n := 0
	for _, b := range boxes {
		if n += len(ix.Near(b, aside)); n > maxPairs {
			break
		}
	}
	return n
}

// whole keeps paths that meet nowhere as they are: turned so that ink lies to
// the right, left out where it lies on both sides or on none.
func (a *area) whole() []Contour {
	var out []Contour
	for i, p := range a.arcs {
		longest, best := geom.Piece{}, -1.0
		for piece := range p.Pieces() {
			if n := piece.Length(); n > best {
				longest, best = piece, n
			}
		}
		known := len(a.lost)
		left, right := a.sides(longest)
		for i := known; i < len(a.lost); i++ {
			a.lost[i].long = geom.Length(p) // it is lost on all of its way
		}
		switch {
		case right && !left:
			out = append(out, Contour{Path: a.paths[i], Where: a.where[i]})
		case left && !right:
			out = append(out, Contour{Path: a.paths[i].Reverse(), Where: a.where[i]})
		}
	}
	return out
}

// united cuts all paths where they meet and joins up what has ink on one side.
func (a *area) united() ([]Contour, *Error) {
	if a.near() > maxPairs {
		return nil, a.tangled()
	}
	// Where lines run along one another to within rounding, another choice of arcs
	// or of chords may tell them apart.
	before := a.work.left
	for how := asArcs; how < smoothings; how++ {
		out, ok := a.unite(how.path, func(r *region) *edgedRegion { return r.asked(how) })
		if ok {
			return out, nil
		}
		if a.work.over() || before-a.work.left > mostEffort/4 {
			return nil, a.tangled() // it takes too long to try it in other ways
		}
	}
	// Last, where they meet is put on the grid too, so that edges that several
	// elements share are the same to the last digit.
	rings := a.snapped(1e-3)
	next := 0
	if out, ok := a.unite(a.byPath(func(geom.Path) geom.Path { next++; return rings[next-1] })); ok {
		return out, nil
	}
	return nil, a.tangled()
}

// byPath gives the ways of [newArea] where each path of the area, those of what
// hides it among them, is smoothed by itself, always in the same order.
func (a *area) byPath(smooth func(geom.Path) geom.Path) (func(geom.Path) geom.Path, func(*region) *edgedRegion) {
	box := geom.EmptyBox()
	for _, l := range a.layers {
		box = box.Union(l.edge.Box)
	}
	known := map[*region]*edgedRegion{}
	var asked func(r *region) *edgedRegion
	asked = func(r *region) *edgedRegion {
		if known[r] == nil {
			known[r] = newEdgedRegion(r.near(box), smooth, asked)
		}
		return known[r]
	}
	return smooth, asked
}

func (a *area) tangled() *Error {
	return &Error{Where: a.where[0], Message: "what it fills, and what lies on it, is too tangled for its outline to be found",
		Advice: "unite or simplify these paths in the drawing program"}
}

// snapped are the area's paths, in the order in which [area.byPath] asks for them, as
// polygons whose corners, those where they meet among them, lie on a grid. Rounding
// makes new meetings, so it is done some times.
func (a *area) snapped(grid float64) []geom.Path {
	var rings []geom.Path
	smooth, asked := a.byPath(func(p geom.Path) geom.Path {
		rings = append(rings, geom.Polygon(rounded(p.Flatten(10*curveTol), grid)...))
		return rings[len(rings)-1]
	})
	newArea(a.group(), a.work, smooth, asked)
	for range 12 {
		var all []strand.Strand
		for i, p := range rings {
			for piece := range p.Pieces() {
				all = append(all, strand.New(piece, i, len(all)))
			}
		}
		cut := strand.Cut(all)
		if a.work.spend(perPair * len(cut)); a.work.over() || len(cut) > maxStrands {
			break // too tangled to be worth it
		}
		corners := make([][]geom.Point, len(rings))
		for _, s := range cut {
			corners[s.Ring] = append(corners[s.Ring], s.From)
		}
		for i := range rings {
			rings[i] = geom.Polygon(rounded(corners[i], grid)...)
		}
		if len(cut) == len(all) {
			break
		}
	}
	return rings
}

// rounded puts points on a grid, where what nearly touches does touch.
func rounded(points []geom.Point, grid float64) []geom.Point {
	for i, p := range points {
		points[i] = geom.Pt(snapTo(p.X, grid), snapTo(p.Y, grid))
	}
	return points
}

// group are the area's layers as they are.
func (a *area) group() []layer {
	group := make([]layer, len(a.layers))
	for i := range a.layers {
		group[i] = a.layers[i].layer
	}
	return group
}

func (a *area) unite(smooth func(geom.Path) geom.Path, asked func(*region) *edgedRegion) ([]Contour, bool) {
	b := newArea(a.group(), a.work, smooth, asked)
	if a.work.over() {
		return nil, false
	}
	cut := strand.Cut(b.strands())
	if a.work.spend(perPair * len(cut)); len(cut) > maxStrands {
		a.work.spend(mostEffort) // it won't be better in another way
	}
	var kept []strand.Strand
	for _, s := range cut {
		if a.work.over() {
			return nil, false
		}
		switch left, right := b.sides(s.Piece); {
		case right && !left:
			kept = append(kept, s)
		case left && !right:
			kept = append(kept, s.Reverse())
		}
	}
	a.lost = b.lost
	loops, ok := strand.Loops(strand.Distinct(kept))
	if !ok {
		return nil, false
	}
	var out []Contour
	for _, loop := range loops {
		if p := strand.Path(loop); !thin(p) {
			out = append(out, Contour{Path: p, Where: b.of(loop[0].Ring)})
		}
	}
	return out, true
}

func snapTo(x, grid float64) float64 { return math.Round(x/grid) * grid }
