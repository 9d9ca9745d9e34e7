package geom

import (
	"cmp"
	"math"
	"slices"
)

// Meeting names some of the pieces, lines or arcs, so that no two of the others meet. It
// asks that of few of all pairs, in about n log n time where few meet. It is the sweep of
// Shamos and Hoey (Geometric intersection problems, 1976): a line goes over the plane, and
// of the pieces that it crosses those next to one another are asked. Where two meet, the
// one that does so more often leaves the sweep and is named. All that stay are in order
// from side to side, so those that aren't neighbours are parted by others.
//
// meets must say so wherever two pieces share a point, but for the end of a piece where the
// next of its path begins.
func Meeting(pieces []Piece, meets func(i, j int) bool) []bool {
	s := &sweep{pieces: pieces, meets: meets, named: make([]bool, len(pieces)), hits: make([]int, len(pieces))}
	for i := range pieces {
		s.first = append(s.first, len(s.parts))
		s.split(i)
	}
	s.first = append(s.first, len(s.parts))
	n := len(s.parts)
	s.in, s.before, s.behind = make([]*block, n), make([]int, n), make([]int, n)
	s.run()
	return s.named
}

// A sweep is under way over a plane whose axes are turned, as level lines are common.
type sweep struct {
	pieces []Piece
	meets  func(i, j int) bool
	parts  []strip
	first  []int // the first part of each piece, and one behind the last
	named  []bool
	hits   []int // how often each piece has met another
	// What the line crosses, from the left to the right, in blocks, and of each part its
	// block and its neighbours, none of them below 0.
	row            []*block
	in             []*block
	before, behind []int
}

// A strip is a part of a piece that runs only down: for each level from top to foot there
// is one place.
type strip struct {
	piece     int
	top, foot float64
	from, to  float64 // a line's places at both
	center    Point   // an arc's centre
	r         float64 // and radius, 0 for a line
	side      float64 // and the side of the centre that it lies on, -1 or 1
}

type block struct{ list []int }

const (
	// flat is how much a piece must go down, in mm, to be looked at by a sweep.
	flat = 1e-7
	// early is how far before its top a part comes under the line, and behind its foot leaves it.
	early = 1e-6
	// mostInBlock is how many parts a block may have.
	mostInBlock = 256
)

// turned is a point by the axes of the sweep.
func turned(p Point) Point {
	const cos, sin = 0.540302305868139717, 0.841470984807896507 // of 1 rad
	return Point{cos*p.X + sin*p.Y, cos*p.Y - sin*p.X}
}

// split makes the parts of a piece; one with a part that is too flat is named.
func (s *sweep) split(i int) {
	p := s.pieces[i]
	add := func(a, b, mid Point) {
		if a.Y > b.Y {
			a, b = b, a
		}
		t := strip{piece: i, top: a.Y, foot: b.Y, from: a.X, to: b.X}
		if !(t.foot-t.top > flat) {
			s.named[i] = true
		}
		if p.Kind == ArcTo {
			t.center, t.r = turned(p.Center), p.radius()
			t.side = math.Copysign(1, mid.X-t.center.X)
		}
		s.parts = append(s.parts, t)
	}
	if p.Kind != ArcTo {
		add(turned(p.From), turned(p.End), Point{})
		return
	}
	ts := []float64{0}
	a := p.Arc()
	for _, angle := range [2]float64{math.Pi/2 + 1, 1 - math.Pi/2} { // its top and its foot
		if t := a.parameter(angle); t > 0 && t < 1 {
			ts = append(ts, t)
		}
	}
	slices.Sort(ts)
	for k, t := range ts {
		end := 1.0
		if k+1 < len(ts) {
			end = ts[k+1]
		}
		add(turned(p.At(t)), turned(p.At(end)), turned(p.At((t+end)/2)))
	}
}

// at is where the strip is at a level, or at its own nearest to that.
func (t *strip) at(y float64) float64 {
	y = min(max(y, t.top), t.foot)
	if t.r == 0 {
		return t.from + (y-t.top)/(t.foot-t.top)*(t.to-t.from)
	}
	return t.center.X + t.side*math.Sqrt(max(0, (t.r-(y-t.center.Y))*(t.r+(y-t.center.Y))))
}

// left says whether a part lies to the left of another one, in the middle of the levels
// that they share: those that don't meet lie so at all of them.
func (s *sweep) left(i, j int) bool {
	a, b := &s.parts[i], &s.parts[j]
	y := (max(a.top, b.top) + min(a.foot, b.foot)) / 2
	return a.at(y) < b.at(y)
}

// run goes over the plane.
func (s *sweep) run() {
	type event struct {
		y     float64
		leave bool
		part  int
	}
	events := make([]event, 0, 2*len(s.parts))
	for k, t := range s.parts {
		events = append(events, event{t.top - early, false, k}, event{t.foot + early, true, k})
	}
	slices.SortFunc(events, func(a, b event) int { return cmp.Or(cmp.Compare(a.y, b.y), cmp.Compare(a.part, b.part)) })
	for _, e := range events {
		switch {
		case e.leave:
			s.leave(e.part)
		case !s.named[s.parts[e.part].piece]:
			s.place(e.part)
		}
	}
}

// place puts a part between two that it doesn't meet, so that it does lie between them:
// where it meets one that is named for that, it may have got to the wrong place.
func (s *sweep) place(k int) {
	for !s.named[s.parts[k].piece] {
		s.enter(k)
		before, behind := s.before[k], s.behind[k]
		met := s.ask(before, k)
		if met = s.ask(k, behind) || met; !met {
			return
		}
		s.leave(k)
	}
}

// ask says whether two neighbours meet, and names one of them if so; not where one is
// below 0 or has left.
func (s *sweep) ask(i, j int) bool {
	if i < 0 || j < 0 || s.in[i] == nil || s.in[j] == nil {
		return false
	}
	p, q := s.parts[i].piece, s.parts[j].piece
	if p == q || !s.meets(p, q) {
		return false
	}
	s.hits[p]++
	s.hits[q]++
	goes := p
	if cmp.Or(cmp.Compare(s.hits[q], s.hits[p]), cmp.Compare(s.high(q), s.high(p)), cmp.Compare(q, p)) > 0 {
		goes = q
	}
	s.named[goes] = true
	for k := s.first[goes]; k < s.first[goes+1]; k++ {
		s.leave(k)
	}
	return true
}

// high is over how many levels a piece goes.
func (s *sweep) high(piece int) float64 {
	sum := 0.0
	for _, t := range s.parts[s.first[piece]:s.first[piece+1]] {
		sum += t.foot - t.top
	}
	return sum
}

// enter puts a part into the row.
func (s *sweep) enter(k int) {
	s.before[k], s.behind[k] = -1, -1
	if len(s.row) == 0 {
		s.row = append(s.row, &block{[]int{k}})
		s.in[k] = s.row[0]
		return
	}
	n, _ := slices.BinarySearchFunc(s.row, k, func(b *block, k int) int { return s.order(b.list[0], k) })
	n = max(0, n-1)
	b := s.row[n]
	at, _ := slices.BinarySearchFunc(b.list, k, s.order)
	switch {
	case at > 0:
		s.before[k] = b.list[at-1]
	case n > 0:
		last := s.row[n-1].list
		s.before[k] = last[len(last)-1]
	}
	switch {
	case at < len(b.list):
		s.behind[k] = b.list[at]
	case n+1 < len(s.row):
		s.behind[k] = s.row[n+1].list[0]
	}
	s.link(s.before[k], k)
	s.link(k, s.behind[k])
	b.list = slices.Insert(b.list, at, k)
	s.in[k] = b
	if half := len(b.list) / 2; len(b.list) > mostInBlock {
		more := &block{slices.Clone(b.list[half:])}
		b.list = b.list[:half]
		for _, i := range more.list {
			s.in[i] = more
		}
		s.row = slices.Insert(s.row, n+1, more)
	}
}

// order is below 0 where a part of the row lies before one that comes into it.
func (s *sweep) order(i, k int) int {
	if s.left(k, i) {
		return 1
	}
	return -1
}

func (s *sweep) link(i, j int) {
	if i >= 0 {
		s.behind[i] = j
	}
	if j >= 0 {
		s.before[j] = i
	}
}

// leave takes a part out of the row, if it is in it, and asks those between which it lay.
func (s *sweep) leave(k int) {
	b := s.in[k]
	if b == nil {
		return
	}
	s.in[k] = nil
	at := slices.Index(b.list, k)
	if b.list = slices.Delete(b.list, at, at+1); len(b.list) == 0 {
		at := slices.Index(s.row, b)
		s.row = slices.Delete(s.row, at, at+1)
	}
	i, j := s.before[k], s.behind[k]
	s.link(i, j)
	s.ask(i, j)
}
