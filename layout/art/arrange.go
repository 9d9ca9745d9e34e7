package art

import (
	"cmp"
	"math"
	"slices"

	"foredge/layout/geom"
	"foredge/layout/internal/groups"
	"foredge/layout/internal/strand"
)

// An arrangement is the edges of an area, uncut, and which of them meet.
type arrangement struct {
	*area
	edges []strand.Strand // those of what hides it behind those of its paths
	layer []int           // whose edge each is; noLayer of what hides it
	index *geom.Index
	// The paths that meet neither others nor themselves, and of the others the edges of
	// those that hang together.
	free     []int
	clusters [][]int
	// crowd are the edges of which any may meet others, no two of the rest do; nil for all.
	crowd []bool
	// node is how near in mm to one another places are one where edges meet.
	node float64
	met  []geom.Point // kept for the next pair
	cuts []cutting    // and for the next edge
}

// noLayer is whose the edges are of what the layers are clipped by.
const noLayer = -1

// arranged finds which edges of an area meet; of its paths only those in among are
// looked at, nil for all.
func (a *area) arranged(among map[int]bool) *arrangement {
	r := &arrangement{area: a, node: strand.Snap}
	for i, p := range a.arcs {
		if among != nil && !among[i] {
			continue
		}
		for piece := range p.Pieces() {
			r.edges, r.layer = append(r.edges, strand.New(piece, i, len(r.edges))), append(r.layer, a.layerOf[i])
		}
	}
	if among == nil || among[len(a.arcs)] {
		for _, piece := range a.hidden {
			r.edges, r.layer = append(r.edges, strand.New(piece, len(a.arcs), len(r.edges))), append(r.layer, noLayer)
		}
	}
	boxes := make([]geom.Box, len(r.edges))
	for i, s := range r.edges {
		boxes[i] = s.Bounds()
	}
	r.index = geom.NewIndex(boxes)
	r.gather(among)
	return r
}

// crowded is how many others lie near an edge, on the mean, where it is worth while to
// sweep over all of them.
const crowded = 24

// gather finds what is free and what hangs together.
func (r *arrangement) gather(among map[int]bool) {
	n := len(r.arcs)
	thing := func(i int) int { // a path, or one edge of what hides some
		if r.layer[i] == noLayer {
			return n + i
		}
		return r.edges[i].Ring
	}
	together := groups.New(n + len(r.edges))
	met := make([]bool, n+len(r.edges))
	meets := func(i, j int) bool {
		if r.work.spend(perPair); r.work.over() || !r.meet(i, j) {
			return false
		}
		together.Unite(thing(i), thing(j))
		met[thing(i)], met[thing(j)] = true, true
		return true
	}
	looked, swept := 0, len(r.edges) // from where on the edges are swept over
	for i, s := range r.edges {
		if r.crowd == nil && looked > crowded*len(r.edges) {
			r.crowd, swept = r.sweep(meets), i
		}
		if r.crowd != nil && !r.crowd[i] {
			continue
		}
		a, before := thing(i), looked
		box := s.Bounds()
		r.index.Visit(func(c geom.Box) bool { return c.Distance(box) <= aside }, func(j int) {
			looked++
			if j == i || j < i && (j < swept || r.crowd[j]) || r.work.over() {
				return
			}
			if b := thing(j); a == b && met[a] || a != b && together.Same(a, b) {
				return
			}
			meets(i, j)
		})
		if r.work.spend(1 + looked - before); r.work.over() {
			return
		}
	}
	place := map[int]int{}
	for i := range r.edges {
		a := thing(i)
		if !met[a] && a < n {
			continue // it is free
		}
		of := together.Find(a)
		k, ok := place[of]
		if !ok {
			k = len(r.clusters)
			place[of] = k
			r.clusters = append(r.clusters, nil)
		}
		r.clusters[k] = append(r.clusters[k], i)
	}
	for i := range r.arcs {
		if !met[i] && (among == nil || among[i]) {
			r.free = append(r.free, i)
		}
	}
}

// sweep finds the edges of which any may meet others. Where a path comes to one place
// several times none of its edges is taken to go on as another but the next.
func (r *arrangement) sweep(meets func(i, j int) bool) []bool {
	pieces := make([]geom.Piece, len(r.edges))
	for i, s := range r.edges {
		pieces[i] = s.Piece
	}
	return geom.Meeting(pieces, func(i, j int) bool {
		return meets(i, j) || len(r.met) > 0 && !(r.layer[i] != noLayer && r.follow(i, j))
	})
}

// follow says whether two edges are next to one another in a path.
func (r *arrangement) follow(i, j int) bool {
	i, j = min(i, j), max(i, j)
	ring := func(k int) int {
		if k < 0 || k == len(r.edges) {
			return -1
		}
		return r.edges[k].Ring
	}
	return ring(i) == ring(j) && (j == i+1 || ring(i-1) != ring(i) && ring(j+1) != ring(j))
}

// meet says whether two edges meet but where the one goes on as the other.
func (r *arrangement) meet(i, j int) bool {
	// At a flat corner neighbours run along one another for a little way.
	const little, joined = 1e-5, 2e-7
	p, q := r.edges[i], r.edges[j]
	r.met = geom.Intersections(r.met[:0], p.Piece, q.Piece)
	for _, x := range r.met {
		joint := r.layer[i] != noLayer && p.Ring == q.Ring && (p.End.Distance(q.From) <= joined && x.Distance(p.End) <= little ||
			q.End.Distance(p.From) <= joined && x.Distance(q.End) <= little)
		if !joint {
			return true
		}
	}
	return false
}

// A winding is a layer that winds round a place.
type winding struct {
	layer, turns int
	open         bool // what it is clipped by lets it be seen there
}

// A pile is the layers that wind round a place, from the top down as far as they have been
// asked for: under what can be seen there may be many more.
type pile struct {
	*area
	x     geom.Point
	rest  *geom.Descent
	known []winding
}

func (a *area) pileAt(x geom.Point) *pile { return &pile{area: a, x: x, rest: a.stack.Over(x)} }

// at is the k-th layer of a pile; ok is false if there are no more.
func (p *pile) at(k int) (w winding, ok bool) {
	for k >= len(p.known) {
		before := p.rest.Looked
		i, ok := p.rest.Next()
		p.work.spend(1 + p.rest.Looked - before)
		if !ok {
			return winding{}, false
		}
		l := &p.layers[i]
		turns, looked := l.edge.WindingCost(p.x)
		p.work.spend(1 + looked)
		if turns != 0 {
			p.known = append(p.known, winding{i, turns, len(l.clips) == 0 || l.inside(turns) && l.isOpen(p.x, p.work)})
		}
	}
	return p.known[k], true
}

// crossed changes what winds round a place by going over an edge of a layer.
func crossed(list []winding, layer, turn int) []winding {
	i, found := slices.BinarySearchFunc(list, layer, func(a winding, layer int) int { return cmp.Compare(a.layer, layer) })
	switch {
	case !found:
		return slices.Insert(list, i, winding{layer, turn, true})
	case list[i].turns == -turn:
		return slices.Delete(list, i, i+1)
	}
	list[i].turns += turn
	return list
}

// beside gives what winds round the places to the left and to the right of a piece's
// middle: nearer to it than anything else that runs there, but for what lies on it.
func (a *area) beside(p geom.Piece, near func(x geom.Point, d float64) float64) (left, right *pile) {
	mid, u := p.At(0.5), p.Tangent(0.5)
	step := geom.Pt(u.Y, -u.X).Mul(min(aside, near(mid, 2*aside)/2))
	return a.pileAt(mid.Add(step)), a.pileAt(mid.Sub(step))
}

// anywhere is for pieces that run nearer to nothing than what they are asked about.
func anywhere(_ geom.Point, d float64) float64 { return d }

// clearance is how near other edges than the i-th come to a place on it, if nearer
// than d; those that lie on it don't count.
func (r *arrangement) clearance(i int, x geom.Point, d float64) float64 {
	const on = 1e-8
	r.index.Visit(func(c geom.Box) bool { return c.Distance(geom.Box{Min: x, Max: x}) < d }, func(j int) {
		if r.work.spend(1); j == i {
			return
		}
		if e := r.edges[j].Distance(x); e > on {
			d = min(d, e)
		}
	})
	return d
}

// A cutting is where an edge is met by one of a layer.
type cutting struct {
	crossing
	edge, layer int
}

// A cluster is edges that hang together.
type cluster struct {
	edges, crowd       []int // and those of them that any may meet
	byPlace, crowdedBy *geom.Index
}

func (r *arrangement) cluster(edges []int) *cluster {
	index := func(list []int) *geom.Index {
		boxes := make([]geom.Box, len(list))
		for k, i := range list {
			boxes[k] = r.edges[i].Bounds()
		}
		return geom.NewIndex(boxes)
	}
	c := &cluster{edges: edges, byPlace: index(edges)}
	if c.crowd, c.crowdedBy = edges, c.byPlace; r.crowd != nil {
		c.crowd = nil
		for _, i := range edges {
			if r.crowd[i] {
				c.crowd = append(c.crowd, i)
			}
		}
		c.crowdedBy = index(c.crowd)
	}
	return c
}

// cutsOf are where other edges of a cluster meet the k-th of one of its paths, in rising order.
func (r *arrangement) cutsOf(c *cluster, path []int, k int) []cutting {
	r.cuts = r.cuts[:0]
	i := path[k]
	box := r.edges[i].Bounds()
	looked := 0
	within := func(c geom.Box) bool { return c.Distance(box) <= strand.Snap }
	if r.crowd == nil || r.crowd[i] {
		c.byPlace.Visit(within, func(k int) { looked++; r.cut(i, c.edges[k]) })
	} else {
		before, behind := path[(k+len(path)-1)%len(path)], path[(k+1)%len(path)]
		c.crowdedBy.Visit(within, func(k int) {
			if looked++; c.crowd[k] != before && c.crowd[k] != behind {
				r.cut(i, c.crowd[k])
			}
		})
		if r.cut(i, before); before != behind {
			r.cut(i, behind)
		}
	}
	r.work.spend(1 + looked)
	slices.SortFunc(r.cuts, func(a, b cutting) int { return cmp.Compare(a.t, b.t) })
	return r.cuts
}

// cut adds to the cuts of the i-th edge those where the j-th meets it.
func (r *arrangement) cut(i, j int) {
	if j == i || r.work.over() {
		return
	}
	r.work.spend(perPair)
	// Both edges are cut at the very same place.
	r.met = geom.Intersections(r.met[:0], r.edges[min(i, j)].Piece, r.edges[max(i, j)].Piece)
	for _, x := range r.met {
		c := cutting{crossingAt(r.edges[i].Piece, r.edges[j].Piece, x), j, r.layer[j]}
		if c.layer == noLayer || len(r.layers[c.layer].clips) > 0 {
			c.sure = false
		}
		r.cuts = append(r.cuts, c)
	}
}

// A stretch of an edge lies between places where others meet it.
type edgeStretch struct {
	from, to float64
	over     []cutting // those where it begins
}

// parted are the stretches of an edge that is cut; places nearer to one another than node
// are one.
func parted(p geom.Piece, cuts []cutting, node float64) []edgeStretch {
	least := node / max(node, p.Length())
	var out []edgeStretch
	from, first := 0.0, 0
	for k, c := range cuts {
		switch {
		case c.t < least:
			first = k + 1
		case c.t > 1-least:
			return append(out, edgeStretch{from, 1, cuts[first:k]})
		case c.t-from >= least:
			out = append(out, edgeStretch{from, c.t, cuts[first:k]})
			from, first = c.t, k
		}
	}
	return append(out, edgeStretch{from, 1, cuts[first:]})
}

// at gives what winds round the places beside a stretch of an edge.
func (r *arrangement) at(s *stretchOf) (left, right *pile) {
	part := r.edges[s.edge].Part(s.from, s.to)
	return r.beside(part, func(x geom.Point, d float64) float64 { return r.clearance(s.edge, x, d) })
}

// A stretchOf an edge lies between places where others meet it.
type stretchOf struct {
	edge        int
	from, to    float64
	over        []cutting // where it begins
	follows     bool      // what winds round it from what does round the one before it
	long        float64
	left, right seen
}

// coloured are the stretches of the edges of one path, which follow one another, with what
// is seen to their left and to their right. That is asked at the longest of those that are
// parted by nothing but crossings, and follows from there. Where it doesn't agree on coming
// back to the start, each is asked.
func (r *arrangement) coloured(of *cluster, path []int) []stretchOf {
	all := r.stretches(of, path)
	first := slices.IndexFunc(all, func(s stretchOf) bool { return !s.follows })
	ring := first < 0
	for !ring && first < len(all) && !r.work.over() {
		n := 1
		for first+n < len(all) && all[first+n].follows {
			n++
		}
		r.spread(all[first:first+n], longest(all[first:first+n]))
		first += n
	}
	if ring && len(all) > 0 && !r.work.over() {
		k := longest(all)
		all = append(all[k:len(all):len(all)], all[:k]...)
		if len(over(r.spread(all, 0), all[0].over, 1)) > 0 {
			for i := range all {
				r.spread(all[i:i+1], 0)
			}
		}
	}
	return all
}

// perCut is how many steps a place takes at which an edge is cut: what is seen beside the
// stretch from there is asked for, and kept.
const perCut = 15

// stretches are those of the edges of a path, the first of them one that doesn't follow,
// if there is any.
func (r *arrangement) stretches(of *cluster, path []int) []stretchOf {
	each := make([][]stretchOf, 0, len(path)) // of its edges; together they may be millions
	hides := r.layer[path[0]] == noLayer
	met := false // something else ends at the joint
	start := false
	for k, i := range path {
		cuts := slices.Clone(r.cutsOf(of, path, k))
		if r.work.spend(perCut * len(cuts)); r.work.over() {
			return nil
		}
		joint := !hides && !met && !r.metAtJoint(cuts, path, k, 0)
		parts := parted(r.edges[i].Piece, cuts, r.node)
		all := make([]stretchOf, 0, len(parts))
		for n, s := range parts {
			follows := !slices.ContainsFunc(s.over, func(c cutting) bool { return !c.sure })
			if n == 0 {
				follows = joint
				s.over = nil
			}
			all = append(all, stretchOf{edge: i, from: s.from, to: s.to, over: s.over, follows: follows, long: (s.to - s.from) * r.edges[i].Length()})
		}
		each = append(each, all)
		met = r.metAtJoint(cuts, path, k, 1)
		start = start || k == 0 && !joint
	}
	all := slices.Concat(each...)
	if len(all) > 0 {
		all[0].follows = !hides && !met && !start
	}
	if k := slices.IndexFunc(all, func(s stretchOf) bool { return !s.follows }); k > 0 {
		all = append(all[k:len(all):len(all)], all[:k]...)
	}
	return all
}

func longest(all []stretchOf) int {
	best := 0
	for i, s := range all {
		if s.long > all[best].long {
			best = i
		}
	}
	return best
}

// spread asks what is seen beside the k-th of some stretches, and takes from it what is
// beside the others. It gives what is changed by that up to the last, on both sides.
func (r *arrangement) spread(run []stretchOf, k int) []winding {
	left, right := r.at(&run[k])
	var changed []winding
	for i := k; ; i-- {
		run[i].left, run[i].right = r.seen(left, changed), r.seen(right, changed)
		if r.work.spend(1 + len(run[i].over)); i == 0 {
			break
		}
		changed = over(changed, run[i].over, -1)
	}
	changed = nil
	for i := k + 1; i < len(run); i++ {
		changed = over(changed, run[i].over, 1)
		run[i].left, run[i].right = r.seen(left, changed), r.seen(right, changed)
		r.work.spend(1 + len(run[i].over))
	}
	return changed
}

// over changes what winds round a place by going over edges, the one way or the other.
func over(list []winding, cuts []cutting, way int) []winding {
	for _, c := range cuts {
		list = crossed(list, c.layer, way*c.turn)
	}
	return list
}

// metAtJoint says whether other edges than its neighbours meet the k-th of a path at its
// start, or at its end.
func (r *arrangement) metAtJoint(cuts []cutting, path []int, k int, end float64) bool {
	i := path[k]
	least := r.node / max(r.node, r.edges[i].Length())
	before, behind := path[(k+len(path)-1)%len(path)], path[(k+1)%len(path)]
	return slices.ContainsFunc(cuts, func(c cutting) bool {
		return math.Abs(c.t-end) < least && c.edge != before && c.edge != behind
	})
}

// unite gives the outlines of what the edges of a cluster bound; ok is false where they
// can't be joined up. Where many meet nearly in one place, that is made one.
func (r *arrangement) unite(cluster []int) (out []Contour, lost []lostEdge, ok bool) {
	before := r.work.left
	r.node = strand.Snap
	out, lost, ok = r.uniteWithin(cluster, 10*strand.Snap)
	if !ok && before-r.work.left < mostEffort/4 {
		r.node = oneNode
		out, lost, ok = r.uniteWithin(cluster, 5*oneNode)
	}
	return out, lost, ok
}

// oneNode is how near in mm to one another places are one where too many meet to be told
// apart: a tenth of what the files carry.
const oneNode = 1e-5

func (r *arrangement) uniteWithin(edges []int, radius float64) (out []Contour, lost []lostEdge, ok bool) {
	of := r.cluster(edges)
	var kept []strand.Strand
	for len(edges) > 0 {
		n := 1
		for n < len(edges) && r.layer[edges[0]] != noLayer && r.edges[edges[n]].Ring == r.edges[edges[0]].Ring {
			n++
		}
		for _, s := range r.coloured(of, edges[:n]) {
			e := r.edges[s.edge]
			lost = lostAlong(lost, s.left, s.right, s.long)
			switch {
			case s.right.inked && !s.left.inked:
				kept = append(kept, e.Between(s.from, s.to))
			case s.left.inked && !s.right.inked:
				kept = append(kept, e.Between(s.from, s.to).Reverse())
			}
		}
		if r.work.over() || len(kept) > maxStrands {
			return nil, nil, false
		}
		edges = edges[n:]
	}
	loops, ok := strand.LoopsWithin(strand.Distinct(kept), radius)
	if !ok {
		return nil, nil, false
	}
	for _, loop := range loops {
		if p := strand.Path(loop); !thin(p) {
			out = append(out, Contour{Path: p, Where: r.of(loop[0].Ring)})
		}
	}
	return out, lost, true
}
