package sheet

import (
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

// mostLeft is how many rectangles are told of a sheet.
const mostLeft = 6

// empty are the largest rectangles of a whole that none of the taken meet, at least so
// wide and high, the largest first and without overlap.
func empty(whole box, taken []box, least int64) (all []box) {
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
	for len(free) > 0 && len(all) < mostLeft {
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

// taken are what parts at spots take of a piece, with the corner that is gone.
func (b *room) taken(spots []spot) (all []box) {
	if b.goneW > 0 && b.goneH > 0 {
		c := box{0, 0, b.goneW, b.goneH}
		if b.right() {
			c.x0, c.x1 = b.sheetW-b.goneW, b.sheetW
		}
		if b.bottom() {
			c.y0, c.y1 = b.sheetH-b.goneH, b.sheetH
		}
		all = append(all, c)
	}
	for _, s := range spots {
		x, y := s.x+b.margin, s.y+b.margin
		all = append(all, box{x, y, x + s.w - b.gap, y + s.h - b.gap})
	}
	return all
}

func (b *room) sheet() box { return box{0, 0, b.sheetW, b.sheetH} }

// largestLeft is the area of the largest rectangle that is left.
func (l *filled) largestLeft() int64 {
	all := empty(l.room.sheet(), l.room.taken(l.spots), 1)
	if len(all) == 0 {
		return 0
	}
	return all[0].area()
}

func (b box) inMM() geom.Box {
	return geom.Box{Min: geom.Pt(mm(b.x0), mm(b.y0)), Max: geom.Pt(mm(b.x1), mm(b.y1))}
}
