package sheet

import (
	"cmp"
	"math"
	"slices"

	"foredge/layout/geom"
)

// A box is a rectangle in units of length.
type box struct{ x0, y0, x1, y1 int64 }

func (b box) area() int64 { return (b.x1 - b.x0) / unit * ((b.y1 - b.y0) / unit) }

func (b box) meets(c box) bool { return b.x0 < c.x1 && c.x0 < b.x1 && b.y0 < c.y1 && c.y0 < b.y1 }

func (b box) holds(c box) bool { return b.x0 <= c.x0 && c.x1 <= b.x1 && b.y0 <= c.y0 && c.y1 <= b.y1 }

// mostTaken is beyond how many parts on a sheet only what is left beside and below all of them is told.
const mostTaken = 1500

// empty are the largest rectangles of a whole that none of the taken meet, at least so
// wide and high and at most so many, the largest first and without overlap.
func empty(whole box, taken []box, least int64, most int) (all []box) {
	if len(taken) > mostTaken {
		hull := taken[0]
		for _, t := range taken[1:] {
			hull = box{min(hull.x0, t.x0), min(hull.y0, t.y0), max(hull.x1, t.x1), max(hull.y1, t.y1)}
		}
		taken = []box{hull}
	}
	free := []box{whole}
	for _, t := range taken {
		free = without(free, t, least)
	}
	for len(free) > 0 && len(all) < most {
		largest := free[0]
		for _, b := range free[1:] {
			if b.area() > largest.area() {
				largest = b
			}
		}
		all = append(all, largest)
		free = without(free, largest, least)
	}
	return all
}

// cutApart are the rectangles, at least so wide and high, that a knife leaves of a whole beside what is taken, the
// largest first: what its cuts, each so wide, divide it into, one after the other. What is gone of the whole is no board.
func cutApart(whole, gone box, taken []box, cuts []slit, wide, least int64) (all []box) {
	pieces := []box{whole}
	for _, c := range cuts {
		band := box{c.at - wide, c.from, c.at, c.to}
		if !c.upright {
			band = box{c.from, c.at - wide, c.to, c.at}
		}
		i := slices.IndexFunc(pieces, band.meets)
		if i < 0 {
			continue // it goes along an edge
		}
		one, two := pieces[i], pieces[i]
		if c.upright {
			one.x1, two.x0 = band.x0, band.x1
		} else {
			one.y1, two.y0 = band.y0, band.y1
		}
		pieces[i] = one
		pieces = append(pieces, two)
	}
	for _, p := range pieces {
		if p.x1-p.x0 < least || p.y1-p.y0 < least || slices.ContainsFunc(taken, p.meets) {
			continue
		}
		if p.meets(gone) {
			all = append(all, empty(p, []box{gone}, least, math.MaxInt)...)
		} else {
			all = append(all, p)
		}
	}
	slices.SortStableFunc(all, func(a, b box) int { return cmp.Compare(b.area(), a.area()) })
	return all
}

// left are the rectangles that are left of a piece with parts at spots, at most so many.
func (b *room) left(spots []spot, cuts []slit, least int64, most int) []box {
	taken, gone := b.taken(spots), b.missing()
	if b.knife {
		of := make([]slit, len(cuts))
		for i, c := range cuts {
			of[i] = slit{c.upright, c.at + b.margin, c.from + b.margin, c.to + b.margin}
		}
		return cutApart(behind(b.sheet(), b.x, b.y, b.gap), gone, taken, of, b.gap, least)
	}
	if gone != (box{}) {
		taken = append([]box{gone}, taken...)
	}
	return empty(b.sheet(), taken, least, most)
}

// behind is what is there of a box from whose left upper corner on a sheet its left edge and its head are told: each that
// isn't the sheet's lies behind a cut, so wide, which takes its width off there.
func behind(b box, left, head, wide int64) box {
	if left > 0 {
		b.x0 += wide
	}
	if head > 0 {
		b.y0 += wide
	}
	return b
}

// LeftOf are the rectangles, at least so wide and high in mm, that are left of a rectangular piece of a stock beside boxes on
// it, the largest first; of one that a knife cuts they are what its cuts leave.
func LeftOf(s Stock, of Piece, boxes []geom.Box, cuts []Cut, least float64) (all []geom.Box) {
	var taken, left []box
	for _, b := range boxes {
		taken = append(taken, inUnits(b))
	}
	size := box{0, 0, whole(of.Width()), whole(of.Height())}
	if width, ok := s.Knife.Get(); ok {
		var slits []slit
		for _, c := range cuts {
			if b := inUnits(geom.Box{Min: c.From, Max: c.To}); c.From.X == c.To.X {
				slits = append(slits, slit{true, whole(c.From.X + width/2), b.y0, b.y1})
			} else {
				slits = append(slits, slit{false, whole(c.From.Y + width/2), b.x0, b.x1})
			}
		}
		size = behind(size, whole(of.Min.X), whole(of.Min.Y), whole(width))
		left = cutApart(size, box{}, taken, slits, whole(width), whole(least))
	} else {
		left = empty(size, taken, whole(least), math.MaxInt)
	}
	for _, b := range left {
		all = append(all, b.inMM())
	}
	return all
}

// without takes a box out of what is covered by free rectangles, each as large as can be; they overlap.
// J. Jylänki, "A Thousand Ways to Pack the Bin", 2010, section 2.3.
func without(free []box, t box, least int64) []box {
	kept := make([]box, 0, len(free)+4)
	var cut []box
	for _, b := range free {
		if !b.meets(t) {
			kept = append(kept, b)
			continue
		}
		for _, c := range [4]box{{b.x0, b.y0, t.x0, b.y1}, {t.x1, b.y0, b.x1, b.y1}, {b.x0, b.y0, b.x1, t.y0}, {b.x0, t.y1, b.x1, b.y1}} {
			if c.x1-c.x0 >= least && c.y1-c.y0 >= least {
				cut = append(cut, c)
			}
		}
	}
	old := len(kept)
	for i, c := range cut {
		within := slices.ContainsFunc(kept[:old], func(b box) bool { return b.holds(c) })
		for j := 0; j < len(cut) && !within; j++ {
			within = j != i && cut[j].holds(c) && (cut[j] != c || j < i)
		}
		if !within {
			kept = append(kept, c)
		}
	}
	return kept
}

// missing is the corner that is gone of a piece; empty where none is.
func (b *room) missing() (c box) {
	if b.goneW == 0 || b.goneH == 0 {
		return c
	}
	c = box{0, 0, b.goneW, b.goneH}
	if b.right() {
		c.x0, c.x1 = b.sheetW-b.goneW, b.sheetW
	}
	if b.bottom() {
		c.y0, c.y1 = b.sheetH-b.goneH, b.sheetH
	}
	return c
}

// taken are what parts at spots take of a piece.
func (b *room) taken(spots []spot) (all []box) {
	for _, s := range spots {
		x, y := s.x+b.margin, s.y+b.margin
		all = append(all, box{x, y, x + s.w - b.gap, y + s.h - b.gap})
	}
	return all
}

func (b *room) sheet() box { return box{0, 0, b.sheetW, b.sheetH} }

// largestLeft is the area of the largest rectangle that is left.
func (l *filled) largestLeft() int64 {
	all := l.room.left(l.spots, l.cuts, 1, 1)
	if len(all) == 0 {
		return 0
	}
	return all[0].area()
}

func (b box) inMM() geom.Box {
	return geom.Box{Min: geom.Pt(mm(b.x0), mm(b.y0)), Max: geom.Pt(mm(b.x1), mm(b.y1))}
}

func inUnits(b geom.Box) box {
	return box{whole(b.Min.X), whole(b.Min.Y), whole(b.Max.X), whole(b.Max.Y)}
}
