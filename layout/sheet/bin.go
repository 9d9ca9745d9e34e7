package sheet

import (
	"fmt"
	"math"
	"slices"

	"foredge/layout/geom"
)

// A bin is a stock as a search sees it.
type bin struct {
	stock       int
	wide, high  int64 // of a sheet
	gone        box   // of it; empty where nothing is
	corner      Corner
	margin, gap int64
	sizes       []size // by kind
	left        int    // how many there are
	value       int64  // what one costs: in hundredths of money, or its area in mm²
	area        int64  // of the whole sheet in mm²
	room        int64  // area that parts can take of it at the most
	tol         int64
	knife       bool
	shared      bool
	// ways are those in which a sheet comes onto the bed, sawn says that it must be for that, and uncut is what parts could take
	// if it needn't be sawn for that: no less, so that bounds go by it.
	ways  []way
	sawn  bool
	uncut *room
}

// newBin makes a stock ready for parts of such sizes; those by kind and value are left to the caller.
func newBin(index int, s Stock, parts []Part) (*bin, error) {
	if err := checkStock(s); err != nil {
		return nil, err
	}
	b := &bin{stock: index, margin: whole(s.Margin), gap: whole(s.Spacing), corner: s.Corner, shared: s.Shared,
		wide: whole(s.Width), high: whole(s.Height), left: s.Count.Or(math.MaxInt32)}
	if kerf, ok := s.Knife.Get(); ok {
		b.knife, b.gap, b.margin = true, whole(kerf), whole(s.Clear())
	}
	if c := s.goneBox(); s.Gone.X > 0 && s.Gone.Y > 0 {
		b.gone = box{whole(c.Min.X), whole(c.Min.Y), whole(c.Max.X), whole(c.Max.Y)}
	}
	sizes := make([]size, len(parts))
	for i, p := range parts {
		sizes[i] = sizeOn(p, s, b.gap)
	}
	b.uncut = b.newRoom(b.all())
	b.ways = b.waysOn(s, sizes)
	for i := range b.ways {
		its := int64(0)
		for _, r := range b.ways[i].rooms {
			its += r.area
		}
		b.room = max(b.room, its)
	}
	if b.sawn {
		gap := b.boundGap()
		b.uncut.w, b.uncut.h = b.wide-2*b.margin+gap, b.high-2*b.margin+gap
	}
	b.area = int64(math.Round(s.area()))
	return b, nil
}

// rooms are those of a way; none of a bin that has none.
func (b *bin) rooms(way int) []*room {
	if len(b.ways) == 0 {
		return nil
	}
	return b.ways[way].rooms
}

// boundGap is how far parts of a sheet are apart, whatever becomes of it: those on both sides of a line
// along which it's sawn have two margins between them.
func (b *bin) boundGap() int64 {
	if b.sawn {
		return min(b.gap, 2*b.margin)
	}
	return b.gap
}

// Clear is how far parts stay from the edges of a stock, in mm: its margin, or of one that a knife
// trims half the width of its cut where that is more, so that the line of the cut is on the sheet.
func (s Stock) Clear() float64 {
	if kerf, ok := s.Knife.Get(); ok && s.Margin > 0 {
		return max(s.Margin, float64((whole(kerf)+1)/2)/unitsPerMM)
	}
	return s.Margin
}

func checkStock(s Stock) error {
	bad := func(what string, v float64) error { return &InputError{fmt.Sprintf("the stock %q", s.Name), what, v} }
	positive := []struct {
		what string
		v    float64
	}{{"its width", s.Width}, {"its height", s.Height}}
	if bed, ok := s.Bed.Get(); ok {
		positive = append(positive, []struct {
			what string
			v    float64
		}{{"the width of the bed", bed.X}, {"the height of the bed", bed.Y}}...)
	}
	for _, n := range positive {
		if !(n.v >= 1 && n.v <= largest) {
			return bad(n.what, n.v)
		}
	}
	for _, n := range []struct {
		what string
		v    float64
		most float64
	}{{"its margin", s.Margin, largest}, {"its spacing", s.Spacing, largest}, {"the knife's cut", s.Knife.Or(0), largest},
		{"its price", s.Price.Or(0), 1e6}, {"its count", float64(s.Count.Or(0)), math.MaxInt32},
		{"the width of what is missing", s.Gone.X, s.Width}, {"the height of what is missing", s.Gone.Y, s.Height}} {
		if !(n.v >= 0 && n.v <= n.most) {
			return bad(n.what, n.v)
		}
	}
	// A knife that goes along what is missing would go beside the sheet.
	for _, least := range []float64{s.Gone.X, s.Gone.Y} {
		if cut := s.Knife.Or(0); least > 0 && cut > 2*least {
			return bad("the knife's cut", cut)
		}
	}
	return nil
}

// fits reports whether the bin has room for a size by itself, some way.
func (b *bin) fits(s size) bool { return b.takes(s.w, s.h) || b.takes(s.tw, s.th) }

func (b *bin) takes(w, h int64) bool {
	for i := range b.ways {
		if slices.ContainsFunc(b.ways[i].rooms, func(r *room) bool { return r.takes(w, h) }) {
			return true
		}
	}
	return false
}

func (b *room) takes(w, h int64) bool {
	if b.knife {
		for _, upright := range [2]bool{false, true} {
			pieces, _ := b.pieces(upright)
			if slices.ContainsFunc(pieces, func(p piece) bool { return p.takes(w, h, b.gap) }) {
				return true
			}
		}
		return false
	}
	if w > b.w || h > b.h {
		return false
	}
	return b.goneW == 0 || w <= b.w-b.goneW || h <= b.h-b.goneH
}

// floor is the room's as it is filled from above, or from its side: what is missing lies at the right end of the
// bottom then.
func (b *room) floor(across bool) floor {
	fl := floor{w: b.w, h: b.h, aim: b.h, stepW: b.goneW, stepH: b.goneH, tol: b.tol}
	if across {
		fl.w, fl.h, fl.aim, fl.stepW, fl.stepH = b.h, b.w, b.w, b.goneH, b.goneW
	}
	return fl
}

// home takes spots from the floor back to the sheet.
func (b *room) home(spots []spot, across bool) {
	right, bottom := b.right(), b.bottom()
	// The floor wants what is missing at the end of its width and the beginning of its height.
	flipX, flipY := !right, bottom
	if across {
		flipX, flipY = right, !bottom
	}
	if b.goneW == 0 {
		flipX, flipY = false, false
	}
	for i := range spots {
		s := &spots[i]
		if across {
			s.x, s.y, s.w, s.h = s.y, s.x, s.h, s.w
		}
		if flipX {
			s.x = b.w - s.x - s.w
		}
		if flipY {
			s.y = b.h - s.y - s.h
		}
	}
}

// pieces are what the knife begins with: the sheet, or the two rectangles that an offcut with a corner
// gone falls into by either of two cuts, with that cut.
func (b *room) pieces(upright bool) (pieces []piece, cuts []slit) {
	whole := piece{0, 0, b.w, b.h, -b.margin, -b.margin, b.sheetW - b.margin, b.sheetH - b.margin}
	if b.goneW == 0 {
		return []piece{whole}, nil
	}
	right, bottom := b.right(), b.bottom()
	upright = upright && b.goneW < b.w || b.goneH >= b.h
	// long keeps a whole side of the sheet, short lies beside what is missing.
	long, short := whole, whole // short has no room if more is missing than the margins leave
	if upright {
		x := b.goneW // where the cut ends
		if right {
			x = b.w - b.goneW
		}
		left, rest := &short, &long
		if right {
			left, rest = &long, &short
		}
		left.w, left.x1 = x, x-b.gap
		rest.x, rest.x0, rest.w = x, x, b.w-x
		if bottom {
			short.h, short.y1 = b.h-b.goneH, short.y1-b.goneH
		} else {
			short.y, short.h, short.y0 = b.goneH, b.h-b.goneH, short.y0+b.goneH
		}
	} else {
		y := b.goneH
		if bottom {
			y = b.h - b.goneH
		}
		above, rest := &short, &long
		if bottom {
			above, rest = &long, &short
		}
		above.h, above.y1 = y, y-b.gap
		rest.y, rest.y0, rest.h = y, y, b.h-y
		if right {
			short.w, short.x1 = b.w-b.goneW, short.x1-b.goneW
		} else {
			short.x, short.w, short.x0 = b.goneW, b.w-b.goneW, short.x0+b.goneW
		}
	}
	// Both must have something of it. It runs right across: within the margin of what is
	// missing the board is still as long as its longer side. Without a margin it ends at what is missing.
	cut, common, first := slit{upright, max(long.y, short.y), long.x0, long.x1}, min(long.x1, short.x1)-max(long.x0, short.x0), !bottom
	if upright {
		cut, common, first = slit{upright, max(long.x, short.x), long.y0, long.y1}, min(long.y1, short.y1)-max(long.y0, short.y0), !right
	}
	if b.margin == 0 {
		if cut.from, cut.to = short.x0, short.x1; upright {
			cut.from, cut.to = short.y0, short.y1
		}
	}
	if cuts = append(cuts, cut); common > 0 {
		if b.margin > b.gap {
			cuts = append(cuts, b.strip(cut, short, first, right, bottom))
		}
		return []piece{long, short}, cuts
	}
	// A whole side is gone: there is nothing to cut off, and the board ends where it is missing.
	switch {
	case upright && right:
		long.x1 = whole.x1 - b.goneW
	case upright:
		long.x0 = whole.x0 + b.goneW
	case bottom:
		long.y1 = whole.y1 - b.goneH
	default:
		long.y0 = whole.y0 + b.goneH
	}
	return []piece{long}, nil
}

// strip is the cut that takes off what hangs on the shorter of two pieces beside the corner that
// is gone: the rest of a margin between that and the cut that parts them. First says
// that the corner lies before that cut.
func (b *room) strip(cut slit, short piece, first, right, bottom bool) slit {
	s := slit{upright: !cut.upright, from: cut.at, to: cut.at + b.margin - b.gap}
	if first {
		s.from, s.to = cut.at-b.margin, cut.at-b.gap
	}
	switch {
	case cut.upright && bottom:
		s.at = short.y1 + b.gap
	case cut.upright:
		s.at = short.y0
	case right:
		s.at = short.x1 + b.gap
	default:
		s.at = short.x0
	}
	return s
}

// goneBox is the corner that is missing, in mm.
func (s Stock) goneBox() geom.Box {
	b := geom.Box{Max: s.Gone}
	if s.Corner == RightTop || s.Corner == RightBottom {
		b.Min.X, b.Max.X = s.Width-s.Gone.X, s.Width
	}
	if s.Corner == LeftBottom || s.Corner == RightBottom {
		b.Min.Y, b.Max.Y = s.Height-s.Gone.Y, s.Height
	}
	return b
}
