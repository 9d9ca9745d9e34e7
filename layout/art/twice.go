package art

import (
	"cmp"
	"encoding/binary"
	"math"
	"slices"
	"strconv"

	"foredge/layout/geom"
)

const (
	// sameLine is how far apart in mm two lines run that are one: the laser can't
	// tell them apart.
	sameLine = 1e-3
	// sharedFrom is how long in mm a stretch is, at least, that two such lines share:
	// curves that touch run so near to one another for less, up to radii of 100 mm.
	sharedFrom = 1.0
	// exactFrom is the same where they are the same to within slack.
	exactFrom = 0.05
	// maxNear is how many pairs of sides are looked at: beyond, lines stay as they are.
	maxNear = 30_000_000
)

// A side is a line, an arc or a curve of a line.
type side struct {
	geom.Piece
	line int
	// parts are lines and arcs that stand for it, those of which something is left.
	parts []part
	split bool // that is known
}

// A part is a stretch of a side, and what of it lies on something else.
type part struct {
	geom.Piece
	covered []stretch // in order, apart from one another
}

// A stretch is from where to where a part is covered, 0 to 1, and whether by what is
// the same to within slack.
type stretch struct {
	from, to float64
	exact    bool
}

// A doubles looks for what lines have in common.
type doubles struct {
	lines []Contour
	sides []side
	first []int // the first side of each line, and the end of the last one
	rank  []int // of each line: those of a lower rank stay
	index *geom.Index
	work  int
	near  int // how many sides have been found near others
	// covers are the lines on which something lies of the one looked at last.
	covers []int
	// gone are the lines of which nothing is left, shares the closed ones that stay
	// whole though they have something in common with others.
	gone, shares []bool
}

// single draws once what lines of one operation have in common, whichever way round
// and wherever they begin, and notes those that lose something. Outlines of what is filled
// stay rather than lines, closed ones rather than open ones, and long ones rather than short ones. A closed line whose operation is
// one of whole loses all of it or nothing, and nothing where it lies beside those that
// cover it, as a cell among its neighbours; share says that some of these have stretches in common.
func single(lines []Contour, whole map[int]bool) (out []Contour, notes []Note, share bool) {
	d := newDoubles(lines)
	order := make([]int, len(lines))
	for i := range order {
		order[i] = i
	}
	long := make([]float64, len(lines))
	for i, l := range lines {
		long[i] = math.Round(geom.Length(l.Path) / sameLine)
	}
	slices.SortStableFunc(order, func(i, j int) int {
		if lines[i].fill != lines[j].fill {
			if lines[i].fill {
				return -1
			}
			return 1
		}
		if lines[i].Closed != lines[j].Closed {
			if lines[i].Closed {
				return -1
			}
			return 1
		}
		return cmp.Compare(long[j], long[i])
	})
	for rank, i := range order {
		d.rank[i] = rank
	}
	left := make([][]geom.Path, len(lines))
	lost := make([]bool, len(lines))
	same := map[string]bool{} // the lines that came, by their places
	for _, i := range order {
		key := lines[i].key()
		if lost[i], d.gone[i] = same[key], same[key]; lost[i] {
			continue
		}
		same[key] = true
		d.cover(i)
		left[i], lost[i] = d.rest(i, whole[lines[i].Op] && lines[i].Closed)
	}
	for i, l := range lines {
		share = share || d.shares[i]
		if !lost[i] {
			out = append(out, l)
			continue
		}
		notes = append(notes, Note{Kind: Twice, Where: l.Where})
		for _, p := range left[i] {
			rest := l
			rest.Path, rest.fill = p, false
			out = append(out, rest)
		}
	}
	return out, notes, share
}

// key is the same for lines of one operation that are the same to the last digit.
func (c *Contour) key() string {
	b := strconv.AppendBool(strconv.AppendInt(nil, int64(c.Op), 10), c.Closed)
	number := func(p geom.Point) {
		for _, v := range [2]float64{p.X, p.Y} {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
		}
	}
	number(c.Start)
	for _, s := range c.Segments {
		b = strconv.AppendBool(append(b, byte(s.Kind)), s.Clockwise)
		for _, p := range [4]geom.Point{s.End, s.C1, s.C2, s.Center} {
			number(p)
		}
	}
	return string(b)
}

func newDoubles(lines []Contour) *doubles {
	d := &doubles{lines: lines, rank: make([]int, len(lines)), gone: make([]bool, len(lines)), shares: make([]bool, len(lines))}
	var boxes []geom.Box
	for i, l := range lines {
		d.first = append(d.first, len(d.sides))
		for p := range l.Pieces() {
			d.sides = append(d.sides, side{Piece: p, line: i})
			boxes = append(boxes, p.Bounds())
		}
	}
	d.first = append(d.first, len(d.sides))
	d.index = geom.NewIndex(boxes)
	return d
}

// halves are the lines and arcs that stand for a side.
func (d *doubles) halves(k int) []part {
	s := &d.sides[k]
	if !s.split {
		s.split = true
		path := geom.Path{Start: s.From, Segments: []geom.Segment{s.Segment}}
		if s.Kind == geom.CubicTo {
			path = path.Arcs(curveTol)
		}
		for p := range path.Pieces() {
			s.parts = append(s.parts, part{Piece: p})
		}
	}
	return s.parts
}

// cover finds what of a line lies on what is left of those of lower ranks, and on what
// comes before it in the line itself.
func (d *doubles) cover(line int) {
	d.covers = d.covers[:0]
	for k := d.first[line]; k < d.first[line+1]; k++ {
		box := d.sides[k].Bounds()
		if d.near > maxNear {
			return
		}
		near := d.index.Near(box, sameLine)
		d.near += len(near)
		for _, other := range near {
			o := d.sides[other].line
			if d.gone[o] || o == line && other >= k || o != line && d.rank[o] > d.rank[line] || d.lines[o].Op != d.lines[line].Op {
				continue
			}
			if d.work++; d.work > maxPairs {
				return
			}
			if a, b := &d.sides[k], &d.sides[other]; a.Kind != geom.CubicTo && b.Kind != geom.CubicTo && geom.Apart(a.Piece, b.Piece, 2*sameLine) {
				continue
			}
			// They have no more than a place in common where one of them begins.
			if near := meeting(box, d.sides[other].Bounds().Grow(sameLine)); max(near.Width(), near.Height()) <= 4*sameLine && max(box.Width(), box.Height()) > 4*sameLine {
				continue
			}
			if d.coverBy(k, other) && !slices.Contains(d.covers, o) {
				d.covers = append(d.covers, o)
			}
		}
	}
}

func meeting(a, b geom.Box) geom.Box {
	return geom.Box{Min: geom.Pt(max(a.Min.X, b.Min.X), max(a.Min.Y, b.Min.Y)), Max: geom.Pt(min(a.Max.X, b.Max.X), min(a.Max.Y, b.Max.Y))}
}

// coverBy finds what of a side lies on what is left of another one, and whether anything does.
func (d *doubles) coverBy(k, other int) (some bool) {
	mine, theirs := d.halves(k), d.halves(other)
	for i := range mine {
		box := mine[i].Bounds().Grow(sameLine)
		for j := range theirs {
			if d.work++; !box.Meets(theirs[j].Bounds()) || geom.Apart(mine[i].Piece, theirs[j].Piece, 2*sameLine) {
				continue
			}
			for _, q := range theirs[j].left() {
				shared := common(mine[i].Piece, q)
				some = some || len(shared) > 0
				mine[i].covered = append(mine[i].covered, shared...)
			}
		}
		mine[i].covered = joined(mine[i].covered)
	}
	return some
}

// left are the stretches of a part that nothing covers.
func (p *part) left() []geom.Piece {
	if len(p.covered) == 0 {
		return []geom.Piece{p.Piece}
	}
	var out []geom.Piece
	at := 0.0
	for _, s := range append(slices.Clone(p.covered), stretch{1, 1, true}) {
		if (s.from-at)*p.Length() > slack {
			out = append(out, p.Part(at, s.from))
		}
		at = s.to
	}
	return out
}

// joined are stretches in order, those that touch as one.
func joined(all []stretch) []stretch {
	if len(all) < 2 {
		return all
	}
	slices.SortFunc(all, func(a, b stretch) int { return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.to, b.to)) })
	out := all[:1]
	for _, s := range all[1:] {
		last := &out[len(out)-1]
		switch {
		case s.from > last.to+1e-9:
			out = append(out, s)
		case s.to > last.to:
			last.to, last.exact = s.to, last.exact && s.exact
		}
	}
	return out
}

// common are the stretches of p, a line or an arc, that run along q. They begin and end
// where one of the two does.
func common(p, q geom.Piece) []stretch {
	long := p.Length()
	if long == 0 {
		return nil
	}
	var ts []float64
	if q.Distance(p.From) <= sameLine {
		ts = append(ts, 0)
	}
	if q.Distance(p.End) <= sameLine {
		ts = append(ts, 1)
	}
	for _, x := range [2]geom.Point{q.From, q.End} {
		// At its own ends an arc can't tell by the angle which of them is meant.
		if t := p.Parameter(x); t > 0 && t < 1 && p.Distance(x) <= sameLine {
			ts = append(ts, t)
		}
	}
	slices.Sort(ts)
	var out []stretch
	for i := 1; i < len(ts); i++ {
		from, to := ts[i-1], ts[i]
		if (to-from)*long < slack {
			continue
		}
		off := 0.0
		for _, f := range [5]float64{0, 0.19, 0.5, 0.78, 1} {
			off = max(off, q.Distance(p.At(from+f*(to-from))))
		}
		if off <= sameLine {
			out = append(out, stretch{from, to, off <= slack})
		}
	}
	return out
}

// rest is what is left of a line, and whether it has lost anything: stretches too short
// to be told from touching count only where all of the line is covered.
func (d *doubles) rest(line int, whole bool) ([]geom.Path, bool) {
	runs := d.runs(line)
	all := len(runs) == 1 && !runs[0].open && !(whole && d.isCell(line))
	for i := range runs {
		r := &runs[i]
		r.counts = all || r.long >= sharedFrom || r.exact && r.long >= exactFrom
		if whole && r.counts && !all {
			r.counts, d.shares[line] = false, true
		}
	}
	d.gone[line] = all
	if !slices.ContainsFunc(runs, func(r covering) bool { return r.counts }) {
		for k := d.first[line]; k < d.first[line+1]; k++ {
			for i := range d.sides[k].parts {
				d.sides[k].parts[i].covered = nil
			}
		}
		return nil, false
	}
	return d.remains(line, runs), true
}

// isCell reports whether a closed line lies beside the closed lines that cover it, which
// share its edge but not what is inside it.
func (d *doubles) isCell(line int) bool {
	x, ok := d.boundary(line).Interior()
	return ok && !slices.ContainsFunc(d.covers, func(other int) bool { return other == line || d.boundary(other).Contains(x) })
}

func (d *doubles) boundary(line int) *geom.Boundary {
	return geom.NewBoundary(d.lines[line].Arcs(curveTol))
}

// A covering is a run of covered stretches that follow one another along a line.
type covering struct {
	long   float64
	exact  bool
	open   bool // something of the line isn't covered, before or behind it
	counts bool
}

// runs are the runs of covered stretches of a line, in order. In a closed line a run
// that goes on over its start is two: each is as long as both.
func (d *doubles) runs(line int) []covering {
	var out []covering
	var now *covering
	gap := false // something isn't covered
	atStart := false
	started := false
	d.walk(line, func(p geom.Piece, covered, exact bool) {
		if !covered {
			now, gap, started = nil, true, true
			return
		}
		if now == nil {
			out = append(out, covering{exact: true})
			now = &out[len(out)-1]
			atStart = atStart || !started
		}
		started = true
		now.long += p.Length()
		now.exact = now.exact && exact
	})
	for i := range out {
		out[i].open = gap
	}
	if n := len(out); d.lines[line].Closed && n > 1 && atStart && now != nil {
		a, b := &out[0], &out[n-1]
		a.long += b.long
		a.exact = a.exact && b.exact
		b.long, b.exact = a.long, a.exact
	}
	return out
}

// walk goes along a line, stretch by stretch.
func (d *doubles) walk(line int, visit func(p geom.Piece, covered, exact bool)) {
	for k := d.first[line]; k < d.first[line+1]; k++ {
		s := &d.sides[k]
		if !slices.ContainsFunc(s.parts, func(p part) bool { return len(p.covered) > 0 }) {
			visit(s.Piece, false, false)
			continue
		}
		for _, p := range s.parts {
			at, long := 0.0, p.Length()
			for _, c := range p.covered {
				if (c.from-at)*long > slack {
					visit(p.Part(at, c.from), false, false)
				}
				visit(p.Part(c.from, c.to), true, c.exact)
				at = c.to
			}
			if (1-at)*long > slack {
				visit(p.Part(at, 1), false, false)
			}
		}
	}
}

// remains are the paths that are left of a line, and from now on all that covers others.
func (d *doubles) remains(line int, runs []covering) []geom.Path {
	var out []geom.Path
	var b *geom.Builder
	kept := func(p geom.Piece) {
		if b == nil {
			b = geom.NewPath(p.From)
		}
		b.Add(p.Segment)
	}
	end := func() {
		if b != nil {
			if p := b.Open(); len(p.Segments) > 0 {
				out = append(out, p)
			}
		}
		b = nil
	}
	n, within := -1, false
	startsKept, first := false, true
	d.walk(line, func(p geom.Piece, covered, _ bool) {
		if covered && !within {
			n++
		}
		within = covered
		stays := !covered || !runs[n].counts
		if first {
			startsKept, first = stays, false
		}
		if stays {
			kept(p)
		} else {
			end()
		}
	})
	closing := b != nil && startsKept && d.lines[line].Closed
	end()
	if n := len(out); closing && n > 1 {
		// The line's start lies in the middle of a stretch.
		last := out[n-1]
		last.Segments = append(slices.Clone(last.Segments), out[0].Segments...)
		out = append([]geom.Path{last}, out[1:n-1]...)
	}
	d.forget(line, runs)
	return out
}

// forget makes the coverings of a line those that count.
func (d *doubles) forget(line int, runs []covering) {
	n, within := -1, false
	for k := d.first[line]; k < d.first[line+1]; k++ {
		s := &d.sides[k]
		if !slices.ContainsFunc(s.parts, func(p part) bool { return len(p.covered) > 0 }) {
			within = false
			continue
		}
		for i := range s.parts {
			p := &s.parts[i]
			long, at := p.Length(), 0.0
			var stay []stretch
			for _, c := range p.covered {
				if (c.from-at)*long > slack {
					within = false
				}
				if !within {
					n, within = n+1, true
				}
				if runs[n].counts {
					stay = append(stay, c)
				}
				at = c.to
			}
			if (1-at)*long > slack {
				within = false
			}
			p.covered = stay
		}
	}
}
