package art

import (
	"math"
	"slices"

	"foredge/layout/geom"
	"foredge/layout/internal/strand"
)

const (
	// curveTol is how far in mm the arcs that stand for curves lie from them where
	// outlines meet and are cut and joined; outlines that stand free keep theirs.
	curveTol = geom.CurveTol
	// aside is how far in mm beside a line it is asked what is filled: far below
	// the resolution of the files.
	aside = 1e-6
	// maxPairs is how many pairs of lines are looked at that may lie on one another, and
	// maxStrands of how many stretches outlines may be joined up: what that takes is room.
	maxPairs   = 2_000_000
	maxStrands = 1_000_000
	// perPair is how many steps it takes to see whether two pieces meet.
	perPair = 6
)

// resolve gives the outlines of what is inked, crossing nowhere, and where colours
// run into one another. Elements far from others are looked at by themselves.
func resolve(layers []layer, work *effort) ([]Contour, []lostEdge, *Error) {
	var out []Contour
	var lost []lostEdge
	for _, group := range grouped(layers, work) {
		a := newArea(inHalves(group, work), work, asArcs.path, func(r *region) *edgedRegion { return r.asked(asArcs) })
		list, err := a.outlines()
		if err != nil {
			return nil, nil, err
		}
		out, lost = append(out, list...), append(lost, a.lost...)
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
	work.spend(len(layers))
	var out [][]layer
	for _, list := range geom.Connected(boxes, 10*aside) {
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
	stack  *geom.Stack // of the layers
	// The paths of all layers, as they are and as lines and arcs.
	paths, arcs []geom.Path
	where       []Where
	layerOf     []int        // of each path
	hidden      []geom.Piece // the edges of what they are clipped by, where the layers are
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
		for k, p := range l.paths {
			q := smooth(p)
			a.paths, a.arcs, a.where = append(a.paths, p), append(a.arcs, q), append(a.where, l.whereOf(k))
			a.layerOf = append(a.layerOf, i)
			arcs = append(arcs, q)
		}
		e.edge = geom.NewBoundary(arcs)
		for _, c := range l.clips {
			e.clips = append(e.clips, asked(c))
		}
		boxes[i] = e.edge.Box
		a.layers = append(a.layers, e)
	}
	a.stack = geom.NewStack(boxes)
	all := geom.EmptyBox()
	for _, b := range boxes {
		all = all.Union(b)
	}
	var clips []*edgedRegion
	for _, l := range a.layers {
		clips = append(clips, l.clips...)
	}
	a.hidden = edgesOf(clips, all, work)
	return a
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

// A look is what is seen at a place, as far as that is known: the layers there are taken
// from the top, until those below can't be seen.
type look struct {
	seen
	room  [4]*edged
	above []*edged // areas of white that let something through, or under nothing yet
}

// through takes the next layer that is open and covers the place, and says whether any
// below can be seen.
func (s *look) through(l *edged) bool {
	switch {
	case s.inked:
	case l.paper && len(s.above) < maxWhites:
		if s.above == nil {
			s.above = s.room[:0]
		}
		s.above = append(s.above, l)
	case !l.paper:
		light := 1.0
		for _, w := range s.above {
			light *= w.letsThrough(l.fades)
		}
		if light > halfLight || len(s.above) == 0 {
			s.top, s.inked = l, true
		}
	}
	s.color = s.color.over(l.color)
	return s.color.a < 0.999
}

// end is what is seen with nothing below.
func (s *look) end() seen {
	if len(s.above) > 0 {
		s.seen.white = s.above[0]
		if !s.inked {
			s.top = s.above[0]
		}
	}
	s.color = s.color.over(color{1, 1, 1, 1})
	return s.seen
}

// seen says what is seen where layers wind round that are those of a pile but for what is
// changed, in rising order, by how often each winds round more: of those that cover it the
// last that the white above it doesn't take away.
func (a *area) seen(of *pile, changed []winding) seen {
	var s look
	for k, n := 0, len(changed)-1; ; {
		w, ok := of.at(k)
		switch {
		case n >= 0 && (!ok || changed[n].layer > w.layer):
			w = changed[n]
			n--
		case !ok:
			return s.end()
		default:
			k++
			if n >= 0 && changed[n].layer == w.layer {
				w.turns += changed[n].turns
				n--
			}
		}
		if l := &a.layers[w.layer]; w.open && l.inside(w.turns) && !s.through(l) {
			return s.end()
		}
	}
}

// inside says whether what is wound round so often is filled.
func (l *edged) inside(turns int) bool { return turns != 0 && !(l.evenOdd && turns%2 == 0) }

// isOpen says whether what the layer is clipped by lets it be seen at a place.
func (l *edged) isOpen(x geom.Point, work *effort) bool {
	for _, c := range l.clips {
		if !c.contains(x, work) {
			return false
		}
	}
	return true
}

func (l *edged) covers(x geom.Point, work *effort) bool {
	turns, looked := l.edge.WindingCost(x)
	work.spend(1 + looked)
	return l.inside(turns) && l.isOpen(x, work)
}

// lostAlong are the edges that are lost where something is seen on both sides of a
// stretch: between two colours that both are inked, and of white that takes nothing away.
func lostAlong(lost []lostEdge, l, r seen, long float64) []lostEdge {
	if l.inked && r.inked && l.top.element != r.top.element && l.color.differs(r.color) {
		over, other := l.top, r.top
		if other.element > over.element {
			over, other = other, over
		}
		lost = append(lost, lostEdge{over.where, other.where, long, false})
	}
	for _, s := range [2]seen{l, r} {
		if s.inked && s.white != nil {
			lost = append(lost, lostEdge{s.white.where, s.top.where, long, true})
		}
	}
	return lost
}

// whole keeps paths that meet nowhere as they are: turned so that ink lies to
// the right, left out where it lies on both sides or on none.
func (r *arrangement) whole() []Contour {
	longest := map[int]int{} // the edges of the paths
	long := map[int]float64{}
	for i, s := range r.edges {
		if n := s.Length(); n > long[s.Ring] {
			longest[s.Ring], long[s.Ring] = i, n
		}
	}
	var out []Contour
	for _, i := range r.free {
		e, ok := longest[i]
		if !ok {
			continue
		}
		near := func(x geom.Point, d float64) float64 { return r.clearance(e, x, d) }
		at, back := r.beside(r.edges[e].Piece, near)
		left, right := r.seen(at, nil), r.seen(back, nil)
		r.lost = lostAlong(r.lost, left, right, geom.Length(r.arcs[i])) // on all of its way
		switch {
		case right.inked && !left.inked:
			out = append(out, Contour{Path: r.paths[i], Where: r.where[i]})
		case left.inked && !right.inked:
			out = append(out, Contour{Path: r.paths[i].Reverse(), Where: r.where[i]})
		}
	}
	return out
}

// outlines gives the outlines of what the area inks. Paths that meet nowhere stay as they
// are, the others are cut where they meet, and what has ink on one side is joined up.
func (a *area) outlines() ([]Contour, *Error) {
	out, failed := a.arranged(nil).outlines()
	before := a.work.left
	again := func(smooth func(geom.Path) geom.Path, asked func(*region) *edgedRegion) {
		b := newArea(a.group(), a.work, smooth, asked)
		var more []Contour
		more, failed = b.arranged(failed).outlines()
		out, a.lost = append(out, more...), append(a.lost, b.lost...)
	}
	// Where lines run along one another to within rounding, another choice of arcs
	// or of chords may tell them apart; last, where they meet is put on the grid too, so
	// that edges that several elements share are the same to the last digit.
	for how := asFinerArcs; how <= smoothings && len(failed) > 0; how++ {
		switch {
		case a.work.over(), before-a.work.left > mostEffort/4:
			return nil, a.tangled(failed) // it takes too long to try it in other ways
		case how < smoothings:
			again(how.path, func(r *region) *edgedRegion { return r.asked(how) })
		default:
			rings, next := a.snapped(1e-3), 0
			again(a.byPath(func(geom.Path) geom.Path { next++; return rings[next-1] }))
		}
	}
	if len(failed) > 0 || a.work.over() {
		return nil, a.tangled(failed)
	}
	return out, nil
}

// outlines gives those of what is inked, and the paths of which none could be found.
func (r *arrangement) outlines() (out []Contour, failed map[int]bool) {
	out, lost, failed := r.joined()
	out = append(out, r.whole()...)
	r.lost = append(r.lost, lost...)
	return out, failed
}

// joined gives the outlines of what hangs together, and the paths of which none could be
// found, with one more for the edges of what they are clipped by.
func (r *arrangement) joined() (out []Contour, lost []lostEdge, failed map[int]bool) {
	failed = map[int]bool{}
	var hiding []found
	for _, cluster := range r.clusters {
		list, edges, ok := r.unite(cluster)
		hides := slices.ContainsFunc(cluster, func(i int) bool { return r.layer[i] == noLayer })
		switch {
		case !ok:
			for _, i := range cluster {
				failed[r.edges[i].Ring] = true
			}
		case hides:
			hiding = append(hiding, found{cluster, list, edges})
		default:
			out, lost = append(out, list...), append(lost, edges...)
		}
	}
	for _, u := range hiding {
		if !failed[len(r.arcs)] {
			out, lost = append(out, u.outlines...), append(lost, u.lost...)
			continue
		}
		for _, i := range u.cluster {
			failed[r.edges[i].Ring] = true
		}
	}
	return out, lost, failed
}

// A found is what came of a cluster that edges of clips are in: they are all tried in
// another way, or none.
type found struct {
	cluster  []int
	outlines []Contour
	lost     []lostEdge
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

func (a *area) tangled(paths map[int]bool) *Error {
	first := 0
	for i := range a.where {
		if paths[i] {
			first = i
			break
		}
	}
	return &Error{Where: a.where[first], Message: "what it fills, and what lies on it, is too tangled for its outline to be found",
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

func snapTo(x, grid float64) float64 { return math.Round(x/grid) * grid }
