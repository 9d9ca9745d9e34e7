package art

import (
	"math"
	"slices"

	"foredge/layout/geom"
)

// A layer is the filled area of one element, above those before it.
type layer struct {
	paths   []geom.Path // closed
	evenOdd bool
	paper   bool // it takes away
	color   color
	element int // which of the drawn elements it is of
	where   Where
	wheres  []Where // of each path, nil where all are of one element
	op      int
	clips   []*region // it is seen within all of these
	fades   []fade    // what is not wholly opaque that it stands in
}

// whereOf is the element that a path of the layer is of.
func (l *layer) whereOf(path int) Where {
	if l.wheres == nil {
		return l.where
	}
	return l.wheres[path]
}

// letsThrough is how much of what lies below it a layer lets be seen: of what stands in
// the same faded element, as much as it does in that.
func (l *layer) letsThrough(below []fade) float64 {
	opaque := l.color.a
	for i, f := range l.fades {
		if i >= len(below) || below[i].number != f.number {
			break
		}
		opaque /= max(f.share, 1e-9)
	}
	return max(0, 1-opaque)
}

// clip keeps of the regions those that the layer's paths run out of. It says
// whether anything is left to see.
func (l *layer) clip(clips []*region, work *effort) bool {
	l.paths = slices.DeleteFunc(l.paths, func(p geom.Path) bool { return thin(p) })
	if len(l.paths) == 0 {
		return false
	}
	box := geom.Outline(l.paths).Bounds()
	for _, c := range clips {
		if work.over() {
			return false
		}
		switch upright := c.plain != nil && upright(*c.plain); {
		case upright && c.bounds().Grow(slack).Holds(box):
		case c.plain != nil && thin(*c.plain) || !c.bounds().Meets(box):
			return false
		case upright:
			l.clips = append(l.clips, c)
		case !c.crosses(box, work):
			if !c.asked(asArcs).contains(l.paths[0].Start, work) {
				return false
			}
		case !c.holds(l.paths, work):
			l.clips = append(l.clips, c)
		}
	}
	return true
}

// holds says that paths lie in the region wholly; false where that isn't known.
func (r *region) holds(paths []geom.Path, work *effort) bool {
	if r.plain == nil {
		return false
	}
	edge := r.boundary()
	for _, p := range paths {
		work.spend(len(edge.Pieces))
		if work.over() || !edge.Holds(geom.NewBoundary(p)) {
			return false
		}
	}
	return true
}

// thin says whether a path has no area that could be seen, as a line there and back.
func thin(p geom.Path) bool {
	const least = 1e-6
	b := p.Bounds()
	if len(p.Segments) == 0 || !(min(b.Width(), b.Height()) > least) {
		return true
	}
	along := geom.Point{}
	for _, s := range p.Segments {
		if s.Kind == geom.ArcTo {
			return false
		}
		if along = s.End.Sub(p.Start); along.Norm() > least {
			break
		}
	}
	if along.Norm() <= least {
		return false
	}
	beside := func(x geom.Point) bool { return !(math.Abs(along.Cross(x.Sub(p.Start))) <= least*along.Norm()) }
	for _, s := range p.Segments {
		if s.Kind == geom.ArcTo || beside(s.End) || s.Kind == geom.CubicTo && (beside(s.C1) || beside(s.C2)) {
			return false
		}
	}
	return true
}

// retraced says whether a closed path leads somewhere, bent or not, and back by the same segments.
func retraced(p geom.Path) bool {
	const least = 1e-6
	near := func(a, b geom.Point) bool { return a.Distance(b) <= least }
	var there []geom.Piece
	for piece := range p.Pieces() {
		if piece.Kind != geom.LineTo || !near(piece.From, piece.End) {
			there = append(there, piece)
		}
	}
	if !near(p.End(), p.Start) {
		there = append(there, geom.Piece{From: p.End(), Segment: geom.Segment{Kind: geom.LineTo, End: p.Start}})
	}
	n := len(there)
	same := func(a, b geom.Piece) bool {
		return a.Kind == b.Kind && near(a.From, b.From) && near(a.End, b.End) && a.Clockwise == b.Clockwise &&
			near(a.Center, b.Center) && near(a.C1, b.C1) && near(a.C2, b.C2)
	}
	turns := func(at int) bool { // where it turns round every segment meets itself
		for i := range n / 2 {
			if !same(there[(at+n-1-i)%n].Reverse(), there[(at+i)%n]) {
				return false
			}
		}
		return true
	}
	if n%2 > 0 {
		return false
	}
	for at := range n {
		if turns(at) {
			return true
		}
	}
	return false
}

// slack is how far in mm something may run over the edge of its page, as
// rounding has it, and not be cut off there.
const slack = 1e-5

// upright says whether a clip is its own box.
func upright(c geom.Path) bool {
	b := c.Bounds()
	for _, s := range c.Segments {
		if s.Kind != geom.LineTo || s.End.X > b.Min.X+1e-9 && s.End.X < b.Max.X-1e-9 || s.End.Y > b.Min.Y+1e-9 && s.End.Y < b.Max.Y-1e-9 {
			return false
		}
	}
	return len(c.Segments) == 4
}
